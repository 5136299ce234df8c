"""Valid jobs, every table left out, ordinary or extreme: drawn, or refused on a key.

Each is read, solved, drawn on all its sheets and papers, written as every file of its
set, and each file is read back and proved. Nine of ten are of a small face (30 to 40 in
wide, 26 to 32 in high, or as high as a pattern panel on it asks), drawn in about five
seconds; each tenth is of any size, up to 100 by 80 in, which may take minutes. What did
not end in a drawing is printed as it ends, and so is what took long; after each fifty a
line says how far it is. The suite draws twelve small ones whole.
"""

from __future__ import annotations

import os
import traceback
from collections import Counter
from multiprocessing import Pool
from time import process_time
from typing import Literal

from shopdraw.errors import BadJob, NotDrawable, NotLaid, NotProved
from shopdraw.job.reading import parse_job
from shopdraw.output.write import make_files, prove_files
from shopdraw.pipeline import build, solve
from tests.bench.timing import Row
from tests.valid_jobs import valid_job

COUNT = 2_000
LARGE = 10
"""Each so many jobs one is of any size."""
LONG = 30.0
"""What took more seconds of processor time is told."""
TOLD = 50
"""After so many jobs a line says how far it is."""
Ended = Literal["drawn", "refused", "not drawable", "not proved", "broke"]


def attempt(seed: int, *, is_small: bool = False) -> tuple[Ended, str, float]:
    """Draw a job's set, and read it back; return how it ended, in words, how long."""
    started = process_time()
    ended: Ended = "drawn"
    said = ""
    try:
        drawn = build(solve(parse_job(valid_job(seed, is_small=is_small), "job.toml")))
        prove_files(drawn, make_files(drawn))
    except (BadJob, NotLaid) as error:
        ended, said = "refused", str(error)
    except NotDrawable as error:
        ended, said = "not drawable", str(error)
    except NotProved as error:
        ended, said = "not proved", str(error)
    except Exception:
        ended, said = "broke", traceback.format_exc()
    return ended, said, process_time() - started


def attempt_mixed(seed: int) -> tuple[int, Ended, str, float]:
    """Draw a job, a small one but for each tenth; return its seed, and how it ended."""
    return seed, *attempt(seed, is_small=seed % LARGE != 0)


def measure(count: int = COUNT, first: int = 0) -> list[Row]:
    """Draw so many jobs; print what ended wrong or took long, and return the counts."""
    counts: Counter[str] = Counter()
    times = []
    with Pool(len(os.sched_getaffinity(0)), maxtasksperchild=20) as pool:
        found = pool.imap_unordered(attempt_mixed, range(first, first + count))
        for done, (seed, ended, said, seconds) in enumerate(found, start=1):
            counts[ended] += 1
            if ended == "drawn":
                times.append(seconds)
            else:
                print(f"job {seed}: {ended}: {said}", flush=True)
            if seconds > LONG:
                print(f"job {seed}: {ended} in {seconds:.0f} s", flush=True)
            if done % TOLD == 0:
                print(f"{done:,} of {count:,}: {dict(counts)}", flush=True)
    times.sort()
    took = f"{times[len(times) // 2]:.1f}, {times[-1]:.1f} s" if times else "none"
    return [
        Row(f"{count:,} valid jobs: drawn and read back", f"{counts['drawn']:,}"),
        Row("  refused in words, on a key", f"{counts['refused']:,}"),
        Row("  refused in words where it was drawn", str(counts["not drawable"])),
        Row("  refused by a proof", str(counts["not proved"]), asked="0"),
        Row("  tracebacks", str(counts["broke"]), asked="0"),
        Row("  processor time, median and worst", took),
    ]
