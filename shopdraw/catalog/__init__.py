"""Data with a source on every row: brick sizes, code rules, sheets, defaults."""
