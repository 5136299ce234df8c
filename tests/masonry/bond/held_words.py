"""Hold every sentence about the bond against the pieces, by eye as it were.

In:  `Job`, `Surround`, `Layout`.   Out: the sentences that are not true.
Frame: as `Surround`. Nothing is asked of the solver: only outlines are looked at.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise, product

from shopdraw.job.model import Job
from shopdraw.lengths import format_length, format_made
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import RUNNING_KINDS, Layout, Piece

Laid = tuple[Fraction, Fraction, Piece]


@dataclass(frozen=True)
class Wall:
    """A wall that is laid, with what the sentences are about."""

    job: Job
    surround: Surround
    layout: Layout

    def say(self, length: Fraction) -> str:
        return format_length(length, self.job.lengths)

    def sawn(self, length: Fraction) -> str:
        """Return a length that somebody saws to, in words."""
        return format_made(length, self.job.lengths)

    @property
    def courses(self) -> list[int]:
        running = {x.course for x in self.layout.pieces if x.kind in RUNNING_KINDS}
        return sorted(running)

    @property
    def about(self) -> Fraction:
        opening = self.surround.opening
        return opening.brick_left + opening.brick_right

    def face(self, name: str, course: int) -> list[Laid]:
        return sorted(
            (
                (outline.left, outline.right, piece)
                for piece in self.layout.pieces
                if piece.course == course and piece.kind in RUNNING_KINDS
                for outline in piece.outlines
                if outline.face == name
            ),
            key=lambda laid: laid[0],
        )

    def zone(self, name: str, course: int) -> list[Laid]:
        """Return a course's pieces in a zone, left to right."""
        side, _, what = name.partition(" ")
        if what in ("return", "chamfer", "alcove", "reveal"):
            return self.face(side if what == "return" else name, course)
        front = self.face("front", course)
        opening = self.surround.opening
        over = [
            x for x in front if x[0] < opening.brick_right and x[1] > opening.brick_left
        ]
        if name == "over":
            return front if over else []
        if over:
            return []
        if side == "left":
            return [x for x in front if x[1] <= opening.brick_left]
        return [x for x in front if x[0] >= opening.brick_right]

    def zones(self) -> Iterator[tuple[str, int, list[Laid]]]:
        names = [
            f"{side} {what}"
            for what in ("leg", "return", "chamfer", "alcove", "reveal")
            for side in ("left", "right")
        ]
        for name in (*names, "over"):
            for course in self.courses:
                row = self.zone(name, course)
                if row:
                    yield name, course, row


def numbers_in(text: str) -> set[int]:
    """Return the courses that a phrase names."""
    ends = re.search(r"every other course from (\d+) to (\d+)", text, re.IGNORECASE)
    if ends:
        return {*range(int(ends[1]), int(ends[2]) + 1, 2)}
    ends = re.fullmatch(r"courses (\d+) to (\d+)", text, re.IGNORECASE)
    if ends:
        return {*range(int(ends[1]), int(ends[2]) + 1)}
    return {*map(int, re.findall(r"\d+", text))}


COURSES = r"(?:every other course from \d+ to \d+|courses? \d+(?:(?:,| and| to) \d+)*)"


def _are_headers(wall: Wall, said: re.Match[str]) -> bool:
    named = numbers_in(said["courses"])
    kinds = {
        course: {piece.kind for *_, piece in wall.face("front", course)}
        for course in wall.courses
    }
    with_headers = {n for n, some in kinds.items() if "header" in some}
    lengths = {
        right - left
        for n in named
        for left, right, piece in wall.face("front", n)
        if piece.kind == "header"
    }
    return named == with_headers and {wall.say(x) for x in lengths} <= {said["length"]}


def _long_legs(wall: Wall, said: re.Match[str]) -> bool:
    folds = {*wall.surround.folds}
    for left, right, piece in wall.face("front", 1):
        is_whole = piece.kind == "corner unit" and not piece.is_trimmed
        if is_whole and {left, right} & folds:
            other = next(x for x in piece.outlines if x.face != "front")
            is_long = right - left > other.right - other.left
            if is_long != (said["face"] == "front"):
                return False
    return True


def _do_not_alternate(wall: Wall, _: re.Match[str]) -> bool:
    folds = {*wall.surround.folds}
    legs = {
        (left in folds, right - left)
        for course in wall.courses
        for left, right, piece in wall.face("front", course)
        if piece.kind == "corner unit"
        and {left, right} & folds
        and not piece.is_trimmed
    }
    return len(legs) <= 2


