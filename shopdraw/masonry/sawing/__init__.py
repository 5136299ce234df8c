"""Saw pieces to what is really there: clipped, judged, mended, squared, sized."""
