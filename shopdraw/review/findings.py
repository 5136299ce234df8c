"""The form of a finding, and the one way a measurement is held against a limit.

In:  a measurement and its `Limit`.   Out: `Finding`.
Frame: the job's lengths.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, floor
from typing import Literal, get_args

from shopdraw.lengths import Lengths, mixed_number

Status = Literal["passed", "failed", "not checked"]
Key = Literal[
    "hearth-front", "hearth-side", "hearth-raised", "hearth-thickness",
    "trim", "trim-distance", "trim-projection",
    "throat", "lintel-bearing", "beside", "beside-rest",
    "facing-thickness", "facing-proud", "fittings", "fitting",
    "bottom-joint", "least-piece", "least-lap", "veneer-weight", "unit-size",
    "jamb-return", "arch-joints-narrowest", "arch-joints-widest", "arch-whole",
    "arch-depth", "laid-joints-narrowest", "laid-joints-widest", "laid-levelled",
    "brick-in-joint", "brick-tolerance", "surface", "plane", "deflection", "heat",
    "head-support", "smoke", "lead", "asbestos", "question",
]  # fmt: skip
"""What a finding is found by; its words are for people."""
KEYS: tuple[Key, ...] = get_args(Key)


@dataclass(frozen=True)
class Rule:
    """What is asked: its key, what of the job it is about, and how it is lettered.

    Attributes:
        about: the side ("left"), or the place in the job file of the trim, the fitting
            or the neighbour, from 1; empty where there is only one.

    Raises:
        KeyError: there is no such key.
    """

    key: Key
    words: str
    about: str | int = ""

    def __post_init__(self) -> None:
        if self.key not in KEYS:
            raise KeyError(self.key)


@dataclass(frozen=True)
class Finding:
    """One rule held against the job.

    Attributes:
        rule: what was asked.
        status: "not checked" never reads as approval.
        measured, limit: lengths in the job's lengths; None where there is no figure.
        margin: measured less limit, the safe way positive; None where there is none.
        source: the section or document the limit comes from.
        source_status: how that text was read: "read in the source", "second-hand",
            "from memory", "common practice, no published source", "typed by the user",
            "not read" where there is no figure of it yet.
        says: one sentence: from where to where it was measured, what is missing,
            what to do.
        pieces: IDs of the pieces that a failed bond rule names.
        mends: of what failed, the smallest changes that would pass, a sentence each.
    """

    rule: Rule
    status: Status
    measured: Fraction | None
    limit: Fraction | None
    margin: Fraction | None
    source: str
    source_status: str
    says: str
    pieces: tuple[str, ...] = ()
    mends: tuple[str, ...] = ()


@dataclass(frozen=True)
class Limit:
    """A figure to hold a measurement against, or why there is none.

    Attributes:
        figure: in the job's lengths; None where there is none.
        source, source_status: as `Finding`.
        why: how the figure comes about; without a figure, what is missing and where
            to find it, or why nothing is asked.
        is_free: there is no figure because the rule sets no limit here.
        verdict: what a finding says first, `{}` standing for "meets" or
            "does not meet"; empty for the figures of a code.
    """

    figure: Fraction | None
    source: str
    source_status: str
    why: str = ""
    is_free: bool = False
    verdict: str = ""


def hold(
    rule: Rule,
    measured: Fraction | None,
    limit: Limit,
    says: str,
    *,
    at: Literal["least", "most"] = "least",
) -> Finding:
    """Hold a measurement against a limit.

    Args:
        rule: what is asked.
        measured: None where the job lacks it.
        limit: the figure, or why there is none.
        says: from where to where it was measured, or what is missing.
        at: whether the measurement must be at least or at most the figure; exactly
            the figure passes.
    """
    status: Status = "not checked"
    margin = None
    words = [says, limit.why]
    if limit.is_free:
        status = "passed"
    elif limit.figure is not None and measured is not None:
        margin = measured - limit.figure
        margin = margin if at == "least" else -margin
        status = "passed" if margin >= 0 else "failed"
        words.insert(
            0, limit.verdict.format("meets" if margin >= 0 else "does not meet")
        )
    return Finding(
        rule=rule,
        status=status,
        measured=measured,
        limit=limit.figure,
        margin=margin,
        source=limit.source,
        source_status=limit.source_status,
        says="; ".join(word for word in words if word),
    )


def found(
    rule: Rule, status: Status, says: str, source: str, source_status: str
) -> Finding:
    """Return a finding that no figure decides."""
    return Finding(rule, status, None, None, None, source, source_status, says)


BEYOND: dict[Lengths, Fraction] = {"in": Fraction(1, 4), "mm": Fraction(6)}
"""A mend goes so far beyond the limit; common practice, no published source."""


def mended(
    finding: Finding, lengths: Lengths, *says: Callable[[Fraction], str]
) -> Finding:
    """Return what failed with the changes that would pass.

    Args:
        finding: as held; one that did not fail by a figure is returned as it is.
        lengths: of the job.
        says: each puts a change into words, given how much it takes, so much beyond.
    """
    if finding.status != "failed" or finding.margin is None or finding.margin >= 0:
        return finding
    short = -finding.margin + BEYOND[lengths]
    return replace(finding, mends=tuple(say(short) for say in says))


def count_not_checked(findings: tuple[Finding, ...]) -> int:
    """Count what the sheet must say was not checked."""
    return sum(finding.status == "not checked" for finding in findings)


def in_words(value: Fraction, lengths: Lengths, *, up: bool = False) -> str:
    """Write a length for a sentence: `20 7/8 in`, `377.5 mm`.

    Rounded down to 1/64 in or 0.1 mm (up for what must stay under a limit), so that
    a figure never reads as better than it is.
    """
    step = Fraction(1, 64) if lengths == "in" else Fraction(1, 10)
    count = ceil(value / step) if up else floor(value / step)
    sign = "-" if count < 0 else ""
    size = abs(count) * step
    number = mixed_number(size) if lengths == "in" else f"{float(size):.1f}"
    return f"{sign}{number.removesuffix('.0')} {lengths}"
