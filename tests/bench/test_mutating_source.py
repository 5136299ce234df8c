"""The small changes to a module's source: what is changed, and what is left alone."""

from __future__ import annotations

import ast

import pytest

from tests.bench.mutants import beside, sample
from tests.bench.mutating_source import mutants_of


def changes(source: str) -> list[str]:
    return [mutant.applied(source) for mutant in mutants_of("some.module", source)]


@pytest.mark.parametrize(
    ("source", "changed"),
    [
        ("x < y", {"(x <= y)", "(x >= y)"}),
        ("x is None", {"(x is not None)"}),
        ("x + y", {"(x - y)"}),
        ("x -= y", {"x += y"}),
        ("x and y", {"(x or y)"}),
        ("not x", {"x"}),
        ("x[2]", {"x[3]", "x[1]"}),
        ("x = True", {"x = False"}),
        ("max(x, y)", {"min(x, y)", "pass"}),
        ("x if y else z", {"x if (not y) else z"}),
        ("if x:\n    y = z", {"if False:\n    y = z", "if True:\n    y = z"}),
        ("for x in y:\n    break", {"for x in y:\n    pass"}),
        ('s = f"{x} in"', {"s = (f' in')"}),
        ('"""Says 1 < 2."""', set()),
        ("x: f[1]", set()),
        ("raise E(1 + 1)", set()),
        ('é = f"é"; x + y', {'é = f"é"; (x - y)'}),
    ],
)
def test_a_line_is_changed_in_one_place_at_a_time(
    source: str, changed: set[str]
) -> None:
    assert set(changes(source)) == changed


def test_a_change_is_never_what_was_there_and_can_be_read() -> None:
    source = "def f(x, y):\n    if x < 1 and not y:\n        return min(x - 2, y)\n"
    before = ast.dump(ast.parse(source))
    found = changes(source)
    assert len(found) == len(set(found)) == 12
    assert before not in {ast.dump(ast.parse(each)) for each in found}


def test_the_sample_is_always_the_same_and_of_pure_rooms() -> None:
    some = sample(70)
    assert some[:65] == sample(65)
    assert len(some) == len(set(some)) == 70
    assert not {x for x in some if x.module.startswith(("cli", "output", "serving"))}


def test_a_change_is_held_by_its_own_tests_first_then_by_its_rooms() -> None:
    own, near = beside("review.trim")
    assert own[0] == "tests/review/test_trim.py"
    assert "tests/review/test_listed.py" in near
    assert not set(own) & set(near)
    assert beside("views.brick.units")[1][-1].startswith("tests/views/")
    assert beside("pipeline") == ((), ())
