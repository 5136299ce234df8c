"""Fill in every title block, and letter the stamps that nobody may overlook.

In:  `Solution`.   Out: `TitleBlock`; words.
Frame: none.
"""

from __future__ import annotations

from shopdraw import __version__
from shopdraw.drawing.lettering import plain
from shopdraw.drawing.set import DrawnFrom
from shopdraw.drawing.sheets import TitleBlock, scale_name
from shopdraw.job.model import Job
from shopdraw.review.findings import count_not_checked
from shopdraw.solution import Solution


def stamps(solution: Solution) -> tuple[str, ...]:
    """Return the stamps: example figures, targets missed, failed, not checked."""
    said = []
    manual = solution.job.appliance.manual
    if manual is not None and manual.example:
        said.append("EXAMPLE FIGURES: NOT FOR CONSTRUCTION")
    missed = [target.name for target in solution.coursing.targets if not target.lands]
    if missed:
        said.append(plain(f"COURSES DO NOT LAND ON: {', '.join(missed).upper()}"))
    failed = sum(finding.status == "failed" for finding in solution.findings)
    if failed:
        said.append(f"{_items(failed)} FAILED: SEE FINDINGS")
    open_items = count_not_checked(solution.findings)
    if open_items:
        said.append(f"{_items(open_items)} NOT CHECKED: NO APPROVAL IS IMPLIED")
    return tuple(said)


def _items(count: int) -> str:
    return f"{count} ITEM{'' if count == 1 else 'S'}"


def page_size(solution: Solution) -> tuple[float, float]:
    """Return the width and height of a page that is printed beside the sheets."""
    short, long = solution.job.page
    return float(short), float(long)


PROGRAM = f"shopdraw {__version__}"


def drawn_from(job: Job) -> DrawnFrom:
    """Name the program, and the job file by its digest."""
    return DrawnFrom(PROGRAM, job.digest)


ISO_FIELDS = {
    "FOR": "LEGAL OWNER",
    "SHEET TITLE": "TITLE",
    "PROJECT": "SUPPLEMENTARY TITLE",
    "PROJECT NUMBER": "IDENTIFICATION NUMBER",
    "SUBMITTAL / SPEC SECTION": "TECHNICAL REFERENCE",
    "DRAWN / CHECKED": "CREATOR / APPROVAL PERSON",
    "DATE / REVISION": "DATE OF ISSUE / REVISION",
    "SHEET": "SHEET NUMBER / NUMBER OF SHEETS",
}
"""What ISO 7200 calls the fields of US practice (second-hand)."""


def picture_number(job: Job, before: int) -> str:
    """Return the number of the picture's sheet, after so many others."""
    return str(before + 1) if job.sheet.profile == "iso" else "A-901"


def title_block(
    solution: Solution, number: str, title: str, scales: tuple[float, ...]
) -> TitleBlock:
    """Fill in the title block of one sheet.

    Args:
        solution: for what it says of the job, what does not land, what failed.
        number: the sheet's, and how many there are.
        title: the sheet's.
        scales: of the views on it.
    """
    job = solution.job
    about, is_iso = job.job, job.sheet.profile == "iso"
    as_shown = [scale_name(x, job.scales) for x in sorted(set(scales))]
    measured = " ".join(
        x
        for x in (about.measured_by, about.measured_on and str(about.measured_on))
        if x
    )
    fields: tuple[tuple[str, str], ...] = (
        ("PROJECT", about.name),
        ("FOR", about.for_whom),
        ("SHEET TITLE", title),
        ("SCALE", as_shown[0] if len(as_shown) == 1 else "AS SHOWN"),
        ("PROJECT NUMBER", about.number),
        (
            "SUBMITTAL / SPEC SECTION",
            " / ".join(x for x in (about.submittal, about.spec_section) if x),
        ),
        (
            "DRAWN / CHECKED",
            " / ".join(x for x in (about.drawn_by, about.checked_by) if x),
        ),
        ("MEASURED", measured or "VERIFY IN FIELD"),
        (
            "DATE / REVISION",
            " / ".join(x for x in (str(about.date or ""), about.revision) if x),
        ),
        ("PROGRAM / JOB FILE", drawn_from(job).words),
        ("SHEET", number),
    )
    if is_iso:
        fields = (("DOCUMENT TYPE", "SHOP DRAWING"), *fields)
    return TitleBlock(
        fields=tuple(
            (ISO_FIELDS.get(name, name) if is_iso else name, plain(value))
            for name, value in fields
        ),
        stamps=stamps(solution),
        notes=(
            "Verify all dimensions in the field before cutting.",
            "The local code, the listing of any appliance and a licensed person "
            "decide; this drawing does not.",
        ),
        stamp_boxes=("CONTRACTOR'S REVIEW", "ARCHITECT'S REVIEW"),
    )
