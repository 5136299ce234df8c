"""Say what lies under a piece in a course: a joint, the hearth, or the opening.

In:  `Solution`, what faces the pieces of a plane.   Out: words.
Frame: lengths as the sheets print them.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.job.model_head import propped_on
from shopdraw.job.survey import Profile
from shopdraw.lengths import format_length
from shopdraw.masonry.coursing.form import Course
from shopdraw.masonry.wall.layout import OF_AN_ARCH, Piece
from shopdraw.solution import Solution
from shopdraw.views.page.due import head_course
from shopdraw.views.page.facing import Faces, Facing

UNDER = ("below", "lower left", "lower right")
"""The sides that a piece can lie on."""
UNMEASURED = "not measured"


class Under:
    """Says what lies under the pieces of one plane.

    Args:
        solution: what the plane is part of.
        facing: finds what faces its pieces.
        ground: the level that its first course stands on.
        on: what that is called.
    """

    def __init__(
        self, solution: Solution, facing: Facing, ground: Profile, on: str
    ) -> None:
        self._solution, self._facing = solution, facing
        self._ground, self._on = ground, on

    def words(self, piece: Piece, course: Course) -> str:
        """Say what is between a piece and what it lies on."""
        under = [*self._facing.of(piece, UNDER)]
        joint = self._joint(piece, under, course)
        # What hangs there itself carries what lies on it.
        if not self._is_over(piece) or any(self._is_over(x.piece) for x in under):
            return joint or "none: there is no brick below it"
        prop = propped_on(self._solution.job.opening.head)
        over = f"hangs over the opening, on the {prop} while it sets"
        return f"{joint}; the rest {over}" if joint else f"none: it {over}"

    def _joint(self, piece: Piece, under: list[Faces], course: Course) -> str:
        """Say how wide the joint is, and what is below it if no other course is."""
        if course.number == 1:
            reach = self._length(*self._above_ground(piece))
            return f"{UNMEASURED if course.is_joint_reckoned else reach}, on {self._on}"
        if under and course.is_joint_reckoned:
            return UNMEASURED
        if any(x.piece.kind in OF_AN_ARCH or x.piece.place == "panel" for x in under):
            said = (f"{self.wide(x)}, then {x.piece.mark}" for x in under)
            return "; ".join(dict.fromkeys(said))
        return self._length(*(gap for x in under for gap in x.gaps))

    def falls(self, piece: Piece, course: Course) -> Iterator[str]:
        """Yield the joint under a piece of the first course, on ground out of level."""
        levels = {level for _, level in self._ground.points}
        if len(levels) > 1 and not course.is_joint_reckoned:
            yield f"joint below {self._length(*self._above_ground(piece))}"

    def wide(self, faces: Faces) -> str:
        """Write how wide a joint is: at both its ends, where that can be seen."""
        return self._length(*faces.gaps)

    def _length(self, *values: Fraction) -> str:
        """Write a length, or from which to which; nothing for none."""
        ends = (min(values), max(values)) if values else ()
        lengths = self._solution.lengths
        return " to ".join(dict.fromkeys(format_length(x, lengths) for x in ends))

    def _above_ground(self, piece: Piece) -> Iterator[Fraction]:
        """Yield how far a foot is above the ground, wherever either has a corner."""
        for outline in piece.outlines:
            for (x1, y1), (x2, y2) in outline.sides():
                slope = Fraction(y2 - y1, x2 - x1) if x1 < x2 else None
                if slope is not None and abs(slope) < 1:
                    for x, level in self._ground.between(x1, x2):
                        yield y1 + slope * (x - x1) - level

    def _is_over(self, piece: Piece) -> bool:
        """Whether more of a piece than a joint is over the opening, in its course."""
        outline, widest = piece.outlines[0], self._solution.job.joints.head.most
        if outline.face != "front" or piece.course != head_course(self._solution):
            return False
        surround = self._solution.surround
        left, right = surround.as_built.jambs_at(outline.bottom)
        beside = surround.opening.beside
        over = min(outline.right, right + beside) - max(outline.left, left - beside)
        return over > widest
