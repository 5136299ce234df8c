"""Jobs with a panel over the opening: a test shows only what it changes."""

from __future__ import annotations

from shopdraw.job.model import Job
from shopdraw.job.reading import parse_job

TEXT = """
[job]
name = "Herringbone over the opening"
lengths = "in"
[face]
measured_to = "finish"
width = "63 5/8 in"
height = "55 1/8 in"
left_return = "11 5/8 in"
right_return = "11 5/8 in"
[opening]
width = "32 3/8 in"
height = "26 5/8 in"
[brick]
size = "modular"
corner = { long_leg = "7 5/8 in", short_leg = "3 5/8 in" }
[[panel]]
name = "overmantel panel"
left = "17 13/16 in"
bottom = "31 7/8 in"
width = "28 in"
height = "20 5/8 in"
pattern = "herringbone 45"
border = "none"
"""
"""Its courses are a brick and a joint of 3/8 in high: 2 5/8. The panel begins on the
thirteenth, 12 x 2 5/8 + 3/8 up, and is eight of them high less a joint."""


def job_text(*changes: tuple[str, str]) -> str:
    text = TEXT
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return text


def job_of(*changes: tuple[str, str]) -> Job:
    """Return the job with parts of its text replaced."""
    return parse_job(job_text(*changes), "panel.toml")
