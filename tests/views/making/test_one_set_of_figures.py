"""A mark has one set of figures: in both tables, on ticket, labels and its detail."""

from __future__ import annotations

import csv
import io
import re
from collections import defaultdict

import pdfplumber

from shopdraw.masonry.wall.layout import CORNER_KINDS
from shopdraw.solution import Solution
from shopdraw.views.making.cut_pieces import set_out_details
from tests.demos import files_of, solution_of
from tests.longer import mostly_long_demos
from tests.views.making.rebuilt import printed_rings, read, strings_of

Figures = dict[str, set[tuple[str, ...]]]
"""Of each mark the sets of figures found: its length, or both legs, and its height."""


def in_tables(files: dict[str, bytes]) -> Figures:
    found: Figures = defaultdict(set)
    for row in csv.DictReader(io.StringIO(files["cut-list.csv"].decode())):
        sides = row["LEGS, OUTSIDE"] or row["LENGTH"]
        found[row["MARK"]].add((*sides.split(" x "), row["HEIGHT"]))
    for row in csv.DictReader(io.StringIO(files["fabrication.csv"].decode())):
        sides = row["LENGTH, OR LEGS OUTSIDE"]
        found[row["MARK"]].add((*sides.split(" x "), row["HEIGHT"]))
    return found


SIZE = re.compile(
    r"([\d '\"/.-]+(?: x [\d '\"/.-]+)?)(?: OUTSIDE)? x ([\d '\"/.-]+) ?(?:MM )?HIGH"
)


def on_pages(data: bytes) -> set[tuple[str, ...]]:
    """Return every finished size that is lettered on the pages of a file."""
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        # Words far apart stand in different cells.
        text = "\n".join(
            "  ".join(line["text"] for line in page.extract_words(
                x_tolerance=6, keep_blank_chars=True, use_text_flow=True))
            for page in pdf.pages
        )  # fmt: skip
    return {
        tuple(x.strip() for x in (*match[1].split(" x "), match[2]))
        for match in SIZE.finditer(text)
    }


def wrong_details(solution: Solution, found: Figures) -> list[str]:
    """Return the marks whose details read otherwise than the tables do."""
    lengths, wrong = solution.lengths, []
    scale = 4.0 if lengths == "in" else 5.0
    for details in set_out_details(solution, scale):
        for detail in details:
            row = detail.row
            ((*sides, high),) = found[row.mark]
            wanted = [read(x, lengths) for x in (*sides, high)]
            if detail.shapes or row.kind not in CORNER_KINDS:
                points = [p for x in printed_rings(detail.drawing, lengths) for p in x]
                got = [max(p[axis] for p in points) for axis in (0, 1)]
                if row.kind in CORNER_KINDS:
                    is_right = got[0] == float(sum(wanted[:2]))
                else:
                    is_right = got == [float(x) for x in wanted]
            elif row.is_made:
                strings = strings_of(detail.drawing, "x", lengths)
                outside = sorted(x.printed[-1] for x in strings[::2])
                is_right = outside == sorted(wanted[:2])
            else:
                ends = [
                    {x.printed[-1] for x in strings_of(detail.drawing, axis, lengths)}
                    for axis in "xy"
                ]
                is_right = ends == [{wanted[0]}, {wanted[1]}]
            wrong += [] if is_right else [row.mark]
    return wrong


# A hearth in brick, units mitred at a chamfer, voussoirs, half millimetres: each is
# lettered by a rule of its own.
@mostly_long_demos(
    "chamfered-breast", "jack-arch-parlour", "metric-slips", "raised-hearth"
)
def test_a_mark_has_one_set_of_figures(demo: str) -> None:
    solution, files = solution_of(demo), files_of(demo)
    found = in_tables(files)
    assert [mark for mark, sets in found.items() if len(sets) > 1] == []
    made = {each.row.mark for each in solution.fabrication}
    sizes = {size for mark in made for size in found[mark]}
    for file in ("ticket.pdf", "labels.pdf"):
        if file in files:
            assert on_pages(files[file]) == sizes, file
    assert wrong_details(solution, found) == []


def test_other_figures_are_noticed() -> None:
    """Rounded to whole millimetres in one place, as 102.5 was to 103."""
    solution, files = solution_of("metric-slips"), files_of("metric-slips")
    found = in_tables(files)
    assert found["B1"] == {("102.5", "65")}
    assert on_pages(files["ticket.pdf"]) == {("102.5", "65")}
    other = {mark: {("103", "65")} for mark in found}
    assert wrong_details(solution, other) == ["B1"]
    both = files["cut-list.csv"].replace(b"102.5", b"103")
    assert len(in_tables({**files, "cut-list.csv": both})["B1"]) == 2
