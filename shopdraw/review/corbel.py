"""Review courses that project: how far each steps out, and what they are held by.

In:  `Job`, `Coursing`, `Rules`.   Out: `Finding`s; none where nothing projects.
Frame: the job's lengths, square to the wall.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from shopdraw.catalog.rules import Rules
from shopdraw.catalog.statuses import COMMON
from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Course, Coursing
from shopdraw.review.findings import Finding, Limit, Rule, found, hold, in_words, mended


def review_corbel(job: Job, coursing: Coursing, rules: Rules) -> Iterator[Finding]:
    """Yield what is found of a corbel; nothing of it passes.

    The rule is one for masonry bedded on masonry. A step over it fails; a step within
    it is not checked, because thin brick that projects hangs on its adhesive.
    """
    out = coursing.corbelled
    if not out:
        return
    yield _step(job, coursing, rules)
    furthest = in_words(coursing.projection, job.lengths, up=True)
    yield found(
        Rule("corbel-backing", "corbel, backing and reach"),
        "not checked",
        f"the brick stands out {furthest} at the furthest, measured from the finished "
        "face; thin brick is adhered, so what projects needs a backing behind it that "
        "does not burn, brought out by as much and fixed to the wall by others: its "
        "designer says how, and how far in all",
        "what thin brick is adhered to",
        COMMON,
    )


def _step(job: Job, coursing: Coursing, rules: Rules) -> Finding:
    """Hold the step that comes nearest to the rule, or breaks it most."""
    thickness, rule = job.brick.thickness, rules.corbel

    def step_of(course: Course) -> Fraction:
        below = coursing.courses[course.number - 2].projection
        return course.projection - below

    def most_of(course: Course) -> Fraction:
        return rule.most(course.height, thickness)

    worst = max(coursing.corbelled, key=lambda x: (step_of(x) - most_of(x), -x.number))
    step = step_of(worst)
    limit = Limit(most_of(worst), rule.source, rule.source_status)
    says = (
        f"course {worst.number} stands {in_words(step, job.lengths, up=True)} past the "
        "course below; the most is the lesser of half its height and a third of the "
        "brick's thickness, by a rule for brick bedded on brick"
    )
    held = hold(
        Rule("corbel-step", "corbel, step of a course"), step, limit, says, at="most"
    )
    if held.status == "passed":
        adhered = "; for thin brick that is adhered no rule was found"
        says = f"{held.says}{adhered}"
        # No margin: there is nothing to spare under a rule for something else.
        return replace(held, status="not checked", margin=None, says=says)

    def less(short: Fraction) -> str:
        return f"step each course {in_words(short, job.lengths, up=True)} less"

    return mended(held, job.lengths, less)
