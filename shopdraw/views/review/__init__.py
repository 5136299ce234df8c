"""The review as one page for a permit file."""
