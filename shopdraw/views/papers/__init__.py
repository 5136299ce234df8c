"""The later papers: what a week's work wants besides drawings, each on its own page."""
