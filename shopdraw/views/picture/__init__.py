"""The picture of the finished surround, for the owner."""
