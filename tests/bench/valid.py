"""Valid jobs, every table left out, ordinary or extreme: drawn, or refused on a key.

The suite draws twelve whole.
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


def measure(count: int = COUNT, first: int = 0) -> list[Row]:
    """Draw so many jobs; print what ended wrong, and return the counts."""
    counts: Counter[str] = Counter()
    times = []
    with Pool(len(os.sched_getaffinity(0)), maxtasksperchild=20) as pool:
        found = pool.imap(attempt, range(first, first + count))
        for seed, (ended, said, seconds) in enumerate(found, first):
            counts[ended] += 1
            if ended == "drawn":
                times.append(seconds)
            elif ended != "refused":
                print(f"job {seed}: {ended}: {said}", flush=True)
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
