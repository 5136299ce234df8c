"""Say what became of a job that was to be drawn.

In:  nothing.   Out: `Drawn`.
Frame: none.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.drawing.page import Glance


@dataclass(frozen=True)
class Drawn:
    """What became of one job.

    Attributes:
        code: 0, 1 or 2, as the command's own exit code.
        names: the files written.
        says: the report; for a job that was not drawn, a line for every fault.
        failed, missed: how many findings failed, and how many targets are missed.
        before: what became of files that were there: in words, and their names.
        glance: what the index of many sets tells of it; None where it was not drawn.
        picture: the name of its picture; empty where that was not written.
    """

    code: int
    names: tuple[str, ...]
    says: str
    failed: int = 0
    missed: int = 0
    before: tuple[tuple[str, tuple[str, ...]], ...] = ()
    glance: Glance | None = None
    picture: str = ""
