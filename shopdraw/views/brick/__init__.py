"""Brick as views draw it: its symbols, its marks, the leaders to them."""
