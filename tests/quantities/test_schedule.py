"""Days: by hand, from the job's own waits and from the usual ones."""

from __future__ import annotations

from datetime import date

from shopdraw.job.model_review import ScheduleTable
from shopdraw.job.reading import read_job
from shopdraw.quantities.schedule import reckon_schedule
from tests.demos import CONFIGS


def steps(**schedule: object) -> dict[str, object]:
    job = read_job(CONFIGS / "library-hearth.toml")
    table = ScheduleTable(**schedule)
    asked = job.model_copy(update={"schedule": table})
    return {step.what: step for step in reckon_schedule(asked)}


def test_days_are_counted_from_setting_and_from_pointing() -> None:
    """Set on 2 March, ten days' ledger: the 12th; pointed on the 9th, five weeks: 13
    April, over the end of March."""
    found = steps(
        set_on=date(2026, 3, 2),
        pointed_on=date(2026, 3, 9),
        ledger_days=10,
        wait_days=3,
        cure_weeks=5,
    )
    assert found["take the ledger away"].day == date(2026, 3, 12)
    assert found["point the joints"].day == date(2026, 3, 5)
    assert found["fasten woodwork over the brick"].day == date(2026, 4, 13)
    assert {step.status for step in found.values()} == {"typed by the user"}


def test_usual_waits_say_that_nobody_published_them() -> None:
    """A day from setting to pointing, four weeks from there: 1 + 28 days."""
    found = steps(set_on=date(2026, 3, 2))
    assert found["fasten woodwork over the brick"].day == date(2026, 3, 31)
    statuses = {step.status for step in found.values()}
    assert statuses == {"common practice, no published source"}


def test_without_a_date_there_is_a_wait_and_no_day() -> None:
    found = steps()
    assert {step.day for step in found.values()} == {None}
    assert found["fasten woodwork over the brick"].wait == "4 weeks after pointing"
