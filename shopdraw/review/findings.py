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
    "hearth-firebox", "hearth-strip", "hearth-bed", "hearth-bed-thin",
    "hearth-fire-floor", "hearth-fire-floor-high",
    "hearth-pieces", "hearth-left-out", "hearth-riser", "hearth-riser-bond",
    "hearth-support", "panel-pieces", "panel-left-out",
    "trim", "trim-distance", "trim-projection", "trim-over-brick",
    "throat", "lintel-bearing", "beside", "beside-rest",
    "facing-thickness", "facing-proud", "fittings", "fitting",
    "bottom-joint", "least-piece", "least-lap", "piece-shape", "fillet",
    "veneer-weight", "unit-size", "jamb-return", "jamb-splay", "corner-angle",
    "old-brick-lines",
    "arch-joints-narrowest", "arch-joints-widest", "arch-whole",
    "arch-depth", "arch-crown", "keystone", "corbel-step", "corbel-backing",
    "laid-joints-narrowest", "laid-joints-widest", "laid-levelled", "laid-doubted",
    "brick-in-joint", "brick-tolerance", "surface", "plane", "deflection", "heat",
    "head-support", "smoke", "lead", "asbestos", "stripping-behind",
    "stripping-paint", "stripping-board", "question",
]  # fmt: skip
"""The name that the program knows a rule by; people read the rule's words instead."""
KEYS: tuple[Key, ...] = get_args(Key)


@dataclass(frozen=True)
class Rule:
    """One thing that the review asks: its key, and the words that people read.

    Attributes:
        about: the part of the job that it asks about: the side ("left"), or the place
            in the job file of the trim, the fitting or the neighbour, counted from 1;
            empty where there is only one.

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
        margin: how much there is to spare, negative where the rule is not kept; None
            where one of the two figures is missing.
        source: the section or document that the limit comes from; empty where the
            status says all there is to say.
        source_status: how that text was read: "read in the source", "second-hand",
            "from memory", "common practice, no published source", "typed by the user",
            "not read" where there is no figure of it yet.
        says: from where to where it was measured, what is missing, what to do, in
            words for the sheets: they name no key of the job file.
        pieces: IDs of the pieces that a failed bond rule names.
        mends: where the rule failed, the smallest changes that would pass, each in
            words.
        keys: the keys of the job file to fill in for what `says` asks for, as they are
            written there; the terminal alone prints them.
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
    keys: tuple[str, ...] = ()


@dataclass(frozen=True)
class Limit:
    """A figure to hold a measurement against, or why there is none.

    Attributes:
        figure: in the job's lengths; None where there is none.
        source, source_status: as `Finding`.
        why: how the figure was arrived at; without a figure, what is missing and where
            to find it, or why nothing is asked.
        is_free: there is no figure because the rule sets no limit here.
        verdict: what a finding says first, `{}` standing for "meets" or
            "does not meet"; empty for the figures of a code.
        keys: the keys of the job file that would give what is missing.
    """

    figure: Fraction | None
    source: str
    source_status: str
    why: str = ""
    is_free: bool = False
    verdict: str = ""
    keys: tuple[str, ...] = ()


def hold(
    rule: Rule,
    measured: Fraction | None,
    limit: Limit,
    says: str,
    *,
    at: Literal["least", "most"] = "least",
    keys: tuple[str, ...] = (),
) -> Finding:
    """Hold a measurement against a limit.

    Args:
        rule: what is asked.
        measured: None where the job does not give it.
        limit: the figure, or why there is none.
        says: from where to where it was measured, or what is missing.
        at: whether the measurement must be at least or at most the figure; exactly
            the figure passes.
        keys: of the job file, to fill in for a measurement that is missing.
    """
    status: Status = "not checked"
    margin = None
    words = [says, limit.why]
    missing = keys if measured is None else ()
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
        keys=(*missing, *limit.keys) if status == "not checked" else (),
    )


def found(
    rule: Rule,
    status: Status,
    says: str,
    source: str,
    source_status: str,
    *keys: str,
) -> Finding:
    """Return a finding that no figure decides; keys are those to fill in."""
    return Finding(
        rule, status, None, None, None, source, source_status, says, keys=keys
    )


BEYOND: dict[Lengths, Fraction] = {"in": Fraction(1, 4), "mm": Fraction(6)}
"""How far a suggested change goes past the limit; common practice, no published source.
"""


def mended(
    finding: Finding, lengths: Lengths, *says: Callable[[Fraction], str]
) -> Finding:
    """Add to a finding that failed the changes that would make it pass.

    Args:
        finding: as held; one that did not fail by a figure is returned as it is.
        lengths: of the job.
        says: each puts one change into words; it is given how much the change must
            make good, `BEYOND` included.
    """
    if finding.status != "failed" or finding.margin is None or finding.margin >= 0:
        return finding
    short = -finding.margin + BEYOND[lengths]
    # Without this a change of 2 1/4 in for a margin of -2 in looks like bad arithmetic.
    spare = f", with {in_words(BEYOND[lengths], lengths)} to spare"
    return replace(finding, mends=tuple(say(short) + spare for say in says))


def count_not_checked(findings: tuple[Finding, ...]) -> int:
    """Count the findings that were not checked: every sheet says how many."""
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


def figures_of(
    finding: Finding, lengths: Lengths
) -> tuple[str | None, str | None, str | None]:
    """Letter measured, limit and margin, so that none looks better than it is.

    What is not known, or can't be held against a limit, is None.
    """
    measured, limit, margin = finding.measured, finding.limit, finding.margin
    if measured is None or limit is None or margin is None:
        known = [None if x is None else in_words(x, lengths) for x in (measured, limit)]
        return known[0], known[1], None
    # Where it is just met they are rounded alike.
    at_most, at_least = margin != measured - limit, margin != limit - measured
    return (
        in_words(measured, lengths, up=at_most),
        in_words(limit, lengths, up=at_least),
        in_words(margin, lengths),
    )
