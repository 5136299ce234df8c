"""The only rooms that write files."""
