"""The bond problem again, by brute force: every filling made, every pair judged.

A second program for the same question as `shopdraw.masonry.bonding`, written from the
problem's statement alone and slow on purpose. It imports nothing of the package.
Words and units: see `brute_trade`; the family: `brute_fillings`; the judge:
`brute_judge`. Here is the least over all combinations (`best`).

Readings, where the statement can be read in two ways:
 1. A whole after a cut (a trimmed leg is one) or at a free edge may be any letter;
    after a whole or a corner leg, closers read through, it is the next one.
 2. A cut as long as any letter of its row is that whole.
 3. "x x" is two cuts side by side; "between" has a whole on either side.
 4. A closer stands beside the run's end piece only, and that is a whole header (or the
    corner unit's leg), never sawn.
 5. An x-closer is never in a form with an x: one length at most follows from the width.
 6. Joints at which a course comes out whole are those of the form with no cut, with
    true closers or without, of the leg or run itself; over takes its leg rows' joint.
 7. Three-quarter bat: (3U - j)/4. "j" in a threshold is the preferred joint.
 8. A trimmed leg is the "first" piece of a form with at most two cuts, one of them x;
    it is no cut in 19, 20, 22 and 23.
 9. Searches widen in this order: p by half steps (1 to 13), trimmed corners (1 to 6),
    4 or 5 bats on the centre line (1 to 13), unmirrored (1 to 6); each keeps the last.
10. Least pieces bind cuts and trimmed legs, 3/4 p at a hidden wall; "from one step"
    is for each kind by itself.
11. "(a) grown" may be shorter (a header for a three-quarter bat); a lone corner unit
    that is whole is only kept.
12. In over, "the first new piece" is the first after the kept ones. A closer at the
    jamb goes with its header: (c) never takes the header alone. A kind with no leg
    row has the grid's joints and those at which its whole course comes out in wholes;
    a leg row of one piece has no joint, so its course over has these and its leg's.
13. A meeting is two kinds, whichever lies lower; in rows SH the headers of both count.
14. A header "between two joints" is an inner piece that reads as a header; a joint is
    over it where they share any width.
15. What is not judged again over the opening: where two kinds meet in the legs, a pair
    of joints that both stand in their leg rows (3, 4), a joint that stands in its own
    leg row (16: it was held against the other leg's joints there, though over the
    opening another may be nearer), and a header that does (14). Kinds that meet only
    over the opening are judged there whole. A pair of pieces side by side (14) is the
    leg's where both are.
16. 22 counts the different cuts among over's own pieces; 11 and 24 its whole row.
17. In 8 a tail of two (last two sawn; closer and header) is left out on both counts,
    the joint before the tail is not.
18. 7 counts each row that is not its mirror: a kind's legs one, its row over one.
19. 16 counts joints of both rows; a row with no joint gives the other none to count.
20. Rows of returns count double in 14, as legs do. Corner legs read as their own letter
    (long S, short H) in rows H and in English.
21. In 6 the other "short" goes into both limits.
22. To the nearest: halves go up. Ties: first the fewer sawn pieces (cuts, and closers
    that aren't Q) in all the courses that are laid, each kind as often as it lies in
    the legs and over; then joints as (left, right), left leg, then right.
23. The joint at a wall that takes up a short row is no joint of the row.
24. Stack bond: no laps, no 16.
25. Unlike fronts: cut groups "nearest the centre line" are compared among rows with the
    same n, k, joint and kept pieces, and all that are equally near stay. Both leg rows
    have one joint, or one of them is a single piece. An x kept by (c) may come with no
    other cut.
26. "Rows H have no p" is said of cuts: a trimmed leg may be p there as well.

The statement is silent, or nearly, on these; what is read as the rule:
27. An end that leans: the width is that of the widest course, and what a lean takes
    off it at most is off the piece that ends there. What is left is judged in 1, 2, 12,
    13, 17, 18 and 21, and may not be under the least; all else goes by what is laid.
    A whole there is sawn to the lean: it is a cut, and is judged as one. A hidden wall
    that leans takes the same, off what stops short of it too.
28. A jamb that turns in: the leg's row ends with the leg of the unit there, whatever
    letter is before it, and what stands last in a form stands before it. Either unit,
    or both, may be trimmed, with at most one more cut, the other's among them. It is
    a corner, where nothing is at the jamb (13 and 18, as at the other), and a cut
    before it is beside a corner unit. Over the opening no unit turns: in its place is
    (a) or (c), and its closer goes with it; a cut before it is the leg's, and stays.
29. Legs beside soldiers are runs of their own, laid when the front is, and judged whole
    as legs are. Their end is cut anew, so of the leg's perpends its last is not asked
    for, nor any that there is no brick for; all others stand, and more may (8). With
    the courses that lie under them and over them laps alone count, as at the head.

Fronts that aren't their own mirror have too large a family for more than toy sizes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace
from fractions import Fraction
from math import lcm

from tests.masonry.bonding.brute_fillings import (
    fillings,
    over_between,
    over_from_corner,
    over_mirrored,
)
from tests.masonry.bonding.brute_judge import (
    Laid,
    Met,
    Tally,
    judge,
    judge_kind,
    judge_meeting,
    kinds_of,
    say,
)
from tests.masonry.bonding.brute_trade import (
    BONDS,
    CLOSER,
    CUT,
    LEVELS,
    Answer,
    Beside,
    Bond,
    Front,
    Num,
    Piece,
    Row,
    Run,
    Search,
    Trade,
    Wall,
    flip,
)

__all__ = (
    "BONDS", "LEVELS", "Answer", "Beside", "Bond", "Front", "Piece", "Run", "Search",
    "Trade", "Wall", "best", "fillings", "judge", "say",
)  # fmt: skip

BITS = 40  # of a level, where a merit is packed into one number
FINER = (
    2540160  # parts of a step: sixteenths, ninths and shares by up to ten come whole
)


def packed(tally: Tally) -> int:
    """Pack a merit into one number that adds and compares as the merit does."""
    number = 0
    for count in tally:
        number = number << BITS | count
    return number


def unpacked(number: int) -> tuple[int, ...]:
    mask = (1 << BITS) - 1
    return tuple(
        number >> BITS * (len(LEVELS) - 1 - i) & mask for i in range(len(LEVELS))
    )


LENGTHS = (
    *("width", "left", "right", "shorter", "corner_joint"),
    *("start_lean", "jamb_lean"),
)


def times(wall: Wall, by: int) -> Wall:
    """The same wall in lengths that many times as many; whole where they come out."""

    def grown(length: Num) -> Num:
        new = Fraction(length) * by
        return new.numerator if new.denominator == 1 else new

    face, lengths = wall.face, (Fraction, int)
    some = {
        f.name: grown(getattr(face, f.name)) for f in fields(face) if f.name in LENGTHS
    }
    new = {
        f.name: grown(getattr(wall, f.name))
        for f in fields(wall)
        if isinstance(getattr(wall, f.name), lengths)
    }
    return replace(wall, face=replace(face, **some), **new)  # type: ignore[arg-type]


def scale_of(wall: Wall) -> int:
    """How many parts make every length whole, with room for shares."""
    whole = [getattr(wall, f.name) for f in fields(wall) if f.name != "face"]
    whole += [getattr(wall.face, name, 0) for name in LENGTHS]
    return FINER * lcm(*(Fraction(length).denominator for length in whole))


def grown(beside: Beside, by: int) -> Beside:
    """The same rows beside a run in lengths that many times as many."""

    def row(some: Row) -> Row:
        return tuple(Piece(int(a * by), int(b * by), role) for a, b, role in some)

    met = (beside.below, beside.above)
    under, over = ((some[0], row(some[1])) if some else None for some in met)
    return Beside({kind: row(x) for kind, x in beside.legs.items()}, under, over)


def scale_beside(beside: Beside) -> int:
    """How many parts make every joint of the rows beside a run whole."""
    rows = [*beside.legs.values()]
    rows += [some[1] for some in (beside.below, beside.above) if some]
    return lcm(*(Fraction(x).denominator for row in rows for p in row for x in p[:2]))


def back(row: Row, by: int) -> Row:
    return tuple(Piece(Fraction(a) / by, Fraction(b) / by, role) for a, b, role in row)


# --- what may be laid in a kind -------------------------------------------------------


def options_of(
    trade: Trade, kind: int, search: Search, low: Num
) -> list[dict[str, Row]]:
    """Every combination of rows that a kind may have: its legs' and its over's."""
    face, zones = trade.wall.face, trade.zones
    if isinstance(face, Run):
        place = trade.place(kind, "run")
        return [{"run": row} for row in fillings(trade, place, search, low)]
    over = trade.place(kind, "over")
    if kind not in zones[0]:
        return [{"over": row} for row in over_from_corner(trade, over, search, low)]
    places = trade.place(kind, "left"), trade.place(kind, "right")
    lefts = fillings(trade, places[0], search, low)
    mirrored = face.own_mirror and search.mirrored
    rights = [] if mirrored else fillings(trade, places[1], search, low)
    made = []
    for left in lefts:
        for right in [left] if mirrored else rights:
            legs = {"left": left, "right": flip(right, face.width)}
            if kind not in zones[1]:
                made.append(legs)
                continue
            if mirrored:
                rows = over_mirrored(trade, places[0], over, left, search, low)
            else:
                rows = over_between(trade, places, over, (left, right), search, low)
            made += [{**legs, "over": row} for row in rows]
    if face.own_mirror and not search.mirrored:
        made += options_of(trade, kind, search._replace(mirrored=True), low)
    return made


def options(trade: Trade, kind: int, search: Search) -> list[dict[str, Row]]:
    """The same; from one step upward where no piece would be long enough."""
    key = kind, search
    if key not in trade.options:
        least = options_of(trade, kind, search, trade.wall.least_piece)
        trade.options[key] = least or options_of(trade, kind, search, trade.wall.step)
    return trade.options[key]


# --- the least of all -----------------------------------------------------------------


def sawn(trade: Trade, one: Laid) -> int:
    """How many pieces are sawn in all the courses of a kind that are laid."""
    total = 0
    for part, row in one.parts.items():
        courses = trade.zones[1 if part == "over" else 0].count(one.kind)
        right = trade.closer(trade.place(one.kind, part))
        for left, end, role in row:
            odd = role in CLOSER and end - left != right
            total += courses * int(role in CUT or odd)
    return total


def tie(trade: Trade, laid: Sequence[Laid]) -> tuple[int, list[list[tuple[Num, Num]]]]:
    """What breaks a tie: sawn pieces; the joints of each kind's legs, then over."""
    keys = []
    for one in laid:
        legs = [one.joints[p] for p in ("run", "left", "right") if p in one.joints]
        keys += [[joint for some in legs for joint in some], one.joints.get("over", [])]
    return sum(sawn(trade, one) for one in laid), keys


