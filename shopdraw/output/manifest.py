"""The manifest that a set carries: its files, and what they are drawn from.

In:  files by name, `DrawnFrom`.   Out: `Manifest`; its bytes, and back.
Frame: none.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from hashlib import sha256

from shopdraw.drawing.set import DrawnFrom

NAME = "set.json"


@dataclass(frozen=True)
class Manifest:
    """What a set is drawn from, and every file of it but the manifest.

    Attributes:
        drawn_from: which program and job file.
        files: pairs of a name and the digest of its bytes (SHA-256), by name.
    """

    drawn_from: DrawnFrom
    files: tuple[tuple[str, str], ...]

    def joined(self, files: tuple[tuple[str, str], ...]) -> Manifest:
        """Return a manifest with further files of the same set."""
        return Manifest(self.drawn_from, tuple(sorted((*self.files, *files))))


def digest_of(data: bytes) -> str:
    """Return what tells these bytes from any others."""
    return sha256(data).hexdigest()


def list_files(files: Mapping[str, bytes], drawn_from: DrawnFrom) -> Manifest:
    """Return the manifest of these files."""
    pairs = sorted((name, digest_of(data)) for name, data in files.items())
    return Manifest(drawn_from, tuple(pairs))


def write_manifest(manifest: Manifest) -> bytes:
    """Write a manifest as JSON."""
    drawn_from = asdict(manifest.drawn_from)
    if not manifest.drawn_from.photo:
        del drawn_from["photo"]
    record = {"drawn_from": drawn_from, "files": dict(manifest.files)}
    return (json.dumps(record, indent=1) + "\n").encode("ascii")


def read_manifest(data: bytes) -> Manifest | None:
    """Read a manifest; None where these bytes are none."""
    try:
        record = json.loads(data)
        drawn_from = DrawnFrom(**record["drawn_from"])
        files = tuple(record["files"].items())
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError):
        return None
    texts = (*asdict(drawn_from).values(), *(digest for _, digest in files))
    is_text = all(isinstance(text, str) for text in texts)
    return Manifest(drawn_from, files) if is_text else None
