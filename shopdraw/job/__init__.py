"""What the person asked for: the model, reading it, and whether it makes sense."""
