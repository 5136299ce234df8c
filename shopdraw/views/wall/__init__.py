"""The wall as it is drawn: elevations, returns, plans, sections, edges, the picture."""
