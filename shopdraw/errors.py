"""Define everything that can go wrong, all in one place.

In:  nothing.   Out: the exceptions that `cli` alone catches.
Frame: none; these carry words for a person.
"""

from __future__ import annotations

from dataclasses import dataclass

LONGEST_KEY = 120


def printable(text: str) -> str:
    """Replace each sign that a terminal would obey, not show, by a question mark."""
    return "".join(sign if sign.isprintable() else "?" for sign in text)


def shortened(text: str, most: int) -> str:
    """Return a text printable, and cut short where it is longer than the most."""
    text = printable(text)
    return text if len(text) <= most else f"{text[: most - 3]}..."


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong with a job file, said on one line.

    Attributes:
        file: the job file's name as the person typed it.
        key: the dotted key, `trim[2].projection`; empty for the whole file.
        found: the value found, as the person would recognise it.
        wanted: what is wrong with it, and what would do.
        nearest: the nearest known key, for an unknown one.
        on_line: the line of the file, from 1, once it is known.
    """

    file: str
    key: str
    found: str
    wanted: str
    nearest: str = ""
    on_line: int | None = None

    def line(self) -> str:
        """Return the fault as the one line that is printed."""
        key = shortened(self.key, LONGEST_KEY)
        file = f"{self.file}, line {self.on_line}" if self.on_line else self.file
        where = f"{file}: {key}" if key else file
        found = f" {self.found}" if self.found else ""
        hint = f" (nearest known key: {self.nearest})" if self.nearest else ""
        return printable(f"{where}:{found} {self.wanted}{hint}")


class ShopdrawError(Exception):
    """Any error that `cli` turns into a line for the person, and exit code 2."""

    def lines(self) -> tuple[str, ...]:
        """Return what to print, a line for each fault."""
        return (printable(str(self)),)


class BadJob(ShopdrawError):
    """The job file can't be read or can't be built; this holds every fault."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("\n".join(fault.line() for fault in faults))
        self.faults = faults

    def lines(self) -> tuple[str, ...]:
        """Return a line for each fault."""
        return tuple(fault.line() for fault in self.faults)


class BadLength(ShopdrawError):
    """A text is not a length, volume or scale; the message says what would do."""


class NotPublished(ShopdrawError):
    """The set could not be written where it was wanted; nothing there has changed."""


class NotPrinted(ShopdrawError):
    """What a command says could not be printed; what it wrote is there all the same."""


class NotMeasured(ShopdrawError):
    """A course can't be where it was measured; this holds a line for each reading."""

    def __init__(self, doubts: tuple[str, ...]) -> None:
        super().__init__("\n".join(doubts))
        self.doubts = doubts

    def lines(self) -> tuple[str, ...]:
        """Return a line for each reading."""
        return tuple(map(printable, self.doubts))


class NotServed(ShopdrawError):
    """The page can't be served on this machine; the message says why."""


class NotProved(ShopdrawError):
    """The set or the layout failed one of its own checks; nothing was published."""

    def __init__(self, differences: tuple[str, ...]) -> None:
        super().__init__("\n".join(differences))
        self.differences = differences

    def lines(self) -> tuple[str, ...]:
        """Return a line for each difference."""
        return tuple(printable(difference) for difference in self.differences)


class NotDrawable(ShopdrawError):
    """The wall is solved, but can't be drawn as the job asks."""


class NotLaid(ShopdrawError):
    """No lawful way of laying the brick was found; the message says what would do."""

    def lines(self) -> tuple[str, ...]:
        """Return a line for each thing in the way."""
        return tuple(printable(line) for line in str(self).splitlines())
