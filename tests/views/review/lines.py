"""The measured lines on a review page, read from its ink, and held against the job."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import hypot, isclose

import shapely

from shopdraw.drawing.extents import lettering_of
from shopdraw.drawing.ink import Drawing, Measure, Stroke
from shopdraw.drawing.measures import letter_of
from shopdraw.solution import Solution
from tests.findings import Name, by_key, name_of
from tests.views.review.rows import rows_on

Point = tuple[float, float]


@dataclass(frozen=True)
class Keyed:
    """What a number in a circle is beside.

    Attributes:
        foot: where its leader comes to; the circle's middle without one.
        words: the figure beside it; empty without any.
    """

    row: int
    at: Point
    foot: Point
    leader: tuple[Point, ...]
    words: str
    letter: Point


@dataclass(frozen=True)
class Line:
    """A measured line: its figure, its length, its two ends."""

    words: str
    length: float
    ends: tuple[Point, Point]


def apart(a: Point, b: Point) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def thin_strokes(drawing: Drawing) -> list[tuple[Point, ...]]:
    return [
        x.points
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == "A-ANNO-DIMS" and len(x.points) == 2
    ]


def keys_on(drawing: Drawing) -> Iterator[Keyed]:
    """Yield every number in a circle, with its leader and its figure."""
    lettering = list(lettering_of(drawing))
    for ink in drawing.ink:
        if not isinstance(ink, Stroke) or not ink.closed or len(ink.points) != 24:
            continue
        x, y = (sum(values) / 24 for values in zip(*ink.points, strict=True))
        at, radius = (x, y), apart(ink.points[0], (x, y))
        (number,) = (w.text for w, _ in lettering if apart(w.at, at) < radius / 4)
        leader: tuple[Point, ...] = ()
        for a, b in thin_strokes(drawing):
            for near, far in ((a, b), (b, a)):
                if isclose(apart(near, at), radius, rel_tol=1e-9):
                    leader = (near, far)
        figures = [
            words
            for words, (left, _, right, _) in lettering
            if isclose(words.at[1], y, abs_tol=1e-6)
            and words.layer == "A-ANNO-DIMS"
            and 0 < min(abs(left - x), abs(right - x)) - radius < radius
        ]
        words, letter = (figures[0].text, figures[0].at) if figures else ("", at)
        yield Keyed(int(number), at, (leader or (at, at))[1], leader, words, letter)


def ends_of(measure: Measure) -> tuple[Point, Point]:
    (a, b), (c, d), level = measure.start, measure.end, measure.line_at
    if measure.axis == "x":
        return (a, level), (c, level)
    return (level, b), (level, d)


def lines_on(drawing: Drawing) -> dict[int, Line]:
    """Read the measured lines: what the leader of each figure comes to."""
    found = {}
    measures = [x for x in drawing.ink if isinstance(x, Measure)]
    dots = [
        shapely.Polygon(x.points).centroid
        for x in drawing.ink
        if isinstance(x, Stroke) and x.layer == "A-ANNO-DIMS" and len(x.points) == 4
    ]
    for key in keys_on(drawing):
        if not key.words:
            continue
        spans = [
            ends_of(measure)
            for measure in measures
            if letter_of(measure, drawing.scale).at == key.letter
        ]
        if not spans:
            # A slanting line is drawn by hand; a line of no length is a dot.
            strokes = thin_strokes(drawing)
            spans = [(a, b) for a, b in strokes if {a, b} != set(key.leader)]
            spans.sort(key=lambda span: -apart(*span))
            spans += [((dot.x, dot.y), (dot.x, dot.y)) for dot in dots]
        foot = shapely.Point(key.foot)
        for span in spans:
            if shapely.LineString(span).distance(foot) < 1e-6:
                found[key.row] = Line(key.words, apart(*span), span)
                break
    return found


def names_in(solution: Solution) -> list[Name]:
    """Return what each row of the review is found by, in their order."""
    return [name_of(finding.rule) for finding in solution.findings]


def opening_of(solution: Solution) -> tuple[float, float, float, float]:
    """Return the larger of the opening found and finished, from the front's left end.

    For openings that are rectangles, or arches with woodwork over their crown: left,
    right, foot, head.
    """
    job = solution.job
    build_out = job.setting_bed.mean + job.brick.thickness
    grows = job.face.left_return is not None and job.face.measured_to == "substrate"
    left = build_out if grows else Fraction(0)
    if job.opening.from_left is None:
        left += (job.face.width - job.opening.width) / 2
    else:
        left += job.opening.from_left
    gap = job.edges.jambs.width if job.edges.jambs.kind == "gap" else 0
    head = max(job.opening.height, solution.coursing.head)
    if job.opening.head == "semicircular arch":
        head += job.opening.width / 2
    sides = left - gap, left + job.opening.width + gap
    return (float(sides[0]), float(sides[1]), 0.0, float(head))


def wanted_lines(solution: Solution) -> dict[Name, float]:
    """Reckon from the job what must be drawn, by rule."""
    job, wanted = solution.job, dict[Name, float]()
    left, right, foot, head = opening_of(solution)
    moved = (right - left - float(job.opening.width)) / 2
    hearth = job.hearth
    if hearth is not None and hearth.material != "combustible":
        face = job.setting_bed.most + job.brick.thickness
        added = Fraction(0)
        if hearth.brick is not None and hearth.brick.riser is not None:
            # The brick of the riser stand out by so much at least.
            added = job.setting_bed.least + job.brick.thickness
        sides: tuple[tuple[Name, Fraction | None, float], ...] = (
            ("hearth-front", hearth.front, float(face)),
            (("hearth-side", "left"), hearth.left, moved),
            (("hearth-side", "right"), hearth.right, moved),
        )
        for name, given, less in sides:
            if given is not None:
                wanted[name] = float(given + added) - less
    for place, trim in enumerate(job.trim, start=1):
        if trim.material == "marble":
            continue
        a, b = float(trim.left), float(trim.left + trim.width)
        c, d = float(trim.bottom), float(trim.bottom + trim.height)
        across, up = max(a - right, left - b, 0.0), max(c - head, foot - d, 0.0)
        wanted["trim-distance", place] = hypot(across, up)
        outs = [float(step.projection) for step in trim.steps]
        wanted["trim-projection", place] = float(trim.projection or 0)
        if outs:
            # The worst step is drawn: whichever the review found, it is one of them.
            finding = by_key(solution.findings)["trim-projection", place]
            wanted["trim-projection", place] = next(
                x for x in outs if x == finding.measured
            )
    return wanted


def missing_lines(drawing: Drawing, solution: Solution) -> list[Name]:
    """Return the rules whose measured line is not drawn, with its length and figure."""
    lines, rows = lines_on(drawing), rows_on(drawing)
    wanted, wrong = wanted_lines(solution), list[Name]()
    rules = names_in(solution)
    for rule, length in wanted.items():
        number = rules.index(rule) + 1
        line = lines.get(number)
        if (
            line is None
            or not isclose(line.length, length, abs_tol=1e-5)
            or line.words != rows[number - 1].measured
        ):
            wrong.append(rule)
    extra = [rules[number - 1] for number in lines if rules[number - 1] not in wanted]
    return wrong + extra
