"""What must be found in each DXF file, worked out apart from the ink."""
