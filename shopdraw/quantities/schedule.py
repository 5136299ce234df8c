"""Count the days that mortar needs before prop, pointing and woodwork.

In:  `Job`.   Out: `Step`s, in order.
Frame: days; no clock is asked.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from shopdraw.catalog.rules import load_rules
from shopdraw.catalog.statuses import TYPED
from shopdraw.job.model import Job
from shopdraw.job.model_head import propped_on

WEEK = 7


@dataclass(frozen=True)
class Step:
    """One thing that may be done from a certain day on.

    Attributes:
        what: "take the ledger away", "fasten woodwork".
        day: the first on which it may; None where the job gives no date.
        wait: how long, in words: "4 weeks after pointing".
        status: where the wait comes from: typed by the user, or common practice.
    """

    what: str
    day: date | None
    wait: str
    status: str


def reckon_schedule(job: Job) -> tuple[Step, ...]:
    """Say when the head's prop may go, joints be pointed and woodwork be fastened."""
    asked, usual = job.schedule, load_rules(job.lengths).days
    set_on = asked.set_on
    propped, by_prop = _wait(job, asked.ledger_days, usual.ledger_days)
    wait, by_wait = _wait(job, asked.wait_days, usual.wait_days)
    weeks, by_cure = _wait(job, asked.cure_weeks, usual.cure_weeks)
    may_point = _after(set_on, wait)
    pointed = asked.pointed_on or may_point
    point = Step("point the joints", may_point, _said(wait, "day", "setting"), by_wait)
    take_away = Step(
        f"take the {propped_on(job.opening.head)} away",
        _after(set_on, propped),
        _said(propped, "day", "setting"),
        by_prop,
    )
    steps = [
        *((take_away, point) if propped < wait else (point, take_away)),
        Step(
            "fasten woodwork over the brick",
            _after(pointed, weeks * WEEK),
            _said(weeks, "week", "pointing"),
            by_cure,
        ),
    ]
    return tuple(steps)


def _wait(job: Job, typed: int | None, usual: int) -> tuple[int, str]:
    """Return a wait and where it comes from: the job, or else what is usual."""
    if typed is not None:
        return typed, TYPED
    return usual, load_rules(job.lengths).days.source_status


def _said(count: int, what: str, after: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'} after {after}"


def _after(start: date | None, days: int) -> date | None:
    return None if start is None else start + timedelta(days=days)
