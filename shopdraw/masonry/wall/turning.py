"""Say which way up a piece may be laid: one rule for sheet, ticket and tables.

In:  `CutListRow`.   Out: words.
Frame: none.
"""

from __future__ import annotations

from shopdraw.masonry.wall.layout import CORNER_KINDS, CutListRow


def turning_of(row: CutListRow) -> str:
    """Return whether a mark may be turned, over or end for end.

    A whole flat brick may be laid any way: nothing is said of it.

    A corner unit that is sawn to shape is a left or a right one, whatever the units
    that it is sawn from may be. What is scribed on the wall has its hand from then on.
    """
    until = " until it is scribed" if row.is_scribed else ""
    if row.kind in CORNER_KINDS:
        if not row.hand:
            return f"may be turned over{until}: fits left and right corners"
        side = "left" if row.hand == "L" else "right"
        return f"do not turn over: long leg {side} of its corner"
    if not row.is_cut:
        return ""
    if row.shapes:
        return "do not turn end for end"
    return f"may be turned end for end{until}"
