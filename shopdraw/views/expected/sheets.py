"""Say what must be found in each DXF file when it is read back.

In:  `Solution`, and a sheet or the bare drawing.   Out: `Expected`.
Frame: model space of the file; what is on the layout in paper lengths.

Pieces, and every line on the layers of what is built, come from the solution; figures
of dimensions come from where they stand, not from the ink that was made of them. On the
other layers it is the ink that was to be written.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace

from shopdraw.drawing import layers
from shopdraw.drawing.dividing import (
    WHOLE,
    all_within,
    clipped,
    clipped_area,
    reaches,
)
from shopdraw.drawing.expected import (
    Expected,
    ExpectedInsert,
    ExpectedMeasure,
    ExpectedViewport,
    Trace,
    said_of,
)
from shopdraw.drawing.hatching import PATTERNS
from shopdraw.drawing.ink import (
    Drawing,
    Fill,
    Hatch,
    Ink,
    Measure,
    Point,
    Stroke,
)
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.measures import ends_of, follows
from shopdraw.drawing.paragraphs import lettering_in, said_by
from shopdraw.drawing.sheets import PlacedDrawing, Sheet, window_of
from shopdraw.lengths import (
    Lengths,
    format_length,
    format_made,
    half_marked,
    rounded,
    settled,
)
from shopdraw.masonry.hearth.form import BrickHearth
from shopdraw.masonry.wall.layout import Layout
from shopdraw.solution import Solution
from shopdraw.views.brick.units import tags_of
from shopdraw.views.expected.built import (
    APART,
    BUILT,
    FACE_OF_VIEW,
    HEARTH_VIEWS,
    bare_place,
    trace_bare,
    trace_built,
)
from shopdraw.views.general import LEGEND

Move = Callable[[Point], Point]


def expect_sheets(
    solution: Solution, sheets: tuple[Sheet, ...]
) -> tuple[Expected, ...]:
    """Return what each sheet's DXF file must hold."""
    return tuple(expect_sheet(solution, sheet) for sheet in sheets)


def expect_sheet(solution: Solution, sheet: Sheet) -> Expected:
    """Return what a sheet's DXF file must hold."""
    inserts: list[ExpectedInsert] = []
    traces: list[Trace] = []
    for placed in sheet.drawings:
        drawing, move = placed.drawing, placed.placement.to_model
        window = drawing.part.window if drawing.part else None
        face = FACE_OF_VIEW.get(drawing.name)
        units: Iterable[ExpectedInsert] = ()
        if face is not None:
            dx = -float(solution.surround.face(face).left)
            units = _units(solution.layout, {face}, dx)
        elif drawing.name in HEARTH_VIEWS and solution.hearth is not None:
            face = HEARTH_VIEWS[drawing.name]
            dx = -_start_of(solution.hearth, drawing.name)
            units = _units(solution.hearth.layout, {face}, dx)
        inserts += (
            replace(unit, outline=tuple(map(move, unit.outline)))
            for unit in units
            if window is None or reaches(unit.outline, window)
        )
        built = trace_built(solution, drawing)
        if window is not None:
            built = _in_part(built, window)
        traces += _moved(built, move)
        # A legend's samples are of nothing that is built.
        own = frozenset() if drawing.name == LEGEND else BUILT
        traces += _moved(_other_traces(drawing.ink, own), move)
    drawings = [placed.drawing for placed in sheet.drawings]
    return replace(
        _expected(inserts, drawings, traces, solution.lengths),
        paper_lines=tuple(_other_traces(sheet.paper_ink)),
        paper_words=tuple(map(said_by, lettering_in(sheet.paper_ink))),
        viewports=tuple(_viewport(placed, sheet) for placed in sheet.drawings),
    )


def expect_bare(solution: Solution, drawing: Drawing) -> Expected:
    """Return what the DXF file of the bare drawing must hold."""
    surround = solution.surround
    units = [
        unit
        for face in (*surround.faces, *surround.reveals)
        for unit in _units(
            solution.layout,
            {str(face.name)},
            float(bare_place(solution, face.name)),
        )
    ]
    traces = [*trace_bare(solution), *_other_traces(drawing.ink, APART)]
    return _expected(units, [drawing], traces, solution.lengths)


def _start_of(hearth: BrickHearth, view: str) -> float:
    """Return x of the left end of what a view of the hearth shows."""
    if hearth.riser is None or view == "hearth-plan":
        return 0.0
    return float(hearth.riser.surround.face(view.removeprefix("riser-")).left)


def _units(layout: Layout, faces: set[str], dx: float) -> Iterator[ExpectedInsert]:
    for piece in layout.pieces:
        # A panel's pieces count by themselves and lie on the front.
        if ("front" if piece.place == "panel" else piece.place) not in faces:
            continue
        points = piece.outlines[0].points
        outline = tuple((float(x) + dx, float(y)) for x, y in points)
        yield ExpectedInsert(tags_of(piece), outline)


