"""Work out what a job leaves out and what depends on its other keys.

In:  `Job`, every key well formed.   Out: `Job`.
Frame: the job's lengths, exact.

What depends on no other key stands in `catalog/usual.toml`.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from shopdraw.catalog.rows import brick_sizes
from shopdraw.job.model import Job
from shopdraw.job.model_brick import CornerTable
from shopdraw.job.splayed import SPLAYED, turns_of
from shopdraw.job.turning import splay_of, square_depth
from shopdraw.lengths import shown_step


def with_usual(job: Job, given: dict[str, Any]) -> Job:
    """Return a job with all that follows from its other keys.

    Args:
        job: as read.
        given: its tables, as typed.
    """
    job = with_splay(with_usual_bond(job, given))
    return with_usual_corner(with_usual_header(job))


def with_usual_bond(job: Job, given: dict[str, Any]) -> Job:
    """Reduce a default that a short or a low brick could not keep.

    The least piece and lap become a quarter of the brick, the least lap that the codes
    allow in running bond (second-hand); the least width becomes a third of its height
    (common practice, no published source).
    """
    bond = given.get("bond")
    typed_keys = bond if isinstance(bond, dict) else {}
    quarter = job.brick.length / 4
    for key in ("least_piece", "least_lap"):
        too_much = getattr(job.bond, key) > 2 * quarter - job.joints.head.preferred / 2
        if key not in typed_keys and too_much:
            job = job.edited(f"bond.{key}", quarter)
    third = job.brick.height / 3
    if "least_width" not in typed_keys and job.bond.least_width > third:
        job = job.edited("bond.least_width", third)
    return job


def with_splay(job: Job) -> Job:
    """Work out each splay, or how long the face is that splays, where it follows.

    A length is rounded down to what a tape shows: the brick must not reach too far.
    """
    for face in SPLAYED:
        along, deep = (face.length(job, key) for key in (face.along, face.deep))
        splay = face.angle(job)
        if deep is None:
            continue
        if along is not None and splay is None and deep <= along:
            job = job.edited(face.splay, float(splay_of(along, deep)))
        elif along is None and splay is not None:
            step = shown_step(job.lengths)
            steps = int(deep / square_depth(Fraction(1), splay) / step)
            job = job.edited(face.along, steps * step) if steps else job
    return job


def with_usual_header(job: Job) -> Job:
    """Let headers show the width that the catalog has for the brick, where it has one.

    A thin brick's header is cut as long as the full unit is wide.
    """
    rows = {row.name: row for row in brick_sizes(job.lengths)}
    row = rows.get(job.brick.size)
    if job.brick.header is not None or row is None:
        return job
    if row.thickness >= job.brick.length:
        return job
    return job.edited("brick.header", row.thickness)


def with_usual_corner(job: Job) -> Job:
    """Add the default corner unit where the brick turns a corner and none is given.

    Its legs are a whole brick and a brick's width, as a header shows it: common
    practice, no published source.
    """
    if job.brick.corner is not None or not turns_of(job):
        return job
    corner = CornerTable(long_leg=job.brick.length, short_leg=job.header_length)
    return job.edited("brick.corner", corner).having_assumed("brick.corner")
