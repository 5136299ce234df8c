"""The judge of the bond problem's brute force: any layout, by the 24 merits.

How the statement is read: see `brute_force`.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from itertools import product

from tests.masonry.bonding.brute_trade import (
    CLOSER,
    CUT,
    LEGS,
    LEVELS,
    SAWN,
    Beside,
    Bond,
    Front,
    Joint,
    Num,
    Parts,
    Piece,
    Place,
    Row,
    Run,
    Trade,
    Wall,
    apart,
    flip,
    joint_width,
    joints_of,
    share,
    steps_near,
    steps_up,
)

Tally = list[int]  # how often, for each of the 24 levels; level n at n - 1
Span = tuple[Num, Num]


def none() -> Tally:
    return [0] * len(LEVELS)


def add(tally: Tally, level: int, count: int = 1) -> None:
    tally[level - 1] += count


# --- a row by itself ------------------------------------------------------------------


def reads_as(trade: Trade, piece: Piece) -> str:
    """What the eye takes a piece for: S, H or neither ("")."""
    size = piece.right - piece.left
    if size >= trade.reads_stretcher:
        return "S"
    low, high = trade.reads_header
    return "H" if low <= size < high else ""


def judge_trimmed(trade: Trade, place: Place, piece: Piece, tally: Tally) -> None:
    """Judge a trimmed leg as a leg: 6, 9 and 15."""
    size, leg = piece.right - piece.left, place.leg_of(piece.role)
    limit = trade.read_long if leg == "long" else trade.read_short
    add(tally, 6, int(size < limit))
    add(tally, 9)
    off = trade.leg(place, piece.role) - size
    add(tally, 15, steps_up(off, 2 * trade.wall.step))


def judge_sawn(trade: Trade, place: Place, row: Row, i: int, tally: Tally) -> None:
    """Judge a cut or a trimmed leg that isn't at a hidden wall: 12, 13, 17 to 21."""
    size, step = place.left_of(row, i), trade.wall.step
    at_jamb = i == len(row) - 1 and place.end == "jamb"
    natural = trade.natural(place)
    if size < trade.small(place):
        add(tally, 12 if at_jamb else 13)
    if size < natural - step:
        add(tally, 17 if at_jamb else 18)
        add(tally, 21, steps_near(natural - size, step))
    is_cut = place.seen_as(row, i) in CUT
    if is_cut and at_jamb:
        add(tally, 19)
    elif is_cut and not beside_corner(row, i):
        is_inside = i == len(row) - 1 and place.end == "inside"
        add(tally, 20, int(not is_inside))


def beside_corner(row: Row, i: int) -> bool:
    first, last = row[0].role in LEGS, row[-1].role in LEGS
    return (i == 1 and first) or (i == len(row) - 2 and last)


def judge_pieces(
    trade: Trade, place: Place, row: Row, kept: frozenset[Span], tally: Tally
) -> None:
    """Judge each piece that the row doesn't share with a leg's: 1, 2, 12 to 23."""
    wall, cuts = trade.wall, []
    for i, piece in enumerate(row):
        size = piece.right - piece.left
        if (piece.left, piece.right) in kept:
            continue
        if piece.role in CLOSER:
            if size != trade.closer(place):
                cuts.append(size)
                add(tally, 20, int(not beside_corner(row, i)))
            continue
        hidden = i == len(row) - 1 and place.end == "wall"
        least = trade.hidden_least if hidden else wall.least_piece
        left = place.left_of(row, i)
        if left < least:
            add(tally, 1)
            add(tally, 2, steps_up(least - left, wall.step))
        if piece.role in "Tf":
            judge_trimmed(trade, place, piece, tally)
        role = place.seen_as(row, i)
        if role in SAWN and not hidden:
            judge_sawn(trade, place, row, i, tally)
        if role in CUT:
            cuts.append(size)
    add(tally, 22, len(set(cuts)))
    add(tally, 23, len(cuts))


