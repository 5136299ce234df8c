"""The safety and code rules, held against what is drawn. Pure."""
