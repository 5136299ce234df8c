"""Damaged job files: drawn, or refused in words; never a traceback or a hang."""

from __future__ import annotations

import os
import random
from collections import Counter
from multiprocessing import Pool

from tests.bench.timing import JOBS, Row
from tests.mutating import broken, damaged

TRIES = 20_000
TEXTS = tuple(path.read_text("utf-8") for path in JOBS)
DRAW = ("draw", "--workers", "1", "--sheets", "story-pole")
"""All of a set is composed; what is the quickest to write of it is written."""


def attempt(number: int) -> tuple[int, str]:
    """Damage one job file and draw it; return the exit code and what is wrong."""
    data = damaged(TEXTS[number % len(TEXTS)], random.Random(number))
    return broken(data, *DRAW)


def measure(tries: int = TRIES, first: int = 0) -> list[Row]:
    """Damage job files; print what ends wrong, and return the counts."""
    codes: Counter[int] = Counter()
    wrong = 0
    # A process is not kept for long: a command's end leaves its rubbish uncollected.
    with Pool(len(os.sched_getaffinity(0)), maxtasksperchild=10) as pool:
        found = pool.imap(attempt, range(first, first + tries), chunksize=20)
        for number, (code, said) in enumerate(found, first):
            codes[code] += 1
            if said:
                wrong += 1
                print(f"try {number}: {said}", flush=True)
    ended = f"{codes[0] + codes[1]:,} drawn, {codes[2]:,} refused in words"
    return [
        Row(f"{tries:,} damaged job files", ended),
        Row(
            "  traceback, over 5 s, stray file, wrong exit code", str(wrong), asked="0"
        ),
    ]
