"""What to buy: takeoff. Pure."""
