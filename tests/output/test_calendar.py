"""The calendar file: by the standard's own text, and through an independent reading."""

from __future__ import annotations

from datetime import date

import pytest

from shopdraw.drawing.set import Event
from shopdraw.output.calendar import write_calendar

DAYS = (
    Event("point the joints", date(2026, 3, 5), "3 days after setting"),
    Event("fasten, at last; woodwork", date(2026, 4, 13), "5 weeks " * 20),
)


def entries(data: bytes) -> list[dict[str, str]]:
    """Read it as RFC 5545 has it: lines end in CRLF, 75 octets at most, then folded."""
    text = data.decode()
    lines = text.split("\r\n")
    if lines.pop() or "\n" in text.replace("\r\n", ""):
        raise ValueError("a line does not end as it must")
    if any(len(line.encode()) > 75 for line in lines):
        raise ValueError("a line is too long")
    unfolded = text.replace("\r\n ", "").split("\r\n")[:-1]
    if unfolded[0] != "BEGIN:VCALENDAR" or unfolded[-1] != "END:VCALENDAR":
        raise ValueError("no calendar")
    found: list[dict[str, str]] = []
    for line in unfolded:
        name, _, value = line.partition(":")
        if line == "BEGIN:VEVENT":
            found.append({})
        elif found:
            found[-1].setdefault(name, value)
    for entry in found:
        missing = {"UID", "DTSTAMP", "DTSTART;VALUE=DATE", "SUMMARY"} - entry.keys()
        if missing:
            raise ValueError(f"{missing} missing")
    return found


def test_each_day_is_there_whole_and_escaped() -> None:
    first, second = entries(write_calendar(DAYS, "Den, north"))
    assert first["DTSTART;VALUE=DATE"] == "20260305"
    assert first["DTEND;VALUE=DATE"] == "20260306"
    assert first["SUMMARY"] == "Den\\, north: point the joints"
    assert second["SUMMARY"] == "Den\\, north: fasten\\, at last\\; woodwork"
    assert first["UID"] != second["UID"]


def test_the_same_days_give_the_same_bytes() -> None:
    assert write_calendar(DAYS, "Den") == write_calendar(DAYS, "Den")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b"\r\n", b"\n"),
        (b"UID:", b"ID:"),
        (b"\r\n ", b""),
        (b"BEGIN:VCALENDAR", b"BEGIN:CALENDAR"),
    ],
)
def test_a_damaged_file_is_noticed(old: bytes, new: bytes) -> None:
    data = write_calendar(DAYS, "Den")
    assert old in data
    with pytest.raises(ValueError, match=r"line|missing|calendar"):
        entries(data.replace(old, new))
