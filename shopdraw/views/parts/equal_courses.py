"""Dimension a run of equal courses once: how many, how high each is, and their sum.

In:  `Course`s, a string of heights as set out.   Out: the string, and what is lettered.
Frame: full size; y from the datum; the string stands left of what it measures.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Measure, Words
from shopdraw.drawing.lettering import width_of
from shopdraw.lengths import Lengths, format_length, rounded
from shopdraw.masonry.coursing.form import Course

FEW = 3
"""So many equal courses are one dimension, no fewer."""
OFF, PITCH = 0.9, 1.6
"""How far the figure stands off its line, and from one line of lettering to the next,
in heights of lettering."""
APART = 1.5
"""What is left free at each end of a run, in heights of lettering."""
LEVEL = 1.35
"""How far lettering that stands level is off the line."""


@dataclass(frozen=True)
class EqualRun:
    """Courses of one height on bed joints of one width, one after another.

    Attributes:
        count: how many.
        joint, each: their bed joint, and that with the brick on it.
        bottom: from the datum, of the lowest joint.
    """

    count: int
    joint: Fraction
    each: Fraction
    bottom: Fraction

    @property
    def top(self) -> Fraction:
        """The top of the last course."""
        return self.bottom + self.count * self.each


def equal_runs(courses: Iterable[Course]) -> Iterator[EqualRun]:
    """Yield the runs of equal courses, bottom up; what nobody measured is in none."""

    def alike(course: Course) -> tuple[bool, Fraction, Fraction]:
        known = not (course.is_reckoned or course.is_joint_reckoned)
        return known, course.bed_joint, course.height

    for (known, joint, height), some in groupby(courses, key=alike):
        run = list(some)
        if known and len(run) >= FEW:
            yield EqualRun(len(run), joint, joint + height, run[0].bottom - joint)


def without_steps(
    steps: Iterable[Fraction], runs: Iterable[EqualRun]
) -> tuple[Fraction, ...]:
    """Return levels in order, those within a run left out."""
    within = list(runs)
    return tuple(
        sorted(x for x in set(steps) if not any(r.bottom < x < r.top for r in within))
    )


def fits(run: EqualRun, lengths: Lengths, height: float, scale: float) -> bool:
    """Whether what is said of a run has room beside it, in one way or another."""
    return _way(run, "0'-00 00/00\"", lengths, height, scale) is not None


def said_once(
    measures: Iterable[Measure],
    runs: Iterable[EqualRun],
    lengths: Lengths,
    scale: float,
) -> tuple[tuple[Measure, ...], tuple[Words, ...]]:
    """Letter runs of equal courses along their dimensions.

    Args:
        measures: a string, a dimension for each run among them.
        runs: those that it has.
        lengths: of the job.
        scale: of the drawing.

    Returns:
        The string, the figures of runs turned along it where they have room; and the
        lines that stand before a run's figure, the first the furthest out.
    """
    by_foot = {float(run.bottom): run for run in runs}
    string, said = [], list[Words]()
    for measure in measures:
        run = by_foot.get(measure.start[1])
        height = measure.height_on_paper
        way = run and _way(run, measure.words, lengths, height, scale)
        if not way:
            string.append(measure)
            continue
        lines, is_turned = way
        shown, words = _lettered(measure, lines, scale, is_turned=is_turned)
        string.append(shown)
        said += words
    return tuple(string), tuple(said)


def _way(
    run: EqualRun, figure: str, lengths: Lengths, height: float, scale: float
) -> tuple[tuple[str, ...], bool] | None:
    """Return the lines before a run's figure, and whether all are turned along it.

    The shortest column of lettering comes first; None where there is no room.
    """
    length = float(run.top - run.bottom) / scale
    room = length - 2 * APART * height
    joints, courses = _words(run, lengths)
    whole = f"{' '.join(courses)} ="
    short = *courses[:-1], f"{courses[-1]} ="
    turned: tuple[tuple[str, ...], ...] = (
        (f"{joints}, {whole}",), (joints, whole), (joints, *short)
    )  # fmt: skip
    for lines in turned:
        if max(width_of(line, height) for line in (*lines, figure)) <= room:
            return lines, True
    for lines in ((joints, *short), short):
        if (PITCH * len(lines) + 1.4) * height <= length:
            return lines, False
    return None


def _words(run: EqualRun, lengths: Lengths) -> tuple[str, tuple[str, ...]]:
    """Say the joint; and how many courses, and how high each is.

    What is printed of each must add up to the sum as printed; else it is not printed.
    """

    def say(length: Fraction) -> str:
        return format_length(length, lengths)

    each, joint = rounded(run.each, lengths), rounded(run.joint, lengths)
    about = "" if joint == run.joint else "ABOUT "
    whole = rounded(run.top, lengths) - rounded(run.bottom, lengths)
    joints = f"JOINTS {about}{say(run.joint)}"
    if run.count * each == whole:
        return joints, (f"{run.count} COURSES", f"AT {say(each)}")
    return joints, (f"{run.count} EQ COURSES",)


def _lettered(
    measure: Measure, lines: tuple[str, ...], scale: float, *, is_turned: bool
) -> tuple[Measure, list[Words]]:
    """Return a run's dimension, and the lines before its figure."""
    height = measure.height_on_paper
    text, at = height * scale, measure.line_at
    middle = (measure.start[1] + measure.end[1]) / 2
    layer, size = layers.NOTES, height
    if is_turned:
        out = [at - (OFF + PITCH * (n + 1)) * text for n in range(len(lines))][::-1]
        words = [
            Words(layer, (x, middle), line, size, "centre", "middle", 90.0)
            for x, line in zip(out, lines, strict=True)
        ]
        return replace(measure, letter=None, upright=False, has_leader=False), words
    right = at - LEVEL * text
    ups = [PITCH * (len(lines) / 2 - n) * text for n in range(len(lines) + 1)]
    words = [
        Words(layer, (right, middle + up), line, size, "right", "middle")
        for up, line in zip(ups, lines, strict=False)
    ]
    half = width_of(measure.words, height) / 2 * scale
    letter = right - half, middle + ups[-1]
    return replace(measure, letter=letter, upright=True, has_leader=False), words
