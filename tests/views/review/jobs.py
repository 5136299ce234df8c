"""Jobs whose review page is tried, and the page of each."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from shopdraw.drawing.extents import lettering_of
from shopdraw.drawing.ink import Drawing, Ink
from shopdraw.drawing.sheets import Sheet
from shopdraw.job.reading import parse_job
from shopdraw.lengths import Lengths
from shopdraw.pipeline import solve
from shopdraw.review.findings import Finding
from shopdraw.solution import Solution
from shopdraw.views.review.page import draw_review
from tests.demos import CONFIGS, solution_of
from tests.views.jobs import text_of

DEMOS = sorted(path.stem for path in CONFIGS.glob("*.toml"))
SIZES: dict[Lengths, tuple[float, float]] = {"in": (8.5, 11.0), "mm": (210.0, 297.0)}
INCH = {"in": 1.0, "mm": 25.4}


def piece(name: str, box: tuple[str, str, str, str], *rest: str) -> str:
    left, bottom, width, high = box
    where = f'left = "{left}"\nbottom = "{bottom}"\nwidth = "{width}"\n'
    more = "\n".join(rest)
    return f'[[trim]]\nname = "{name}"\n{where}height = "{high}"\n{more}\n\n'


def fitting(name: str, wants: str, left: str, bottom: str) -> str:
    return (
        f'[[fitting]]\nname = "{name}"\nwants = "{wants}"\nleft = "{left}"\n'
        f'bottom = "{bottom}"\nwidth = "3 in"\nheight = "2 in"\n\n'
    )


PLAIN = (('left_return = "13 3/8 in"\n', ""), ('right_return = "13 3/8 in"\n', ""))
ROUND = (
    piece("left leg", ("0 in", "0 in", "3 in", "36 in"), 'projection = "1 in"'),
    piece("block", ("51 in", "27 in", "4 in", "9 in"), 'projection = "1/2 in"'),
    piece("bead", ("8 in", "5 in", "2 5/8 in", "3 in"), 'projection = "1 in"'),
    piece("shelf", ("0 in", "44 in", "55 1/4 in", "2 in"), 'projection = "9 in"'),
    piece(
        "slip",
        ("10 in", "26 in", "35 in", "1 in"),
        'material = "marble"',
        'projection = "1 in"',
    ),
    piece(
        "stepped frieze",
        ("4 in", "36 in", "47 in", "8 in"),
        'steps = [{ reach = "2 in", projection = "1 in" }, '
        '{ reach = "6 in", projection = "4 in" }]',
    ),
)
FITTINGS = (
    fitting("damper handle", "clear", "26 in", "27 in"),
    fitting("outlet", "cut round", "2 in", "14 in"),
    fitting("key valve", "clear", "24 in", "6 in"),
)
CHANGED: dict[str, tuple[str, tuple[tuple[str, str], ...]]] = {
    "low shelf": (
        "metric-slips",
        (('bottom = "921 mm"', 'bottom = "750 mm"'), ('"120 mm"', '"60 mm"')),
    ),
    "eaten hearth": ("cannot-land", (('front = "22 in"', 'front = "17 in"'),)),
    "combustible hearth": (
        "cannot-land",
        (('material = "noncombustible"', 'material = "combustible"'),),
    ),
    "woodwork all round": (
        "cannot-land",
        (*PLAIN, ("[sheet]", f"{''.join((*ROUND, *FITTINGS))}[sheet]")),
    ),
    "gaps at the jambs": (
        "cannot-land",
        (
            (
                "[hearth]",
                '[edges]\njambs = { kind = "gap", width = "1/2 in" }\n[hearth]',
            ),
        ),
    ),
    "half a hearth": (
        "cannot-land",
        (('left = "14 in"\n', ""), ('front = "22 in"\n', "")),
    ),
    "other arrows": ("metric-slips", (('profile = "iso"\n', ""),)),
}
"""Each: the demo it starts from, and the words that are replaced."""


ON_SHEETS = dict.fromkeys(range(1, 100), "SHEET A-302")
"""As long as a view's sheet is said, where no sheets are composed."""


@cache
def solved(name: str) -> Solution:
    """Return a demo, a changed one, or the gas unit without its manual, solved."""
    if name in DEMOS:
        return solution_of(name)
    if name == "no manual":
        text = text_of("chimney-breast-gas")
        before, rest = text.split("[appliance.manual]")
        text = f"{before}[[trim]]{rest.split('[[trim]]')[1]}"
    else:
        demo, changes = CHANGED[name]
        text = text_of(demo, *changes)
    return solve(parse_job(text, f"{name}.toml"))


def page_of(solution: Solution, findings: tuple[Finding, ...] | None = None) -> Sheet:
    if findings is not None:
        solution = replace(solution, findings=findings)
    return draw_review(solution, ON_SHEETS)[0]


@cache
def sheet_of(name: str) -> Sheet:
    return page_of(solved(name))


def ink_of(sheet: Sheet) -> Drawing:
    (placed,) = sheet.drawings
    return placed.drawing


def lettered(drawing: Drawing) -> str:
    return " ".join(words.text for words, _ in lettering_of(drawing))


def edited(drawing: Drawing, old: Ink, *new: Ink) -> Drawing:
    """Return the drawing with one piece of its ink put otherwise."""
    assert old in drawing.ink
    ink = [x for each in drawing.ink for x in (new if each is old else (each,))]
    return replace(drawing, ink=tuple(ink))


ALL = (*DEMOS, *CHANGED, "no manual")


every = pytest.mark.parametrize("name", ALL)
