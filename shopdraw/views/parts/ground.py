"""Trace the walls that brick stands before, in plan, and name them.

In:  `Solution`.   Out: `Ground`, floating point; ink of the name.
Frame: as a plan: x along the front from its finished left end, y back from the finished
front.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Align, Ink, Point, Stroke
from shopdraw.job.model_face import Side
from shopdraw.job.turning import cos_sin, taken_at_mitre
from shopdraw.masonry.wall.folding import far_end, place_face
from shopdraw.masonry.wall.form import Face, Surround
from shopdraw.masonry.wall.form import Point as Spot
from shopdraw.solution import Solution
from shopdraw.views.parts.figures import Hand, dot

NOTHING = 1e-9
SUBSTRATE = "SUBSTRATE", "BY OTHERS"


@dataclass(frozen=True)
class Flank:
    """What turns back at one end of the front, in plan, from the front on.

    Attributes:
        face: the finished corners, the end at the wall last; none where nothing turns.
        behind: the corners of the substrate, likewise; with an alcove its back wall,
            and beyond the brick's end what it is broken off at.
        alcove: where the finished alcove ends; none where there is none.
        broken: how many sides of the substrate, from its end on, are broken off.
    """

    face: tuple[Point, ...]
    behind: tuple[Point, ...]
    alcove: Point | None = None
    broken: int = 0

    @property
    def depth(self) -> float:
        """How far back it reaches, square to the front; 0 where nothing turns back."""
        return self.face[-1][1] if self.face else 0.0

    @property
    def reach(self) -> float:
        """How far back the substrate is; 0 where nothing turns back."""
        return max((y for _, y in self.behind), default=0.0)

    def walls(self, front: Point, back: float) -> tuple[Point, ...]:
        """Return the substrate from the front back: along what turns, then straight.

        Args:
            front: where it is behind the end of the front, where nothing turns back.
            back: how far back it is drawn.
        """
        points = self.behind or (front,)
        x = points[-1][0]
        if len(points) > 1 and abs(points[-2][0] - x) < NOTHING:
            points = points[:-1]
        return (*points, (x, back)) if back - points[-1][1] > NOTHING else points


@dataclass(frozen=True)
class Ground:
    """The walls that a plan shows brick on, at full size.

    Attributes:
        width: of the finished front.
        build_out: brick and bed, as drawn.
        left, right: what turns back at either end.
        opening: its two edges as measured.
        jambs: the edges of the substrate beside it, behind the brick and its bed.
        turns: by how many degrees the brick turns at the corners of either end.
        slant: how far a splayed jamb goes sideways and back; nothing for a square one.
        out: how far the course shown projects before the finished face.
        has_turned_jambs: whether brick turns into the opening.
    """

    width: float
    build_out: float
    left: Flank
    right: Flank
    opening: tuple[float, float]
    jambs: tuple[float, float]
    turns: tuple[tuple[float, ...], tuple[float, ...]] = ((), ())
    slant: tuple[float, float] = (0.0, 0.0)
    out: Fraction = Fraction(0)
    has_turned_jambs: bool = False


def ground_of(solution: Solution, out: Fraction = Fraction(0)) -> Ground:
    """Return the walls of a job, for a plan through a course that projects so far."""
    surround = solution.surround
    start, opening = surround.front.left, surround.opening
    edges = (float(opening.left - start), float(opening.right - start))
    jambs, slant = edges, (0.0, 0.0)
    if surround.reveals:
        turn = surround.reveals[0].turn
        behind = float(taken_at_mitre(surround.build_out, turn))
        left, right = (float(x - start) for x in surround.jamb_folds)
        jambs = left - behind, right + behind
        if surround.splay:
            along = surround.reveals[0].width
            across, deep = (float(along * part) for part in cos_sin(turn))
            slant = across, deep
    return Ground(
        width=float(surround.front.width),
        build_out=float(solution.job.brick.thickness)
        + float(solution.job.setting_bed.mean),
        left=_flank(surround, "left"),
        right=_flank(surround, "right"),
        opening=edges,
        jambs=jambs,
        turns=(_turns(surround, "left"), _turns(surround, "right")),
        slant=slant,
        out=out,
        has_turned_jambs=bool(surround.reveals),
    )


def _flank(surround: Surround, side: Side) -> Flank:
    """Return what turns back at an end of the front."""
    faces, deep = surround.flank(side), surround.build_out
    if not faces:
        return Flank((), ())
    ends, behind = list[Spot](), list[Spot]()
    for face in faces:
        fold, placed = surround.fold_of(face), place_face(surround, face.name)
        taken = taken_at_mitre(deep, surround.turn_at(fold))
        way = 1 if face.left == fold else -1
        ends.append(placed.corner)
        behind.append(placed.point(fold + way * taken, deep))
    # The wall is level with the end of the finished face.
    wall, placed = far_end(surround, faces[-1]), place_face(surround, faces[-1].name)
    on = (wall[1] - placed.corner[1] - deep * placed.back[1]) / placed.along[1]
    flank = Flank(
        _floats([*ends, wall]), _floats([*behind, placed.point(placed.fold + on, deep)])
    )
    beyond = [face for face in surround.alcoves if face.name == f"{side} alcove"]
    return _with_alcove(surround, side, flank, beyond[0]) if beyond else flank


def _with_alcove(surround: Surround, side: Side, flank: Flank, alcove: Face) -> Flank:
    """Return what turns back, with the alcove's wall: on past a free edge, or to one.

    The wall that the alcove's brick ends at comes forward from there.
    """
    edge = surround.left_edge if side == "left" else surround.right_edge
    deep, way = float(surround.build_out), -1 if side == "left" else 1
    x, y = _floats([far_end(surround, alcove)])[0]
    back, thick = y + deep, 2 * deep
    behind = [*flank.behind[:-1], (flank.behind[-1][0], back)]
    if edge.against == "wall":
        behind += [(x, back), (x, y - thick), (x + way * thick, y - thick)]
        return Flank(flank.face, tuple(behind), (x, y), broken=2)
    behind.append((x + way * thick, back))
    return Flank(flank.face, tuple(behind), (x, y), broken=1)


def _turns(surround: Surround, side: Side) -> tuple[float, ...]:
    """Return by how many degrees the brick turns at an end, from the front on."""
    folds = (surround.fold_of(face) for face in surround.flank(side))
    return tuple(float(surround.turn_at(fold)) for fold in folds)


def _floats(points: list[Spot]) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in points)


def name_substrate(ground: Ground, back: float, hand: Hand) -> Iterator[Ink]:
    """Name the substrate at the right of the opening, where there is room.

    In an opening that is too narrow for one line it has two. At the left one details
    of a jamb are marked. Where brick turns into the jambs it is named from behind: from
    the opening a leader would cross the brick.

    Args:
        ground: the walls.
        back: how far back the substrate is drawn there.
        hand: for the sizes on paper.
    """
    lines: tuple[str, ...] = (" ".join(SUBSTRATE),)
    text, wide = hand.text, hand.width(lines[0])
    if ground.has_turned_jambs:
        # Beside the brick, which may go further back than the substrate is drawn.
        first, top = ground.jambs[1] + text, back + 1.2 * text
        if ground.width - first < wide:
            return
        x = first + 2.0 * text
        at, end, spot = (x, back - 2.5 * text), (x, top), (first, top + 0.9 * text)
    else:
        left, right = ground.opening
        y = ground.build_out + 4.5 * text
        start = right - max(3.0 * text, ground.build_out + text)
        room = (right - left) / 2 - (right - start) - 2 * text
        if wide >= room:
            lines, wide = SUBSTRATE, max(map(hand.width, SUBSTRATE))
        if wide >= room or y >= (ground.right.depth or 8 * text):
            return
        at, end, spot = (right + text, y), (start + 0.6 * text, y), (start, y)
    yield Stroke(layers.DIMENSIONS, (at, end))
    yield dot(at, 0.25 * text)
    side: Align = "left" if ground.has_turned_jambs else "right"
    for row, line in enumerate(lines):
        yield hand.caption((spot[0], spot[1] - 1.8 * row * text), line, side)