class Least:
    """The least combination so far, while all are gone through."""

    def __init__(
        self, trade: Trade, kinds: Sequence[Sequence[Laid]], every: bool
    ) -> None:
        self.trade, self.every = trade, every
        self.kinds = [
            sorted(
                ((packed(judge_kind(trade, one)), n, one) for n, one in enumerate(some))
            )
            for some in kinds
        ]
        # What the kinds still to come add at the very least.
        self.to_come = [0] * (len(kinds) + 1)
        for i in reversed(range(len(kinds))):
            self.to_come[i] = self.to_come[i + 1] + self.kinds[i][0][0]
        self.met: dict[tuple[int, int], int] = {}
        self.legs_met: Met = {}
        self.merit: int | None = None
        self.laid: list[Laid] = []

    def tie(self, laid: list[Laid]) -> tuple[int, list[list[tuple[Num, Num]]]]:
        return tie(self.trade, laid)

    def meeting(self, one: Laid, other: Laid) -> int:
        if len(self.kinds) == 2:
            return packed(judge_meeting(self.trade, one, other, self.legs_met))
        key = id(one), id(other)
        if key not in self.met:
            tally = judge_meeting(self.trade, one, other, self.legs_met)
            self.met[key] = packed(tally)
        return self.met[key]

    def go(self, chosen: list[Laid], so_far: int) -> None:
        """Try every row of the next kind with those chosen.

        No merit is negative, so a sum that passes the least is left: nothing that comes
        can mend it. With `every` even those are judged to the end.
        """
        i = len(chosen)
        if i == len(self.kinds):
            self.keep(chosen, so_far)
            return
        for own, _, one in self.kinds[i]:
            total = so_far + own
            if self.hopeless(total + self.to_come[i + 1]):
                break
            for other in chosen:
                total += self.meeting(other, one)
                if self.hopeless(total):
                    break
            else:
                if not self.hopeless(total + self.to_come[i + 1]):
                    self.go([*chosen, one], total)

    def hopeless(self, total: int) -> bool:
        return not self.every and self.merit is not None and total > self.merit

    def keep(self, chosen: list[Laid], merit: int) -> None:
        if self.merit is None or merit < self.merit:
            self.merit, self.laid = merit, chosen
        elif merit == self.merit and self.tie(chosen) < self.tie(self.laid):
            self.laid = chosen


