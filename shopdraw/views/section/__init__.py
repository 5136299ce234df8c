"""The section through the opening, hearth to woodwork."""
