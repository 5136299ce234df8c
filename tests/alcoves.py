"""A breast beside two alcoves, for the tests: by hand, and as a whole job.

Brick and bed are 1 in, the brick 5/8 in; the joints are 3/8 in. Returns of 11 in are 11
in when finished: an inch more at the outside corner, an inch less at the inside one.
"""

from __future__ import annotations

from shopdraw.solution import Solution
from tests.splayed import RETURNS, splayed

ALCOVES = f'{RETURNS}\nleft_alcove = "24 in"\nright_alcove = "16 in"'
FREE = '[edges]\nright = { kind = "bare", shows = "pointed" }'
"""At the left the alcove ends at a wall, by the usual soft joint; at the right free."""
JOB = """\
[job]
name = "Breast beside two alcoves"
number = "AL-01"
date = 2026-06-01
revision = "A"
drawn_by = "the mason"
checked_by = "the foreman"
for_whom = "the trustees of the village reading room"
measured_by = "the mason"
measured_on = 2026-05-21
lengths = "in"

[face]
measured_to = "substrate"
width = "53 5/8 in"
height = "42 in"
left_return = "13 in"
left_alcove = "30 in"
right_return = "13 in"
right_alcove = "21 3/4 in"

[opening]
width = "32 3/8 in"
height = "26 5/8 in"
throat = "8 in"
lintel_bearing = "6 in"

[brick]
size = "modular"
thickness = "5/8 in"
corner = { long_leg = "7 5/8 in", short_leg = "3 5/8 in", turns_over = true }

[setting_bed]
thickness = "3/8 in"

[edges]
left  = { kind = "soft", width = "3/8 in", shows = "covered" }
right = { kind = "bare", shows = "pointed" }
top = { kind = "gap", width = "1/4 in", shows = "covered" }

[hearth]
front = "20 in"
left = "12 in"
right = "12 in"
raised = "0 in"
thickness = "3 in"
material = "noncombustible"

[appliance]
kind = "masonry"

[rules]
set = "irc-2015"

[[trim]]
name = "mantel shelf"
left = "-4 in"
material = "oak"
bottom = "46 in"
width = "64 3/4 in"
height = "2 in"
projection = "4 in"

[[beside]]
name = "left stud"
kind = "framing"
to_masonry = "2 1/4 in"

[substrate]
kind = "masonry"
condition = ["sound"]
plane = "3/16 in"

[house]
year = 1928
painted_sq_ft = 0
smoke_stains = false
asbestos = "surveyed on 12 May, none found"

[schedule]
set_on = 2026-06-15
ledger_days = 7
wait_days = 2
cure_weeks = 4

[packs]
flats = 40


[sheet]
size = "ARCH C"
"""
"""A whole job: a reading room's breast, an alcove to a wall and one to a free edge."""


def beside_alcoves(face: str = ALCOVES, more: str = FREE) -> Solution:
    """Return the breast solved, once a session; its jambs are bare."""
    return splayed("", face, more)
