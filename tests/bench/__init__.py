"""What is measured, not passed or failed: `python -m tests.bench`."""
