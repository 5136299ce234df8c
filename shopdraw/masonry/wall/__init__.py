"""The faces, what was found of them, and the form of what is laid on them."""
