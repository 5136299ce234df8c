"""The nearest place for lettering is the nearest: all places are tried one by one."""

import random
from dataclasses import replace
from math import cos, hypot, pi, sin

import numpy as np
import pytest
import shapely

from shopdraw.views.brick.nearest import (
    APART,
    PITCH,
    ROOM,
    STEP,
    WAYS,
    There,
    nearest_place,
)

WIDE, TEXT, FURTHEST = 6.0, 1.0, 60.0


def _scene(seed: int) -> list[shapely.Geometry]:
    chance = random.Random(seed)
    blocks = []
    for _ in range(chance.randint(3, 60)):
        x, y = (chance.uniform(-30, 30) for _ in range(2))
        blocks.append(shapely.box(x, y, x + chance.uniform(1, 20), y + 4))
    return blocks


def _trees(lettering=(), brick=(), lines=(), leaders=(), across=()):
    every = (lines, lettering, brick, leaders, across)
    return There(*(shapely.STRtree(np.array(each, dtype=object)) for each in every))


def _one_by_one(blocks) -> float | None:
    """Try each place by itself, from near to far."""
    every = shapely.union_all(blocks)
    for far in np.arange(2 * TEXT, FURTHEST, STEP * TEXT):
        for way in range(WAYS):
            turn = 2 * pi * way / WAYS
            x, y = far * cos(turn), far * sin(turn)
            side = 1 if x >= 0 else -1
            away = x + side * (WIDE + 2 * ROOM * TEXT)
            half = (0.5 + ROOM) * TEXT
            low, high = sorted((x, away))
            if not shapely.box(low, y - half, high, y + half).intersects(every):
                return float(far)
    return None


@pytest.mark.parametrize("seed", range(12))
def test_it_is_as_near_as_any_place_is(seed):
    blocks = _scene(seed)
    size = WIDE, TEXT, 1
    found = nearest_place((0.0, 0.0), size, FURTHEST, _trees(brick=blocks), None)
    nearest = _one_by_one(blocks)
    if nearest is None:
        assert found is None
    else:
        cost, _, end = found
        assert cost == pytest.approx(nearest)
        assert hypot(*end) == pytest.approx(nearest)


def test_a_leader_goes_further_rather_than_through_what_is_in_its_way():
    size, brick = (WIDE, TEXT, 1), [shapely.box(-9, -2, 9, 2)]
    free = nearest_place((0.0, 0.0), size, FURTHEST, _trees(brick=brick), None)
    across = shapely.LineString([(-9, 2.2), (9, 2.2)])
    lettering = _trees(brick=brick, lettering=[across.buffer(0.1)])
    led = _trees(brick=brick, leaders=[across])
    arch = _trees(brick=brick, across=[across.buffer(0.1)])
    for there in (lettering, led, arch):
        found = nearest_place((0.0, 0.0), size, FURTHEST, there, None)
        assert found[0] == pytest.approx(free[0])
        # Up and down are alike while nothing is in the way.
        assert free[2][1] > 0 > found[2][1]


def test_what_is_known_is_kept_unless_a_place_is_better():
    size, there = (WIDE, TEXT, 1), _trees()
    for known in (0.5, 2.0, 30.0):
        best = known, (1.0, 1.0), (2.0, 2.0)
        found = nearest_place((0.0, 0.0), size, FURTHEST, there, best)
        assert (found == best) == (known <= 2.0)


def test_a_note_stands_apart_and_its_leader_comes_to_the_first_line():
    above = shapely.box(-20, 2, 20, 3)
    size = WIDE, TEXT, 3
    there = replace(_trees(lettering=[above]), free=APART)
    found = nearest_place((0.0, 0.0), size, FURTHEST, there, None)
    x, y = found[2]
    first = shapely.box(min(x, x + WIDE), y - 0.5, max(x, x + WIDE), y + 0.5)
    assert first.distance(above) >= APART * TEXT - 1e-9
    # The other two lines hang below the first: what is above the leader is not theirs.
    roof = shapely.box(-20, 1.6, 20, 3)
    under = shapely.box(-20, -40, 20, -9)
    there = replace(_trees(lettering=[roof, under]), free=APART)
    y = nearest_place((0.0, 0.0), size, FURTHEST, there, None)[2][1]
    assert y + 0.5 + APART <= 1.6
    assert y - 2 * PITCH - 0.5 - APART >= -9


def test_a_note_about_a_line_stands_clear_of_it_on_either_side():
    """A jamb that the note is led from, and another where its lines would end."""
    jamb = shapely.LineString([(0, -50), (0, 50)])
    other = shapely.LineString([(WIDE + 3.5, -50), (WIDE + 3.5, 50)])
    there = replace(_trees(lines=[jamb, other]), free=APART)
    size = WIDE, TEXT, 2
    _, _, (x, _) = nearest_place((0.0, 0.0), size, FURTHEST, there, None)
    side = 1 if x >= 0 else -1
    near, far = sorted((x + side * ROOM, x + side * (ROOM + WIDE)))
    for line in (0.0, WIDE + 3.5):
        assert far <= line - APART + 1e-9 or near >= line + APART - 1e-9


def test_where_the_furthest_place_was_looked_at_already_none_is():
    """Everything near is taken, and what is known is further than all of that."""
    there = _trees(brick=[shapely.box(-200, -200, 200, 200)])
    best = (1000.0, (0.0, 0.0), (1.0, 0.0))
    for furthest in (1.0, 20.0, 80.0):
        size = (WIDE, 1.0, 1)
        assert nearest_place((0.0, 0.0), size, furthest, there, best) == best
        assert nearest_place((0.0, 0.0), size, furthest, there, None) is None


@pytest.mark.parametrize("seed", range(12))
def test_what_is_known_already_hides_nothing_that_is_better(seed):
    """The spot is shut in by lettering: leaders run through some of it, or far."""
    blocks = _scene(seed)
    lettering = [shapely.box(-30, y, 30, y + 1.5) for y in (-9, -4, 3, 11)]
    lines = [shapely.LineString([(x, -40), (x, 40)]) for x in range(-20, 21, 7)]
    there = _trees(brick=blocks, lettering=lettering, lines=lines)
    size = WIDE, TEXT, 1
    found = nearest_place((0.0, 0.0), size, FURTHEST, there, None)
    for more in (-1.0, 0.01, 1.0, 30.0, 500.0):
        known = found[0] + more, (9.0, 9.0), (9.0, 10.0)
        wanted = known if more < 0 else found
        assert nearest_place((0.0, 0.0), size, FURTHEST, there, known) == wanted
