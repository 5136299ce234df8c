"""The best rows that can lie on one another, searched to the end."""
