"""What is kept of lines, one file a view, and how lines differ from it, in words.

In:  lines by name, a folder.   Out: complaints; files, where they are to be written.
Frame: of `lines`.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from itertools import zip_longest
from pathlib import Path

from tests.goldens.lines import GAP

FOLDER = Path(__file__).resolve().parent
TOLD = 12
"""So many differences of one file are told; the rest are counted."""
Lines = Sequence[str]


def complaints(folder: Path, made: Mapping[str, Lines]) -> list[str]:
    """Return what is wrong with a folder's goldens: none there, stale, or different."""
    wrong = [
        f"{path}: nothing is drawn for it; pytest --update-goldens takes it away"
        for path in _stale(folder, made)
    ]
    for name, lines in made.items():
        path = folder / f"{name}.txt"
        if path.exists():
            kept = path.read_text("utf-8").splitlines()
            wrong += differences(f"{folder.name}/{name}", kept, lines)
        else:
            wrong.append(f"{path} is missing: pytest --update-goldens writes it")
    return wrong


def write(folder: Path, made: Mapping[str, Lines]) -> list[str]:
    """Write a folder's goldens that are not as made; return what was done."""
    folder.mkdir(exist_ok=True)
    done = []
    for path in _stale(folder, made):
        path.unlink()
        done.append(f"{folder.name}/{path.name}, taken away")
    for name, lines in made.items():
        path, text = folder / f"{name}.txt", "".join(f"{line}\n" for line in lines)
        if not path.exists() or path.read_text("utf-8") != text:
            path.write_text(text, "utf-8")
            done.append(f"{folder.name}/{path.name}")
    return done


def _stale(folder: Path, made: Mapping[str, Lines]) -> list[Path]:
    return [path for path in sorted(folder.glob("*.txt")) if path.stem not in made]


def differences(where: str, kept: Lines, made: Lines) -> list[str]:
    """Return how lines differ from those kept, each with what is likest to it."""
    missing = list((Counter(kept) - Counter(made)).elements())
    extra = list((Counter(made) - Counter(kept)).elements())
    told = []
    for line in missing:
        (other, *_) = (*get_close_matches(line, extra, n=1), "")
        if other:
            extra.remove(other)
            told.append(f"{where}: {_apart(line, other)}")
        else:
            told.append(f"{where}: {line}: expected, not found")
    told += [f"{where}: {line}: found, not expected" for line in extra]
    if not told and list(kept) != list(made):
        told = [f"{where}: the same lines in another order"]
    more = [f"{where}: and {len(told) - TOLD} more"] * (len(told) > TOLD)
    return [*told[:TOLD], *more]


def _apart(line: str, other: str) -> str:
    """Say in what two lines differ: point by point, where they have as many."""
    said = []
    heading = line.split(GAP)[:2]
    for a, b in zip_longest(line.split(GAP), other.split(GAP), fillvalue="nothing"):
        points, others = _points(a), _points(b)
        if a != b and points and len(points) == len(others):
            pairs = zip(points, others, strict=True)
            said += [f"{x} expected, {y} found" for x, y in pairs if x != y]
        elif a != b:
            heading = line.split(GAP)
            said.append(f"{a} expected, {b} found")
    return f"{GAP.join(heading)}: {'; '.join(said)}"


def _points(field: str) -> list[str]:
    return re.findall(r"\([^()]*\)", field)
