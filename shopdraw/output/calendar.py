"""Write the dated steps as an iCalendar file (RFC 5545), which any calendar opens.

In:  `Event`s.   Out: bytes.
Frame: whole days, in no time zone; the clock is not read.
"""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta
from hashlib import sha256

from icalendar import Calendar
from icalendar import Event as Entry

from shopdraw import __version__
from shopdraw.drawing.set import Event


def write_calendar(
    events: tuple[Event, ...], title: str, drawn_from: str = ""
) -> bytes:
    """Write every event as a whole day, known by what it is and of which set.

    Each says from what it was drawn: once it is in somebody's calendar it is alone.
    """
    origin = f"\nDrawn from {drawn_from}." if drawn_from else ""
    calendar = Calendar()
    calendar.add("prodid", f"-//shopdraw//{__version__}//EN")
    calendar.add("version", "2.0")
    for event in events:
        entry = Entry()
        name = sha256(f"{title}\n{event.what}".encode()).hexdigest()[:24]
        entry.add("uid", f"{name}@shopdraw")
        # The standard wants a time of writing: the day itself stands for it.
        entry.add("dtstamp", datetime.combine(event.day, time(), UTC))
        entry.add("dtstart", event.day)
        entry.add("dtend", event.day + timedelta(days=1))
        entry.add("summary", f"{title}: {event.what}")
        entry.add("description", f"{event.says}{origin}")
        calendar.add_component(entry)
    return bytes(calendar.to_ical())
