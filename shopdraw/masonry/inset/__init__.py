"""Lay panels in the face, and stop the courses beside them."""
