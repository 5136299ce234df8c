"""Letter a label for every piece to make, spares included.

In:  `Solution`.   Out: a `Sheet` a page, standing up.
Frame: paper lengths from the page's lower left corner, y up; a label's own lines are
reckoned in heights of its lettering, down from its upper left corner.

The labels are on the page already cut, so nothing is drawn round them; the job says how
the page is divided.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Ink, Point, Stroke, Words
from shopdraw.drawing.lettering import plain, width_of
from shopdraw.drawing.papers import page_of
from shopdraw.drawing.sheets import Sheet
from shopdraw.errors import NotDrawable
from shopdraw.job.model import Job
from shopdraw.job.model_around import LabelsTable
from shopdraw.lengths import MM_PER_INCH
from shopdraw.masonry.wall.layout import CutListRow
from shopdraw.quantities.fabricating import FabricationRow
from shopdraw.solution import Solution
from shopdraw.views.making.marks import lines_of, tied
from shopdraw.views.making.sizes import finished_size, kind_of
from shopdraw.views.parts.stamps import drawn_from, page_size

LARGEST, LEAST, FINER, TIDY = 0.16, 0.03, 0.98, 0.75
"""The largest and the least height of a label's lines, in inches; by what part the next
height tried is smaller; by what part they may be smaller to keep lines unbroken."""
UNBROKEN = ("count", "kind", "size", "id", "revision")
MARK, COUNT, PITCH, DROP, CLEAR = 2.4, 1.25, 1.65, 0.35, 1.0
"""The mark's height, the count's, how far apart lines are, what hangs below the last
one, and the room between mark and count: in heights of the lines."""
SMALL = 0.6
"""What the labels are drawn from is lettered so high, in heights of the lines."""
NOTHING = 1e-6
PAD = 1 / 12
"""What a label keeps free all round, in parts of its lesser side."""
WAYS = (
    (("kind",), ("size",), ("id",), ("project",), ("revision",)),
    (("kind", "size"), ("id",), ("project",), ("revision",)),
    (("kind",), ("size",), ("id", "revision"), ("project",)),
    (("kind", "size"), ("id", "revision"), ("project",)),
    (("kind", "size", "id"), ("project", "revision")),
    (("count",), ("kind",), ("size",), ("id",), ("project",), ("revision",)),
)
"""Ways to divide what a label says into lines; a count not named is beside the mark.
The way that can be lettered largest is taken for all labels."""


@dataclass(frozen=True)
class Label:
    """What one label says: its mark, and what `WAYS` divide into lines."""

    mark: str
    count: str
    kind: str
    size: str
    id: str
    project: str
    revision: str

    def says(self, names: tuple[str, ...]) -> list[str]:
        """Return what it says under some names, as far as it says anything."""
        return [said for name in names if (said := getattr(self, name))]


@dataclass(frozen=True)
class Lettering:
    """How all labels of a job are lettered.

    Attributes:
        way: what stands on each line.
        text: the height of the lines.
        width, height: of a label; `pad` stays free all round.
    """

    way: tuple[tuple[str, ...], ...]
    text: float
    width: float
    height: float

    @property
    def pad(self) -> float:
        """The margin that a label keeps free all round."""
        return PAD * min(self.width, self.height)

    @property
    def room(self) -> float:
        """How wide a line may be."""
        return self.width - 2 * self.pad

    @property
    def is_beside(self) -> bool:
        """Whether the count stands beside the mark."""
        return ("count",) not in self.way

    def lines(self, label: Label) -> tuple[str, ...]:
        """Return the lines below the mark; a line with nothing to say stays empty."""
        return tuple(line for names in self.way for line in self.broken(label, names))

    def broken(self, label: Label, names: tuple[str, ...]) -> tuple[str, ...]:
        """Return one line of the label, broken into lines that fit."""
        return lines_of(", ".join(label.says(names)), self.text, self.room)

    def is_tidy(self, label: Label) -> bool:
        """Whether only the project's name is broken over lines."""
        return all(
            len(self.broken(label, names)) == 1
            for names in self.way
            if "project" not in names
        )

    def depth(self, label: Label) -> float:
        """Return the height of a label's lettering."""
        return (MARK + DROP + PITCH * len(self.lines(label))) * self.text

    def holds(self, label: Label) -> bool:
        """Whether a label has room for everything it says."""
        wide = width_of(label.mark, MARK * self.text)
        if self.is_beside:
            count = width_of(label.count, COUNT * self.text)
            wide += CLEAR * self.text + count
        # The project's name alone may be broken within a word.
        words = [word for said in label.says(UNBROKEN) for word in tied(said).split()]
        wide = max(wide, *(width_of(word, self.text) for word in words))
        deep = self.depth(label)
        return wide <= self.room and deep <= self.height - 2 * self.pad


def draw_labels(solution: Solution) -> tuple[Sheet, ...]:
    """Letter the labels, mark by mark, on upright pages.

    Returns:
        The pages; none where the job has no labels, or nothing to make.

    Raises:
        NotDrawable: the page is too small for the labels, or they for the lettering.
    """
    job, rows, size = solution.job, solution.fabrication, page_size(solution)
    if job.labels is None or not rows:
        return ()
    spots = _spots(job.labels, size)
    labels = [label for each in rows for label in _labels(job, each)]
    lettering = _lettering(job, job.labels, rows)
    origin = _origin(job, lettering, rows)
    # All stand alike, in the middle of their labels as the fullest one does.
    depth = max(
        lettering.depth(label) for each in rows for label in _fullest(job, each)
    )
    pages: list[Sheet] = []
    for first in range(0, len(labels), len(spots)):
        shown = labels[first : first + len(spots)]
        ink: list[Ink] = []
        for label, (x, y) in zip(shown, spots, strict=False):
            top = y - (lettering.height - depth) / 2
            ink += _letter(label, lettering, (x + lettering.pad, top), origin)
        last = spots[len(shown) - 1]
        ink += _cross(spots[0], lettering.pad, 1)
        ink += _cross(
            (last[0] + lettering.width, last[1] - lettering.height), lettering.pad, -1
        )
        names, number = ("labels", "LABELS"), len(pages) + 1
        pages.append(page_of(ink, names, size, job.lengths, number=number))
    return tuple(pages)


