"""Every kind of damage to a sheet's DXF file, on every demo: what gets through."""

from __future__ import annotations

from shopdraw.output.write import make_dxf_files
from tests.bench.timing import JOBS, Row
from tests.demos import set_of
from tests.output.damages import DAMAGES, damaged


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
