"""Draw the page for taking old work off: look first, weigh, protect, check when bare.

In:  `Solution`.   Out: a `Sheet`, standing up.
Frame: as `lines`.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing.papers import Part
from shopdraw.drawing.sheets import Sheet
from shopdraw.lengths import Lengths, format_length, taped_length
from shopdraw.quantities.money import format_hundredths
from shopdraw.quantities.stripping import (
    DUST,
    WEIGHED,
    Stripped,
    area_measure,
    reckon_stripping,
    skip_of,
)
from shopdraw.review.findings import Finding, Key
from shopdraw.solution import Solution
from shopdraw.views.papers.lines import (
    BLANK,
    TICK,
    PageColumn,
    PageHand,
    set_pages,
    stamped,
)
from shopdraw.views.parts.phrases import sourced

HAZARDS: tuple[Key, ...] = (
    "stripping-behind", "stripping-paint", "stripping-board", "lead", "asbestos",
    "smoke",
)  # fmt: skip
"""The rules that ask what has to be known before the first piece is off."""
OFF = (
    PageColumn("what comes off", 2.2),
    PageColumn("area", 1.1, "right"),
    PageColumn("thick", 0.8, "right"),
    PageColumn("volume", 1.2, "right"),
    PageColumn("weight", 1.7, "right"),
    PageColumn("where the weight comes from", 3.6),
)
TO_TICK = (PageColumn("", 0.3), PageColumn("", 9.3))
CHECKED = (
    PageColumn("when the wall is bare", 3.6),
    PageColumn("planned with", 1.8),
    PageColumn("found", 1.8),
    PageColumn("why", 2.6),
)
PROTECT = (
    "floor and the way out: boards under sheets, taped at their edges",
    "hearth that stays, and its edge: boards",
    "throat or damper closed and taped over, appliance and its controls covered",
    "doors of the room closed and taped, and a way to the skip that avoids the house",
    "woodwork, glass and sockets near the face: masked",
)
FLAT: dict[Lengths, tuple[str, str]] = {
    "in": ("10 ft", "1/4 in"), "mm": ("3.05 m", "6 mm"),
}  # fmt: skip
"""Technical Note 28C, April 2014: over how far, and how far out of plane at most."""
COMMON = "Common practice, no published source."
HEAVIER = (
    "As it stands on the wall: broken up it takes more room, and it weighs the same. "
    "An estimate, with a range where one was read; ask whoever brings the skip what "
    "it may carry."
)


def draw_stripping(solution: Solution) -> tuple[Sheet, ...]:
    """Draw the page, on one upright page.

    Raises:
        NotDrawable: it does not fit the page.
    """
    names = "stripping", "OLD WORK TO COME OFF"
    return set_pages(solution, names, lambda hand: _parts(solution, hand))


def _parts(solution: Solution, hand: PageHand) -> Iterator[Part]:
    yield from stamped(solution, hand)
    yield hand.head("Look for first")
    found = [x for x in solution.findings if x.rule.key in HAZARDS]
    yield from hand.rows(TO_TICK, ((TICK, _said(x)) for x in found))
    yield hand.head("For the skip")
    yield from _skip(solution, hand)
    yield hand.head("Protect")
    yield from hand.rows(TO_TICK, ((TICK, each) for each in PROTECT))
    yield hand.says(COMMON, height=0.85)
    yield hand.head("Measure again before brick is ordered")
    yield from hand.rows(CHECKED, _bare(solution))
    yield hand.says(
        "What differs goes into the job file: then the drawings are made anew.",
        height=0.85,
    )


def _said(finding: Finding) -> str:
    status = "" if finding.status == "not checked" else f" ({finding.status})"
    said = f"{finding.rule.words}{status}: {finding.says}."
    if "as typed" in said and not finding.source:
        return said
    return f"{said} Source: {sourced(finding.source, finding.source_status)}."


def _skip(solution: Solution, hand: PageHand) -> Iterator[Part]:
    """Letter what comes off, thing by thing, and what that comes to."""
    job = solution.job
    stripped = reckon_stripping(job)
    volumes, weights, _ = WEIGHED[job.lengths]
    old = job.stripping.old if job.stripping is not None else ()
    thick = [each.thickness for each in old]
    rows = [
        (
            x.what,
            _amount(x.area, area_measure(job)),
            *_filled(
                x,
                None if deep is None else taped_length(deep, job.lengths),
                _amount(x.volume, volumes),
                _weight(x, weights),
            ),
            x.why,
        )
        for x, deep in zip(stripped, thick, strict=True)
    ]
    if not rows:
        rows = [(BLANK,) * 6] * 3
    else:
        skip = skip_of(stripped)
        total = Stripped("", None, skip.volume, skip.least, skip.most, "")
        rows.append(
            ("all of it", "", "", _amount(skip.volume, volumes),
             _weight(total, weights), "")
        )  # fmt: skip
    yield from hand.rows(OFF, rows)
    yield hand.says(HEAVIER, height=0.85)
    patching = [x for x in solution.takeoff.rows if x.item == "patching"]
    if patching:
        net = f"{format_hundredths(patching[0].net)} {patching[0].measure}"
        yield hand.says(f"Wall to be made good afterwards: {net}, as typed.")
    else:
        yield hand.asked(f"Wall to be made good afterwards, {area_measure(job)}")


def _filled(stripped: Stripped, thick: str | None, *cells: str) -> tuple[str, ...]:
    """Return cells with a place to fill in for what is missing; paint has none."""
    if stripped.why == DUST:
        return ("",) * (1 + len(cells))
    return thick or BLANK, *cells


def _amount(value: Fraction | None, measure: str) -> str:
    return BLANK if value is None else f"{format_hundredths(value)} {measure}"


def _weight(stripped: Stripped, measure: str) -> str:
    least, most = stripped.least, stripped.most
    if least is None or most is None:
        return BLANK
    ends = sorted({round(least), round(most)})
    return f"{' to '.join(f'{each:,}' for each in ends)} {measure}"


def _bare(solution: Solution) -> Iterator[tuple[str, ...]]:
    """Yield what to measure when the wall is bare: what is planned, and a blank."""
    job, surround = solution.job, solution.surround

    def say(length: Fraction | None) -> str:
        return "" if length is None else format_length(length, job.lengths)

    face, opening, wall = job.face, job.opening, job.substrate
    yield "face, from end to end", say(face.width), BLANK, "at its foot and its top"
    for name, width in (("left", face.left_return), ("right", face.right_return)):
        if width is not None:
            why = "at foot and top; square, or by how much not"
            yield f"{name} return, to the wall", say(width), BLANK, why
    yield "opening, wide", say(opening.width), BLANK, "at foot and head"
    yield "opening, high", say(opening.height), BLANK, "at both jambs, from the datum"
    yield (
        "hearth's fall under the brick",
        say(-_lowest(solution)),
        BLANK,
        "it sets the datum",
    )
    far, most = FLAT[job.lengths]
    flat = f"no more than {most}: Technical Note 28C, April 2014"
    yield f"bulge or hollow, most in {far}", say(wall.plane), BLANK, flat
    yield (
        "wall sound, clean, dry; what it is of",
        "" if wall.kind == "unknown" else wall.kind,
        BLANK,
        "to hold mortar",
    )
    bearing = say(opening.lintel_bearing)
    yield (
        "lintel: steel sound, bearing at each end",
        bearing,
        BLANK,
        "of the wall above",
    )
    yield "framing and other wood near by", "", BLANK, "its distance to the masonry"
    if surround.alcoves:
        yield "inside corners", "square", BLANK, "brick meets there"


def _lowest(solution: Solution) -> Fraction:
    front = solution.surround.front
    hearth = solution.surround.as_built.hearth
    return min(hearth.at(front.left), hearth.at(front.right), Fraction(0))
