"""Letter how an arch is set out, and draw its radius rod, on the front elevation.

In:  `Solution`, the scale.   Out: words, ink.
Frame: full size; x from the left end of the front's finished face, y up from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import cos, radians, sin

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Stroke
from shopdraw.drawing.sheets import STYLES
from shopdraw.lengths import format_length
from shopdraw.masonry.wall.arch import Arch
from shopdraw.solution import Solution

Lines = tuple[str, ...]
ROD_LEANS = 0.6
"""How far the rod is drawn from plumb, of the skewback's angle."""
MOST_LEAN = 40.0
"""But no more than so many degrees."""
CROSS = 0.8
"""Half the cross at the centre, in heights of lettering."""


def arch_words(solution: Solution, arch: Arch) -> Iterator[tuple[Lines, Lines]]:
    """Yield the words to try left and right of the centre line, the fullest first."""
    job = solution.job

    def say(length: Fraction) -> str:
        return format_length(length, job.lengths)

    level = say(solution.coursing.head)
    size = f"{say(job.opening.width)} x {say(job.opening.height)}"
    rise = "CAMBER" if arch.kind == "jack arch" else "RISE"
    springs = f"SKEWBACK {arch.skewback_deg:.1f} DEG"
    if arch.kind == "semicircular arch":
        springs = "LEVEL BEDS"
    first = (f"SPRING LINE {level}", f"{rise} {say(arch.rise)}", springs)
    opening = ("", "OPENING TO IT", size)
    rod = rod_words(solution, arch)
    yield (*first, "TEMPORARY CENTRE", *opening), rod
    short = tuple(part for line in rod for part in _halves(line))
    yield ("SPRING LINE", level, *first[1:], "", "OPENING", size), short
    yield ("SPRING", level), ()


def _halves(line: str) -> Lines:
    """Return a line in two, broken after its name."""
    at = max(line.find(name) + len(name) for name in ("ROD", "CENTRE", "POINT"))
    return tuple(part.strip() for part in (line[:at], line[at:]) if part.strip())


def rod_words(solution: Solution, arch: Arch) -> Lines:
    """Return how long the rod is, and where the centre lies that it turns about."""
    lengths = solution.job.lengths
    _, y = arch.centre
    below = format_length(abs(y), lengths)
    at = "CENTRE ON THE DATUM"
    if y:
        at = f"CENTRE {below} {'ABOVE' if y > 0 else 'BELOW'} 0"
    if arch.kind == "jack arch":
        return "JOINTS POINT TO A", at
    return f"RADIUS ROD {format_length(rod_of(arch), lengths)}", at


def rod_of(arch: Arch) -> Fraction:
    """Return the length of the radius rod, from the centre to the soffit."""
    return Fraction(arch.radius).limit_denominator(10**6)


def draw_rod(solution: Solution, dx: float, scale: float) -> Iterator[Ink]:
    """Draw the rod from the soffit to the centre, or as far down as the spring line.

    The centre is marked by a cross where it is above the datum.
    """
    arch = solution.layout.arch
    if arch is None or arch.kind == "jack arch":
        return
    x, y = float(arch.centre[0]) + dx, float(arch.centre[1])
    lean = radians(min(arch.skewback_deg * ROD_LEANS, MOST_LEAN))
    far = x + arch.radius * sin(lean), y + arch.radius * cos(lean)
    # Below the spring line is the lettering.
    share = (float(arch.spring) - y) / (far[1] - y)
    near = x + share * (far[0] - x), float(arch.spring)
    yield Stroke(layers.LEVELS, (near, far))
    if y >= 0:
        half = CROSS * STYLES[solution.lengths].text * scale
        yield Stroke(layers.LEVELS, ((x - half, y), (x + half, y)))
        yield Stroke(layers.LEVELS, ((x, y - half), (x, y + half)))
