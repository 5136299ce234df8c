"""Every kind of damage to a sheet's DXF file, on every demo: what gets through.

Then a sheet of each demo with one of each kind of ink, harmed in every place there is.
"""

from __future__ import annotations

from shopdraw.drawing.set import DrawingSet
from shopdraw.output.write import make_dxf_files
from tests.bench.timing import JOBS, Row
from tests.demos import set_of
from tests.output.damages import DAMAGES, damaged
from tests.output.systematic import small, told


def measure() -> list[Row]:
    """Harm each demo in each way, on its first sheet that can be harmed so."""
    rows, done = [], set[str]()
    for job in JOBS:
        drawn = set_of(job.stem)
        files = make_dxf_files(drawn)
        said = {kind: damaged(kind, drawn, files) for kind in DAMAGES}
        none = [kind for kind, found in said.items() if found is None]
        through = [kind for kind, found in said.items() if found == ()]
        done |= said.keys() - set(none)
        for kind in through:
            print(f"{job.stem}: {kind} gets through", flush=True)
        print(f"{job.stem}: {len(through)} get through", flush=True)
        caught = len(DAMAGES) - len(none) - len(through)
        more = f"; {', '.join(none)}: nothing there to harm" if none else ""
        rows.append(in_every_place(job.stem, drawn))
        rows.append(
            Row(
                f"{job.stem}, {len(drawn.sheets)} sheets: caught{more}",
                f"{caught} of {len(DAMAGES) - len(none)}",
                asked="all",
            )
        )
    left = len(DAMAGES) - len(done)
    rows.append(Row(f"of {len(DAMAGES)} kinds tried on no demo", str(left), asked="0"))
    return rows


def in_every_place(demo: str, drawn: DrawingSet) -> Row:
    """Harm a small sheet of a demo in every place, one at a time."""
    count = through = 0
    for kind, what, said in told(small(drawn.sheets[1]), drawn.form):
        count += 1
        if not said:
            through += 1
            print(f"{demo}: {kind}, {what}, gets through", flush=True)
    caught = f"{count - through:,} of {count:,}"
    return Row(f"{demo}, a small sheet in every place: caught", caught, asked="all")
