"""A mirrored wall is mended into a mirrored wall, beside an arch too."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from shopdraw.job.reading import parse_job
from shopdraw.masonry.laying import fitting
from shopdraw.masonry.sawing.mirroring import is_mirrored, mirror_half
from shopdraw.pipeline import solve
from tests.demos import CONFIGS
from tests.random_arches import unlike

# Beside this crown a perpend is moved at one side only, where either side would do.
ONE_SIDE = """
[job]
name = "An arch"
[face]
width = "73 1/16 in"
height = "34 3/16 in"
measured_to = "finish"
[opening]
head = "segmental arch"
width = "33 3/16 in"
height = "12 in"
[arch]
voussoirs = "cut"
rise = "2 3/4 in"
made_of = "rowlocks"
rings = 1
[brick]
size = "closure-modular"
"""
# Here one piece spans the crown, and tips take what is left of it at either side.
EITHER_SIDE = """
[job]
name = "An arch"
[face]
width = "49 13/16 in"
height = "43 in"
measured_to = "finish"
left_return = "12 in"
right_return = "12 in"
[opening]
head = "segmental arch"
width = "22 13/16 in"
height = "11 7/8 in"
[arch]
voussoirs = "cut"
rise = "5 11/16 in"
made_of = "rowlocks"
rings = 1
key = { width = "2 3/16 in", rises = "0 in", projection = "0 in" }
[brick]
size = "roman"
at_fold = "mitre"
"""
TEXTS = {
    "one side": ONE_SIDE,
    "either side": EITHER_SIDE,
    "semicircular": (CONFIGS / "semicircular-dining-room.toml").read_text(),
}


@pytest.mark.parametrize("name", TEXTS)
def test_a_mirrored_wall_is_mended_into_a_mirrored_wall(name):
    assert unlike(solve(parse_job(TEXTS[name], name))) == []


@pytest.mark.parametrize(("name", "course"), [("one side", 5), ("either side", 11)])
def test_mending_one_side_alone_is_noticed(name, course, monkeypatch):
    monkeypatch.setattr(fitting, "mirror_rows", lambda *_: None)
    assert unlike(solve(parse_job(TEXTS[name], name))) == [course]


def test_where_one_end_is_sawn_off_on_an_arch_the_other_stays_as_delivered():
    pieces = solve(parse_job(TEXTS["semicircular"], "x")).layout.pieces
    beside = [x for x in pieces if x.id in ("F-13-03", "F-13-04")]
    assert [len(x.outlines[0].cuts) for x in beside] == [2, 2]
    upright = [
        a[0] == b[0]
        for x in beside
        for place, (a, b) in enumerate(x.outlines[0].sides())
        if place in x.outlines[0].cuts
    ]
    assert not any(upright)


def spans(*ends):
    return [(F(a), F(b)) for a, b in ends]


LAID = spans((0, 4), (5, 9), (10, 14), (15, 19), (20, 24))


def test_a_half_is_mirrored_and_the_piece_across_grows_both_ways():
    mended = spans((0, 4), (5, 7), (8, 14), (15, 19), (20, 24))
    left = mirror_half(LAID, mended, F(12), left=True)
    assert list(left) == spans((0, 4), (5, 7), (8, 16), (17, 19), (20, 24))
    assert is_mirrored(left, F(12))
    assert list(mirror_half(LAID, mended, F(12), left=False)) == LAID


def test_what_is_joined_across_the_centre_line_is_not_mirrored():
    mended = [*LAID[:2], None, (F(10), F(19)), LAID[4]]
    assert not is_mirrored(mended, F(12))
    assert mirror_half(LAID, mended, F(12), left=True) is None
    # Nor is a piece that no longer spans the centre line.
    beside = spans((0, 4), (5, 11), (12, 14), (15, 19), (20, 24))
    assert mirror_half(LAID, beside, F(12), left=True) is None
    assert mirror_half(LAID, beside, F(12), left=False) == (*LAID,)
    # Nor is a joint on the centre line that was moved.
    even = spans((0, 5), (6, 11), (13, 18), (19, 24))
    moved = spans((0, 5), (6, 9), (11, 18), (19, 24))
    assert mirror_half(even, moved, F(12), left=True) is None
    kept = mirror_half(even, [(F(0), F(11)), None, *even[2:]], F(12), left=True)
    assert list(kept) == [(F(0), F(11)), None, None, (F(13), F(24))]
