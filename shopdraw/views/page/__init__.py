"""What the page for a phone says, as plain words, records and ink."""
