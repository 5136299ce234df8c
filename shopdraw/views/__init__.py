"""Masonry to ink: the only bridge, one module a view."""
