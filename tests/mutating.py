"""Damage job files, bytes, lines and values, from a seed; and draw what is left."""

from __future__ import annotations

import random
import re
import tempfile
import time
from pathlib import Path

from click.testing import CliRunner

from shopdraw.cli import main

SLOW = 5.0
"""So many seconds of work are a hang."""

VALUES = (
    '""', '"0 in"', '"-1 in"', '"1e9 in"', '"999999 ft"', '"1/0 in"', '"1/32 in"',
    '"3 in in"', "0", "-1", "1e400", "nan", "inf", "true", "[]", "{}", '["1 in"]',
    '"x"', '"\\u0000"', '"\\u202e"', '"%%c"', '"{\\\\fX;}"', '"^J"', '"../.."',
    '"=1+1"', "2026-02-30", "2026-03-02", "1979-05-27T07:32:00Z", '"1 mm"', '"2000 mm"',
    '"26 1/4"', '"soldier"', '"top"', '"gap"', '"third"', '"jack arch"', '"ARCH Z"',
    '"' + "w" * 5000 + '"', "9" * 400, '"9"',
)  # fmt: skip
"""What a value is replaced with: nonsense, extremes, and what is right elsewhere."""


def damaged(text: str, chance: random.Random) -> bytes:
    """Return a job file's text with one to three things done to it."""
    data = text.encode()
    for _ in range(chance.randint(1, 3)):
        data = chance.choice((_bytes, _lines, _values, _values, _numbers))(data, chance)
    return data


def _bytes(data: bytes, chance: random.Random) -> bytes:
    """Change, drop or put in a few bytes anywhere."""
    at = chance.randrange(len(data) + 1)
    new = bytes(chance.randrange(256) for _ in range(chance.randint(0, 3)))
    return data[:at] + new + data[at + chance.randint(0, 3) :]


def _lines(data: bytes, chance: random.Random) -> bytes:
    """Drop a line, double it, or move it elsewhere."""
    lines = data.split(b"\n")
    line = lines[chance.randrange(len(lines))]
    done = chance.choice(("drop", "double", "move"))
    if done != "double":
        lines.remove(line)
    if done != "drop":
        lines.insert(chance.randrange(len(lines) + 1), line)
    return b"\n".join(lines)


def _values(data: bytes, chance: random.Random) -> bytes:
    """Put another value in a key's place."""
    places = list(re.finditer(rb"= *([^\n#]+)", data))
    if not places:
        return data
    start, end = chance.choice(places).span(1)
    return data[:start] + chance.choice(VALUES).encode() + data[end:]


def _numbers(data: bytes, chance: random.Random) -> bytes:
    """Put another number in a number's place."""
    places = list(re.finditer(rb"\d+", data))
    if not places:
        return data
    start, end = chance.choice(places).span()
    new = str(chance.choice((0, 1, 2, 3, 7, 11, 64, 1000, 10**6, 10**12)))
    return data[:start] + new.encode() + data[end:]


def broken(data: bytes, *command: str) -> tuple[int, str]:
    """Run a command on a damaged job file, in this process and a folder of its own.

    Args:
        data: the file's bytes.
        command: `check`, or `draw` and its options; a folder for sets is given.

    Returns:
        The exit code, and what is wrong with how it ended; nothing where it is right.
    """
    with tempfile.TemporaryDirectory() as folder:
        job, out = Path(folder) / "job.toml", Path(folder) / "out"
        job.write_bytes(data)
        draws = command[0] == "draw"
        words = [*command, str(job), *(("--out", str(out)) if draws else ())]
        began = time.process_time()
        done = CliRunner().invoke(main, words)
        took = time.process_time() - began
        there = {path.name for path in Path(folder).iterdir()}
        sets = [path.name for path in out.iterdir()] if out.exists() else []
        same = job.read_bytes() == data
    code = done.exit_code
    wrong = []
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        wrong.append(f"{type(done.exception).__name__}: {done.exception}")
    if took > SLOW:
        wrong.append(f"{took:.1f} s")
    if not same or there - {"job.toml", "out"} or set(sets) - {"job"}:
        wrong.append(f"files: {sorted(there)}, {sets}")
    if sets != (["job"] if draws and code < 2 else []):
        wrong.append(f"exit code {code}, sets {sets}")
    lines = done.stderr.splitlines()
    if code not in (0, 1, 2) or bool(lines) != (code == 2):
        wrong.append(f"exit code {code}, faults {lines}")
    if any(len(line) > 1_000 or not line.isprintable() for line in lines):
        wrong.append("a fault that is not one short line")
    return code, "; ".join(wrong)
