"""SVG: every line and letter where the other writers put it, to the grid."""

from __future__ import annotations

import re
from collections import Counter
from xml.etree import ElementTree

import pytest

from shopdraw.drawing.sheets import Sheet
from shopdraw.output import svg
from shopdraw.output.plot import PENS, Plot
from tests.demos import set_of, sheet_of

STEP = re.compile(r"([Mhvlz])(-?\d+)?(?: ?(-?\d+))?")
Spot = tuple[int, int]
DRAWN = ("library-hearth", "metric-slips", "segmental-kitchen")
"""In inches, in millimetres, with an arch: each writer is one for all demos."""


def points_of(data: str) -> list[list[Spot]]:
    """Read a path's data: each of its lines as points on the grid."""
    lines: list[list[Spot]] = []
    for kind, first, second in STEP.findall(data):
        if kind == "M":
            lines.append([(int(first), int(second))])
            continue
        line = lines[-1]
        x, y = line[-1]
        if kind == "z":
            if line[-1] != line[0]:
                line.append(line[0])
        elif kind == "h":
            line.append((x + int(first), y))
        elif kind == "v":
            line.append((x, y + int(first)))
        else:
            line.append((x + int(first), y + int(second)))
    return lines


def lines_drawn(text: str) -> Counter[tuple[str, tuple[Spot, ...]]]:
    root = ElementTree.fromstring(f"<svg>{text}</svg>")
    return Counter(
        (path.get("class", ""), tuple(line))
        for path in root.iter("path")
        if path.get("class", "").startswith("l ")
        for line in points_of(path.get("d", ""))
    )


def lines_meant(
    sheet: Sheet, frame: svg.Frame
) -> Counter[tuple[str, tuple[Spot, ...]]]:
    """Return what the pens draw, reckoned apart: points that fall together once."""
    names = {colour: f"k{index}" for index, colour in PENS.items()}
    meant: Counter[tuple[str, tuple[Spot, ...]]] = Counter()
    for (colour, _, _), lines in Plot(sheet).lines.items():
        for line in lines:
            spots: list[Spot] = []
            for x, y in line:
                spot = (
                    # To a ten-thousandth first: a half is one to the last digit.
                    round(round((x - frame.left) * frame.units, 4)),
                    round(round((frame.top - y) * frame.units, 4)),
                )
                if not spots or spots[-1] != spot:
                    spots.append(spot)
            meant[f"l {names.get(colour, 'k7')}", tuple(spots)] += 1
    return meant


@pytest.mark.parametrize("demo", DRAWN)
def test_every_line_of_a_sheet_is_where_the_pens_draw_it(demo: str) -> None:
    for sheet in set_of(demo).sheets:
        frame = svg.frame_of(sheet)
        assert lines_drawn(svg.draw(sheet, frame)) == lines_meant(sheet, frame)


@pytest.mark.parametrize(
    ("old", "new"), [(r"M(\d+)", r"M\g<1>1"), (r"h(\d+)", r"v\1"), ("l k7", "l k1")]
)
def test_a_line_that_is_elsewhere_is_noticed(old: str, new: str) -> None:
    sheet = sheet_of("library-hearth")
    frame = svg.frame_of(sheet)
    drawn = svg.draw(sheet, frame)
    damaged = re.sub(old, new, drawn, count=1)
    assert damaged != drawn
    assert lines_drawn(damaged) != lines_meant(sheet, frame)


@pytest.mark.parametrize("demo", DRAWN)
def test_every_letter_of_a_sheet_is_there(demo: str) -> None:
    for sheet in set_of(demo).sheets:
        frame = svg.frame_of(sheet)
        root = ElementTree.fromstring(f"<svg>{svg.draw(sheet, frame)}</svg>")
        drawn = Counter(
            (each.text, (int(each.get("x", "")), int(each.get("y", ""))))
            for each in root.iter("text")
        )
        meant = Counter((x.text, frame.at(x.foot)) for x in Plot(sheet).letters)
        assert drawn == meant


def test_the_picture_is_painted_in_its_colours() -> None:
    picture = set_of("library-hearth").picture
    assert picture is not None
    frame = svg.frame_of(picture)
    root = ElementTree.fromstring(f"<svg>{svg.draw(picture, frame)}</svg>")
    areas = [
        (path.get("fill"), tuple(ring[:2]))
        for path in root.iter("path")
        if path.get("fill")
        for ring in points_of(path.get("d", ""))
    ]
    paints = Plot(picture).paints
    assert [colour for colour, _ in areas] == [colour for colour, _ in paints]
    assert areas[0][1][0] == frame.at(paints[0][1][0])


def test_a_path_never_drifts() -> None:
    """A hundred steps of less than the grid add up to what they should."""
    frame = svg.Frame(1000.0, 0.0, 0.0)
    points = [(n * 0.0004, -n * 0.0006) for n in range(101)]
    (line,) = points_of(svg.path(points, frame))
    assert line[-1] == (40, 60)
