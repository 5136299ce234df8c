"""Marks of the story pole, the level rods and the rule; how far brick may wander."""
