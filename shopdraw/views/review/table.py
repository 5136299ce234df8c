"""Letter the review's table: a row for every finding, and its words below it.

In:  `Finding`s, a `TableSetting`, the page's lengths and width.   Out: `ReviewTable`.
Frame: each row in the page's lengths from its own upper left corner, y up.

It needs no colour: what failed is in a box, what was not checked is in brackets.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from shopdraw.drawing import layers
from shopdraw.drawing.ink import Align, Ink, Stroke, Words
from shopdraw.drawing.lettering import plain, width_of, wrap
from shopdraw.drawing.papers import Part
from shopdraw.drawing.sheets import STYLES
from shopdraw.lengths import Lengths
from shopdraw.review.findings import Finding, Status, figures_of
from shopdraw.views.parts.figures import ring_of
from shopdraw.views.parts.phrases import sourced

LEAST: dict[Lengths, float] = {"in": 0.045, "mm": 1.2}
"""The least height of lettering."""
SIZES, PITCH = 8, 1.6
"""How many heights are tried down to it, and how far apart lines are, in heights."""
SHOWN: dict[Status, str] = {
    "passed": "PASSED",
    "failed": "FAILED",
    "not checked": "[NOT CHECKED]",
}
HEADS = (
    "NO.",
    "RULE",
    "MEASURED",
    "LIMIT",
    "MARGIN",
    "STATUS",
    "SOURCE OF THE LIMIT, AND HOW ITS TEXT WAS READ",
)
ALIGNS: tuple[Align, ...] = (
    "right", "left", "right", "right", "right", "left", "left",
)  # fmt: skip
STATUS, FRAME = 5, 0.32
"""The column of the status, and how far its box stands off the words, in heights."""
RULE_SHARE = 0.42
"""How much of the width that figures leave is the rule's at most."""
ELSEWHERE = "The drawing sheets say what to find out for the other rows."
ON_SHEETS = (
    "A view named in a row, by its number and its sheet, shows what is not drawn here."
)
ROUNDED = (
    "MARGIN is measured less limit, or limit less measured where the limit is the most "
    "allowed; minus means short of the rule. Figures are rounded to {}, never to look "
    "better than they are."
)


@dataclass(frozen=True)
class TableSetting:
    """How the table is lettered.

    Attributes:
        height: of its lettering.
        tells: the statuses whose findings have their words lettered.
        is_tight: whether its columns and lines stand closer.
    """

    height: float
    tells: tuple[Status, ...]
    is_tight: bool

    @property
    def pad(self) -> float:
        """The room at either side of a cell."""
        return (0.4 if self.is_tight else 0.7) * self.height

    @property
    def pitch(self) -> float:
        """The distance from line to line."""
        return (1.4 if self.is_tight else PITCH) * self.height

    @property
    def gap(self) -> float:
        """The room below a row."""
        return (0.4 if self.is_tight else 0.6) * self.height


@dataclass(frozen=True)
class ReviewTable:
    """The table: the height of its lettering, its rows, and the note below them."""

    height: float
    rows: tuple[Part, ...]
    note: Part

    @property
    def depth(self) -> float:
        """Its least height."""
        return sum(depth for _, depth in (*self.rows, self.note))


Cells = tuple[str, ...]
ALL: tuple[Status, ...] = ("failed", "not checked", "passed")
"""In the order in which they keep their words; the last loses them first."""


def heights_of(lengths: Lengths) -> list[float]:
    """Return the heights of lettering to try, from the usual small one down."""
    small, least = STYLES[lengths].small, LEAST[lengths]
    return [small - (small - least) * n / (SIZES - 1) for n in range(SIZES)]


@dataclass(frozen=True)
class Listed:
    """What the table lists.

    Attributes:
        findings: a row each.
        where: by row, where its figure is drawn that the page does not draw.
    """

    findings: tuple[Finding, ...]
    where: Mapping[int, str]


