"""How many courses, and how thick each bed joint: solved exactly, and explained."""
