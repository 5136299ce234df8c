"""The form that everything drawn is handed on in, to whoever writes it.

In:  `Sheet`s, a bare `Drawing`, `Table`s, a record.   Out: `DrawingSet`.
Frame: each says its own.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.drawing.expected import Expected
from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.sheets import Sheet
from shopdraw.drawing.tables import Table
from shopdraw.lengths import Lengths


@dataclass(frozen=True)
class DrawingSet:
    """All that a writer or a test may want.

    Attributes:
        title: of the whole set, for the PDF.
        lengths: what its drawings are measured in.
        sheets: in order.
        picture: what it will look like; no figure is taken from it.
        poles: pages at full size, to be printed and cut out: a file of their own.
        expected: what each sheet's DXF must be found to hold, sheet by sheet.
        bare: the drawing without paper, at full size.
        bare_expected: what its DXF must be found to hold.
        tables: the ones that are files too, named for them.
        record_json: the solution, as text.
    """

    title: str
    lengths: Lengths
    sheets: tuple[Sheet, ...]
    picture: Sheet
    poles: tuple[Sheet, ...]
    expected: tuple[Expected, ...]
    bare: Drawing
    bare_expected: Expected
    tables: tuple[Table, ...]
    record_json: str
