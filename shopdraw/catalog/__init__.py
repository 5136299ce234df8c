"""Data with a source on every row: brick sizes, code rules, sheet sizes, usual values."""