def _closers(wall: Wall) -> set[tuple[str, str, int]]:
    found = set()
    for name, course, row in wall.zones():
        for place, (left, right, piece) in enumerate(row):
            if piece.kind == "closer":
                where = _where(wall, name, row, place)
                found.add((wall.say(right - left), where, course))
    return found


def _where(wall: Wall, name: str, row: list[Laid], place: int) -> str:
    left, right, _ = row[place]
    if name == "over" and left + right == wall.about:
        return "on the centre line"
    ends = [at for at in (0, len(row) - 1) if abs(at - place) == 1]
    if any(row[at][2].kind == "corner unit" for at in ends):
        return "beside the corner unit"
    opening = wall.surround.opening
    jambs = {opening.brick_left, opening.brick_right}
    if any({row[at][0], row[at][1]} & jambs for at in ends) and name != "over":
        return "by the jamb"
    side, _, what = name.partition(" ")
    has_alcove = any(x.name == f"{side} alcove" for x in wall.surround.faces)
    if has_alcove and ends and what in ("return", "alcove"):
        outer = 0 if side == "left" else len(row) - 1
        is_outer = what == "alcove" and outer in ends
        return "near the edge" if is_outer else "near the inside corner"
    if name.endswith(("return", "reveal")) and ends:
        return "near the wall"
    return "near the edge" if ends else "inside the course"


def _closers_stand(wall: Wall, said: re.Match[str]) -> bool:
    named = set()
    for place in said["places"].split("; "):
        places, courses = re.fullmatch(rf"(.+?) in ({COURSES})", place).groups()
        every = product(places.split(" and "), numbers_in(courses))
        named |= {(said["length"], where, n) for where, n in every}
    return named == {x for x in _closers(wall) if x[0] == said["length"]}


def _is_mirror_image(wall: Wall) -> bool:
    rows = [(n, a, b) for n in wall.courses for a, b, _ in wall.face("front", n)]
    return {(n, wall.about - b, wall.about - a) for n, a, b in rows} == {*rows}


def _carried(wall: Wall, side: str, course: int) -> bool:
    """Whether the courses over the opening that are like it have a leg's joints."""
    cycle = len(wall.layout.cycle)

    def joints(row: list[Laid]) -> list[tuple[Fraction, Fraction]]:
        return [(a[1], b[0]) for a, b in pairwise(row)]

    mine = joints(wall.zone(f"{side} leg", course))
    mine = mine[:-2] if side == "left" else mine[2:]
    over = [
        joints(row)
        for n in wall.courses
        if (n - course) % cycle == 0 and (row := wall.zone("over", n))
    ]
    return all({*mine} <= {*theirs} for theirs in over)


def _all_go_on(wall: Wall, _: re.Match[str]) -> bool:
    return all(
        _carried(wall, name.split()[0], course)
        for name, course, _ in wall.zones()
        if name.endswith("leg")
    )


def _some_do_not(wall: Wall, said: re.Match[str]) -> bool:
    lost = {
        (name.split()[0], course)
        for name, course, _ in wall.zones()
        if name.endswith("leg") and not _carried(wall, name.split()[0], course)
    }
    named = {
        (side, n)
        for side, courses in re.findall(rf"the (left|right) leg in ({COURSES})",
                                        said["lost"])
        for n in numbers_in(courses)
    }  # fmt: skip
    return lost <= named


def _one_piece_wide(wall: Wall, said: re.Match[str]) -> bool:
    rows = [row for name, _, row in wall.zones() if name == said["zone"]]
    return all(len(row) == 1 for row in rows)


def _are_trimmed(wall: Wall, said: re.Match[str]) -> bool:
    if said["without"] == "there would be" and not wall.layout.searched_all:
        return False  # Nobody knows.
    where = r"(?:of the ([a-z ]+)|over the opening)"
    named = {
        (length, n, zone or "over")
        for length, courses, zone in re.findall(
            rf"to ([^,]+?) in ({COURSES}) {where}", said["trimmed"]
        )
        for n in numbers_in(courses)
    }
    laid = {
        (wall.sawn(right - left), course, name)
        for name, course, row in wall.zones()
        for left, right, piece in row
        if f"{_face_of(name)} leg" in piece.cut_edges
    }
    return named == laid