def search_of(trade: Trade, search: Search, every: bool) -> Answer | None:
    """The least over one width of search; None where some kind has no filling."""
    kinds = kinds_of(trade)
    rows = [
        [Laid(trade, k, parts) for parts in options(trade, k, search)] for k in kinds
    ]
    if not all(rows):
        return None
    least = Least(trade, rows, every)
    least.go([], 0)
    merit = unpacked(least.merit or 0)
    laid = {one.kind: one.parts for one in least.laid}
    return Answer(merit, laid, search, tuple(len(some) for some in rows))


def wider(trade: Trade, every: bool) -> Answer | None:
    """Search, and wider as long as the answer has the faults that allow it."""
    face = trade.wall.face
    mirrored = isinstance(face, Front) and face.own_mirror
    answer = search_of(trade, Search(), every)
    search = Search()

    def faults(levels: int) -> bool:
        return answer is None or any(answer.merit[:levels])

    if faults(13):
        search = search._replace(fine=True)
        answer = search_of(trade, search, every) or answer
    if faults(6):
        search = search._replace(trimmed=True)
        answer = search_of(trade, search, every) or answer
    if mirrored and trade.zones[1] and faults(13):
        more = search_of(trade, search._replace(centre=5), every)
        if more and (answer is None or more.merit[:13] < answer.merit[:13]):
            answer, search = more, more.search
    if mirrored and faults(6):
        search = search._replace(mirrored=False)
        answer = search_of(trade, search, every) or answer
    return answer


def best(
    wall: Wall, bond: Bond, every: bool = False, beside: Beside | None = None
) -> Answer | None:
    """Find the least merit over all combinations of fillings of the family.

    Args:
        wall: the wall and one face of it, a run or a front.
        bond: one of `BONDS`.
        every: judge every combination to the end, also those already worse by a part
            of their merits.
        beside: what a run beside soldiers lies on and under.

    Returns:
        The answer, its rows from the left end in `Fraction`s of the wall's unit; or
        None where some kind has no filling.
    """
    by = scale_of(wall)
    if beside is not None:
        by = lcm(by, scale_beside(beside))
        beside = grown(beside, by)
    answer = wider(Trade(times(wall, by), bond, beside), every)
    if answer is None:
        return None
    rows = {
        kind: {part: back(row, by) for part, row in parts.items()}
        for kind, parts in answer.rows.items()
    }
    return answer._replace(rows=rows)
