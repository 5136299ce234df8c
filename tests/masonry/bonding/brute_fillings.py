"""The family of fillings of the bond problem, made by brute force.

Legs, returns and lone runs (`fillings`), and what is laid over an opening
(`over_mirrored`, `over_between`). How the statement is read: see `brute_force`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import product

from tests.masonry.bonding.brute_trade import (
    CLOSER,
    CUT,
    LEGS,
    SAWN,
    Front,
    Num,
    Piece,
    Place,
    Row,
    Search,
    Token,
    Trade,
    apart,
    flip,
    joint_width,
    share,
    sizes_of,
)

# Cuts first, between and last: each line of the statement's list; then two free cuts of
# one length and an equal cut, without which narrow legs do worse than they could.
FORMS = tuple(
    tuple(tuple(cuts) for cuts in form.split("|"))
    for form in (
        "||", "||x", "x||", "|x|", "||xx", "||px", "||xp", "|xx|", "|x|p", "x||x",
        "p||x", "x||p", "xp||", "px||", "xx||", "||xxx", "x||xx",
        "p||xp", "px||p", "||ppx", "xpp||",
    )
)  # fmt: skip
# The same with a trimmed leg for the first piece, and at most one more cut. Where a
# unit turns into the jamb its leg may be the trimmed one, or the one more cut. Capitals
# are of the outer corner, small ones of the jamb; T and t are equal, P and p free.
ONE_CUT = tuple(
    (leg, form)
    for leg, cut in (("T", "x"), ("T", "p"), ("P", "x"))
    for form in ((cut, "", ""), ("", cut, ""), ("", "", cut))
)
TRIMMED = (("T", ("", "", "")), *ONE_CUT)
TURNED = (
    *TRIMMED,
    *((leg.lower(), form) for leg, form in TRIMMED),
    *((legs, ("", "", "")) for legs in ("Tt", "Tp", "Pt")),
)
X: Token = ("x", None)


def is_header(place: Place, piece: Piece) -> bool:
    """A whole header beside which a closer may stand; "H long" has its long leg."""
    short = piece.role in "LF" and place.leg_of(piece.role) == "short"
    return piece.role == "H" or short or (piece.role in "LF" and place.pattern == "H")


def letter_of(place: Place, role: str) -> str | None:
    """The letter that the next whole follows; None where it may be any."""
    if role in "LF":
        return "S" if place.leg_of(role) == "long" else "H"
    return role if role in "SH" else None


def letters(
    trade: Trade, place: Place, tokens: Sequence[Token], kept: tuple[int, int] = (0, 0)
) -> Iterator[list[Token]]:
    """Give every whole ("W") a letter, in the order of the pattern.

    `kept` pieces from the left and from the right stand as they are.
    """
    right = len(tokens) - kept[1]

    def go(i: int, before: str | None, made: list[Token]) -> Iterator[list[Token]]:
        if i == len(tokens):
            yield made
            return
        role, size = tokens[i]
        if role in CLOSER or role in CUT:
            after = before if role in CLOSER else None
            yield from go(i + 1, after, [*made, tokens[i]])
            return
        held = i < kept[0] or i > right
        for letter in place.pattern if role == "W" else role:
            reading = letter_of(place, letter)
            free = held or letter in LEGS
            if place.pattern != "SH" or free or reading != before:
                new = (letter, trade.whole(letter) if role == "W" else size)
                yield from go(i + 1, reading, [*made, new])

    return go(0, None, [])


def lay(tokens: Sequence[Token], joint: Num, width: Num, most: Num) -> Row | None:
    """Lay tokens with one joint; what has no length is equal and fills the width.

    None where it doesn't come out, or an equal piece would be longer than `most`.
    """
    known: Num = 0
    free = 0
    for _, size in tokens:
        if size is None:
            free += 1
        else:
            known += size
    rest = width - known - (len(tokens) - 1) * joint
    if rest != 0 if not free else not 0 < rest <= free * most:
        return None
    equal = share(rest, free) if free else 0
    row: list[Piece] = []
    at: Num = 0
    for role, size in tokens:
        end = at + (equal if size is None else size)
        row.append(Piece(at, end, role))
        at = end + joint
    return tuple(row)


def may_fill(
    trade: Trade, place: Place, tokens: Sequence[Token], joint: Num, width: Num
) -> bool:
    """Whether any letters of the wholes could make tokens fill the width.

    It is asked before they are spelled: most orders are too short or too long with
    the longest and with the shortest wholes.
    """
    wholes = sum(role == "W" for role, _ in tokens)
    known = sum(size for _, size in tokens if size is not None)
    free = sum(size is None for _, size in tokens) - wholes
    sizes = [trade.whole(letter) for letter in place.pattern]
    rest = width - known - (len(tokens) - 1) * joint
    most, least = rest - wholes * min(sizes), rest - wholes * max(sizes)
    return (most > 0 and least <= free * trade.longest) if free else least <= 0 <= most


def named(trade: Trade, place: Place, row: Row) -> Row:
    """Call a cut as long as a whole that whole, and a solved closer that is Q, Q."""
    out = []
    for piece in row:
        size, role = piece.right - piece.left, piece.role
        if role in CUT:
            role = next((c for c in place.pattern if size == trade.whole(c)), "x")
        elif role == "q" and size == trade.closer(place):
            role = "Q"
        out.append(Piece(piece.left, piece.right, role))
    return tuple(out)


def closer_stands(trade: Trade, place: Place, row: Row, i: int) -> bool:
    """Whether the closer at i is beside an end header and a whole or a long cut."""
    if i == 0 or i == len(row) - 1:
        return False
    sides = []
    if i == 1 and is_header(place, row[0]):
        sides.append(2)
    if i == len(row) - 2 and place.end != "wall" and is_header(place, row[-1]):
        sides.append(i - 1)
    for k in sides:
        other = row[k]
        if other.role in "SHLF":
            return True
        ends = k in (0, len(row) - 1) or place.pattern != "H"
        if other.role in CUT and ends and other.right - other.left >= trade.wall.header:
            return True
    return False


def lawful(trade: Trade, place: Place, row: Row, low: Num) -> bool:
    """Whether lengths are in range and closers where they may stand.

    In a row over the opening closers stand where the legs have them; only what is new
    beside one must be long enough.
    """
    for i, (left, right, role) in enumerate(row):
        size = right - left
        least = low
        if i == len(row) - 1 and place.end == "wall":
            least = min(low, trade.hidden_least)
        if role in SAWN:
            is_leg = role in LEGS
            most = trade.leg(place, role) if is_leg else trade.wall.unit
            if not (size <= most and least <= place.left_of(row, i)):
                return False
            if is_leg and size == most:
                return False
        elif role in CLOSER and not place.over:
            near = apart(size, trade.closer(place)) <= 2 * trade.wall.step
            if size <= 0 or not near or not closer_stands(trade, place, row, i):
                return False
        elif role in CLOSER:
            for other in (row[i - 1], row[i + 1]):
                if other.role in CUT and other.right - other.left < trade.wall.header:
                    return False
    return True


def grid_joints(trade: Trade) -> set[Num]:
    """Every multiple of the step in range, and the three figures of the range."""
    wall = trade.wall
    low, high, step = wall.least_joint, wall.most_joint, wall.step
    grid = {k * step for k in range(int(-(-low // step)), int(high // step) + 1)}
    return {low, wall.joint, high} | grid


def run_joints(trade: Trade, place: Place) -> list[Num]:
    """The joints of a run: the grid's, the three figures, and where wholes come out."""
    low, high = trade.wall.least_joint, trade.wall.most_joint
    found = grid_joints(trade)
    for tokens in skeletons(trade, place, (((), (), ()),), "LQ"):
        if len(tokens) > 1:
            rest = place.width - sum(size or 0 for _, size in tokens)
            joint = share(rest, len(tokens) - 1)
            if low <= joint <= high:
                found.add(joint)
    return sorted(found)


