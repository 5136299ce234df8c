"""Random arches: solved, proved, held by hand. 200 of them are in the benchmark."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from shopdraw.job.reading import parse_job
from shopdraw.pipeline import build, solve
from shopdraw.solution import Solution
from tests.demos import unpictured
from tests.longer import mostly_long
from tests.old_houses import seeded
from tests.random_arches import PLAIN, held, make_arch

SEEDS = (0, 4, 10, 15, 32, 47, 87, 101, 122, 150, 179, 185, 199)
"""Every kind among them, and those that once came out wrong."""
DRAWN = (4, 15, 87)
"""Of those, the ones that are drawn whole, all but the pictures."""


@pytest.mark.parametrize("seed", mostly_long(SEEDS, 4, 122))
def test_a_random_arch_is_solved_proved_and_as_asked(seed: int) -> None:
    solution = solve(make_arch(seeded(seed))[1])
    assert [*held(solution)] == []
    if seed in DRAWN:
        files = unpictured(build(solution))
        assert {"set.pdf", "arch-templates.pdf", "ticket.pdf"} <= {*files}


def test_every_kind_of_arch_is_among_them() -> None:
    jobs = [make_arch(seeded(seed))[1] for seed in SEEDS]
    assert len({job.opening.head for job in jobs}) == 3
    assert {job.arch.made_of for job in jobs} == {"stretchers on end", "rowlocks"}
    assert {job.arch.rings for job in jobs} == {1, 2}
    assert {job.arch.number for job in jobs} == {"odd", "even"}
    assert {job.lengths for job in jobs} == {"in", "mm"}
    assert {job.arch.key is None for job in jobs} == {True, False}


# ---------------------------------------------------------------------------- damage


@pytest.fixture(scope="module")
def plain() -> Solution:
    return solve(parse_job(PLAIN, "arch.toml"))


def arched(solution: Solution, **changes: Any) -> Solution:
    arch = solution.layout.arch
    assert arch is not None
    layout = replace(solution.layout, arch=replace(arch, **changes))
    return replace(solution, layout=layout)


def shifted(solution: Solution, place: int, by: Fraction) -> Solution:
    """Return the arch with one voussoir moved to the right."""
    arch = solution.layout.arch
    assert arch is not None
    rings = list(arch.voussoirs)
    rings[place] = tuple((x + by, y) for x, y in rings[place])
    return arched(solution, voussoirs=tuple(rings))


def wider(solution: Solution, place: int) -> Solution:
    """Return the arch with one voussoir as wide as two."""
    arch = solution.layout.arch
    assert arch is not None
    rings = list(arch.voussoirs)
    a, b, c, d = rings[place]
    by = Fraction(3)
    rings[place] = (a, (b[0] + by, b[1]), (c[0] + by, c[1]), d)
    return arched(solution, voussoirs=tuple(rings))


def resawn(
    solution: Solution, points: tuple[tuple[int | Fraction, int], ...]
) -> Solution:
    """Return the wall with its first sawn stretcher another shape."""
    pieces = list(solution.layout.pieces)
    at = next(i for i, x in enumerate(pieces) if x.kind == "stretcher" and x.is_cut)
    first = pieces[at].outlines[0]
    ring = tuple((first.left + x, first.bottom + y) for x, y in points)
    pieces[at] = replace(pieces[at], outlines=(replace(first, points=ring),))
    return replace(solution, layout=replace(solution.layout, pieces=tuple(pieces)))


def run_out(solution: Solution) -> Solution:
    """Return the wall with a fillet twice as long, which no finding tells."""
    first, *others = solution.layout.fillets
    longer = replace(first, points=tuple((2 * x, y) for x, y in first.points))
    layout = replace(solution.layout, fillets=(longer, *others))
    return replace(solution, layout=layout)


DAMAGED: list[tuple[str, Callable[[Solution], Solution]]] = [
    ("has no mirror image", lambda x: shifted(x, 3, Fraction(1, 4))),
    ("closer than the least joint", lambda x: shifted(x, 12, Fraction(1, 2))),
    ("more than a brick", lambda x: wider(x, 3)),
    ("was asked for", lambda x: arched(x, counts=(30,))),
    ("a keystone that was not asked for", lambda x: arched(x, keystone=None)),
    ("its crown is at", lambda x: arched(x, depth=Fraction(9))),
    (
        "is not reported",
        lambda x: arched(x, strip=Fraction(1, 4), least_strip=Fraction(1)),
    ),
    ("wide, and passed", lambda x: resawn(x, ((0, 0), (5, 0), (5, Fraction(1, 2))))),
    ("of 2.0, and passed", lambda x: resawn(x, ((0, 0), (2, 0), (0, 2)))),
    ("is no mirror image", lambda x: resawn(x, ((0, 0), (5, 0), (5, 2), (0, 2)))),
    ("of mortar in course", run_out),
]


def test_those_that_are_drawn_are_of_every_kind() -> None:
    assert set(DRAWN) <= set(SEEDS)
    heads = {make_arch(seeded(seed))[1].opening.head for seed in DRAWN}
    assert len(heads) == 3


def test_the_plain_arch_is_as_it_should_be(plain: Solution) -> None:
    assert [*held(plain)] == []


@pytest.mark.parametrize(("words", "damage"), DAMAGED)
def test_what_is_damaged_is_noticed(
    plain: Solution, words: str, damage: Callable[[Solution], Solution]
) -> None:
    assert any(words in line for line in held(damage(plain)))


def test_a_wrong_area_is_noticed(plain: Solution) -> None:
    finished = replace(plain.openings.finished, true_area=Fraction(36 * 34))
    box = replace(plain, openings=replace(plain.openings, finished=finished))
    assert any("by hand" in line for line in held(box))


def test_a_joint_out_of_range_that_no_finding_names_is_noticed(plain: Solution) -> None:
    arch = plain.layout.arch
    assert arch is not None
    joints = (replace(arch.joints[0], at_soffit=0.1, at_back=0.9), *arch.joints[1:])
    said = [*held(arched(plain, joints=joints))]
    assert [line.partition(" of ")[0] for line in said] == ["a joint", "a joint"]


def test_less_left_over_the_crown_than_is_said_is_noticed() -> None:
    solution = solve(make_arch(seeded(122))[1])
    arch = solution.layout.arch
    assert arch is not None
    assert arch.strip is not None
    said = [*held(arched(solution, strip=arch.strip + Fraction(1, 100)))]
    assert len(said) == 1
    assert "left over the crown" in said[0]
