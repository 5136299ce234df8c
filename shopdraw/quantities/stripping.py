"""Reckon what comes off: its volume, and its weight for the skip.

In:  `Job`.   Out: `Stripped`, one for each thing that comes off.
Frame: areas in sq ft or m2, volumes in cu ft or m3, weights in lb or kg.

Nothing is taken from memory: without a density, given or read, there is no weight.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from shopdraw.catalog.weights import Weight, weight_of
from shopdraw.job.model import Job
from shopdraw.job.model_stripping import OldWorkTable
from shopdraw.lengths import Lengths
from shopdraw.quantities.measures import MEASURES
from shopdraw.quantities.money import exactly, to_cent

WEIGHED: dict[Lengths, tuple[str, str, Fraction]] = {
    "in": ("cu ft", "lb", Fraction(12)), "mm": ("m3", "kg", Fraction(1000)),
}  # fmt: skip
"""What volumes and weights are given in, and how many lengths of thickness make one
length of the area's measure."""
PER_CUBIC: dict[Lengths, Fraction] = {
    "in": Fraction(1), "mm": Fraction("0.45359237") / Fraction("0.3048") ** 3,
}  # fmt: skip
"""What a pound to the cubic foot is: a pound is 0.45359237 kg, a foot 0.3048 m."""


@dataclass(frozen=True)
class Stripped:
    """One thing that comes off.

    Attributes:
        what: it is called.
        area: None where nobody gave it.
        volume: as it stands on the wall, to the hundredth, as it is printed; None where
            area or thickness is not known.
        least, most: its weight, whole; None where there is no volume, or no density.
        why: where the density comes from, or what is missing.
    """

    what: str
    area: Fraction | None
    volume: Fraction | None
    least: Fraction | None
    most: Fraction | None
    why: str


@dataclass(frozen=True)
class Skip:
    """All that comes off together; each None while a part of it is not known."""

    volume: Fraction | None
    least: Fraction | None
    most: Fraction | None


def reckon_stripping(job: Job) -> tuple[Stripped, ...]:
    """Return what comes off, in the job file's order."""
    old = job.stripping.old if job.stripping is not None else ()
    return tuple(_stripped(job, each) for each in old)


def area_to_strip(job: Job) -> Fraction:
    """Return the area of all that comes off, as far as it is given."""
    areas = (x.area for x in reckon_stripping(job))
    return sum((area for area in areas if area is not None), Fraction(0))


def skip_of(stripped: tuple[Stripped, ...]) -> Skip:
    """Add up what goes into the skip; paint is dust, and does not count."""
    counted = [x for x in stripped if x.why != DUST]

    def total(values: list[Fraction | None]) -> Fraction | None:
        if not values or any(x is None for x in values):
            return None
        return sum((x for x in values if x is not None), Fraction(0))

    return Skip(
        total([x.volume for x in counted]),
        total([x.least for x in counted]),
        total([x.most for x in counted]),
    )


DUST = "paint is no volume: its dust is what to keep in hand"


def _stripped(job: Job, old: OldWorkTable) -> Stripped:
    area = None if old.area is None else exactly(old.area)
    if old.kind == "paint":
        return Stripped(old.called, area, None, None, None, DUST)
    if area is None or old.thickness is None:
        missing = "area" if area is None else "thickness"
        why = f"its {missing} was not given"
        return Stripped(old.called, area, None, None, None, why)
    exact = area * old.thickness / WEIGHED[job.lengths][2]
    volume = to_cent(exact)
    measure, weight, _ = WEIGHED[job.lengths]
    if old.density is not None:
        by = exactly(old.density)
        why = f"{old.density:g} {weight} to a {measure}, as typed"
        weighs = _whole(exact * by)
        return Stripped(old.called, area, volume, weighs, weighs, why)
    read = weight_of(old.kind)
    if read is None:
        why = f"what a {measure} weighs was not given, and none was read"
        return Stripped(old.called, area, volume, None, None, why)
    least, most = (
        _whole(exact * x * PER_CUBIC[job.lengths]) for x in (read.least, read.most)
    )
    return Stripped(old.called, area, volume, least, most, _read(job, read))


def _whole(weight: Fraction) -> Fraction:
    return Fraction(round(weight))


def _read(job: Job, read: Weight) -> str:
    measure, weight, _ = WEIGHED[job.lengths]
    each = sorted({round(x * PER_CUBIC[job.lengths]) for x in (read.least, read.most)})
    span = " to ".join(str(x) for x in each)
    return f"{span} {weight} to a {measure}: {read.source} ({read.status})"


def area_measure(job: Job) -> str:
    """Return what areas are given in."""
    return MEASURES[job.lengths].area
