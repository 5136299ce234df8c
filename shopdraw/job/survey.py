"""Work out the opening's sizes and the hearth's fall from the points of a survey.

In:  a job's tables with the default values.   Out: the same with these filled in.
Frame: points are measured along from the left end of the face at its foot, and up from
one level line, wherever that was struck; what comes out is measured from the datum, the
highest point of the hearth.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Any

from shopdraw.job.values import length_or_none
from shopdraw.lengths import Lengths

Point = tuple[Fraction, Fraction]
CORNERS = ("bottom_left", "bottom_right", "top_left", "top_right")
GIVEN_BY = {
    "opening.width": "opening.corners",
    "opening.from_left": "opening.corners",
    "hearth.fall": "hearth.points",
    "hearth.falls_to": "hearth.points",
}
"""Keys that follow from a survey's points, so that they can't be typed as well."""


@dataclass(frozen=True)
class Profile:
    """Points joined by straight lines from left to right, level beyond the ends."""

    points: tuple[Point, ...]

    def at(self, x: Fraction) -> Fraction:
        """Return the height at one place."""
        if x <= self.points[0][0]:
            return self.points[0][1]
        for (x1, y1), (x2, y2) in pairwise(self.points):
            if x <= x2:
                return y1 + (y2 - y1) * (x - x1) / (x2 - x1)
        return self.points[-1][1]

    def over(self, left: Fraction, right: Fraction) -> tuple[Fraction, ...]:
        """Return the heights at both ends of a stretch and at each point between."""
        return tuple(y for _, y in self.between(left, right))

    def between(self, left: Fraction, right: Fraction) -> tuple[Point, ...]:
        """Return the part of the line from one place to another, ends included."""
        inside = (point for point in self.points if left < point[0] < right)
        return ((left, self.at(left)), *inside, (right, self.at(right)))


def lowest_of_head(top_left: Fraction, top_right: Fraction, sag: Fraction) -> Fraction:
    """Return the lowest point of the head, which may be its sagging middle."""
    return min(top_left, top_right, (top_left + top_right) / 2 - sag)


def fill_survey(tables: dict[str, Any], lengths: Lengths) -> dict[str, Any]:
    """Fill in what follows from the opening's corners and the hearth's points.

    What can't be read is left as it is, for the model to complain of.
    """
    opening, hearth = tables.get("opening"), tables.get("hearth")
    corners = _corners_of(opening, lengths)
    if isinstance(opening, dict) and "corners" in opening and corners is None:
        # A corner is wrong already; any opening stands in to find further faults.
        return {**tables, "opening": {**_stand_in(tables, lengths), **opening}}
    if corners is not None and isinstance(opening, dict):
        left = max(corners["bottom_left"][0], corners["top_left"][0])
        right = min(corners["bottom_right"][0], corners["top_right"][0])
        if right <= left:
            # The jambs cross, which is complained of; any opening stands in.
            return {**tables, "opening": {**_stand_in(tables, lengths), **opening}}
        clear: dict[str, Any] = {"from_left": left, "width": right - left}
        tables = {**tables, "opening": {**opening, **clear}}
        sag = length_or_none(
            opening["corners"].get("sag", "0 in"), lengths
        ) or Fraction(0)
        head = lowest_of_head(corners["top_left"][1], corners["top_right"][1], sag)
        head -= _highest(tables, lengths)
        if head > 0:
            tables["opening"] = {"height": head, **tables["opening"]}
        else:
            tables["opening"] = {**_stand_in(tables, lengths), **tables["opening"]}
    if isinstance(hearth, dict) and hearth.get("points"):
        heights = _under_brick(tables, lengths)
        if heights:
            fall = max(heights) - min(heights)
            tables = {**tables, "hearth": {**hearth, "fall": fall}}
    return tables


def _stand_in(tables: dict[str, Any], lengths: Lengths) -> dict[str, Fraction]:
    """Return an opening half as wide and half as high as the face."""
    face = tables.get("face")
    sizes = face if isinstance(face, dict) else {}
    read = {x: length_or_none(sizes.get(x), lengths) for x in ("width", "height")}
    return {key: size / 2 for key, size in read.items() if size is not None}


def conflicts(given: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """Yield each key that is typed although it follows from the survey's points."""
    for key, source in GIVEN_BY.items():
        table, name = key.split(".")
        _, points = source.split(".")
        inside = given.get(table)
        if isinstance(inside, dict) and name in inside and inside.get(points):
            yield key, f"already follows from {source}; remove one of the two"