def judge_pattern(
    trade: Trade, place: Place, row: Row, kept: frozenset[Span], tally: Tally
) -> None:
    """Judge how the row reads: 14, but for headers that have a joint over them."""
    times = 1 if place.over else 2
    units = [piece for piece in row if piece.role not in CLOSER]
    new = [(piece.left, piece.right) not in kept for piece in units]
    reads = [reads_as(trade, piece) for piece in units]
    if place.pattern == "SH":
        for i, reading in enumerate(reads):
            add(tally, 14, times * int(new[i] and not reading))
            if i and reading and reading == reads[i - 1] and (new[i] or new[i - 1]):
                add(tally, 14, times * 2)
    elif place.pattern == "H" or trade.bond.name == "English":
        for i, piece in enumerate(units):
            letter = place.pattern
            if piece.role in LEGS:
                letter = "S" if place.leg_of(piece.role) == "long" else "H"
            add(tally, 14, times * int(new[i] and reads[i] != letter))


def judge_row(
    trade: Trade, place: Place, row: Row, kept: frozenset[Span] = frozenset()
) -> Tally:
    """Judge one row by itself; `kept` are the pieces that its legs' rows have."""
    tally = none()
    judge_pieces(trade, place, row, kept, tally)
    judge_pattern(trade, place, row, kept, tally)
    joint = joint_width(row)
    if joint is not None:
        off = apart(joint, trade.wall.joint)
        add(tally, 24, steps_near(2 * off, trade.wall.step))
    return tally


# --- a kind: its legs' rows and its row over the opening ------------------------------


class Laid:
    """The rows of one kind, with what meetings ask of them; all from the left end."""

    def __init__(self, trade: Trade, kind: int, parts: Parts) -> None:
        self.kind, self.parts = kind, dict(parts)
        self.joints = {part: joints_of(row) for part, row in parts.items()}
        face = trade.wall.face
        if isinstance(face, Run) and trade.place(kind, "run").leg == face.butting:
            end = self.parts["run"][-1].right
            self.joints["run"].append((end, end + face.corner_joint))
        self.widths = {part: joint_width(row) for part, row in parts.items()}
        self.lengths = {
            part: trade.place(kind, part).width for part in parts if part != "over"
        }
        legs = [row for part, row in parts.items() if part != "over"]
        self.kept = frozenset((p.left, p.right) for row in legs for p in row)
        self.kept_joints = frozenset(j for row in legs for j in joints_of(row))
        self.headers = {
            part: [p for p in row[1:-1] if is_read_header(trade, kind, p)]
            for part, row in parts.items()
        }


def is_read_header(trade: Trade, kind: int, piece: Piece) -> bool:
    in_flemish = trade.bond.rows[kind][0] == "SH"
    return in_flemish and piece.role not in CLOSER and reads_as(trade, piece) == "H"


def tail(row: Row) -> int:
    """How many pieces at the jamb belong to the jamb: one, or two."""
    if len(row) < 2:
        return 1
    before, last = row[-2].role, row[-1].role
    sawn = before in CUT and last in CUT
    header = before in CLOSER and last in "HF"
    return 2 if sawn or header else 1


def carried(leg: Row, over: Row) -> bool:
    """Whether the perpends of a leg, and no more, stand over it; both from its end."""
    edge = leg[-tail(leg)].left
    stand = {joint for joint in joints_of(leg) if joint[1] <= edge}
    above = {joint for joint in joints_of(over) if joint[0] < edge}
    return stand == above


