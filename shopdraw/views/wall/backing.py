"""Draw what brings the wall out behind the courses of a corbel, in section.

In:  courses, where the wall begins.   Out: ink.
Frame: full size; x from the finished face back into the wall, y from the datum.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Stroke
from shopdraw.masonry.coursing.form import Course
from shopdraw.views.parts.figures import Hand, hatch, ring_of


def draw_backing(courses: Iterable[Course], reach: float, hand: Hand) -> Iterator[Ink]:
    """Draw what brings the wall out behind the courses that project; by others."""
    for course in courses:
        if course.projection:
            low = float(course.bottom - course.bed_joint)
            near = reach - float(course.projection)
            ring = ring_of((near, low, reach, float(course.top)))
            yield Stroke(layers.OTHERS, ring, closed=True)
            yield from hatch(ring, 0.8 * hand.text)
