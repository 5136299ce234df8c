"""Rebuild each made piece from the figures printed on its detail, as a sawyer would.

Only the words of dimensions and notes are read as sizes; of the ink no more is taken
than which corner an extension line stands at.
"""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import dataclass
from fractions import Fraction
from math import atan2, degrees

from shopdraw.drawing.ink import Drawing, Measure, Stroke
from shopdraw.drawing.layers import UNITS
from shopdraw.drawing.paragraphs import lettering_in, said_by
from shopdraw.lengths import parse_length
from shopdraw.masonry.wall.layout import CORNER_KINDS, CutListRow, Outline, Piece
from shopdraw.solution import Solution

Spot = tuple[float, float]
Ring = tuple[Spot, ...]
STEP = {"in": Fraction(1, 32), "mm": Fraction(1, 2)}
NEAR = 1e-3
"""A mark's pieces differ by less than this, where clipping rounded their corners."""


class NotFixed(Exception):
    """The printed figures don't fix a piece."""


@dataclass(frozen=True)
class String:
    """A string of dimensions as read: where its ends are drawn, and what they read."""

    drawn: tuple[float, ...]
    printed: tuple[Fraction, ...]


def read(words: str, lengths: str) -> Fraction:
    """Read a printed figure exactly."""
    plain = words.replace("'-", "' ")
    return parse_length(plain if lengths == "in" else f"{plain} mm", lengths)  # type: ignore[arg-type]


def strings_of(drawing: Drawing, axis: str, lengths: str) -> list[String]:
    """Return every string along an axis, its figures added up from its lower end."""
    found: dict[float, list[Measure]] = defaultdict(list)
    along = 0 if axis == "x" else 1
    for ink in drawing.ink:
        if isinstance(ink, Measure) and ink.axis == axis:
            found[ink.line_at].append(ink)
    strings = []
    for measures in found.values():
        measures.sort(key=lambda x: x.start[along])
        drawn, printed = [measures[0].start[along]], [Fraction(0)]
        for measure in measures:
            if abs(measure.start[along] - drawn[-1]) > 1e-9:
                raise NotFixed(f"a figure is missing along {axis}")
            drawn.append(measure.end[along])
            printed.append(printed[-1] + read(measure.words, lengths))
        strings.append(String(tuple(drawn), tuple(printed)))
    return strings


def printed_rings(drawing: Drawing, lengths: str) -> list[Ring]:
    """Return the outlines that a detail shows, their corners where its figures say."""
    rings = [
        x.points
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == UNITS and x.closed
    ]
    strings = [strings_of(drawing, axis, lengths) for axis in "xy"]
    corners = [point for ring in rings for point in ring]
    for along in (0, 1):
        first, last = (pick(p[along] for p in corners) for pick in (min, max))
        for string in strings[along]:
            if abs(string.drawn[0] - first) > NEAR or string.drawn[-1] < last - NEAR:
                raise NotFixed("a string does not go from end to end")
        if len({string.printed[-1] for string in strings[along]}) != 1:
            raise NotFixed("two strings do not agree, or there is none")
    near = float(STEP[lengths]) + 1e-9

    def place(point: Spot, along: int) -> float:
        spots = [
            (abs(drawn - point[along]), printed)
            for string in strings[along]
            for drawn, printed in zip(string.drawn, string.printed, strict=True)
        ]
        off, printed = min(spots)
        if off > near:
            raise NotFixed(f"no figure reaches {point}")
        return float(printed)

    return [tuple((place(p, 0), place(p, 1)) for p in ring) for ring in rings]


def made_rings(piece: Piece) -> list[Ring]:
    """Return a piece as it is to be sawn, from its lower left corner."""
    if piece.kind in CORNER_KINDS:
        legs = sorted(piece.before_scribing, key=lambda leg: leg.left)
        low, at, moved = min(leg.bottom for leg in legs), Fraction(0), []
        for leg in legs:
            moved.append(leg.moved(at - leg.left, -low))
            at += leg.right - leg.left
        return [_ring(leg) for leg in moved]
    made = piece.as_sawn or piece.before_scribing[0]
    return [_ring(made.at_origin())]


def _ring(outline: Outline) -> Ring:
    return tuple((float(x), float(y)) for x, y in outline.points)


def wrong_rings(
    drawing: Drawing, row: CutListRow, pieces: list[Piece], lengths: str
) -> list[str]:
    """Return how a detail's figures differ from the pieces of its mark, if at all."""
    try:
        rebuilt = printed_rings(drawing, lengths)
    except NotFixed as fault:
        return [f"{row.mark}: {fault}"]
    within = float(STEP[lengths]) / 2 + NEAR
    wrong = []
    for piece in pieces:
        wanted = made_rings(piece)
        if len(wanted) != len(rebuilt) or any(
            _differ(a, b, within) for a, b in zip(wanted, rebuilt, strict=True)
        ):
            wrong.append(f"{row.mark}: {piece.id}")
    return wrong


def _differ(wanted: Ring, got: Ring, within: float) -> bool:
    """Whether two rings differ; both may begin at any corner.

    A corner is measured from the left end or from the right one.
    """
    if len(wanted) != len(got):
        return True
    turns = (got[n:] + got[:n] for n in range(len(got)))
    longer = max(x for x, _ in got) - max(x for x, _ in wanted)
    return not any(
        abs(longer) <= within
        and all(
            min(abs(two[0] - one[0]), abs(two[0] - one[0] - longer)) <= within
            and abs(two[1] - one[1]) <= within
            for one, two in zip(wanted, ring, strict=True)
        )
        for ring in turns
    )


def words_of(drawing: Drawing) -> list[str]:
    return [said_by(lines) for lines in lettering_in(drawing.ink)]


def angles_printed(drawing: Drawing) -> list[float]:
    """Return the angles of cuts that a detail letters, in order of size."""
    found = []
    for line in words_of(drawing):
        if " SAWN " in line:
            said = line.split(" SAWN ")[1]
            found += [float(x) for x in re.findall(r"\d+\.\d", said)]
            found += [0.0] * len(re.findall(r"\b(?:SQUARE|LEVEL)\b", _bare(said)))
    return sorted(found)


def _bare(said: str) -> str:
    """Return what is said without the words that follow a figure."""
    return re.sub(r"DEGREES OFF (?:SQUARE|LEVEL)", "", said)


def angles_wanted(outlines: list[Outline]) -> list[float]:
    """Return by how much each cut is off upright or level, in order of size."""
    found = []
    for outline in outlines:
        sides = list(outline.sides())
        for place in outline.cuts:
            (x1, y1), (x2, y2) = sides[place]
            slope = degrees(atan2(abs(float(y2 - y1)), abs(float(x2 - x1))))
            found.append(min(slope, 90 - slope))
    return sorted(found)


def pieces_by_id(solution: Solution) -> dict[str, Piece]:
    pieces = [*solution.layout.pieces]
    if solution.hearth is not None:
        pieces += solution.hearth.layout.pieces
    return {piece.id: piece for piece in pieces}