def judge_kind(trade: Trade, laid: Laid) -> Tally:
    """Judge the rows of one kind by themselves."""
    tally, face, parts = none(), trade.wall.face, laid.parts
    for part, row in parts.items():
        place = trade.place(laid.kind, part)
        if part == "right" and isinstance(face, Front):
            row = flip(row, face.width)
        kept = laid.kept if part == "over" else frozenset()
        plus(tally, judge_row(trade, place, row, kept))
    if isinstance(face, Run):
        plus(tally, judge_beside(trade, laid))
        return tally
    right = flip(parts["right"], face.width) if "right" in parts else None
    if face.own_mirror:
        if right is not None:
            add(tally, 7, int(not alike(parts["left"], right)))
        if "over" in parts:
            over = parts["over"]
            add(tally, 7, int(not alike(over, flip(over, face.width))))
    if "over" in parts and right is not None:
        over = parts["over"]
        add(tally, 8, int(not carried(parts["left"], over)))
        add(tally, 8, int(not carried(right, flip(over, face.width))))
    return tally


def judge_beside(trade: Trade, laid: Laid) -> Tally:
    """Judge a row beside soldiers against the leg's, and what lies under and over it.

    Against its leg's row it carries its perpends or doesn't (8): all but the leg's
    last that there is brick for. Against the courses under and over it laps count
    alone (3, 4), as at the head.
    """
    tally, beside = none(), trade.beside
    if beside is None:
        return tally
    if laid.kind in beside.legs:
        end = laid.parts["run"][-1].right
        legs = joints_of(beside.legs[laid.kind])[:-1]
        stand = set(laid.joints["run"])
        add(tally, 8, int(any(x not in stand for x in legs if x[1] < end)))
    courses = trade.zones[0]
    for met, kind in ((beside.below, courses[0]), (beside.above, courses[-1])):
        if met is None or laid.kind != kind or trade.bond.name == "stack":
            continue
        least = trade.lap_limits(kind, met[0])[0]
        pairs = product(laid.joints["run"], joints_of(met[1]))
        judge_laps(trade, least, ((a, b, False) for a, b in pairs), tally)
    return tally


def alike(one: Row, other: Row) -> bool:
    return [p[:2] for p in one] == [p[:2] for p in other]


def plus(tally: Tally, more: Sequence[int]) -> None:
    for i, count in enumerate(more):
        tally[i] += count


# --- two kinds that lie on one another ------------------------------------------------


def lap(one: Joint, other: Joint) -> Num:
    return max(0, one[0] - other[1], other[0] - one[1])


def judge_laps(
    trade: Trade,
    least: Num,
    pairs: Iterator[tuple[Joint, Joint, bool]],
    tally: Tally,
) -> None:
    """Judge pairs of joints: 3, 4, 10; each says whether one is the last at a wall."""
    for one, other, at_wall in pairs:
        clear = lap(one, other)
        if clear >= least:
            continue
        limit = share(least, 2) if at_wall else least
        if clear < limit:
            add(tally, 3)
            add(tally, 4, steps_up(limit - clear, trade.wall.step))
        else:
            add(tally, 10)


def pairs_of(
    one: Laid,
    other: Laid,
    parts: tuple[str, str],
    skip: bool,
    least: Num,
    wall: bool = False,
) -> Iterator[tuple[Joint, Joint, bool]]:
    """Every joint with every joint that is nearer to it than the least lap.

    `skip` those that both stand in legs' rows.
    """
    mine, theirs = one.joints[parts[0]], other.joints[parts[1]]
    # Joints stand in order, so that those in reach are side by side.
    lefts, rights = [a for a, _ in theirs], [b for _, b in theirs]
    for a in mine:
        first, past = (
            bisect_right(rights, a[0] - least),
            bisect_left(lefts, a[1] + least),
        )
        for b in theirs[first:past]:
            if skip and a in one.kept_joints and b in other.kept_joints:
                continue
            yield a, b, wall and (a == mine[-1] or b == theirs[-1])


def judge_off_lap(
    limits: tuple[Num, Num, Num | None], mine: Laid, other: Laid, part: str, skip: bool
) -> int:
    """Count the joints whose nearest in the other row is off the bond's lap: 16."""
    count, (_, near, far) = 0, limits
    theirs = other.joints[part]
    lefts = [a for a, _ in theirs]
    for joint in mine.joints[part] if theirs else []:
        if skip and joint in mine.kept_joints:
            continue
        # The nearest is the last that begins before it, or the first that does not.
        place = bisect_left(lefts, joint[0])
        beside = theirs[max(place - 1, 0) : place + 1]
        clear = min(lap(joint, b) for b in beside)
        count += clear < near or (far is not None and clear > far)
    return count


