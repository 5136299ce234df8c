"""Find the ways out when the courses do not land.

In:  `Job`, `Coursing`.   Out: `WayOut`s; the job was solved with each, and landed.
Frame: the job's lengths.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from itertools import islice

from shopdraw.job.model import Job
from shopdraw.job.model_bands import band_names, corbel_names
from shopdraw.job.old_lines import can_follow
from shopdraw.job.sense import complaints_of
from shopdraw.job.table import Table
from shopdraw.lengths import taped_length
from shopdraw.masonry.coursing.form import AsLaid, Coursing, Edits, WayOut
from shopdraw.masonry.coursing.levers import (
    brick_changes,
    catalog_heights,
    catalog_lengths,
    edited_job,
    joint_changes,
    length_changes,
    level_moves,
    value_at,
    with_moves,
)
from shopdraw.masonry.coursing.planes import can_land
from shopdraw.masonry.coursing.problem import meets_back, state_problem
from shopdraw.masonry.coursing.solve import best_coursing
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.surround import trace_surround

WANTED = 3
"""How many ways out are looked for; a few jobs have but two."""
FEW = 4
"""How many steps of each change are tried, with moves, before any goes further."""


def find_ways_out(
    job: Job, surround: Surround, coursing: Coursing
) -> tuple[WayOut, ...]:
    """Return the ways out, by kind; none where every target lands.

    Joints come first, because nothing is moved or sawn for them; then a level moved,
    then a course sawn, then another brick. Where that gives fewer kinds than wanted,
    each change is tried together with moves of the levels that still miss.

    Lines of old brick come after all levels: where a level misses they are left out,
    and where they alone are missed no level is moved, because old brick stays.

    Args:
        job: what was asked.
        surround: the faces traced from it.
        coursing: the best there is, which misses a target.
    """
    if coursing.is_as_built:
        return ()
    has_levels = not all(target.lands for target in coursing.targets)
    if has_levels:
        job = job.model_copy(update={"existing_brick": ()})
        coursing = replace(coursing, old_lines=())
    back = meets_back(job, coursing)
    problem = state_problem(job, surround, coursing.laid, meets_back=back)
    if coursing.lands or (coursing.laid is not None and can_land(problem)):
        # A target that the laid courses missed can't be helped by what is above them.
        return ()
    search = _Search(job, coursing.laid, meets_back=back)
    moves = level_moves(job, problem, coursing) if has_levels else []
    for changes in (*joint_changes(job), *moves, *brick_changes(job, coursing)):
        search.keep_first(changes)
    for steps, anything in ((FEW, False), (None, True)) if has_levels else ():
        further = (
            iter([()]),
            *brick_changes(job, coursing),
            *joint_changes(job),
            *length_changes(job, coursing),
        )
        for changes in further:
            if len(search.found if anything else search.kinds) < WANTED:
                few = islice(changes, steps)
                together = with_moves(job, few, coursing.laid, meets_back=back)
                search.keep_first(together, anything=anything)
    return tuple(
        WayOut(edits, _says(job, edits), _cost(job, coursing, edits, after))
        for edits, after in search.found.items()
    )


class _Search:
    """The ways out found so far, and the coursing that each one leads to."""

    def __init__(self, job: Job, laid: AsLaid | None, *, meets_back: bool) -> None:
        self.job, self.laid, self.meets_back = job, laid, meets_back
        self.found: dict[Edits, Coursing] = {}
        self.faults = {complaint.key for complaint in complaints_of(job)}

    @property
    def kinds(self) -> set[frozenset[str]]:
        """Which keys the ways out change, whatever the values."""
        return {frozenset(dict(edits)) for edits in self.found}

    def keep_first(self, changes: Iterable[Edits], *, anything: bool = True) -> None:
        """Keep the first change that makes sense and lets every target land.

        Args:
            changes: what to try, in turn.
            anything: whether to keep a change of the same keys as one kept already, or
                of those and more.
        """
        for edits in changes:
            more = any(kind <= dict(edits).keys() for kind in self.kinds)
            if more and not anything:
                continue
            edited = edited_job(self.job, edits)
            if not all(can_follow(edited, old) for old in edited.existing_brick):
                continue
            if not _leaves_in_place(self.job, edited) or _is_more_than(
                edits, self.found, self.job
            ):
                continue
            problem = state_problem(
                edited,
                trace_surround(edited),
                self.laid,
                meets_back=self.meets_back,
            )
            if can_land(problem) and self._makes_sense(edited):
                self.found.setdefault(edits, best_coursing(edited, problem))
                return

    def _makes_sense(self, edited: Job) -> bool:
        return self.faults.issuperset(each.key for each in complaints_of(edited))


def _leaves_in_place(job: Job, edited: Job) -> bool:
    """Whether what is near the brick, and was clear of it, still is.

    The top may not come up into woodwork, nor the head down over a fitting that has to
    stay clear.
    """
    top, head = job.face.height, job.opening.height
    new_top, new_head = edited.face.height, edited.opening.height
    above = [trim.bottom for trim in job.trim if trim.bottom >= top]
    within = [
        fitting.bottom + fitting.height
        for fitting in job.fitting
        if fitting.wants == "clear"
    ]
    return all(new_top <= level for level in above) and not any(
        new_head < level <= head for level in within
    )


def _is_more_than(edits: Edits, others: Iterable[Edits], job: Job) -> bool:
    """Whether another way out does the same with less.

    It changes none but some of the same keys, each the same way and no further.
    """
    return any(_is_within(other, dict(edits), job) for other in others)


def _is_within(less: Edits, more: dict[str, Fraction], job: Job) -> bool:
    return all(
        key in more and _is_nearer(value, more[key], value_at(job, key)[1])
        for key, value in less
    )


def _is_nearer(value: Fraction, other: Fraction, old: Fraction | None) -> bool:
    """Whether a value lies from the old one to another, that one included.

    Where there is no old one, as of a height to saw to, the higher is the nearer.
    """
    if old is None:
        return value >= other
    low, high = sorted((old, other))
    return low <= value <= high


_WORDS = {
    "joints.bed.most": "allow bed joints up to {value} (now up to {old})",
    "joints.bed.least": "allow bed joints down to {value} (now down to {old})",
    "joints.bottom.most": "allow a bottom joint up to {value} (now up to {old})",
    "joints.bottom.least": "allow a bottom joint down to {value} (now down to {old})",
    "courses.bottom_height": "saw the bottom course to {value} high",
    "courses.top_height": "saw the top course to {value} high",
    "courses.soldier_height": "saw the soldiers to {value}",
    "courses.rowlock_height": "saw the rowlocks to {value}",
    "brick.height": "take {size} brick, {value} high (now {old})",
    "brick.length": "take {size} brick, {value} long (now {old})",
    "opening.height": "move the opening head {change} to {value}",
    "face.height": "move the top {change} to {value}",
    "target.level": "move the {name} {change} to {value}",
    "band.level": "move the {name} {change} to {value}",
    "corbel.top": "move the {name} {change} to {value}",
    "panel.bottom": "move the underside of the {name} {change} to {value}",
    "panel.height": "make the {name} {value} high (now {old})",
}
_SAWN = {
    "courses.bottom_height": "every brick of the bottom course is sawn",
    "courses.top_height": "every brick of the top course is sawn",
    "courses.soldier_height": "every soldier is sawn",
    "courses.rowlock_height": "every rowlock is sawn shorter",
    "brick.height": "other brick must be bought",
    "brick.length": "other brick must be bought",
}


def _says(job: Job, edits: Edits) -> str:
    """Say the changes as one sentence."""
    parts = []
    for key, value in edits:
        table, old = value_at(job, key)
        change = ""
        if old is not None:
            way = "up" if value > old else "down"
            change = f"{taped_length(abs(value - old), job.lengths)} {way}"
        words = _WORDS[re.sub(r"\[\d+\]", "", key)]
        parts.append(
            words.format(
                value=taped_length(value, job.lengths),
                old="" if old is None else taped_length(old, job.lengths),
                change=change,
                name=_name_of(job, key, table),
                size=_size_of(job, key, value),
            )
        )
    sentence = " and ".join(parts)
    return f"{sentence[0].upper()}{sentence[1:]}."


def _size_of(job: Job, key: str, value: Fraction) -> str:
    """Return what the catalog calls another brick."""
    sizes = {
        "brick.height": catalog_heights(job),
        "brick.length": catalog_lengths(job),
    }
    return sizes[key][value] if key in sizes else ""


def _name_of(job: Job, key: str, table: Table) -> str:
    """Return what a target is called; a band's and a corbel's have no name to type."""
    kind, _, rest = key.partition("[")
    place = int(rest.partition("]")[0] or 1) - 1
    if kind == "band":
        return band_names(job.band)[place]
    if kind == "corbel":
        return corbel_names(job.corbel)[place]
    return getattr(table, "name", "")


def _cost(job: Job, before: Coursing, edits: Edits, after: Coursing) -> str:
    """Say what a way out leads to, joints, courses and sawing, and what it avoids."""

    def say(length: Fraction) -> str:
        return taped_length(length, job.lengths)

    bottom, *beds = after.joints
    parts = [f"bottom joint {say(bottom)}"]
    if beds:
        least, most = min(beds), max(beds)
        to = "" if least == most else f" to {say(most)}"
        parts.append(f"bed joints {say(least)}{to}")
    parts.append(f"{len(after.courses)} courses")
    sawn = [_SAWN[key] for key, _ in edits if key in _SAWN]
    parts += sawn or ["no more courses to saw"]
    if after.merit.jump:
        parts.append("the eye will see that neighbouring joints differ")
    avoided = [
        f"the {target.name} by {say(target.miss)}"
        for target in before.targets
        if not target.lands
    ]
    lines = sum(not line.lands for line in before.old_lines)
    if lines:
        avoided.append(f"{lines} course line{'s' * (lines > 1)} of old brick")
    return f"{', '.join(parts)}; instead of missing {' and '.join(avoided)}."