def _in_part(traces: Iterable[Trace], window: Box) -> Iterator[Trace]:
    """Yield what of a view is in a part of it; a unit is there with its cut lines."""
    keeps = False
    for trace in traces:
        if trace.layer in WHOLE:
            keeps = reaches(trace.points, window)
        if trace.layer in (*WHOLE, layers.CUTS):
            if keeps:
                yield trace
        elif trace.kind in ("fill", "hatch"):
            for corners in clipped_area(trace.points, window):
                yield replace(trace, points=corners)
        elif all_within(trace.points, window):
            yield trace
        else:
            for line in clipped(trace.points, window, closed=trace.kind == "closed"):
                yield replace(trace, kind="open", points=line)


def _other_traces(ink: Iterable[Ink], built: frozenset[str] = BUILT) -> Iterator[Trace]:
    """Yield the lines and fills on all layers but those of what is built."""
    for each in ink:
        if isinstance(each, Stroke) and each.layer not in built:
            yield Trace(each.layer, "closed" if each.closed else "open", each.points)
        elif isinstance(each, Fill) and each.layer not in built:
            yield Trace(each.layer, "fill", each.points)
        elif isinstance(each, Hatch) and each.layer not in built:
            yield _hatched(each)


def _hatched(hatch: Hatch) -> Trace:
    """Return a hatched area; steps are the same wherever it is placed."""
    families = (
        (x.angle_deg, x.step[0] * hatch.inch, x.step[1] * hatch.inch)
        for x in PATTERNS[hatch.pattern]
    )
    pattern = said_of(hatch.pattern, families)
    return Trace(hatch.layer, "hatch", hatch.points, pattern)


def _moved(traces: Iterable[Trace], move: Move) -> Iterator[Trace]:
    for trace in traces:
        yield replace(trace, points=tuple(move(point) for point in trace.points))


def _viewport(placed: PlacedDrawing, sheet: Sheet) -> ExpectedViewport:
    placement = placed.placement
    left, bottom, right, top = window_of(placed, sheet.lengths)
    middle = (left + right) / 2, (bottom + top) / 2
    # The middle of the window, as it is on paper, at the drawing's scale.
    x, y = (
        model + (at - paper) * placement.scale
        for model, at, paper in zip(
            placement.in_model, middle, placement.on_paper, strict=True
        )
    )
    return ExpectedViewport(
        middle, (right - left, top - bottom), (x, y), placement.scale
    )


def _expected(
    inserts: list[ExpectedInsert],
    drawings: list[Drawing],
    traces: list[Trace],
    lengths: Lengths,
) -> Expected:
    measures: list[ExpectedMeasure] = []
    words: list[str] = []
    for drawing in drawings:
        ink = drawing.ink
        begun = dict(drawing.part.begun) if drawing.part else {}
        strings = (x for x in ink if isinstance(x, Measure))
        measures += expect_measures(strings, lengths, begun)
        words += map(said_by, lettering_in(ink))
    return Expected(
        inserts=tuple(sorted(inserts, key=lambda insert: insert.tags)),
        measures=tuple(measures),
        words=tuple(sorted(words)),
        lines=tuple(traces),
    )


def expect_measures(
    measures: Iterable[Measure],
    lengths: Lengths,
    begun: Mapping[Point, Point] | None = None,
) -> Iterator[ExpectedMeasure]:
    """Work out what each dimension must read from where it stands.

    Dimensions that follow on one another on one line are a string: positions are
    rounded from its start, and a figure is the difference of two of them. The figure
    that the ink carries is not looked at, so a wrong one is found out. One of several
    equal gaps has none.

    `begun` has the starts of the strings that begin beyond a match line, by where what
    is here of them begins.
    """
    start, last = 0.0, None
    for measure in measures:
        a, b = _along(measure)
        if last is None or not follows(last, measure):
            first = ends_of(measure)[0]
            begins = (begun or {}).get(first, first)
            start = begins[0 if measure.axis == "x" else 1]
        to_mark = half_marked if measure.is_fine else rounded
        written = format_made if measure.is_fine else format_length
        shown = to_mark(settled(b - start), lengths) - to_mark(
            settled(a - start), lengths
        )
        figure = written(abs(shown), lengths)
        words = measure.words if measure.is_equal else figure
        yield ExpectedMeasure(abs(b - a), words)
        last = measure


def _along(measure: Measure) -> tuple[float, float]:
    """Return the two ends of a dimension along its axis."""
    at = 0 if measure.axis == "x" else 1
    return measure.start[at], measure.end[at]
