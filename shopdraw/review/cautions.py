"""Choose the cautions that stand on the sheets.

In:  `Job`.   Out: `Caution`s.
Frame: none; words, in ASCII because they reach the DXF.
"""

from __future__ import annotations

from dataclasses import dataclass

from shopdraw.catalog.statuses import COMMON, READ, SECOND_HAND
from shopdraw.job.model import Job
from shopdraw.review.listed import LISTED


@dataclass(frozen=True)
class Caution:
    """One thing to be careful of.

    Attributes:
        topic: what it is about, in one or two words.
        words: what is printed.
        source, source_status: as a finding's.
        kinds: the kinds of appliance it is for; empty for all.
    """

    topic: str
    words: str
    source: str
    source_status: str
    kinds: tuple[str, ...] = ()


CAUTIONS: tuple[Caution, ...] = (
    Caution(
        "code",
        "Code figures here are a model code's: check the edition that your "
        "jurisdiction adopted. The local code, the listing of the appliance and "
        "licensed persons decide; this drawing approves nothing.",
        "",
        COMMON,
    ),
    Caution(
        "listed appliance",
        "The listing and the maker's instructions govern clearances, facing and "
        "hearth. Keep air openings, controls, access panels and the nameplate clear.",
        "IRC R1004.1 and R1004.2, for factory-built fireplaces",
        SECOND_HAND,
        LISTED,
    ),
    Caution(
        "gas",
        "Before any work, turn off the appliance shut-off valve and the pilot, and "
        "have a qualified person isolate the appliance.",
        "",
        COMMON,
        ("gas",),
    ),
    Caution(
        "firebox",
        "Adhere nothing inside the firebox. Where the lintel or the face has smoke "
        "stains, have their cause looked into before you cover them.",
        "",
        COMMON,
    ),
    Caution(
        "silica",
        "Cut brick wet, outdoors, with water fed to the blade. Whoever uses a handheld "
        "saw indoors needs a respirator (APF 10) even when cutting wet; outdoors, "
        "beyond 4 hours.",
        "29 CFR 1926.1153 Table 1, as California Title 8 section 1532.3 prints it",
        READ,
    ),
    Caution(
        "saw",
        "A masonry saw needs a semicircular guard over the blade.",
        "29 CFR 1926.702(i), OSHA letter of 20 July 2006",
        READ,
    ),
    Caution(
        "lead",
        "In a house built before 1978 the paint may hold lead: work that disturbs more "
        "than 6 sq ft of painted surface in a room falls under the renovation rule.",
        "US EPA, 40 CFR 745",
        READ,
    ),
    Caution(
        "asbestos",
        "Old board or paper at the fireplace, artificial ash and embers, textured "
        "paint and patching may hold asbestos: leave them alone until they have been "
        "inspected.",
        "US CPSC document 453",
        READ,
    ),
)
"""Every caution, in the order that it is printed."""


def choose_cautions(job: Job) -> tuple[Caution, ...]:
    """Return the cautions for the job's kind of fireplace; all if it is not given."""
    kind = job.appliance.kind
    return tuple(
        caution
        for caution in CAUTIONS
        if kind is None or not caution.kinds or kind in caution.kinds
    )
