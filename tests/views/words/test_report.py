"""The report that the terminal prints: what it counts is what it lists."""

from __future__ import annotations

import re

from shopdraw.solution import Solution
from shopdraw.views.words.report import write_report

COUNTED = r"Findings \((\d+) passed, (\d+) failed, (\d+) not checked; "
STATUSES = "PASSED", "FAILED", "NOT CHECKED"


def test_as_many_findings_are_counted_as_are_listed(solution: Solution) -> None:
    report = write_report(solution)
    counted = re.search(COUNTED, report)
    assert counted is not None
    listed = report[counted.end() :].partition("\n\n")[0].splitlines()[1:]
    begun = [line.strip() for line in listed if re.match("  [A-Z]", line)]
    assert begun
    for count, status in zip(counted.groups(), STATUSES, strict=True):
        assert int(count) == sum(line.startswith(f"{status}  ") for line in begun)
    assert sum(map(int, counted.groups())) == len(begun)