def _face_of(zone: str) -> str:
    side, what = zone.split() if " " in zone else ("front", zone)
    names = {"return": side, "chamfer": zone, "alcove": zone, "reveal": zone}
    return names.get(what, "front")


def _legs_bought(wall: Wall) -> set[Fraction]:
    corner = wall.job.brick.corner
    inside = wall.job.brick.thickness if corner.measured == "inside" else Fraction(0)
    return {corner.long_leg + inside, corner.short_leg + inside}


def _joint_of(wall: Wall, name: str, row: list[Laid]) -> set[Fraction]:
    """Return the joints of a row; over the opening those between the jambs."""
    opening = wall.surround.opening
    pairs = [(a[1], b[0]) for a, b in pairwise(row)]
    if name == "over":
        pairs = [
            (a, b)
            for a, b in pairs
            if a >= opening.brick_left and b <= opening.brick_right
        ]
    return {b - a for a, b in pairs}


def joints_said(wall: Wall) -> list[str]:
    """Return what is wrong in the sentences about head joints, all taken together."""
    said: dict[tuple[str, int], str] = {}
    zone = r"(?:in the [a-z ]+?|over the opening)"
    pattern = rf"({zone}(?: and {zone})*) in ({COURSES})"
    for sentence in wall.layout.reasons:
        found = re.fullmatch(
            r"Head joints are (\S+(?: \S+)?), not (.+?), (.+)\.", sentence
        )
        if found is None:
            continue
        for zones, courses in re.findall(pattern, found[3]):
            for each in re.split(r" and ", zones):
                name = "over" if each == "over the opening" else each[len("in the ") :]
                for n in numbers_in(courses):
                    said[name, n] = found[1]
    preferred = wall.say(wall.job.joints.head.preferred)
    wrong = []
    for name, course, row in wall.zones():
        wanted = said.get((name, course), preferred)
        laid = {wall.say(x) for x in _joint_of(wall, name, row)}
        if not laid <= {wanted}:
            wrong.append(f"{name} {course}: said {wanted}, laid {laid}")
    return wrong


def _wider_at_wall(wall: Wall, said: re.Match[str]) -> bool:
    named = {
        (zone, n)
        for zone, courses in re.findall(rf"the (\w+ \w+) in ({COURSES})", said["where"])
        for n in numbers_in(courses)
    }
    laid = {
        (name, course)
        for name, course, row in wall.zones()
        if name.endswith(("return", "reveal"))
        and wall.say(_short(wall, name, row)) == said["more"]
    }
    return named == laid


def _short(wall: Wall, name: str, row: list[Laid]) -> Fraction:
    surround = wall.surround
    reveals = {face.name: face for face in surround.reveals}
    if name == "left return":
        return row[0][0] - surround.left_edge.brick_x
    if name == "right return":
        return surround.right_edge.brick_x - row[-1][1]
    if name == "left reveal":
        return reveals[name].right - row[-1][1]
    return row[0][0] - reveals[name].left


def _corner_units(wall: Wall, said: re.Match[str]) -> bool:
    every = [x for x in wall.layout.pieces if x.kind == "corner unit"]
    units = [x for x in every if not _is_splayed(wall, x)]
    whole = sum(not x.is_trimmed for x in units)
    legs = " x ".join(wall.sawn(x) for x in sorted(_legs_bought(wall), reverse=True))
    sawn = Counter(
        " x ".join(wall.sawn(leg) for leg in sorted(x.legs, reverse=True))
        for x in units
        if x.is_trimmed
    )
    told = re.findall(r", (\d+) trimmed to ([^,]+)", said["rest"])
    if said["rest"] == "all of them as delivered":
        named = len(units)
    else:
        named = int(said["rest"].split()[0])
    # Each size is told once, with all that are trimmed to it.
    if sorted((size, int(n)) for n, size in told) != sorted(sawn.items()):
        return False
    return int(said["count"]) == len(units) and named == whole and said["legs"] == legs


def _turn_of(wall: Wall, unit: Piece) -> Fraction:
    """Return by how much a corner unit turns: as the headings of its faces differ."""
    faces = (*wall.surround.faces, *wall.surround.reveals)
    headings = {face.name: face.turn for face in faces}
    turns = [headings[x.face] for x in unit.outlines]
    return max(turns) - min(turns)


