"""The brick, the joints and the limits, and what follows from them for each row.

In:  the bond.   Out: `Brick`, `Joints`, `BondLimits`, `Sizes`.
Frame: whole numbers on one exact grid, which the caller makes fine enough that every
length of the job, and its equal shares, are whole on it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from shopdraw.masonry.rows.bonds import Bond, CourseKind, LegName


@dataclass(frozen=True)
class Brick:
    """A brick: its unit length, its header, and the corner unit's two legs.

    The legs are not looked at where a face has no outside corner.
    """

    unit: int
    header: int
    long: int
    short: int

    def leg(self, name: LegName) -> int:
        """Return the length of a leg as it is bought."""
        return self.long if name == "long" else self.short


@dataclass(frozen=True)
class Joints:
    """The head joint: preferred, least and most, and the step it is set in."""

    preferred: int
    least: int
    most: int
    step: int

    def on_step(self) -> tuple[int, ...]:
        """Return every multiple of the step in range, and the three figures."""
        first, last = -(-self.least // self.step), self.most // self.step
        steps = {self.step * n for n in range(first, last + 1)}
        return tuple(sorted(steps | {self.preferred, self.least, self.most}))


@dataclass(frozen=True)
class BondLimits:
    """What the job asks for, and what true edges take.

    Attributes:
        least_piece, least_lap: as the job says.
        bat_step: free cuts are multiples of this (a quarter inch, or 5 mm).
        at_jamb, at_end: what a leaning jamb, and a leaning end of the face, take off
            the piece that meets them.
    """

    least_piece: int
    least_lap: int
    bat_step: int
    at_jamb: int = 0
    at_end: int = 0


@dataclass(frozen=True)
class Sizes:
    """A bond in a brick: everything that the fillings and the judge ask for."""

    bond: Bond
    brick: Brick
    joints: Joints
    limits: BondLimits

    def round_the_corner(self) -> Sizes:
        """Return the same for a return."""
        return replace(self, bond=self.bond.round_the_corner())

    @property
    def half_bat(self) -> int:
        """Two of these and a joint make a whole."""
        return (self.brick.unit - self.joints.preferred) // 2

    def bats(self, step: int) -> tuple[int, ...]:
        """Return the free cuts: half and three-quarter bats, and multiples of step."""
        unit = self.brick.unit
        three_quarters = (3 * unit - self.joints.preferred) // 4
        multiples = range(step, unit, step)
        return tuple(sorted({self.half_bat, three_quarters, *multiples}))

    def natural_bat(self, row: CourseKind) -> int:
        """Return the cut that a mason makes without thinking, in this row."""
        if row.has_headers:
            return self.brick.header
        if self.bond.lap == "third":
            return (self.brick.unit - 2 * self.joints.preferred) // 3
        return self.half_bat

    def whole(self, letter: str) -> int:
        """Return how long a letter is when nothing is sawn."""
        return self.brick.unit if letter == "S" else self.brick.header

    def closer(self, row: CourseKind) -> int:
        """Return the closer's length, 0 where the row has none."""
        if not row.has_headers:
            return 0
        unit, header, joint = self.brick.unit, self.brick.header, self.joints.preferred
        if "S" in row.pattern:
            return max((unit - header) // 2 - joint, 0)
        return max((header - joint) // 2, 0)

    def own_lap(self, one: int, other: int) -> int:
        """Return the bond's own clear lap where two kinds meet; 0 for none."""
        unit, header, joint = self.brick.unit, self.brick.header, self.joints.preferred
        flemish = (unit - header) // 2 - joint
        return {
            "none": 0,
            "half": (unit + joint) // 2 - joint,
            "third": (unit + joint) // 3 - joint,
            "quarter": (unit + joint) // 4 - joint,
            "Flemish": flemish,
            "English": min(flemish, (header - joint) // 2),
        }[self.bond.own_lap(one, other)]

    def least_lap(self, one: int, other: int) -> int:
        """Return the least lap between two kinds: the job's, or what the bond has."""
        own = self.own_lap(one, other) - 2 * self.joints.step
        return max(min(self.limits.least_lap, own), 0)

    def lap_range(self, one: int, other: int) -> tuple[int, int | None]:
        """Return 12 times the nearest and the farthest that is on the bond's lap."""
        own = self.own_lap(one, other)
        if self.bond.own_lap(one, other) == "half":
            return 8 * own, None
        return 9 * own, 16 * own
