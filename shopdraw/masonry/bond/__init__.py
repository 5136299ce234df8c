"""Which brick stands where in each course."""
