"""Random old houses drawn, and every sheet read back and by independent readers."""