def letter_table(
    listed: Listed, setting: TableSetting, lengths: Lengths, wide: float
) -> ReviewTable:
    """Letter a row for every finding, and a note on how to read the figures."""
    findings = listed.findings
    cells = [
        (
            str(number),
            " ".join((plain(finding.rule.words), listed.where.get(number, ""))).strip(),
            *_figures(finding, lengths),
            SHOWN[finding.status],
            plain(sourced(finding.source, finding.source_status)),
        )
        for number, finding in enumerate(findings, start=1)
    ]
    widths = _widths([HEADS, *cells], setting, wide)
    rows = [_row(HEADS, (), widths, setting)]
    for finding, texts in zip(findings, cells, strict=True):
        rows.append(_row(texts, tuple(_told(finding, setting)), widths, setting))
    step = "1/64 in" if lengths == "in" else "0.1 mm"
    words = ROUNDED.format(step)
    if listed.where:
        words = f"{words} {ON_SHEETS}"
    if "not checked" not in setting.tells:
        words = f"{ELSEWHERE} {words}"
    note: list[Ink] = []
    y = -0.4 * setting.height
    for line in wrap(words, setting.height, wide):
        y -= setting.pitch
        note.append(Words(layers.NOTES, (0.0, y), line, setting.height))
    return ReviewTable(setting.height, tuple(rows), (tuple(note), -y))


def _figures(finding: Finding, lengths: Lengths) -> tuple[str, str, str]:
    """Letter measured, limit and margin; a dash for what is not known."""
    measured, limit, margin = figures_of(finding, lengths)
    if finding.status == "passed" and measured is not None and limit is None:
        limit = "no limit"
    return measured or "-", limit or "-", margin or "-"


def _told(finding: Finding, setting: TableSetting) -> Iterator[str]:
    """Yield the paragraphs under a row: its words, and what would make it pass."""
    before = "TO FIND OUT: " if finding.status == "not checked" else ""
    if finding.status in setting.tells:
        yield plain(f"{before}{finding.says}")
    for place, mend in enumerate(finding.mends):
        yield plain(f"{'OR' if place else 'TO PASS'}: {mend}")


def _widths(
    cells: list[Cells], setting: TableSetting, wide: float
) -> tuple[float, ...]:
    """Return the widths of the columns; rule and source are broken to fit."""
    natural = [
        max(width_of(row[column], setting.height) for row in cells) + 2 * setting.pad
        for column in range(len(HEADS))
    ]
    natural[STATUS] += 2 * FRAME * setting.height
    room = wide - sum(natural) + natural[1] + natural[-1]
    rule = min(natural[1], max(RULE_SHARE * room, room - natural[-1]))
    return (natural[0], rule, *natural[2:-1], room - rule)


def _row(
    texts: Cells,
    told: tuple[str, ...],
    widths: tuple[float, ...],
    setting: TableSetting,
) -> Part:
    """Letter one row, and its paragraphs under it from the rule to the right edge."""
    height, pad, pitch = setting.height, setting.pad, setting.pitch
    ink: list[Ink] = []
    left, deepest, first = 0.0, 0, -(setting.gap + height)
    for column, (text, wide) in enumerate(zip(texts, widths, strict=True)):
        align, inset = ALIGNS[column], pad + FRAME * height * (column == STATUS)
        x = left + wide - inset if align == "right" else left + inset
        # Nothing is lost to the last bit of a sum.
        lines = wrap(text, height, wide - 2 * inset + 0.01 * height)
        for place, line in enumerate(lines):
            at = (x, first - place * pitch)
            ink.append(Words(layers.NOTES, at, line, height, align))
        left, deepest = left + wide, max(deepest, len(lines))
    under = first - deepest * pitch
    if texts[STATUS] == SHOWN["failed"]:
        frame, a = FRAME * height, sum(widths[:STATUS]) + pad
        b = a + 2 * frame + width_of(texts[STATUS], height)
        box = (a, first - frame, b, first + height + frame)
        ink.append(Stroke(layers.TABLES, ring_of(box), closed=True))
        under -= frame
    x = widths[0] + pad
    for line in (y for each in told for y in wrap(each, height, left - pad - x)):
        ink.append(Words(layers.NOTES, (x, under), line, height))
        under -= pitch
    return tuple(ink), setting.gap - under - pitch
