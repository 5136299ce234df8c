"""shopdraw: surround geometry and a coursing solution in, shop drawings out."""

__version__ = "0.1.0"
