"""The hearth extension laid in brick, with its border and its riser."""
