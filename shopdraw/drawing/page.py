"""The form of the page that is read on a phone: what it says, as plain words and ink.

In:  nothing.   Out: `Page` and what it holds; `Glance`.
Frame: drawings have their own; words are as the sheets print them.

Whoever lays it out knows nothing of the work: a step is whatever is done in one go, a
card is of one piece, a make is a kind of piece, a due is what falls due at a step.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.drawing.ink import Drawing, Ink, Point, Words
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.sheets import PlacedDrawing
from shopdraw.drawing.tables import Table
from shopdraw.lengths import Lengths

Fact = tuple[str, str]
"""What is told, and what it is."""


@dataclass(frozen=True)
class Spot:
    """A place on a drawing that leads to a card.

    Attributes:
        card: the card's ID.
        says: what is read out there.
        points: its corners, in the drawing's own frame.
    """

    card: str
    says: str
    points: tuple[Point, ...]


@dataclass(frozen=True)
class PieceView:
    """A drawing to look at and to tap.

    Attributes:
        title: what it shows.
        placed: the drawing as it is placed on its sheet.
        spots: in reading order.
        work: the part of it that is shown first, in its own frame.
        rest: its ink without `small`.
        small: lettering of it that is too small to be read at arm's length.
        large: the same, lettered as large as there is room; stands in its place.
    """

    title: str
    placed: PlacedDrawing
    spots: tuple[Spot, ...]
    work: Box
    rest: tuple[Ink, ...]
    small: tuple[Words, ...]
    large: tuple[Words, ...]


@dataclass(frozen=True)
class Make:
    """A kind of piece: how it is made.

    Attributes:
        mark: its name, shared by like pieces.
        title: what it is.
        size: its finished size.
        count: how many there are.
        says: what the drawing can't show, a paragraph each.
        sketches: how it is made; none where it is as delivered.
    """

    mark: str
    title: str
    size: str
    count: int
    says: tuple[str, ...]
    sketches: tuple[Drawing, ...] = ()


@dataclass(frozen=True)
class Card:
    """What is told of one piece.

    Attributes:
        id: names this one alone.
        mark: of its make.
        kind, size: as its make has them.
        facts: in the order that they are read.
        beside: which way, and the ID of the piece there.
    """

    id: str
    mark: str
    kind: str
    size: str
    facts: tuple[Fact, ...]
    beside: tuple[Fact, ...] = ()


@dataclass(frozen=True)
class Place:
    """Where one piece begins and ends along a run.

    Attributes:
        card: the piece's ID.
        name: its mark, as it is lettered there.
        reach: from where to where.
        then: what follows it, up to the next one.
        says: what is to be known of it there: which of its ends is sawn.
    """

    card: str
    name: str
    reach: str
    then: str
    says: str = ""


@dataclass(frozen=True)
class PieceRun:
    """Pieces in their order.

    Attributes:
        title: from where their places are measured.
        starts: what is before the first one; empty where a corner is.
    """

    title: str
    starts: str
    places: tuple[Place, ...]


@dataclass(frozen=True)
class Due:
    """What is to be done, or known, at a step.

    Attributes:
        words: what.
        source: who says so; empty where the drawings do.
        command: what to type; empty where there is nothing.
        is_before: whether it comes before the step's pieces.
    """

    words: str
    source: str = ""
    command: str = ""
    is_before: bool = False


@dataclass(frozen=True)
class PageStep:
    """What is laid in one go.

    Attributes:
        name: short and unique, for an address: `7`.
        title: what it is called.
        facts: of all of it.
        due: what falls due.
        runs: the pieces in their order, face by face.
        cards: one of each piece that counts here.
        strip: all of it, unrolled; None where there is no such drawing.
    """

    name: str
    title: str
    facts: tuple[Fact, ...]
    due: tuple[Due, ...]
    runs: tuple[PieceRun, ...]
    cards: tuple[Card, ...]
    strip: Drawing | None = None


@dataclass(frozen=True)
class PageItem:
    """One row of a list.

    Attributes:
        title: what it is.
        facts: its figures.
        says: more of it; empty where there is none.
        source: who says so, and how that was read; empty where it was reckoned here.
    """

    title: str
    facts: tuple[Fact, ...] = ()
    says: str = ""
    source: str = ""


@dataclass(frozen=True)
class TickList:
    """A list.

    Attributes:
        name: short and unique, for an address.
        title: as a heading.
        items: its rows, in order.
        says: what is to be known of all of it.
        is_ticked: whether its rows are ticked as they are done.
    """

    name: str
    title: str
    items: tuple[PageItem, ...]
    says: str = ""
    is_ticked: bool = True


@dataclass(frozen=True)
class Glance:
    """What is told of a job where there is no room for all that the page says.

    Attributes:
        title, mark, revision, stamps, landed: as on the page.
        lists: what failed, and what is still to be found out.
    """

    title: str
    mark: str
    revision: str
    stamps: tuple[str, ...]
    landed: tuple[PageItem, ...]
    lists: tuple[TickList, ...]


@dataclass(frozen=True)
class Page:
    """All that the page says.

    Attributes:
        title: the job's.
        about: further words of the job: number, date.
        drawn_from: which program and job file, as every file of the set says it.
        digest: of the job file; empty where there was no file.
        mark: the digest as far as it is shown.
        revision: its mark; empty where there is none.
        lengths: what its drawings are measured in.
        stamps: what nobody may overlook.
        landed: what was aimed at, and what came of it.
        cautions: each with its topic.
        views: the drawings to tap, the first one first.
        views_say: how the views are seen.
        steps_title: what the steps are called together, as makes_title is of the makes.
        steps_say: what is to be known of all of them.
        steps: in the order of the work.
        makes: every kind of piece.
        lists: to bring, to make, to find out, to wait for.
        tables: what is better read in columns.
        notes: paragraphs.
    """

    title: str
    about: tuple[Fact, ...]
    drawn_from: str
    digest: str
    mark: str
    revision: str
    lengths: Lengths
    stamps: tuple[str, ...]
    landed: tuple[PageItem, ...]
    cautions: tuple[Fact, ...]
    views: tuple[PieceView, ...]
    views_say: str
    steps_title: str
    steps_say: str
    steps: tuple[PageStep, ...]
    makes_title: str
    makes: tuple[Make, ...]
    lists: tuple[TickList, ...]
    tables: tuple[Table, ...]
    notes: tuple[str, ...]

    @property
    def cards(self) -> tuple[Card, ...]:
        """Every card, step by step."""
        return tuple(card for step in self.steps for card in step.cards)
