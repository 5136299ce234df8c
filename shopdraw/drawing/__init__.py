"""How it looks on paper. Pure."""
