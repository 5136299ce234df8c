"""Settle what becomes of the files in a folder when a new set takes its place.

In:  the folder, the names of its files, what is to be written.   Out: `Settled`.
Frame: none.

The manifest of the set before says which files that set wrote. They are taken away, so
that nobody sets out from the drawings of another day. Only where part of a set is drawn
may those of the same job file and program stay; they belong to the new set then. A file
that somebody has changed since is set aside under a name that says so. All other files
are somebody's own, and stay where they are.

A folder without a manifest may hold a set all the same. Its files are known by their
names and by what they say of themselves. Nobody can tell whether they were changed, so
they are taken away or written over as they stand.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from itertools import count
from pathlib import Path, PurePosixPath
from typing import Literal

from shopdraw.drawing.set import DrawnFrom
from shopdraw.output.manifest import NAME, digest_of, read_manifest

Fate = Literal["own", "joined", "aside", "away", "replaced"]

_NAMES = re.compile(
    r"(set|part)\.pdf|page\.html|surround\.dxf|solution\.json|schedule\.ics"
    r"|(story-pole|review|ticket|labels|arch-templates)\.pdf"
    r"|(quote|costs|bring|stripping|handover)\.pdf"
    r"|(cut-list|cut-plan|fabrication|saw-stops|takeoff)\.csv"
    r"|sheets/(\d\d|A-\d{3})-[a-z0-9-]+\.(dxf|png)"
)
"""What the files of a set are called, for a set that carries no manifest."""
_SAYS = re.compile(
    rb"shopdraw [\w.+-]+ / [0-9a-f]{12}"
    rb'|"program": "shopdraw |/Producer \(shopdraw |PRODID:-//shopdraw//'
)
"""What such a file says of itself: a sheet, the solution, pages, a calendar."""


@dataclass(frozen=True)
class Settled:
    """What becomes of the files that were there, by name.

    Attributes:
        own: somebody's own; they stay.
        joined: of the same job file and program, with their digests; they stay, and
            are the new set's.
        aside: pairs of a name and the new one: not as the set before wrote them.
        away: of the set before, and not of this one; they go.
        doubted: among somebody's own, those that may be of a set without manifest.
    """

    own: tuple[str, ...] = ()
    joined: tuple[tuple[str, str], ...] = ()
    aside: tuple[tuple[str, str], ...] = ()
    away: tuple[str, ...] = ()
    doubted: tuple[str, ...] = ()

    @property
    def taken_along(self) -> tuple[tuple[str, str], ...]:
        """Pairs of the name of what stays, and the name under which it does."""
        stays = (*self.own, *(name for name, _ in self.joined))
        return (*((name, name) for name in stays), *self.aside)


@dataclass(frozen=True)
class _SetBefore:
    """What is known of the set before: its manifest, or what stands for one."""

    drawn_from: DrawnFrom
    files: Mapping[str, str]
    doubted: frozenset[str] = frozenset()


def settle(
    folder: Path,
    names: Collection[str],
    written: Mapping[str, str],
    joined_by: DrawnFrom | None,
) -> Settled:
    """Settle what becomes of each file of a folder.

    Args:
        folder: the set's.
        names: of the files that lie in it now, at any depth.
        written: digests of what is to be written, by name.
        joined_by: what a part of a set is drawn from; None for a whole set.
    """
    files = [name for name in names if not (folder / name).is_symlink()]
    before = _set_before(folder, files, written)
    joins = before.drawn_from == joined_by and bool(before.drawn_from.job_file)
    fates: dict[Fate, list[str]] = {}
    for name in sorted(names):
        listed, new = before.files.get(name), written.get(name)
        fates.setdefault(_fate(folder / name, listed, new, joins), []).append(name)
    own = fates.get("own", ())
    # Some discs do not tell capitals apart.
    taken = {name.casefold() for name in (*names, *written)}
    return Settled(
        own=tuple(own),
        joined=tuple((name, before.files[name]) for name in fates.get("joined", ())),
        aside=tuple((name, renamed(name, taken)) for name in fates.get("aside", ())),
        away=tuple(fates.get("away", ())),
        doubted=tuple(name for name in own if name in before.doubted),
    )


def _fate(path: Path, listed: str | None, new: str | None, joins: bool) -> Fate:
    """Return what becomes of a file.

    Args:
        path: of the file.
        listed: its digest as the set before left it; None where it had no such file.
        new: the digest of what is to be written there; None for nothing.
        joins: whether what is the set's own may stay.
    """
    if path.is_symlink() or (listed is None and new is None):
        # A link gives way, and nothing is lost: what it leads to is elsewhere.
        return "own" if new is None else "replaced"
    digest = digest_of(path.read_bytes())
    if digest not in (listed, new):
        return "aside"
    if new is not None:
        return "replaced"
    return "joined" if joins else "away"


def _set_before(
    folder: Path, names: Collection[str], written: Mapping[str, str]
) -> _SetBefore:
    """Return the manifest of the set before, or what stands for one."""
    data = (folder / NAME).read_bytes() if NAME in names else b""
    if manifest := read_manifest(data):
        files = {**dict(manifest.files), NAME: digest_of(data)}
        return _SetBefore(manifest.drawn_from, files)
    may_be = {name: (folder / name).read_bytes() for name in names if _is_named(name)}
    known = {name for name, data in may_be.items() if _SAYS.search(data)}
    if known:
        # Where a set was, what it wrote under these names was always written over.
        known |= may_be.keys() & written.keys()
    listed = {name: digest_of(may_be[name]) for name in known}
    doubted = frozenset(may_be.keys() - known if known else ())
    return _SetBefore(DrawnFrom("", ""), listed, doubted)


def _is_named(name: str) -> bool:
    return _NAMES.fullmatch(name) is not None


def renamed(name: str, taken: Collection[str]) -> str:
    """Return a name that says that the file was changed, and is free."""
    path = PurePosixPath(name)
    for number in count(1):
        changed = f"{path.stem}.changed{'' if number == 1 else f'-{number}'}"
        other = str(path.with_name(f"{changed}{path.suffix}"))
        if other.casefold() not in taken:
            break
    return other
