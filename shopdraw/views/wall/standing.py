"""Set out what stands on end in the front: soldiers and rowlocks, course by course.

In:  `Solution`.   Out: positions and words for a string of dimensions.
Frame: x from the left end of the front's finished face.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import groupby, pairwise

from shopdraw.job.model import Job
from shopdraw.lengths import Lengths, format_length, rounded
from shopdraw.masonry.wall.layout import Outline, Piece
from shopdraw.solution import Solution

Shown = tuple[Piece, Outline]
ZERO = Fraction(0)
STANDING = ("soldier", "rowlock")


def standing_rows(
    solution: Solution,
) -> Iterator[tuple[str, tuple[Fraction, ...], tuple[Fraction, str]]]:
    """Yield a string for each run of soldiers or rowlocks that is not like another.

    Its name; the front's ends, the jambs that it goes past if it stops beyond them, and
    where it begins and ends, the joints at both ends included; and what it is made of,
    in words, with the middle of what they are said of: below the opening's figure they
    would be read as the opening's where they are said of the legs.
    """
    front = solution.surround.front
    fronts = [
        (piece, outline)
        for piece in solution.layout.in_courses
        for outline in piece.outlines
        if outline.face == "front"
    ]
    standing = [x for x in fronts if x[0].kind in STANDING]
    standing.sort(key=lambda x: (x[0].course, x[0].kind, x[1].left))
    seen = set[tuple[object, ...]]()
    for (_, kind), course in groupby(standing, key=lambda x: (x[0].course, x[0].kind)):
        runs = list(_runs([outline for _, outline in course], solution.job))
        ends = [_ends(solution, run, fronts) for run in runs]
        said = {
            made_of(kind, *both, solution.lengths)
            for both in zip(ends, runs, strict=True)
        }
        words = said.pop() if len(said) == 1 else ""
        middle = solution.surround.opening.centre
        if len(runs) > 1 and words:
            words, middle = f"AT EITHER SIDE {words}", (ends[0][0] + ends[0][1]) / 2
        stops = {front.left, front.right, *(x for pair in ends for x in pair)}
        # From end to end no jamb is passed: it would make its words those of one gap.
        if len(runs) == 1 and ends[0] != (front.left, front.right):
            stops |= set(_jambs_within(solution, ends[0], runs[0]))
        row = tuple(sorted(x - front.left for x in stops))
        if (row, words) not in seen:
            seen.add((row, words))
            yield f"{kind.upper()}S, FINISH", row, (middle - front.left, words)


def _runs(course: list[Outline], job: Job) -> Iterator[list[Outline]]:
    """Split what stands in a course where more than a joint is between."""
    run = [course[0]]
    for outline in course[1:]:
        if outline.left - run[-1].right > 2 * job.joints.head.most:
            yield run
            run = []
        run.append(outline)
    yield run


def _jambs_within(
    solution: Solution, ends: tuple[Fraction, Fraction], run: list[Outline]
) -> Iterator[Fraction]:
    """Yield the jambs that a run over the opening goes past."""
    opening, head = solution.surround.opening, solution.coursing.head
    if max(outline.top for outline in run) <= head:
        return
    for x in (opening.left, opening.right):
        if ends[0] < x < ends[1]:
            yield x


def _ends(
    solution: Solution, run: list[Outline], fronts: list[Shown]
) -> tuple[Fraction, Fraction]:
    """Return where a run begins and ends: a joint on, at the nearest brick or edge.

    Beside it is what stands at its middle height.
    """
    front, (first, last) = solution.surround.front, (run[0], run[-1])
    level = (first.bottom + first.top) / 2
    opening, edges = solution.surround.opening, solution.surround.ends(front, ZERO)
    stops = [opening.left, opening.right, *edges]
    for _, outline in fronts:
        if outline.bottom <= level <= outline.top:
            stops += [outline.left, outline.right]
    near = 2 * solution.job.joints.head.most
    lefts = [x for x in stops if first.left - near <= x <= first.left]
    rights = [x for x in stops if last.right <= x <= last.right + near]
    start = max((x for x in lefts if x < first.left), default=first.left)
    return start, min((x for x in rights if x > last.right), default=last.right)


def made_of(
    kind: str, ends: tuple[Fraction, Fraction], run: list[Outline], lengths: Lengths
) -> str:
    """Say what a run of one kind, between two ends, is made of.

    What is said of brick and joints adds up to it.

    Joints are called equal only where they are, exactly.
    """

    def say(length: Fraction) -> str:
        return format_length(rounded(length, lengths), lengths)

    widths = Counter(outline.right - outline.left for outline in run)
    brick = sum((x.right - x.left for x in run), Fraction(0))
    stops = [ends[0], *(y for x in run for y in (x.left, x.right)), ends[1]]
    gaps = [b - a for a, b in list(pairwise(stops))[::2] if b > a]
    counted = [
        f"{count} {kind.upper()}{'S' if count > 1 else ''} AT {say(width)}"
        for width, count in sorted(widths.items(), reverse=True)
    ]
    whole = rounded(ends[1] - ends[0], lengths)
    said = rounded(brick, lengths)
    equal = "EQ " if len(set(gaps)) == 1 else ""
    each = ""
    if equal and rounded(gaps[0], lengths) == gaps[0]:
        each = f" AT {say(gaps[0])}"
    elif equal:
        each = f", ABOUT {say(gaps[0])} EACH"
    elif gaps:
        each = f", {say(min(gaps))} TO {say(max(gaps))}"
    joints = f"{len(gaps)} {equal}JOINTS{each} = {say(whole - said)}"
    return f"{' + '.join(counted)} = {say(said)}; {joints}"