def _is_splayed(wall: Wall, unit: Piece) -> bool:
    """Whether a corner unit stands at a corner that is not square."""
    is_unit = unit.kind == "corner unit" and len(unit.outlines) > 1
    return is_unit and _turn_of(wall, unit) != 90


def _mitred_units(wall: Wall, said: re.Match[str]) -> bool:
    turn = Fraction(said["turn"])
    units = [
        x
        for x in wall.layout.pieces
        if _is_splayed(wall, x) and _turn_of(wall, x) == turn
    ]
    laid = Counter(
        " x ".join(
            wall.sawn(leg)
            for leg in sorted((x.right - x.left for x in unit.outlines), reverse=True)
        )
        for unit in units
    )
    named = Counter(
        {
            legs: int(count)
            for count, legs in re.findall(r"(\d+) of ([^,]+)", said["sizes"])
        }
    )
    return 2 * Fraction(said["mitre"]) == turn and named == laid


def _into_jambs(wall: Wall, said: re.Match[str]) -> bool:
    """Hold how far brick turns into each jamb, along it and square to the face.

    A course may stop a joint shorter.
    """
    joint = wall.job.joints.head.most
    for face in wall.surround.reveals:
        ends = [
            (x.left, x.right)
            for piece in wall.layout.pieces
            for x in piece.outlines
            if x.face == face.name
        ]
        inside = all(face.left <= a and b <= face.right for a, b in ends)
        if not inside or wall.say(face.width) != said["along"]:
            return False
        if max(b for _, b in ends) - min(a for a, _ in ends) < face.width - joint:
            return False
    splay = wall.surround.splay
    if not splay:
        return said["splay"] is None
    back = float(face.width) * math.cos(math.radians(float(splay)))
    told = said["splay"], said["back"]
    return told == (f"{float(splay):g}", wall.say(Fraction(back)))


def _flank(wall: Wall, said: re.Match[str]) -> bool:
    """Hold what is said of the faces on a side: their turns and how wide they are."""
    names = [f"{said['side']} chamfer", said["side"]]
    faces = [x for name in names for x in wall.surround.faces if x.name == name]
    last, turns = Fraction(0), []
    for face in faces:
        turns.append(f"{float(face.turn - last):g}")
        last = face.turn
    widths = [
        f"the {'chamfer' if 'chamfer' in x.name else 'return'} is {wall.say(x.width)}"
        for x in faces
    ]
    return " and ".join(turns) == said["turns"] and " and ".join(widths) == said["wide"]


def _inside_corner(wall: Wall, said: re.Match[str]) -> bool:
    """Hold which face runs past an inside corner in which course, and how far.

    What butts ends short of what runs past by the brick's thickness and a joint.
    """
    side, first = said["side"], int(said["course"])
    outer = 1 if side == "left" else -1
    ends: dict[str, dict[int, Fraction]] = {}
    for what, name in (("return", side), ("alcove", f"{side} alcove")):
        # The return's outer end lies to its side, the alcove's inner end to the other.
        way = outer if what == "return" else -outer
        ends[what] = {
            n: min(way * x for a, b, _ in row for x in (a, b))
            for n in wall.courses
            if (row := wall.face(name, n))
        }
    thick, joint = wall.job.brick.thickness, wall.job.joints.head.preferred
    both = {"return", "alcove"}
    if {said["past"], said["butts"]} != both or said["other"] != said["butts"]:
        return False
    for what, by_course in ends.items():
        far = min(by_course.values())
        for n, end in by_course.items():
            is_past = ((n - first) % 2 == 0) == (what == said["past"])
            if end - far != (0 if is_past else thick + joint):
                return False
    return (said["far"], said["joint"]) == (wall.say(thick), wall.say(joint))


def _joint_aslant(wall: Wall, said: re.Match[str]) -> bool:
    """Hold the joint at a wall: on the face to where brick goes, behind by its end."""
    is_left = said["side"] == "left"
    face = wall.surround.faces[0 if is_left else -1]
    edge = wall.job.edges.left if is_left else wall.job.edges.right
    ends = [
        abs((x.left - face.left) if is_left else (face.right - x.right))
        for piece in wall.layout.pieces
        for x in piece.outlines
        if x.face == face.name
    ]
    # A course may stop a joint shorter.
    on_face, behind = said["face"], said["behind"]
    nearest = min(ends, default=Fraction(0))
    return on_face == wall.say(nearest) and behind == wall.say(edge.width)


