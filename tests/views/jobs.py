"""Jobs made from the demos by changing words, for tests of views."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from shopdraw.solution import Solution
from tests.demos import CONFIGS, kept

TURNS = ("turns_over = true", "turns_over = false")
OVER_FACE = ('head_over = "opening"', 'head_over = "face"')
CORNER_ENDS = "turns_over = true }"
CHANGES: dict[str, tuple[str, tuple[tuple[str, str], ...]]] = {
    "two hands": ("library-hearth", (TURNS,)),
    # Legs and returns that no whole corner unit fits.
    "trimmed": (
        "library-hearth",
        (
            TURNS,
            ('width = "55 1/4 in"', 'width = "49 1/4 in"'),
            ('width = "57 1/4 in"', 'width = "51 1/4 in"'),
            ('from_left = "10 5/8 in"', 'from_left = "7 5/8 in"'),
            ('left_return = "13 3/8 in"', 'left_return = "5 7/8 in"'),
            ('right_return = "13 3/8 in"', 'right_return = "4 3/8 in"'),
        ),
    ),
    "mitre": (
        "library-hearth",
        (OVER_FACE, (CORNER_ENDS, f'{CORNER_ENDS}\nat_fold = "mitre"')),
    ),
    "butt": (
        "library-hearth",
        (OVER_FACE, (CORNER_ENDS, f'{CORNER_ENDS}\nat_fold = "butt"')),
    ),
    "metric corners": (
        "metric-slips",
        (
            ('width = "1555 mm"', 'width = "1555 mm"\nleft_return = "160 mm"'),
            (
                'thickness = "22 mm"',
                'thickness = "22 mm"\ncorner = { long_leg = "193 mm", '
                'short_leg = "81 mm", measured = "inside", turns_over = false }',
            ),
            ('left = { kind = "bare", shows = "returned" }', ""),
        ),
    ),
}
"""Each: the demo it starts from, and the words that are replaced."""
FEWER_RETURNS: dict[str, tuple[str, tuple[tuple[str, str], ...]]] = {
    "no returns": (
        "library-hearth",
        (
            ('left_return = "13 3/8 in"', ""),
            ('right_return = "13 3/8 in"', ""),
            ('width = "57 1/4 in"', 'width = "55 1/4 in"'),
        ),
    ),
    "right return": (
        "library-hearth",
        (
            ('left_return = "13 3/8 in"', ""),
            ('width = "57 1/4 in"', 'width = "56 1/4 in"'),
            (
                'jambs = { kind = "bare", shows = "pointed" }',
                'jambs = { kind = "soft", width = "1/4 in", shows = "sawn" }',
            ),
        ),
    ),
}
"""The same, for jobs without a return, or with one."""


def text_of(demo: str, *changes: tuple[str, str]) -> str:
    """Return a demo's text with words replaced; every change must find its words."""
    text = (CONFIGS / f"{demo}.toml").read_text("utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return text


def with_job(solution: Solution, **tables: Any) -> Solution:
    """Return a solution with tables of its job put otherwise, and nothing solved again.

    Of a table that is there, what is given is changed; what is no table stands for it.
    """
    update = {
        name: getattr(solution.job, name).model_copy(update=given)
        if isinstance(given, dict)
        else given
        for name, given in tables.items()
    }
    return replace(solution, job=solution.job.model_copy(update=update))


@cache
def solved(name: str) -> Solution:
    """Return a changed job solved, once a run."""
    demo, changes = (CHANGES | FEWER_RETURNS)[name]

    def solve_it() -> Solution:
        return solve(parse_job(text_of(demo, *changes), f"{demo}.toml"))

    solution: Solution = kept(f"{name}-changed", solve_it)
    return solution
