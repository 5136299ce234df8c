"""What stands over the opening: soldiers, rowlocks, arches."""
