"""Tests of every room, and what they share."""

import os
import sys

# What one process compiles is there for the next, whatever the environment says: a
# hundred commands are started, and each would compile all that it loads.
sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
