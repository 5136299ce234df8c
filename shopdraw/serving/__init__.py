"""Serve what is drawn to a browser on this machine, and notice when a file is saved."""
