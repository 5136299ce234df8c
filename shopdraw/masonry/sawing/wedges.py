"""Find the mortar before an arch's back where a whole brick ends short of it.

In:  the courses as mended and sawn.   Out: what mortar takes, as `Tip`s.
Frame: as `Surround`, in floating point.

The end of a brick is square and the back slants, so that the joint between them is a
wedge. Where it grows wider than a head joint may be, it is told with the fillets.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import shapely

from shopdraw.masonry.sawing.clipping import NOTHING, polygon_of
from shopdraw.masonry.sawing.mending import Mend
from shopdraw.masonry.sawing.tips import Tip
from shopdraw.masonry.wall.form import FaceName
from shopdraw.masonry.wall.layout import Piece

NEAR = 1e-4
"""What floating point may make of one place."""


def find_wedges(
    mend: Mend, courses: set[int], pieces: tuple[Piece, ...]
) -> Iterator[tuple[FaceName, int, Tip]]:
    """Yield what mortar takes before the back of an arch, course by course.

    Args:
        mend: where brick may be in each course, and the tips left out there.
        courses: the numbers of those that may meet the arch.
        pieces: as they are sawn.
    """
    joints = mend.job.joints.head
    # What brick keeps out of has a joint as preferred round the arch.
    more = float(joints.most - joints.preferred)
    for (face, course), tips in mend.tips.items():
        if face != "front" or course not in courses:
            continue
        arch = mend.keep_out[face]
        brick = [
            polygon_of(outline.points)
            for piece in pieces
            if piece.course == course
            for outline in piece.outlines
            if outline.face == face
        ]
        taken = shapely.union_all([arch, *brick, *(tip.area for tip in tips)])
        bare = mend.band((face, course)).difference(taken)
        # Strips no wider than a joint may be are of no interest.
        bare = bare.buffer(-more / 2, join_style="mitre")
        bare = bare.buffer(more / 2, join_style="mitre").difference(taken)
        for part in getattr(bare, "geoms", [bare]):
            if part.area <= NOTHING:
                continue
            left, _, right, top = part.bounds
            if part.distance(arch) > NOTHING or right - left <= more + NOTHING:
                continue
            ends = [each.bounds for each in brick]
            if _is_near(left, ends, 2) and _is_near(right, ends, 0):
                # A head joint over the arch.
                continue
            way = 1 if part.centroid.x > arch.centroid.x else -1
            end = left if way > 0 else right, top
            yield face, course, Tip(part, end, way, is_wedge=True)


def _is_near(x: float, ends: Sequence[tuple[float, ...]], side: int) -> bool:
    """Whether some brick ends at an x: at its left (0) or its right (2)."""
    return any(abs(end[side] - x) <= NEAR for end in ends)
