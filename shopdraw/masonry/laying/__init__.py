"""Pieces where they go: laid, fitted, named, measured and proved; what a plane cuts."""
