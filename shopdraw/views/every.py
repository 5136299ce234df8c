"""List every view that a job's set has, in the order of their numbers.

In:  `Solution`.   Out: `SheetView`s.
Frame: none.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from typing import Literal

from shopdraw.drawing.ink import Drawing
from shopdraw.job.model_face import SIDES
from shopdraw.solution import Solution
from shopdraw.views.hearth.edge import draw_hearth_edge
from shopdraw.views.hearth.extension import draw_extension
from shopdraw.views.hearth.plan import draw_hearth_plan
from shopdraw.views.hearth.riser import draw_riser
from shopdraw.views.parts.phrases import FACES
from shopdraw.views.section import upright
from shopdraw.views.wall import edges, plans, returns, sections
from shopdraw.views.wall.corner import draw_corner_interlock, has_square_corner
from shopdraw.views.wall.elevation import draw_elevation
from shopdraw.views.wall.inside import draw_inside_corner
from shopdraw.views.wall.turned import (
    corners_shown,
    draw_jamb_courses,
    draw_turned_corner,
)

ZERO = Fraction(0)
Draw = Callable[[float], Drawing]
Part = Literal["front", "plan", "side", "upright", "course", "detail", "hearth"]
SHOWN = {
    "front": "ELEVATION",
    "return": "RETURN",
    "chamfer": "CHAMFER",
    "alcove": "ALCOVE",
    "upright-section": "SECTION",
    "reveal": "JAMB",
    "plan": "PLAN",
    "course": "PLAN",
    "detail": "DETAIL",
    "hearth": "HEARTH",
}
"""What a sheet's title calls a view: by its part, or by its name."""


@dataclass(frozen=True)
class SheetView:
    """A view of the set.

    Attributes:
        name: its drawing's.
        part: what it is of: the front; the plan below it, the return, or the alcove,
            upright section or reveal beside it; another plan; a detail; the hearth.
        draw: draws it at a scale.
        is_large: it is drawn at a larger scale than the front.
        along: where its x is 0, from the finished left end of the front; None where
            it doesn't lie along the front.
    """

    name: str
    part: Part
    draw: Draw
    is_large: bool = False
    along: Fraction | None = None

    @property
    def shows(self) -> str:
        """What it shows, as in a sheet's title."""
        named = SHOWN.get(self.part) or SHOWN.get(self.name)
        return named or SHOWN[self.name.partition("-")[0]]


def every_view(solution: Solution) -> tuple[SheetView, ...]:
    """Return every view but the cut pieces, in the order of their numbers."""
    return (
        SheetView("elevation", "front", partial(draw_elevation, solution), along=ZERO),
        *_upright(solution),
        *_hearth(solution),
        *_details(solution),
    )


def _upright(solution: Solution) -> Iterator[SheetView]:
    """Yield what stands or lies at the front's scale."""
    for side in SIDES:
        # Unfolded, from left to right: at the left, what is next to the front is last.
        for face in solution.surround.flank(side)[:: -1 if side == "left" else 1]:
            draw = partial(returns.draw_return, solution, face.name)
            yield SheetView(f"{FACES[face.name]}-{side}", "side", draw)
    for face in solution.surround.alcoves:
        draw = partial(returns.draw_return, solution, face.name)
        yield SheetView(f"alcove-{face.name.split()[0]}", "upright", draw)
    section = partial(upright.draw_upright_section, solution)
    yield SheetView("upright-section", "upright", section)
    for face in solution.surround.reveals:
        draw = partial(returns.draw_reveal, solution, face.name)
        yield SheetView(f"reveal-{face.name.split()[0]}", "upright", draw)
    first, *others = _planned(solution)
    yield _plan(solution, first, "plan")
    for number in others:
        yield _plan(solution, number, "course")


def _plan(solution: Solution, number: int, part: Part) -> SheetView:
    draw = partial(plans.draw_plan, solution, number)
    return SheetView(f"plan-{number}", part, draw, along=ZERO)


def _planned(solution: Solution) -> list[int]:
    """Return the courses that have a plan: the first two, a band, a corbel's last."""
    coursing = solution.coursing
    standing = [x.number for x in coursing.bands() if not x.is_running]
    out = [course.number for course in coursing.corbelled]
    numbers = [course.number for course in coursing.courses][:2]
    return sorted({*numbers, *standing[:1], *out[-1:]})


def _details(solution: Solution) -> Iterator[SheetView]:
    surround = solution.surround

    def detail(name: str, draw: Callable[[Solution, float], Drawing]) -> SheetView:
        return SheetView(name, "detail", partial(draw, solution), is_large=True)

    if has_square_corner(surround):
        yield detail("interlock", draw_corner_interlock)
    for fold in corners_shown(surround):
        place = surround.folds.index(fold) + 1
        draw = partial(draw_turned_corner, solution, place)
        yield SheetView(f"corner-{place}", "detail", draw, is_large=True)
    for face in surround.alcoves:
        side = face.name.split()[0]
        draw = partial(draw_inside_corner, solution, side)
        yield SheetView(f"inside-{side}", "detail", draw, is_large=True)
    yield detail("head-section", sections.draw_head_section)
    if surround.reveals:
        yield detail("jamb", draw_jamb_courses)
    else:
        yield detail("jamb-plan", sections.draw_jamb_plan)
    yield detail("hearth-edge", edges.draw_hearth_edge)
    yield detail("top-edge", edges.draw_top_edge)
    yield detail("side-edge", edges.draw_side_edge)
    if solution.coursing.corbelled:
        yield detail("corbel", edges.draw_corbel)


def _hearth(solution: Solution) -> Iterator[SheetView]:
    """Yield the hearth extension; of brick also its pieces, riser and front edge."""
    if solution.job.hearth is not None:
        draw = partial(draw_extension, solution)
        yield SheetView("extension", "hearth", draw, along=ZERO)
    hearth = solution.hearth
    if hearth is None:
        return
    draw, along = partial(draw_hearth_plan, solution, hearth), -hearth.ground.from_front
    yield SheetView("hearth-plan", "hearth", draw, along=along)
    if hearth.riser is not None:
        # The front of the riser goes below the hearth from above, on its verticals.
        faces = sorted(
            hearth.riser.surround.faces, key=lambda face: face.name != "front"
        )
        for face in faces:
            draw = partial(draw_riser, solution, hearth, hearth.riser, face.name)
            lies = along if face.name == "front" else None
            yield SheetView(f"riser-{face.name}", "hearth", draw, along=lies)
    edge = partial(draw_hearth_edge, solution, hearth)
    yield SheetView("hearth-front-section", "hearth", edge, is_large=True)
