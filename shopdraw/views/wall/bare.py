"""Draw the brick alone, to insert into another drawing: the front as it is seen.

In:  `Solution`.   Out: `Drawing`.
Frame: full size; the origin is on the datum under the centre of the opening.

Returns, chamfers, alcoves and jambs are unrolled at both sides, well apart from the
front and on layers of their own: with those off a true elevation is left.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Drawing, Ink, Insert, Stroke, Symbol
from shopdraw.drawing.sheets import STYLES
from shopdraw.masonry.laying.outlines import face_ring, front_ring, whole_ring
from shopdraw.masonry.wall.form import Face
from shopdraw.solution import Solution
from shopdraw.views.brick.units import layer_of, unit_ink
from shopdraw.views.parts.aslant import seen_from_front

LETTERED_FOR = {"in": 8.0, "mm": 10.0}
"""Marks are sized for this scale, at which such a drawing is most often shown."""
APART = {"in": Fraction(12), "mm": Fraction(300)}
"""How far the front, what turns back beside it, and a jamb stand from one another."""


def draw_surround(solution: Solution) -> Drawing:
    """Draw every piece once, with the outlines of the faces."""
    scale = LETTERED_FOR[solution.job.lengths]
    surround, coursing = solution.surround, solution.coursing
    centre = surround.opening.centre
    ring = front_ring(surround, coursing, solution.layout)
    units, symbols = _face(solution, "front", -centre, scale)
    ink: list[Ink] = [*units, *_seen_aslant(solution), _outline(ring, -centre)]
    # It stops at the head: above, it would cross the mark of a piece on the centre.
    ink.append(Stroke(layers.LEVELS, ((0.0, 0.0), (0.0, float(coursing.head)))))
    for face, dx in _places(solution):
        units, drawn = _face(solution, str(face.name), dx, scale)
        symbols |= {_name_apart(name): _symbol_apart(x) for name, x in drawn.items()}
        shape = whole_ring(surround, coursing, face)
        if face in surround.reveals:
            shape = face_ring(surround, face, coursing.head)
        ink += (_apart(each) for each in (*units, _outline(shape, dx)))
    every = tuple(symbols[name] for name in sorted(symbols))
    return Drawing("surround", "", scale, tuple(ink), every)


def _places(solution: Solution) -> Iterator[tuple[Face, Fraction]]:
    """Yield every face but the front, and what is added to x on it."""
    surround = solution.surround
    names = [face.name for face in surround.faces]
    at = names.index("front")
    apart = APART[solution.job.lengths] + 2 * solution.coursing.projection
    for way, faces, reveal in (
        (-1, surround.faces[:at], surround.reveals[:1]),
        (1, surround.faces[at + 1 :], surround.reveals[1:]),
    ):
        # What splays is seen beside the front too, never wider than it is.
        seen = sum((x.width for x in faces if x.turn < 90), Fraction(0))
        dx = way * (apart + seen) - surround.opening.centre
        for face in faces:
            yield face, dx
        ends = (surround.faces[0].left, surround.faces[-1].right)
        for face in reveal:
            begin = face.right if way < 0 else face.left
            yield face, dx + ends[way > 0] + way * apart - begin


def _face(
    solution: Solution, name: str, dx: Fraction, scale: float
) -> tuple[list[Ink], dict[str, Symbol]]:
    small = STYLES[solution.job.lengths].small
    units, drawn = unit_ink(solution.layout, {name}, float(dx), small, scale)
    return units, {symbol.name: symbol for symbol in drawn}


def _seen_aslant(solution: Solution) -> Iterator[Ink]:
    """Draw what the front sees of faces aslant, foreshortened: outlines alone."""
    surround = solution.surround
    dx = float(surround.front.left - surround.opening.centre)
    for piece, _, ring in seen_from_front(solution):
        points = tuple((x + dx, y) for x, y in ring)
        yield Stroke(layer_of(piece), points, closed=True)


def _outline(
    ring: tuple[tuple[Fraction, Fraction], ...] | list[tuple[Fraction, Fraction]],
    dx: Fraction,
) -> Stroke:
    points = tuple((float(x + dx), float(y)) for x, y in ring)
    return Stroke(layers.OUTLINE, points, closed=True)


def _apart(ink: Ink) -> Ink:
    """Return ink of the front's layers on those of the returns."""
    moved = replace(ink, layer=layers.OF_RETURNS[ink.layer])
    if not isinstance(moved, Insert):
        return moved
    tags = tuple(
        tag
        if tag.words is None
        else replace(
            tag, words=replace(tag.words, layer=layers.OF_RETURNS[tag.words.layer])
        )
        for tag in moved.tags
    )
    return replace(moved, symbol=_name_apart(moved.symbol), tags=tags)


def _symbol_apart(symbol: Symbol) -> Symbol:
    strokes = tuple(
        replace(each, layer=layers.OF_RETURNS[each.layer]) for each in symbol.strokes
    )
    return replace(symbol, name=_name_apart(symbol.name), strokes=strokes)


def _name_apart(name: str) -> str:
    """Name a symbol that stands on a return: `R-B2-L` where the front has `U-B2-L`."""
    return f"R{name[1:]}"
