"""Word the phrases that several drawings and tables share, each in one place.

In:  `Job`, a source and how it was read, an edge, names.   Out: words.
Frame: lengths as the sheets print them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise

from shopdraw.drawing.lettering import wrap
from shopdraw.job.model import EdgeTable, Job
from shopdraw.job.turning import SQUARE
from shopdraw.lengths import format_length
from shopdraw.masonry.wall.form import FaceName, Surround
from shopdraw.masonry.wall.layout import CORNER_KINDS

OUTSIDE_CORNER = "OUTSIDE CORNER"
"""What a fold of the developed plane is called wherever it is lettered."""
INSIDE_CORNER = "INSIDE CORNER"
"""What the corner of a return and an alcove is called."""
FACES: dict[FaceName, str] = {
    "front": "front",
    "left": "return",
    "right": "return",
    "left chamfer": "chamfer",
    "right chamfer": "chamfer",
    "left alcove": "alcove",
    "right alcove": "alcove",
    "left reveal": "jamb",
    "right reveal": "jamb",
}
"""What a face is called, on whichever side it is."""
EDGES: dict[str, str] = {
    "bare": "bare{}",
    "mortar": "mortar joint{}",
    "soft": "soft joint{}",
    "gap": "gap{}",
}
"""What lies at an edge of the brick; the braces take its width."""
TIED = re.compile(
    r" (?=\d+/\d)|(?<=\d) (?=IN\b|MM\b)|(?<=\bNOT) "
    r"|(?<=\w) (?=PASSED\b|FAILED\b|NOT CHECKED\b)"
)
"""The blank before a fraction, a unit or a verdict, or after a "not"."""
FILLS = {"mortar": "mortar", "soft": "sealant"}
"""What the bottom joint is filled with."""


def sourced(source: str, status: str) -> str:
    """Join a source and how it was read, and say nothing twice.

    `IRC 2015, R1001.7 (second-hand)`; but `common practice, no published source` alone
    where that is all there is to say.
    """
    if source in ("", status):
        return status
    return source if source.endswith(status) else f"{source} ({status})"


def edge_says(job: Job, edge: EdgeTable) -> str:
    """Say what lies at an edge and how wide it is: `soft joint 1/4"`."""
    width = f" {format_length(edge.width, job.lengths)}" if edge.width else ""
    return EDGES[edge.kind].format(width)


def edge_letters(job: Job, edge: EdgeTable, where: str) -> str:
    """Letter an edge beside its detail: `TOP: GAP 1/4", EDGE COVERED`."""
    return f"{where}: {edge_says(job, edge)}, edge {edge.shows}".upper()


def listed(names: Sequence[str]) -> str:
    """Write names as a list in a sentence: `8, 10 and 12`."""
    return " and ".join(x for x in (", ".join(names[:-1]), *names[-1:]) if x)


def courses_said(numbers: Sequence[int]) -> str:
    """Name courses: `COURSES 3 TO 7`, `ALTERNATE COURSES 3 TO 9`, `COURSES 3, 8`."""
    steps = {b - a for a, b in pairwise(numbers)}
    if len(numbers) > 2 and len(steps) == 1 and steps <= {1, 2}:
        alternate = "ALTERNATE " if steps == {2} else ""
        return f"{alternate}COURSES {numbers[0]} TO {numbers[-1]}"
    word = "COURSE" if len(numbers) == 1 else "COURSES"
    return f"{word} {', '.join(map(str, numbers))}"


def pieces_title(kinds: Iterable[str]) -> str:
    """Name what is drawn of pieces of some kinds, and nothing else."""
    shown = {*kinds}
    corners = shown & {*CORNER_KINDS}
    names = (
        ("CORNER UNITS", corners),
        ("CUT PIECES", shown - corners - {"keystone"}),
        ("KEYSTONE", shown & {"keystone"}),
    )
    return listed([name for name, is_there in names if is_there]).upper()


def corner_words(turn: float) -> str:
    """Letter an outside corner, and how much it turns where it is not square."""
    more = "" if turn == SQUARE else f", TURNS {turn:g} DEG"
    return f"{OUTSIDE_CORNER}{more}"


def in_lines(words: str, wide: float) -> list[str]:
    """Break a note into lines so many heights wide at most.

    None ends within a length, before a verdict, nor after a "not": a line that begins
    with "MEASURED" would say the opposite.
    """
    kept = TIED.sub("~", words)
    return [line.replace("~", " ") for line in wrap(kept, 1.0, wide)]


def splay_words(surround: Surround) -> str:
    """Letter by how many degrees the jambs splay."""
    return f"{float(surround.splay):g} DEG"
