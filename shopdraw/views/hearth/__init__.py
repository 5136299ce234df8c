"""Draw a hearth of brick: from above, its riser, and its front edge in section."""
