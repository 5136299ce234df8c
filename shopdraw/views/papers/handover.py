"""Draw the page for the carpenter: what stands, what is left for him, and from when.

In:  `Solution`.   Out: a `Sheet`, standing up.
Frame: as `lines`.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.papers import Part
from shopdraw.drawing.sheets import Sheet
from shopdraw.job.model import EdgeTable
from shopdraw.lengths import Lengths, format_length, taped_length
from shopdraw.review.envelope import ManualTrim, manual_trim, trim_envelope
from shopdraw.solution import Solution
from shopdraw.views.papers.allowed import draw_allowed, named_scale, number_of
from shopdraw.views.papers.lines import (
    BLANK,
    PageColumn,
    PageHand,
    Picture,
    set_pages,
    stamped,
)

HIGH, WIDE = 2.6, 6.5
"""In inches: how high and how wide the drawing of the rule may be."""
SIZES = (
    PageColumn("what", 3.5),
    PageColumn("planned", 1.1, "right"),
    PageColumn("", 0.15),
    PageColumn("within", 0.85),
    PageColumn("measured", 1.2),
    PageColumn("", 3.4),
)
WOOD = (
    PageColumn("", 0.3),
    PageColumn("woodwork", 2.3),
    PageColumn("from the left", 1.5, "right"),
    PageColumn("up", 1.1, "right"),
    PageColumn("wide", 1.1, "right"),
    PageColumn("high", 1.0, "right"),
    PageColumn("out", 1.0, "right"),
    PageColumn("", 0.2),
    PageColumn("review", 1.8),
)
BEARS_NOTHING = (
    "Brick that only its mortar holds bears nothing: no load on it, no fixing into it. "
    "Nothing is fixed within a flue or a firebox wall. What carries the woodwork, and "
    "how it is fixed, is for whoever designs it: only what was stated is drawn. Why "
    "something failed or was not checked is in the clearance review."
)
UNTIL = (
    "Until then: no fire, no fixing, no wedge against brick or joints, no knock, and "
    "nothing leant against the face (common practice, no published source)."
)
WITHIN = "Within: how far off it may be, as mason and carpenter agree."
BEYOND = "Beyond: past the left end of the brick."
VERIFY = "VERIFY LOCALLY: the local code and the listing decide."
NO_RULE = (
    "No rule with a figure for woodwork was named: take it from the local code, or "
    "from the manual of the appliance, and write it here."
)


def draw_handover(solution: Solution) -> tuple[Sheet, ...]:
    """Draw the page, on one upright page.

    Raises:
        NotDrawable: it does not fit the page.
    """
    inch = 1.0 if solution.lengths == "in" else 25.4
    drawn = draw_allowed(solution, (WIDE * inch, HIGH * inch))
    picture = None if drawn is None else Picture(lambda _: drawn, HIGH + 0.2)
    names = "handover", "FOR THE CARPENTER"
    return set_pages(
        solution, names, lambda hand: _parts(solution, hand, drawn), picture=picture
    )


def _parts(solution: Solution, hand: PageHand, drawn: Drawing | None) -> Iterator[Part]:
    yield from _rule(solution, hand, drawn)
    yield from stamped(solution, hand)
    yield hand.head("What stands")
    yield from hand.rows(SIZES, _stands(solution))
    yield hand.head("What is left at the edges")
    yield from hand.rows(SIZES, _edges(solution))
    yield hand.says(WITHIN, height=0.85)
    yield hand.head("Woodwork as it was stated")
    yield from hand.rows(WOOD, _woodwork(solution))
    if any(trim.left < 0 for trim in solution.job.trim):
        yield hand.says(BEYOND, height=0.85)
    yield hand.says(BEARS_NOTHING)
    yield hand.head("From when")
    yield from _when(solution, hand)
    yield hand.gap(0.3)
    yield hand.asked("Mason", "Carpenter", "Date")


def _rule(solution: Solution, hand: PageHand, drawn: Drawing | None) -> Iterator[Part]:
    """Say what the drawing is, and whose rule it draws; or leave room for one."""
    envelope, manual = trim_envelope(solution.job), manual_trim(solution.job)
    if manual is not None:
        yield hand.says(_by_manual(manual, solution.lengths))
        return
    if envelope is None or drawn is None:
        yield hand.says(NO_RULE)
        yield hand.asked("Distance from the opening", "out at the most")
        yield hand.asked("Source")
        return
    yield hand.says(
        f"What may stand out over the opening, by its distance from it: "
        f"{envelope.source}. In section, {named_scale(solution, drawn)}; out from the "
        f"finished brick; numbers as in the list below. {VERIFY}"
    )


def _by_manual(manual: ManualTrim, lengths: Lengths) -> str:
    """Say what the manual allows, figure by figure as it was typed."""
    asked = []
    if manual.least is not None:
        least = taped_length(manual.least, lengths)
        asked.append(f"nothing that burns within {least} of the opening")
    for distance, out in manual.mantel:
        up, most = (taped_length(x, lengths) for x in (distance, out))
        asked.append(f"from {up} above it at most {most} out")
    return (
        f"What woodwork may do, as typed from the manual: {'; '.join(asked)}. "
        f"{manual.source}. {VERIFY}"
    )


def _stands(solution: Solution) -> Iterator[tuple[str, ...]]:
    """Yield the finished sizes as planned, and as measured where that was done."""
    job, surround, coursing = solution.job, solution.surround, solution.coursing

    def say(length: Fraction) -> str:
        return format_length(length, job.lengths)

    front, opening, top = surround.front, surround.opening, coursing.courses[-1]
    yield "front, brick from end to end", say(front.width), "", BLANK, BLANK, ""
    planned, measured = say(top.top), BLANK
    if top.is_laid and not top.is_reckoned:
        planned, measured = say(_wanted(solution)), say(top.top)
    yield "top of the brick above the datum", planned, "", BLANK, measured, ""
    laid = [x for x in coursing.courses if x.is_laid and not x.is_reckoned]
    if laid and laid[-1] is not top:
        said = f"top of course {laid[-1].number}, the last one measured"
        yield said, "", "", "", say(laid[-1].top), "above the datum"
    what = "spring line" if solution.layout.arch is not None else "head of opening"
    yield f"{what} above the datum", say(coursing.head), "", BLANK, BLANK, ""
    wide = opening.brick_right - opening.brick_left
    yield "opening, brick to brick", say(wide), "", BLANK, BLANK, ""
    for face in surround.faces:
        if face.name in ("left", "right"):
            what = f"{face.name} return"
            yield what, say(face.width), "", BLANK, BLANK, "along itself"
    out, most = say(surround.build_out), say(surround.build_out_most)
    thickest = f"up to {most} where the bed is thickest" if most != out else ""
    yield "face out from the wall as found", out, "", BLANK, BLANK, thickest


def _wanted(solution: Solution) -> Fraction:
    return next(x.wanted for x in solution.coursing.targets if x.name == "top")


def _edges(solution: Solution) -> Iterator[tuple[str, ...]]:
    """Yield what each edge was left as, for woodwork to meet or to cover."""
    edges = solution.job.edges
    for name, edge in (
        ("left edge", edges.left),
        ("right edge", edges.right),
        ("top", edges.top),
        ("jambs of the opening", edges.jambs),
    ):
        size = taped_length(edge.width, solution.lengths) if edge.width else "none"
        within = BLANK if edge.width else ""
        yield name, size, "", within, BLANK, _left_as(edge)


def _left_as(edge: EdgeTable) -> str:
    kinds = {
        "bare": "bare brick",
        "mortar": "mortar",
        "soft": "sealant, stays soft",
        "gap": "a gap, left open",
    }
    shows = {"covered": "; to be covered", "sawn": "; a sawn end shows"}
    return f"{kinds[edge.kind]}{shows.get(edge.shows, '')}"


def _woodwork(solution: Solution) -> Iterator[tuple[str, ...]]:
    """Yield each piece of woodwork with its number, and what the review says of it."""
    job = solution.job

    def say(length: Fraction) -> str:
        return format_length(length, job.lengths)

    for place, trim in enumerate(job.trim, start=1):
        yield (
            number_of(solution, trim),
            trim.name,
            say(trim.left) if trim.left >= 0 else f"{say(-trim.left)} beyond",
            say(trim.bottom),
            say(trim.width),
            say(trim.height),
            say(trim.furthest) if trim.projection is not None or trim.steps else BLANK,
            "",
            _reviewed(solution, place),
        )
    if not job.trim:
        for _ in range(2):
            yield "", *(BLANK,) * 6, "", ""


def _reviewed(solution: Solution, place: int) -> str:
    """Return the worst that the review found of a piece of woodwork."""
    worst = [
        finding.status
        for finding in solution.findings
        if finding.rule.key.startswith("trim-") and finding.rule.about == place
    ]
    for status in ("failed", "not checked"):
        if status in worst:
            return status
    return "passed"


def _when(solution: Solution, hand: PageHand) -> Iterator[Part]:
    """Letter from which day woodwork may be fastened, and what to spare till then."""
    step = solution.schedule[-1]
    if step.day is None:
        yield hand.says(f"Woodwork may be fastened {step.wait} ({step.status}).")
        yield hand.asked("The joints were pointed on", "so from")
    else:
        yield hand.says(
            f"Woodwork may be fastened from {step.day.isoformat()} on: {step.wait} "
            f"({step.status})."
        )
    yield hand.says(UNTIL)