def starts_ends(
    trade: Trade, place: Place, first: str
) -> Iterator[tuple[list[Token], list[Token]]]:
    """The quoin and the jamb of a row, each also with its closer."""
    lead, tail = list[Token](), list[Token]()
    if place.start == "corner":
        is_sawn = "T" in first or "P" in first
        lead = [("T", None)] if is_sawn else [("L", trade.leg(place))]
    if place.end == "turned":
        is_sawn = "t" in first or "p" in first
        tail = [("f", None)] if is_sawn else [("F", trade.leg(place, "F"))]
    starts, ends = [lead], [tail]
    if "H" in place.pattern:
        header: Token = ("H", trade.wall.header)
        closers: list[Token] = [("Q", trade.closer(place)), ("q", None)]
        if lead[:1] != [("T", None)]:
            starts += [[*(lead or [header]), closer] for closer in closers]
        if place.end != "wall" and tail != [("f", None)]:
            ends += [[closer, *(tail or [header])] for closer in closers]
    yield from product(starts, ends)


def skeletons(
    trade: Trade,
    place: Place,
    forms: Iterable[Sequence[Sequence[str]]],
    first: str,
) -> Iterator[list[Token]]:
    """Every order of pieces; free cuts are ("p", None) until they get their length.

    `first` is "L" for whole corner units or a free edge, "LQ" for the same with true
    closers only, else what is trimmed: see `TURNED`.
    """
    most = int(place.width // min(trade.whole(c) for c in place.pattern)) + 1
    for form, (start, end) in product(forms, starts_ends(trade, place, first)):
        solved = [role for role, _ in (*start, *end) if role == "q"]
        cuts = "".join("".join(group) for group in form)
        equal = "x" in cuts or "T" in first or "t" in first
        if solved and (first == "LQ" or equal):
            continue
        if "p" in cuts and place.pattern == "H":
            continue
        ahead, between, last = ([(c, None) for c in group] for group in form)
        for before in range(most + 1):
            for after in range(1, most + 1 - before) if between else (0,):
                if between and not before:
                    continue
                tokens = [
                    *start, *ahead, *[("W", None)] * before,
                    *between, *[("W", None)] * after, *last, *end,
                ]  # fmt: skip
                if tokens:
                    yield from letters(trade, place, tokens)


def free_cuts(trade: Trade, place: Place, search: Search, low: Num) -> list[Num]:
    """The lengths a free cut may have; none in a row of headers."""
    return [] if place.pattern == "H" else free_legs(trade, search, low)


def free_legs(trade: Trade, search: Search, low: Num) -> list[Num]:
    """The lengths that a corner unit may be trimmed to freely, in any row."""
    wall = trade.wall
    grid = share(wall.free_step, 2) if search.fine else wall.free_step
    some = {grid * k for k in range(1, int(wall.unit // grid) + 1)}
    some |= {trade.half_bat, trade.three_quarter}
    return sorted(size for size in some if low <= size < wall.unit)


def short_of_wall(trade: Trade, place: Place, joint: Num) -> Iterator[Row]:
    """A whole leg and whole units that stop short of a hidden wall."""
    for tokens in skeletons(trade, place, (((), (), ()),), "LQ"):
        used = sum(size or 0 for _, size in tokens) + (len(tokens) - 1) * joint
        if 0 < place.width - used <= trade.wall.most_joint:
            row = lay(tokens, joint, used, trade.longest)
            if row is not None:
                yield row


def with_lengths(
    tokens: Sequence[Token], sizes: Sequence[Num], first: str
) -> Iterator[list[Token]]:
    """Give a free cut (or a leg that is one) each of its lengths; two are alike."""
    spots = {i for i, t in enumerate(tokens) if t[0] == "p"}
    if "P" in first:
        spots.add(0)
    if "p" in first:
        spots.add(len(tokens) - 1)
    if not spots:
        yield list(tokens)
        return
    for size in sizes:
        yield [(t[0], size) if i in spots else t for i, t in enumerate(tokens)]


def trimmed_forms(place: Place) -> Iterator[tuple[str, tuple[str, str, str]]]:
    """What corner units may be trimmed, and what else is sawn then."""
    for legs, form in TURNED:
        first, last = legs[0] in "TP", legs[-1] in "tp"
        has_unit = place.start == "corner" or not first
        if has_unit and (place.end == "turned" or not last):
            yield legs, form


def fillings(
    trade: Trade, place: Place, search: Search, low: Num | None = None
) -> list[Row]:
    """Every filling of a leg, a return or a run, laid from its outer end.

    `low` is the least length of a cut, the job's least piece if not given.
    """
    low = trade.wall.least_piece if low is None else low
    least = min(low, trade.hidden_least) if place.end == "wall" else low
    sizes = free_legs(trade, search, least)
    groups: list[tuple[str, Iterable[Sequence[Sequence[str]]]]] = [("L", FORMS)]
    if search.trimmed:
        groups += [(legs, [form]) for legs, form in trimmed_forms(place)]
    found: dict[Row, None] = {}
    joints = run_joints(trade, place)
    for first, forms in groups:
        for skeleton in skeletons(trade, place, forms, first):
            for tokens in with_lengths(skeleton, sizes, first):
                for joint in joints:
                    row = lay(tokens, joint, place.width, trade.longest)
                    row = row and named(trade, place, row)
                    if row and lawful(trade, place, row, low):
                        found[row] = None
    if place.end == "wall" and place.start == "corner":
        for joint in joints:
            for row in short_of_wall(trade, place, joint):
                if lawful(trade, place, row, low):
                    found[row] = None
    return list(found)


# --- over the opening -----------------------------------------------------------------

Base = tuple[Row, list[Token]]  # what is kept of a leg's row, and what follows it


def bases(trade: Trade, place: Place, row: Row) -> list[Base]:
    """How a leg's row may be kept: (b), (a), (c), and without its last two."""
    last = row[-1]
    if last.role in "Ff":
        return turned_bases(place, row)
    if len(row) == 1 and last.role in "LT":
        whole: Base = ((), [("L", trade.leg(place))])
        return [(row, []), *([whole] if last.role == "T" else [])]
    ways: list[Base] = [(row, [])]
    if last.role in CUT:
        ways.append((row[:-1], [("W", None)]))
    before = row[-2].role if len(row) > 1 else ""
    quoin = len(row) == 3 and is_header(place, row[0])
    closed = before in CLOSER and before != "" and last.role == "H" and not quoin
    if not closed:  # a closer at the jamb goes with its header
        ways.append((row[:-1], [X]))
    if closed or (before in CUT and before != "" and last.role in CUT):
        ways.append((row[:-2], []))
    return ways


def turned_bases(place: Place, row: Row) -> list[Base]:
    """The same of a row whose last piece turns into the jamb: none turns over it.

    Either the whole that the pattern has there, or an x, stands in that piece's place;
    or all that belongs to the jamb is left out.
    """
    last, before = row[-1], row[-2].role if len(row) > 1 else ""
    quoin = len(row) == 3 and is_header(place, row[0])
    closed = before in ("Q", "q") and is_header(place, last) and not quoin
    if closed:  # a closer at the jamb goes with its header
        return [(row[:-2], [])]
    return [(row[:-1], [("W", None)]), (row[:-1], [X])]


def reaches(place: Place, row: Row, first: int, jamb: Num) -> bool:
    """Whether the first new piece reaches the jamb; with headers the second may."""
    new = row[first : first + (2 if "H" in place.pattern else 1)]
    return any(piece.right >= jamb for piece in new)


def last_letter(tokens: Sequence[Token], place: Place) -> str | None:
    """The letter that the next whole follows; None where it may be any."""
    for role, _ in reversed(tokens):
        if role not in CLOSER:
            return letter_of(place, role)
    return None


def centres(
    trade: Trade, over: Place, half: Sequence[Token], most: int
) -> Iterator[list[Token]]:
    """What is on the centre line: a joint, a whole unit, or equal cuts."""
    yield []
    before = last_letter(half, over)
    for letter in over.pattern:
        if over.pattern != "SH" or letter != before:
            yield [(letter, trade.whole(letter))]
    for k in range(1, most + 1):
        yield [X] * k


def most_wholes(trade: Trade, over: Place) -> int:
    return int(over.width // min(trade.whole(c) for c in over.pattern)) + 1


def mirrored_rows(
    trade: Trade, over: Place, base: Sequence[Token], kept: int, most: int, joint: Num
) -> Iterator[Row]:
    """Lay a left half from what it begins with, whatever is on the centre line."""
    for n in range(most_wholes(trade, over) // 2 + 1):
        for half in letters(trade, over, [*base, *[("W", None)] * n], (kept, 0)):
            for centre in centres(trade, over, half, most):
                tokens = [*half, *centre, *reversed(half)]
                row = lay(tokens, joint, over.width, trade.longest) if tokens else None
                if row:
                    yield named(trade, over, row)


def over_mirrored(
    trade: Trade, place: Place, over: Place, leg: Row, search: Search, low: Num
) -> list[Row]:
    """Every row over the opening of a mirrored front that carries on a leg's row."""
    own = joint_width(leg)
    found: dict[Row, None] = {}
    joints = {own} if own is not None else set(run_joints(trade, place))
    if own is None:
        joints |= front_joints(trade, over, plain(trade, over))
    for joint in sorted(joints):
        for kept, then in bases(trade, place, leg):
            base, n = [*sizes_of(kept), *then], len(kept)
            for row in mirrored_rows(trade, over, base, n, search.centre, joint):
                if reaches(place, row, n, place.width) and lawful(
                    trade, over, row, low
                ):
                    found[row] = None
    return list(found)


def front_joints(trade: Trade, over: Place, starts: Sequence[list[Token]]) -> set[Num]:
    """The joints at which a mirrored course of the whole front comes out in wholes."""
    found: set[Num] = set()
    for start, n in product(starts, range(most_wholes(trade, over) // 2 + 1)):
        for half in letters(trade, over, [*start, *[("W", None)] * n]):
            for centre in centres(trade, over, half, 0):
                tokens = [*half, *centre, *reversed(half)]
                rest = over.width - sum(size or 0 for _, size in tokens)
                if len(tokens) > 1:
                    found.add(share(rest, len(tokens) - 1))
    wall = trade.wall
    return {joint for joint in found if wall.least_joint <= joint <= wall.most_joint}


def plain(trade: Trade, over: Place) -> list[list[Token]]:
    """What a course over the opening begins with, whole, with a closer or without."""
    lead: list[Token] = []
    if over.start == "corner":
        lead = [("L", trade.leg(over))]
    if "H" not in over.pattern:
        return [lead]
    header: Token = ("H", trade.wall.header)
    quoin = over.leg == "short" or over.pattern == "H" or not lead
    closed = [*(lead or [header]), ("Q", trade.closer(over))]
    return [lead, closed] if quoin else [lead]


def over_from_corner(trade: Trade, over: Place, search: Search, low: Num) -> list[Row]:
    """Every row over the opening of a mirrored front whose kind has no leg row."""
    if over.start != over.end:
        msg = "an unlike front with a kind that lies only over the opening"
        raise NotImplementedError(msg)
    starts = plain(trade, over)
    lead = starts[0]
    firsts = [*starts, [*lead, X], [*lead, X, X]]
    firsts += [[*lead, ("p", p)] for p in free_cuts(trade, over, search, low)]
    found: dict[Row, None] = {}
    joints = set(grid_joints(trade)) | front_joints(trade, over, starts)
    for joint, first in product(sorted(joints), firsts):
        for row in mirrored_rows(trade, over, first, 0, search.centre, joint):
            if lawful(trade, over, row, low):
                found[row] = None
    return list(found)


def between(n: int, k: int) -> Iterator[tuple[bool, list[Token]]]:
    """Orders of n wholes and k equal cuts; True where the cuts seek the centre line."""
    whole: list[Token] = [("W", None)]
    yield False, [*[X] * k, *whole * n]
    yield False, [*whole * n, *[X] * k]
    if k == 2:
        yield False, [X, *whole * n, X]
    for before in range(1, n if k else 0):
        yield True, [*whole * before, *[X] * k, *whole * (n - before)]


def centred(row: Row, first: int, k: int, line: Num) -> Num:
    """How far the middle of k cuts is from the centre line, doubled."""
    return apart(row[first].left + row[first + k - 1].right, 2 * line)


def over_between(
    trade: Trade, places: tuple[Place, Place], over: Place, legs: tuple[Row, Row],
    search: Search, low: Num,
) -> list[Row]:  # fmt: skip
    """Every row over the opening of a front that isn't its own mirror image.

    `legs` are laid from their own ends.
    """
    owns = {joint for joint in map(joint_width, legs) if joint is not None}
    if len(owns) > 1:
        return []
    found: dict[Row, None] = {}
    counts = range(most_wholes(trade, over) + 1), range(search.centre + 1)
    kept = bases(trade, places[0], legs[0]), bases(trade, places[1], legs[1])
    for joint in owns or run_joints(trade, places[0]):
        for sides in product(*kept):
            for n, k in product(*counts):
                for row in between_rows(trade, over, sides, n, k, joint):
                    if carries_on(trade, places, over, sides, row, low):
                        found[row] = None
    return list(found)


def carries_on(
    trade: Trade, places: tuple[Place, Place], over: Place, sides: tuple[Base, Base],
    row: Row, low: Num,
) -> bool:  # fmt: skip
    """Whether a row over the opening is lawful and reaches both jambs."""
    rows = row, flip(row, over.width)
    return lawful(trade, over, row, low) and all(
        reaches(place, way, len(side[0]), place.width)
        for place, way, side in zip(places, rows, sides, strict=True)
    )


def between_rows(
    trade: Trade, over: Place, sides: tuple[Base, Base], n: int, k: int, joint: Num
) -> Iterator[Row]:
    """Lay n wholes and k cuts between what is kept, or those nearest the line."""
    face = trade.wall.face
    assert isinstance(face, Front)
    line = share(face.left + over.width - face.right, 2)
    (left, then), (right, before) = sides
    near: list[tuple[Num, Row]] = []
    for centre, order in between(n, k):
        head = [*sizes_of(left), *then]
        tokens = [*head, *order, *before, *reversed(sizes_of(right))]
        if not may_fill(trade, over, tokens, joint, over.width):
            continue
        for some in letters(trade, over, tokens, (len(left), len(right))):
            row = lay(some, joint, over.width, trade.longest) if some else None
            if row and centre:
                spot = len(head) + order.index(X)
                near.append((centred(row, spot, k, line), named(trade, over, row)))
            elif row:
                yield named(trade, over, row)
    least = min((off for off, _ in near), default=0)
    yield from (row for off, row in near if off == least)