def highest_under_brick(
    points: tuple[Point, ...], left: Fraction, right: Fraction, width: Fraction
) -> Fraction:
    """Return the highest point of the hearth under the legs; zero without points.

    Args:
        points: of the hearth, from left to right along the face.
        left: x of the foot of the left jamb.
        right: x of the foot of the right jamb.
        width: of the face.
    """
    heights = _under_legs(points, left, right, width)
    return max(heights, default=Fraction(0))


def _under_legs(
    points: tuple[Point, ...], left: Fraction, right: Fraction, width: Fraction
) -> tuple[Fraction, ...]:
    if not points:
        return ()
    profile = Profile(points)
    return (*profile.over(Fraction(0), left), *profile.over(right, width))


def _under_brick(tables: dict[str, Any], lengths: Lengths) -> tuple[Fraction, ...]:
    """Return the hearth's heights under both legs; none where one can't be read."""
    hearth, opening, face = (tables.get(x) for x in ("hearth", "opening", "face"))
    if not all(isinstance(table, dict) for table in (opening, face)):
        return ()
    points = read_points(
        hearth.get("points") if isinstance(hearth, dict) else (), lengths
    )
    corners = _corners_of(opening, lengths)
    face_width = length_or_none(face.get("width"), lengths)  # type: ignore[union-attr]
    width = length_or_none(opening.get("width"), lengths)  # type: ignore[union-attr]
    if not points or face_width is None or width is None:
        return ()
    if corners is not None:
        left, right = corners["bottom_left"][0], corners["bottom_right"][0]
        if opening.get("jamb_return") is not None:  # type: ignore[union-attr]
            # Brick that turns into the jambs stands plumb, at the narrowest.
            left = max(left, corners["top_left"][0])
            right = min(right, corners["top_right"][0])
    else:
        typed = length_or_none(opening.get("from_left"), lengths)  # type: ignore[union-attr]
        left = (face_width - width) / 2 if typed is None else typed
        right = left + width
    if not 0 < left < right < face_width:
        return ()
    return _under_legs(points, left, right, face_width)


def _highest(tables: dict[str, Any], lengths: Lengths) -> Fraction:
    return max(_under_brick(tables, lengths), default=Fraction(0))


def _corners_of(opening: object, lengths: Lengths) -> dict[str, Point] | None:
    corners = opening.get("corners") if isinstance(opening, dict) else None
    if not isinstance(corners, dict):
        return None
    read = {name: _point(corners.get(name), lengths) for name in CORNERS}
    good = {name: point for name, point in read.items() if point is not None}
    return good if len(good) == len(CORNERS) else None


def read_points(typed: object, lengths: Lengths) -> tuple[Point, ...]:
    """Read a list of points; return none where one can't be read or they turn back."""
    if not isinstance(typed, list):
        return ()
    points = [_point(each, lengths) for each in typed]
    good = tuple(point for point in points if point is not None)
    rises = all(a[0] < b[0] for a, b in pairwise(good))
    return good if len(good) == len(points) and rises else ()


def _point(typed: object, lengths: Lengths) -> Point | None:
    if not isinstance(typed, list) or len(typed) != len(("along", "up")):
        return None
    along, up = (length_or_none(each, lengths) for each in typed)
    return None if along is None or up is None else (along, up)