def _is_true(_: Wall, __: re.Match[str]) -> bool:
    """What is held elsewhere, or says nothing of the pieces."""
    return True


HELD: tuple[tuple[str, Callable[[Wall, re.Match[str]], bool]], ...] = (
    (rf"(?P<courses>{COURSES}) shows? headers, (?P<length>.+) long\.", _are_headers),
    (rf"Headers of (?P<length>.+) stand among the stretchers in (?P<courses>{COURSES})"
     r"\.", _are_headers),
    (r"In stack bond no lap is asked for, and the corner units do not alternate\.",
     _do_not_alternate),
    (r"In course 1 the long legs of the corner units(, as bought,)? are on the "
     r"(?P<face>[\w ]+)\.",
     _long_legs),
    (r"Closers of (?P<length>\S+(?: \S+)?) stand (?P<places>.+)\.", _closers_stand),
    (r"The front is its own mirror image .*", lambda wall, _: _is_mirror_image(wall)),
    (r"The front is not its own mirror image: .*",
     lambda wall, _: not _is_mirror_image(wall)),
    (r"Over the opening the joints of both legs go on .*", _all_go_on),
    (r"Over the opening the joints go on .*, but not those of (?P<lost>.+)\.",
     _some_do_not),
    (r"The (?P<zone>\w+ \w+) is one piece wide in every course, .*", _one_piece_wide),
    (r"Corner units are trimmed at the free end of a leg: (?P<trimmed>.+?)\. Without "
     r"that (?P<without>there would be|every way that was looked at has) a piece or a "
     r"lap under the least, .*", _are_trimmed),
    (r"Head joints are .*", _is_true),
    (r"The joint at the wall is (?P<more>\S+(?: \S+)?) wider in (?P<where>.+)\.",
     _wider_at_wall),
    (r"Corner units of (?P<legs>\S+(?: \S+)? x \S+(?: \S+)?): (?P<count>\d+) "
     r"stands? on the wall, (?P<rest>.+)\.", _corner_units),
    (r"Corner units that turn by (?P<turn>[\d.]+) degrees are not sold: .*mitred at "
     r"(?P<mitre>[\d.]+) degrees .* On the wall stand (?P<sizes>.+)\.", _mitred_units),
    (r"With corner units of .* none would be trimmed\.", _is_true),
    (r"Corner units turn into the jambs, (?P<along>.+?) (back from|along them, which "
     r"splay by (?P<splay>[\d.]+) degrees and so reach (?P<back>.+) back from) the "
     r"finished face; nothing is adhered inside the firebox\.", _into_jambs),
    (r"On the (?P<side>left|right), corner units turn by (?P<turns>.+) degrees; when "
     r"finished, and along itself, (?P<wide>.+)\.", _flank),
    (r"At the (?P<side>left|right) inside corner the brick of the (?P<past>\w+) runs "
     r"past in course (?P<course>\d+), (?P<far>.+) behind the finished face of the "
     r"(?P<other>\w+), and that of the (?P<butts>\w+) butts it with a mortar joint of "
     r"(?P<joint>.+); in the next course the other way round, .*", _inside_corner),
    (r"The joint at the (?P<side>left|right) wall is (?P<face>.+) on the face and "
     r"(?P<behind>.+) behind it, because .*", _joint_aslant),
    (r"Not every way of laying the bond was looked at\.",
     lambda wall, _: not wall.layout.searched_all),
)  # fmt: skip


def untrue(wall: Wall) -> list[str]:
    """Return the sentences that are not true of the pieces, or that nothing holds."""
    wrong = [*joints_said(wall)]
    for sentence in wall.layout.reasons:
        if "soldier" in sentence or "rowlock" in sentence:
            continue
        for pattern, holds in HELD:
            found = re.fullmatch(pattern, sentence, re.IGNORECASE)
            if found is not None:
                if not holds(wall, found):
                    wrong.append(sentence)
                break
        else:
            wrong.append(f"nothing holds this: {sentence}")
    short = "Not every way of laying the bond was looked at."
    if not wall.layout.searched_all and short not in wall.layout.reasons:
        wrong.append("that not all was looked at is not told")
    if _closers(wall) and not any("Closers of" in x for x in wall.layout.reasons):
        wrong.append("closers are not told")
    return wrong
