"""The form of a finding.

In:  nothing.   Out: `Finding`.
Frame: the job's lengths.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Status = Literal["passed", "failed", "not checked"]


@dataclass(frozen=True)
class Finding:
    """One rule held against the job.

    Attributes:
        rule: what was asked, "hearth extension, front".
        status: "not checked" never reads as approval.
        measured, limit: lengths in the job's lengths; None where there is no figure.
        margin: measured less limit, the safe way positive; None where there is none.
        source: the section or document the limit comes from.
        source_status: how that text was read: "read in the source", "second-hand",
            "from memory", "common practice, no published source", "typed by the user".
        says: one sentence: from where to where it was measured, what is missing,
            what to do.
        pieces: IDs of the pieces that a failed bond rule names.
    """

    rule: str
    status: Status
    measured: Fraction | None
    limit: Fraction | None
    margin: Fraction | None
    source: str
    source_status: str
    says: str
    pieces: tuple[str, ...] = ()
