"""Say in plain words what is too large or too small to be part of a fireplace.

In:  `Job`, every key well formed.   Out: `Complaint`s; none where all could be built.
Frame: the job's lengths; limits in inches.

The limits are our own: a length past them is more likely a slip of the pen, and a job
within them is solved at once and fits into memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from shopdraw.job.complaint import Complaint, inches, said
from shopdraw.job.model import Job
from shopdraw.job.model_around import TrimTable
from shopdraw.job.model_review import FittingTable
from shopdraw.job.table import Table

ELSEWHERE = 1200
"""The most of every other length: a hundred feet."""
MOST: dict[str, int] = {
    "face.width": 720,
    "face.height": 480,
    "face.left_return": 240,
    "face.right_return": 240,
    "face.left_return_depth": 240,
    "face.right_return_depth": 240,
    "face.left_chamfer": 240,
    "face.right_chamfer": 240,
    "face.left_chamfer_depth": 240,
    "face.right_chamfer_depth": 240,
    "face.left_alcove": 240,
    "face.right_alcove": 240,
    "opening.width": 480,
    "opening.height": 360,
    "brick.length": 48,
    "brick.height": 48,
    "brick.thickness": 48,
    "brick.header": 48,
    "brick.corner.long_leg": 48,
    "brick.corner.short_leg": 48,
    "brick.soldier_corner.long_leg": 48,
    "brick.soldier_corner.short_leg": 48,
    "setting_bed.least": 6,
    "setting_bed.most": 6,
    "setting_bed.back_butter": 6,
    "setting_bed.uneven": 6,
    "joints.bed.most": 2,
    "joints.head.most": 2,
    "joints.bottom.most": 6,
    "joints.step": 1,
    "joints.depth": 6,
    "hearth.fall": 24,
    "saw.kerf": 1,
}
LEAST: dict[str, Fraction] = {
    "opening.width": Fraction(2),
    "brick.length": Fraction(1, 2),
    "brick.height": Fraction(1, 2),
    "brick.header": Fraction(1, 2),
    "courses.bottom_height": Fraction(1, 4),
    "courses.top_height": Fraction(1, 4),
    "joints.bed.preferred": Fraction(1, 16),
    "joints.head.preferred": Fraction(1, 16),
    "joints.step": Fraction(1, 64),
}
MOST_PIECES = 20_000
PAST = 120
"""So far past the face woodwork and fittings may reach: ten feet, to the ceiling."""


def complaints_of_sizes(job: Job) -> Iterator[Complaint]:
    """Complain of every length that no fireplace has."""
    for key, length in lengths_of(job):
        plain = re.sub(r"\[\d+\]", "", key)
        most = inches(job, Fraction(MOST.get(plain, ELSEWHERE)))
        least = inches(job, LEAST.get(plain, Fraction(0)))
        if abs(length) > most:
            wanted = f"is more than this program draws; the most is {said(job, most)}"
            yield Complaint(key, wanted)
        elif plain in LEAST and length < least:
            what = plain.split(".")[0].removesuffix("s")
            wanted = f"is too small for any {what}; the least is {said(job, least)}"
            yield Complaint(key, wanted)
    yield from _out_of_reach(job)
    face = job.face
    beside = (face.left_return, face.right_return, face.left_alcove, face.right_alcove)
    widths = sum((x for x in beside if x is not None), face.width)
    count = widths / job.brick.length * (job.face.height / job.brick.height)
    if count > MOST_PIECES:
        wanted = (
            f"takes about {int(count):,} pieces; this program draws at most "
            f"{MOST_PIECES:,}"
        )
        yield Complaint("face", wanted, "the whole face")


def _out_of_reach(job: Job) -> Iterator[Complaint]:
    """Complain of what is typed as if on the face, and is far from it."""
    past, face = inches(job, Fraction(PAST)), job.face
    boxes = [
        *((f"fitting[{n}]", _box_of(x)) for n, x in enumerate(job.fitting, start=1)),
        *((f"trim[{n}]", _box_of(x)) for n, x in enumerate(job.trim, start=1)),
    ]
    for name, (left, bottom, width, height) in boxes:
        for at, size, start, length, room in (
            ("left", "width", left, width, face.width),
            ("bottom", "height", bottom, height, face.height),
        ):
            if -past <= start <= room + past < start + length:
                key = size
            elif start < -past or start > room + past:
                key = at
            else:
                continue
            wanted = (
                f"is out of reach of the face, {said(job, room)}; the most past "
                f"it is {said(job, past)}"
            )
            yield Complaint(f"{name}.{key}", wanted)


def _box_of(each: TrimTable | FittingTable) -> tuple[Fraction, ...]:
    return each.left, each.bottom, each.width, each.height


def lengths_of(table: Table, above: str = "") -> Iterator[tuple[str, Fraction]]:
    """Yield every length of a table, and of the tables in it, by its dotted key."""
    for name in type(table).model_fields:
        # Packs are volumes, and a scale is a ratio.
        if name not in ("packs", "scale"):
            yield from _lengths_in(getattr(table, name), f"{above}{name}")


def _lengths_in(value: object, key: str) -> Iterator[tuple[str, Fraction]]:
    if isinstance(value, Fraction):
        yield key, value
    elif isinstance(value, Table):
        yield from lengths_of(value, f"{key}.")
    elif isinstance(value, tuple):
        for place, each in enumerate(value, start=1):
            yield from _lengths_in(each, f"{key}[{place}]")
