"""Write the comparison of brick sizes and bonds, in words and tables, for a terminal.

In:  `Job`, `Alternative`s, ranked bond by bond.   Out: text.
Frame: lengths as the sheets print them.
"""

from __future__ import annotations

from itertools import groupby

from shopdraw.job.model import Job
from shopdraw.lengths import format_length
from shopdraw.quantities.comparing import Alternative
from shopdraw.views.words.report import Rows, columns, listed


def write_compared(job: Job, alternatives: tuple[Alternative, ...]) -> str:
    """Return the comparison of brick sizes and bonds, bond by bond, the best first."""
    lines = [f"Brick sizes and bonds for {job.job.name}."]
    lines.append(
        "Each is solved as the job would be drawn with it, and ranked among those of "
        "its own bond: another bond is another look, with its own rule for laps."
    )
    for bond, ranked in groupby(alternatives, lambda one: one.pattern):
        built = [one for one in ranked if not one.why_not]
        if built:
            own = ", the job's own" if bond == job.bond.pattern else ""
            lines += ["", f"In {bond} bond{own}, the best first:"]
            lines += columns(_compared(job, built), (0, 4, 5, 6, 7, 8, 9))
    refused = tuple(
        f"{one.size}, {one.pattern} bond: {one.why_not}"
        for one in alternatives
        if one.why_not
    )
    lines += ["", *listed("Cannot be built", refused)]
    return "\n".join(lines).rstrip() + "\n"


def _compared(job: Job, ranked: list[Alternative]) -> Rows:
    """Return the rows of one bond; the last column says what is worse about each."""
    rows: Rows = [
        ("", "size", "brick", "lands", "joint off by", "smallest", "cuts",
         "kinds", "to buy", "sawn off", "what is worse about it")
    ]  # fmt: skip
    for rank, one in enumerate(ranked, start=1):
        sides = (format_length(x, job.lengths) for x in (one.length, one.height))
        best = "best in this bond" if rank == 1 else "as good as the first"
        as_it_is = ("as the job is",) if one.is_own else ()
        rows.append(
            (
                str(rank),
                one.size,
                " x ".join(sides),
                "lands" if one.lands else "misses",
                format_length(one.departure, job.lengths),
                format_length(one.smallest, job.lengths),
                str(one.cuts),
                str(one.different_cuts),
                str(one.units),
                f"{float(one.sawn_off):.0%}",
                "; ".join((*as_it_is, *(one.worse or (best,)))),
            )
        )
    return rows
