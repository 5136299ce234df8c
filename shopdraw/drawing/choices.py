"""The form of what is laid before somebody who is to choose.

In:  nothing.   Out: `Choices` and what it holds.
Frame: drawings and pages have their own.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.page import Fact
from shopdraw.drawing.photo import Montage
from shopdraw.drawing.set import DrawnFrom
from shopdraw.drawing.sheets import Sheet
from shopdraw.lengths import Lengths


@dataclass(frozen=True)
class Choice:
    """One thing to choose.

    Attributes:
        name: what it is called.
        facts: what it is and what it takes, in the order that they are read.
        warns: what nobody may overlook.
        picture: of it; the pictures of all have one scale and one size.
        montage: the same in a photograph; None where there is none.
    """

    name: str
    facts: tuple[Fact, ...]
    warns: tuple[str, ...]
    picture: Drawing
    montage: Montage | None = None


@dataclass(frozen=True)
class ChoicePage:
    """A page, and the photographs on it.

    Attributes:
        montages: pairs of a box on paper, and the place of the choice it shows.
    """

    sheet: Sheet
    montages: tuple[tuple[Box, int], ...] = ()


@dataclass(frozen=True)
class Choices:
    """All that there is to choose from.

    Attributes:
        drawn_from: which program and files.
        title: what it is about.
        dated: as the job has it.
        lengths: what its drawings are measured in.
        about: further words on it.
        says: what is to be known of all of them.
        choices: in their order.
        pages: for paper.
    """

    drawn_from: DrawnFrom
    title: str
    dated: date | None
    lengths: Lengths
    about: tuple[Fact, ...]
    says: tuple[str, ...]
    choices: tuple[Choice, ...]
    pages: tuple[ChoicePage, ...]