def headers_under(mine: Laid, other: Laid, part: str, skip: bool) -> int:
    """Count the headers with a joint of the other row over them: 14."""
    return sum(
        any(a < piece.right and piece.left < b for a, b in other.joints[part])
        for piece in mine.headers[part]
        if not (skip and (piece.left, piece.right) in mine.kept)
    )


def judge_part(trade: Trade, one: Laid, other: Laid, part: str, skip: bool) -> Tally:
    """Judge two rows of one zone, one on the other."""
    tally, face, step = none(), trade.wall.face, trade.wall.step
    limits = trade.lap_limits(one.kind, other.kind)
    wall = isinstance(face, Run) and face.end == "wall"
    pairs = pairs_of(one, other, (part, part), skip, limits[0], wall)
    judge_laps(trade, limits[0], pairs, tally)
    width = one.lengths[part] if part != "over" else face.width
    if not one.joints[part] and not other.joints[part]:
        add(tally, 5, int(4 * width > 3 * trade.wall.unit))
    mine, theirs = one.widths[part], other.widths[part]
    if mine is not None and theirs is not None:
        add(tally, 11, max(0, steps_up(apart(mine, theirs), step) - 1))
    for a, b in ((one, other), (other, one)):
        add(tally, 14, headers_under(a, b, part, skip))
        add(tally, 16, judge_off_lap(limits, a, b, part, skip))
    return tally


Met = dict[tuple[int, int], Tally]


def judge_meeting(
    trade: Trade, one: Laid, other: Laid, met: Met | None = None
) -> Tally:
    """Judge two kinds wherever they lie on one another.

    `met` keeps what two legs' rows come to, for the many rows over them; it is of
    rows that stay where they are for as long as it is used.
    """
    tally, pair = none(), frozenset((one.kind, other.kind))
    met = {} if met is None else met
    legs, over = (pair in zone for zone in trade.meetings)
    if legs:
        for part in one.parts:
            if part == "over":
                continue
            key = id(one.parts[part]), id(other.parts[part])
            if key not in met:
                met[key] = judge_part(trade, one, other, part, False)
            plus(tally, met[key])
    if over:
        plus(tally, judge_part(trade, one, other, "over", legs))
    for low, high in ((one, other), (other, one)):
        if trade.head == (low.kind, high.kind):
            least = trade.lap_limits(low.kind, high.kind)[0]
            for part in ("left", "right"):
                pairs = pairs_of(high, low, ("over", part), legs, least)
                judge_laps(trade, least, pairs, tally)
    return tally


def kinds_of(trade: Trade) -> list[int]:
    return sorted({kind for zone in trade.zones for kind in zone})


def judge(
    wall: Wall,
    bond: Bond,
    rows: Mapping[int, Parts],
    beside: Beside | None = None,
) -> tuple[int, ...]:
    """Judge a whole layout by the 24 merits; `rows` is kind -> part -> row.

    Parts are "run" for a run by itself, else "left" and "right" (where the kind lies
    in the legs) and "over" (where it lies over the opening), from the left end.
    """
    trade = Trade(wall, bond, beside)
    laid = [Laid(trade, kind, rows[kind]) for kind in kinds_of(trade)]
    tally = none()
    for i, one in enumerate(laid):
        plus(tally, judge_kind(trade, one))
        for other in laid[:i]:
            plus(tally, judge_meeting(trade, other, one))
    return tuple(tally)


def say(merit: Sequence[int]) -> str:
    """Say the levels that are not 0 on one line."""
    some = [f"{i}. {LEVELS[i - 1]} {n}" for i, n in enumerate(merit, 1) if n]
    return "; ".join(some) or "nothing against it"
