"""Reckon the days that mortar needs: ledger, pointing, woodwork.

In:  `Job`.   Out: `Step`s, in order.
Frame: days; no clock is asked.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from shopdraw.catalog.rules import load_rules
from shopdraw.catalog.statuses import TYPED
from shopdraw.job.model import Job

WEEK = 7


@dataclass(frozen=True)
class Step:
    """One thing that may be done from a day on.

    Attributes:
        what: "take the ledger away", "fasten woodwork".
        day: the first on which it may; None where the job gives no date.
        wait: how long, in words: "28 days after pointing".
        key: the job's key that gave the wait; empty for a usual one.
        status: how it was read: typed, or common practice.
    """

    what: str
    day: date | None
    wait: str
    key: str
    status: str

    @property
    def source(self) -> str:
        """Where the wait comes from, and how that was read."""
        return f"{self.key} ({self.status})" if self.key else self.status


def reckon_schedule(job: Job) -> tuple[Step, ...]:
    """Return when the ledger may go, the joints be pointed, woodwork be fastened."""
    asked, usual = job.schedule, load_rules(job.lengths).days
    set_on = asked.set_on
    ledger, *by_ledger = _days(job, "ledger_days", usual.ledger_days)
    wait, *by_wait = _days(job, "wait_days", usual.wait_days)
    weeks, *by_cure = _days(job, "cure_weeks", usual.cure_weeks)
    may_point = _after(set_on, wait)
    pointed = asked.pointed_on or may_point
    steps = [
        Step(
            "take the ledger away",
            _after(set_on, ledger),
            _said(ledger, "day", "setting"),
            *by_ledger,
        ),
        Step("point the joints", may_point, _said(wait, "day", "setting"), *by_wait),
        Step(
            "fasten woodwork over the brick",
            _after(pointed, weeks * WEEK),
            _said(weeks, "week", "pointing"),
            *by_cure,
        ),
    ]
    return tuple(steps)


def _days(job: Job, key: str, usual: int) -> tuple[int, str, str]:
    typed: int | None = getattr(job.schedule, key)
    if typed is not None:
        return typed, f"schedule.{key}", TYPED
    return usual, "", load_rules(job.lengths).days.source_status


def _said(count: int, what: str, after: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'} after {after}"


def _after(start: date | None, days: int) -> date | None:
    return None if start is None else start + timedelta(days=days)
