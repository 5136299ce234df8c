"""What each DXF file must be found to hold, reckoned apart from the ink."""
