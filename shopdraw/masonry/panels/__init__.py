"""Fill a rectangle with a pattern of brick, cut at its edge."""