def _spots(table: LabelsTable, size: tuple[float, float]) -> list[Point]:
    """Return the upper left corner of each label, in reading order."""
    across, down = table.across or table.width, table.down or table.height
    right = table.left + (table.columns - 1) * across + table.width
    foot = table.top + (table.rows - 1) * down + table.height
    for key, reach, side in (("columns", right, size[0]), ("rows", foot, size[1])):
        if float(reach) > side + NOTHING:
            message = f"labels.{key}: run past the edge of the page; give fewer"
            raise NotDrawable(message)
    for key, pitch, least in (
        ("across", across, table.width),
        ("down", down, table.height),
    ):
        if pitch < least:
            message = f"labels.{key}: is so small that labels overlap; give more"
            raise NotDrawable(message)
    return [
        (float(table.left + column * across), size[1] - float(table.top + row * down))
        for row in range(table.rows)
        for column in range(table.columns)
    ]


def _labels(job: Job, each: FabricationRow) -> Iterator[Label]:
    """Yield a label for each piece of a mark, the spares last."""
    count, spares = each.row.count, each.spares
    for number, name in zip(range(1, count + 1), each.row.ids, strict=True):
        yield _label(job, each.row, f"{number} OF {count}", name)
    for number in range(1, spares + 1):
        yield _label(job, each.row, f"SPARE {number} OF {spares}", "")


def _label(job: Job, row: CutListRow, count: str, name: str) -> Label:
    about = job.job
    return Label(
        mark=row.mark,
        count=count,
        kind=kind_of(row),
        size=finished_size(job, row),
        id=name,
        project=plain(f"{about.name} {about.number}".strip()),
        revision=_revision(about.revision),
    )


def _revision(name: str) -> str:
    return f"REVISION {plain(name)}" if name else "NO REVISION"


def _fullest(job: Job, each: FabricationRow) -> tuple[Label, Label]:
    """Return the labels of a mark that need the most room; figures are equally wide."""
    longest = max(each.row.ids, key=lambda name: width_of(name, 1.0))
    count, spares = each.row.count, max(each.spares, 1)
    return (
        _label(job, each.row, f"{count} OF {count}", longest),
        _label(job, each.row, f"SPARE {spares} OF {spares}", ""),
    )


def _lettering(
    job: Job, table: LabelsTable, rows: tuple[FabricationRow, ...]
) -> Lettering:
    """Return the largest lettering that fits every label, unbroken if it can be."""
    inch = 1.0 if job.lengths == "in" else float(MM_PER_INCH)
    fullest = [label for each in rows for label in _fullest(job, each)]
    text, loose = LARGEST, None
    while text > (loose.text / inch * TIDY if loose else LEAST):
        for way in WAYS:
            lettering = Lettering(
                way, text * inch, float(table.width), float(table.height)
            )
            if all(lettering.holds(label) for label in fullest):
                if all(lettering.is_tidy(label) for label in fullest):
                    return lettering
                loose = loose or lettering
        text *= FINER
    if loose is None:
        message = "labels.height: is too small to letter; give larger labels"
        raise NotDrawable(message)
    return loose


def _origin(job: Job, lettering: Lettering, rows: tuple[FabricationRow, ...]) -> str:
    """Return the program and job file as they are lettered small on every label.

    They stand at the upper right, beside the mark, and no other line is made smaller
    for them. Where they have no room, or could not be read, nothing is lettered: the
    file itself still says it.
    """
    small, words = SMALL * lettering.text, drawn_from(job).words
    inch = 1.0 if job.lengths == "in" else float(MM_PER_INCH)
    mark = max(width_of(each.row.mark, MARK * lettering.text) for each in rows)
    room = lettering.room - mark - CLEAR * lettering.text
    is_readable = small >= LEAST * inch
    return words if is_readable and width_of(words, small) <= room else ""


def _letter(
    label: Label, lettering: Lettering, at: Point, origin: str
) -> Iterator[Words]:
    """Letter one label: the mark, the count mostly at its right, the lines below."""
    (x, top), text = at, lettering.text
    y, right = top - MARK * text, x + lettering.room
    yield Words(layers.NOTES, (x, y), label.mark, MARK * text)
    if origin:
        corner = right, top - SMALL * text
        yield Words(layers.NOTES, corner, origin, SMALL * text, "right")
    if lettering.is_beside:
        count = label.count
        yield Words(layers.NOTES, (right, y), count, COUNT * text, "right")
    for line in lettering.lines(label):
        y -= PITCH * text
        if line:
            yield Words(layers.NOTES, (x, y), line, text)


def _cross(corner: Point, pad: float, inward: int) -> Iterator[Stroke]:
    """Mark a corner just inside its label, on a layer that is not printed."""
    reach = pad / 2
    x, y = corner[0] + inward * reach, corner[1] - inward * reach
    yield Stroke(layers.UNPRINTED, ((x - reach, y), (x + reach, y)))
    yield Stroke(layers.UNPRINTED, ((x, y - reach), (x, y + reach)))
