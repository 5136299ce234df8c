"""Marks of the story pole, the rods and the rule; how far brick may wander."""
