"""Say what is wrong with a job file beside its drawing: where, what, what would do.

In:  an error, the file's text.   Out: `Item`s.
Frame: none.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.drawing.page import PageItem
from shopdraw.errors import BadJob, Fault, ShopdrawError, printable
from shopdraw.job.lines import placed


def troubles_of(error: ShopdrawError, text: str) -> tuple[PageItem, ...]:
    """Return an item for each fault, with its line where the file has one.

    Args:
        error: what came of the file.
        text: what the file held.
    """
    if isinstance(error, BadJob):
        return tuple(_of_faults(error.faults, text))
    return tuple(PageItem("It can't be drawn", says=line) for line in error.lines())


def _of_faults(faults: tuple[Fault, ...], text: str) -> Iterator[PageItem]:
    for fault in placed(faults, text):
        where = [f"Line {fault.on_line}"] if fault.on_line else []
        name = [printable(fault.key)] if fault.key else []
        facts = (("found", printable(fault.found)),) if fault.found else ()
        nearest = f" The nearest known key is {fault.nearest}." if fault.nearest else ""
        yield PageItem(
            ": ".join([*where, *name]) or "The file",
            facts,
            f"It {printable(fault.wanted)}.{nearest}",
        )
