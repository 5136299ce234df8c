"""Find the nearest place where lettering has room, with a leader to it.

In:  where a leader begins, the size of the lettering, what it keeps clear of.
Out: where the leader ends, and what that place costs.
Frame: a drawing's own, full size.

Places are tried on rings about the beginning. What a place costs is the length of its
leader, and more for what the leader crosses.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from shopdraw.drawing.ink import Point

WAYS = 72
"""In so many directions from a piece a place is looked for."""
STEP = 1.0
"""How far apart places are tried, in heights of lettering."""
ROOM = 0.4
"""What is left free about a mark, in heights of lettering."""
APART = 1.0
"""The same about a note: nearer it is read with other lines, or struck by them."""
CROSSED = 0.6
"""A leader may go so much further, in heights, rather than cross one more line."""
ASTRAY = 12.0
"""The same, rather than cross another leader: the eye would follow the wrong one."""
ACROSS = 40.0
"""The same, rather than run across a part that the piece is not of: an arch."""
STRUCK = 400.0
"""The same, rather than run through lettering."""
ALONG = 30.0
"""The same, for a note, rather than lie on a line: it would be read as one with it."""
NEAR, SLANT = 0.25, 0.1
"""So near, in heights, and so little turned, in one part, a leader lies on a line."""
REACHES = (12.0, 30.0, 80.0)
"""From near to far places are tried up to so many heights, then everywhere."""
BATCH, FEW = 64, 4
"""So many leaders are looked at together, and of one reach so many in each direction.
"""
TOGETHER = 8
"""Of so many leaders together it is counted what they cross."""
SHELL = 9
"""At so many distances places are tried together."""
PITCH = 1.8
"""From one line of lettering to the next, in its heights."""


@dataclass(frozen=True)
class There:
    """What lettering and its leader keep clear of.

    Attributes:
        lines: a leader crosses as few as may be.
        words: other lettering.
        brick: brick, and whatever else no lettering stands in.
        led_out: other leaders, and what is to be left to them.
        across: what a leader goes round: an arch, where the piece is not of it.
        free: what is left free about the lettering, in its heights.
        is_note: a leader lies on no line, if it can.
    """

    lines: shapely.STRtree
    words: shapely.STRtree
    brick: shapely.STRtree
    led_out: shapely.STRtree
    across: shapely.STRtree
    free: float = ROOM
    is_note: bool = False


Size = tuple[float, float, int]
"""Width and height of lettering, and how many lines it has."""
Found = tuple[float, Point, Point]
"""What a leader costs, and its two ends."""
Shapes = npt.NDArray[np.object_]
Numbers = npt.NDArray[np.float64]
Truths = npt.NDArray[np.bool_]


def nearest_place(
    spot: Point, size: Size, furthest: float, there: There, best: Found | None
) -> Found | None:
    """Return the better of a leader that is known and the best one from a spot.

    Args:
        spot: where the leader begins.
        size: of the lettering.
        furthest: how far places are tried.
        there: what it keeps clear of.
        best: what is known already; nothing is looked at that can't be better.
    """
    text = size[1]
    near = 2 * text
    # From near to far, so that few of the places are looked at.
    for reach in (*(x * text for x in REACHES), furthest):
        if best is not None and best[0] <= near:
            break
        if near < reach:
            best = _within(spot, size, (near, reach), there, best)
            near = reach
    return best


def _within(
    spot: Point,
    size: Size,
    reach: tuple[float, float],
    there: There,
    best: Found | None,
) -> Found | None:
    """Return what `nearest_place` does, of the places between two distances.

    In each direction the nearest few are looked at, because long leaders meet much.
    """
    ways = np.linspace(0.0, 2 * np.pi, WAYS, endpoint=False)
    found = np.zeros(WAYS, dtype=int)
    every = np.arange(*reach, STEP * size[1])
    for far in np.split(every, range(SHELL, len(every), SHELL)):
        left_over = np.flatnonzero(found < FEW)
        if best is not None:
            # What strikes a leader strikes each longer one that goes the same way.
            gone = far[0] * np.stack((np.cos(ways), np.sin(ways)), axis=1)[left_over]
            met = there.words.query(_leaders(spot, spot + gone), "intersects")[0]
            struck = np.bincount(met, minlength=len(left_over))
            least = far[0] + size[1] * STRUCK * struck
            left_over = left_over[least < best[0]]
        if not len(left_over):
            break
        gone, turn = np.meshgrid(far, ways[left_over])
        ends = np.stack((spot[0] + gone * np.cos(turn), spot[1] + gone * np.sin(turn)))
        ends = np.moveaxis(ends, 0, -1)
        clear = _is_clear(ends.reshape(-1, 2), spot, size, there).reshape(gone.shape)
        clear &= found[left_over, None] + np.cumsum(clear, axis=1) <= FEW
        found[left_over] += clear.sum(axis=1)
        order = np.argsort(gone[clear], kind="stable")
        best = _best_of(
            gone[clear][order], ends[clear][order], spot, size[1], there, best
        )
    return best


def _is_clear(ends: Numbers, spot: Point, size: Size, there: There) -> Truths:
    """Whether lettering has room beside the end of a leader, for each of many."""
    wide, text, rows = size
    side = np.where(ends[:, 0] >= spot[0], 1.0, -1.0)
    near = ends[:, 0] + side * (ROOM - there.free) * text
    away = ends[:, 0] + side * (wide + (ROOM + there.free) * text)
    left, right = np.minimum(near, away), np.maximum(near, away)
    # A leader comes to the first line of several.
    half = (0.5 + there.free) * text
    low = ends[:, 1] - PITCH * (rows - 1) * text - half
    boxes = shapely.box(left, low, right, ends[:, 1] + half)
    clear = np.ones(len(ends), dtype=bool)
    for tree in (there.brick, there.words, there.lines):
        left_over = np.flatnonzero(clear)
        clear[left_over[tree.query(boxes[clear], "intersects")[0]]] = False
    return clear


def _leaders(spot: Point, ends: Numbers) -> Shapes:
    """Return a line from a spot to each of some ends."""
    starts = np.broadcast_to(np.array(spot), ends.shape)
    return np.asarray(shapely.linestrings(np.stack((starts, ends), axis=1)))


def _best_of(
    far: Numbers,
    ends: Numbers,
    spot: Point,
    text: float,
    there: There,
    best: Found | None,
) -> Found | None:
    """Return the better of a leader that is known and the best of some.

    Args:
        far: the lengths of the leaders, from short to long.
        ends: where they end.
        spot: where they all begin.
        text: the height of lettering.
        there: what they keep clear of.
        best: what is known already.
    """
    for first in range(0, len(far), BATCH):
        if best is not None and best[0] <= far[first]:
            break
        some, gone = ends[first : first + BATCH], far[first : first + BATCH]
        leaders = _leaders(spot, some)
        met = there.words.query(leaders, "intersects")[0]
        struck = np.bincount(met, minlength=len(some))
        # What is crossed takes longest to count: only of those that may yet be chosen.
        least = gone + text * STRUCK * struck
        order = np.argsort(least, kind="stable")
        for at in np.split(order, range(TOGETHER, len(order), TOGETHER)):
            limit = np.inf if best is None else best[0]
            at = at[least[at] < limit]
            if not len(at):
                break
            crossed = np.zeros(len(at))
            for tree, dear in (
                (there.lines, CROSSED),
                (there.led_out, ASTRAY),
                (there.across, ACROSS),
            ):
                hits = tree.query(leaders[at], "crosses")[0]
                crossed += dear * np.bincount(hits, minlength=len(at))
            if there.is_note:
                crossed += ALONG * _laid_on(there.lines, leaders[at], text)
            cost = gone[at] + text * (crossed + STRUCK * struck[at])
            chosen = int(cost.argmin())
            if cost[chosen] < limit:
                end = some[at[chosen]]
                best = float(cost[chosen]), spot, (float(end[0]), float(end[1]))
    return best


def _laid_on(lines: shapely.STRtree, leaders: Shapes, text: float) -> Numbers:
    """Count the lines that each leader lies on, for more than a height of lettering."""
    each, other = lines.query(leaders, "dwithin", distance=NEAR * text)
    ends = shapely.get_coordinates(leaders[each]).reshape(-1, 2, 2)
    there = shapely.get_coordinates(lines.geometries[other]).reshape(-1, 2, 2)
    way, along = ends[:, 1] - ends[:, 0], there[:, 1] - there[:, 0]
    long = np.hypot(*way.T)
    aside = np.abs(way[:, 0] * along[:, 1] - way[:, 1] * along[:, 0])
    reached = ((there - ends[:, :1]) * way[:, None]).sum(axis=2) / long[:, None]
    low, high = (
        np.maximum(reached.min(axis=1), 0),
        np.minimum(reached.max(axis=1), long),
    )
    laid = (aside <= SLANT * long * np.hypot(*along.T)) & (high - low > text)
    return np.bincount(each[laid], minlength=len(leaders)).astype(float)
