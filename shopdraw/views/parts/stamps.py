"""Fill in every title block, and letter the stamps that nobody may overlook.

In:  `Solution`.   Out: `TitleBlock`; words.
Frame: none.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from shopdraw import __version__
from shopdraw.drawing.lettering import plain
from shopdraw.drawing.set import DrawnFrom
from shopdraw.drawing.sheets import scale_name
from shopdraw.drawing.title_block import Cell, Revised, TitleBlock
from shopdraw.job.model import Job
from shopdraw.review.findings import count_not_checked
from shopdraw.solution import Solution

SEE = "FAILED: SEE FINDINGS"
RECORD = "RECORD (AS BUILT)"
"""What a set is for once every course is laid and the last one measured."""


def stamps(solution: Solution) -> tuple[str, ...]:
    """Return the stamps: a record, example figures, misses, doubts, what is amiss."""
    said = [RECORD] if solution.coursing.is_as_built else []
    manual = solution.job.appliance.manual
    if manual is not None and manual.example:
        said.append("EXAMPLE FIGURES: NOT FOR CONSTRUCTION")
    missed = [target.name for target in solution.coursing.targets if not target.lands]
    if missed:
        said.append(plain(f"COURSES DO NOT LAND ON: {', '.join(missed).upper()}"))
    doubted = [str(laid.course) for laid in solution.job.laid if laid.doubted]
    if doubted:
        said.append(f"READING DOUBTED: COURSE {', '.join(doubted)}")
    failed = sum(finding.status == "failed" for finding in solution.findings)
    if failed:
        said.append(f"{_items(failed)} {SEE}")
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


LARGE = 2.6
"""How many times as high as general lettering a sheet's number is."""
PROGRAM = f"shopdraw {__version__}"


def drawn_from(job: Job) -> DrawnFrom:
    """Name the program, and the job file by its digest."""
    return DrawnFrom(PROGRAM, job.digest)


def picture_number(job: Job, before: int) -> str:
    """Return the number of the picture's sheet, after so many others."""
    return str(before + 1) if job.sheet.profile == "iso" else "A-901"


def sheet_numbers(job: Job, identity: str, place: int, count: int) -> tuple[str, str]:
    """Return a sheet's number, and which of how many it is, as the profile has them."""
    is_iso = job.sheet.profile == "iso"
    return identity, str(count) if is_iso else f"{place} OF {count}"


def scale_words(job: Job, scales: Iterable[float]) -> str:
    """Return the scale of a sheet, from those of its views."""
    named = [scale_name(x, job.scales) for x in sorted(set(scales))]
    if not named:
        return "NONE"
    return named[0] if len(named) == 1 else "AS SHOWN"


def title_block(
    solution: Solution,
    numbers: tuple[str, str],
    title: str,
    scale: str,
) -> TitleBlock:
    """Fill in the title block of one sheet.

    Args:
        solution: for what it says of the job, what does not land, what failed.
        numbers: the sheet's, and how many there are.
        title: the sheet's.
        scale: of what is on it, in words.
    """
    job = solution.job
    if solution.coursing.is_as_built:
        about = job.job.model_copy(update={"status": RECORD})
        job = job.model_copy(update={"job": about})
    by_profile = _iso_cells if job.sheet.profile == "iso" else _us_cells
    cells = by_profile(job, numbers, title, scale)
    return TitleBlock(
        cells=tuple(replace(cell, value=plain(cell.value)) for cell in cells),
        revisions=tuple(_revisions(job)),
        stamps=stamps(solution),
        notes=(
            looking_note(solution),
            "Verify all dimensions in the field before cutting.",
            "The local code, the listing of any appliance and a licensed person "
            "decide; this drawing does not.",
        ),
        stamp_boxes=("CONTRACTOR'S REVIEW", "ARCHITECT'S REVIEW"),
        seal="SEAL",
    )


def looking_note(solution: Solution) -> str:
    """Say from where the views are seen, and where they stand beside the front."""
    said = "Left and right are as you stand looking at the fireplace."
    if len(solution.surround.faces) > 1:
        said += " Returns are folded out, each on its own side;"
        return f"{said} plans lie below the front."
    return f"{said} Plans lie below the front."


def _us_cells(
    job: Job, numbers: tuple[str, str], title: str, scale: str
) -> Iterator[Cell]:
    """Yield the fields of US practice, the sheet's number last."""
    about = job.job
    yield Cell("FIRM", about.firm, "job.firm", is_wide=True, is_needed=True)
    yield Cell("LICENSE", about.licence, "job.licence")
    yield Cell("PERMIT NUMBER", about.permit, "job.permit")
    yield Cell("ARCHITECT", about.architect, "job.architect", is_wide=True)
    yield from _project(job, "PROJECT")
    yield Cell("PROJECT NUMBER", about.number, "job.number", is_needed=True)
    yield Cell("SUBMITTAL", about.submittal, "job.submittal")
    yield Cell("SPEC SECTION", about.spec_section, "job.spec_section")
    yield Cell("ISSUED FOR", about.status, "job.status")
    for name, value, key in (
        ("DEPARTMENT", about.department, "job.department"),
        ("QUESTIONS TO", about.reference, "job.reference"),
        ("KEY WORDS", about.key_words, "job.key_words"),
    ):
        yield Cell(name, value, key, is_asked=False)
    yield Cell("DRAWN", about.drawn_by, "job.drawn_by", is_needed=True)
    yield Cell("CHECKED", about.checked_by, "job.checked_by", is_needed=True)
    yield from _measured(job)
    yield Cell("DATE", str(about.date or ""), is_needed=True)
    yield Cell("REVISION", about.revision, "job.revision", is_needed=True)
    yield Cell("SCALE", scale, most=0, is_needed=True)
    yield Cell("THIRD ANGLE", "", symbol="third", is_needed=True)
    yield _source(job)
    yield Cell("SHEET TITLE", title, most=0, is_wide=True, is_needed=True)
    yield Cell("SHEET", numbers[0], most=0, size=LARGE, is_needed=True)
    yield Cell("SHEET OF SET", numbers[1], most=0, is_needed=True)


def _iso_cells(
    job: Job, numbers: tuple[str, str], title: str, scale: str
) -> Iterator[Cell]:
    """Yield what building practice asks for, then the fields of ISO 7200.

    Their names are second-hand; that the legal owner is whose drawing it is, and a
    technical reference whoever answers for it, is from memory.
    """
    about = job.job
    yield Cell("ARCHITECT", about.architect, "job.architect", is_wide=True)
    yield Cell("LICENCE", about.licence, "job.licence")
    yield Cell("PERMIT NUMBER", about.permit, "job.permit")
    yield Cell("SUBMITTAL", about.submittal, "job.submittal")
    yield Cell("SPEC SECTION", about.spec_section, "job.spec_section")
    yield from _measured(job)
    yield Cell("SCALE", scale, most=0, is_needed=True)
    yield Cell("FIRST ANGLE", "", symbol="first", is_needed=True)
    yield _source(job)
    yield Cell("DEPARTMENT", about.department, "job.department")
    yield Cell("LANGUAGE", "en")
    yield Cell("TECHNICAL REFERENCE", about.reference, "job.reference")
    yield Cell("CREATOR", about.drawn_by, "job.drawn_by", is_needed=True)
    yield Cell("APPROVER", about.checked_by, "job.checked_by", is_needed=True)
    yield Cell("LEGAL OWNER", about.firm, "job.firm", is_wide=True, is_needed=True)
    yield Cell("DOCUMENT TYPE", "Shop drawing", is_needed=True)
    yield Cell("STATUS", about.status, "job.status")
    yield Cell("TITLE", title, most=0, is_wide=True, is_needed=True)
    yield from _project(job, "SUPPLEMENTARY TITLE")
    yield Cell("KEY WORDS", about.key_words, "job.key_words", is_wide=True)
    yield Cell("IDENTIFICATION NUMBER", about.number, "job.number", is_needed=True)
    yield Cell("REVISION", about.revision, "job.revision", is_needed=True)
    yield Cell("DATE OF ISSUE", str(about.date or ""), is_needed=True)
    yield Cell("SHEET NUMBER", numbers[0], most=0, is_needed=True)
    yield Cell("SHEETS IN ALL", numbers[1], most=0, is_needed=True)


def _source(job: Job) -> Cell:
    """Return what the set was drawn by, and from which file."""
    words = drawn_from(job).words
    return Cell("PROGRAM / JOB FILE", words, most=0, size=1.0, is_needed=True)


def _project(job: Job, name: str) -> Iterator[Cell]:
    """Yield what it is, where, and whom it is for."""
    about = job.job
    yield Cell(name, about.name, "job.name", most=3, is_wide=True, is_needed=True)
    yield Cell("SITE", about.site, "job.site", most=3, is_wide=True)
    yield Cell("FOR", about.for_whom, "job.for_whom", is_wide=True)


def _measured(job: Job) -> Iterator[Cell]:
    """Yield who measured and when; where neither is known, that it is to be done."""
    about = job.job
    if not about.measured_by and not about.measured_on:
        yield Cell("MEASURED", "VERIFY IN FIELD", is_wide=True)
        return
    yield Cell("MEASURED BY", about.measured_by, "job.measured_by")
    yield Cell("MEASURED ON", str(about.measured_on or ""))


def _revisions(job: Job) -> Iterator[Revised]:
    """Yield the revisions, the newest first; the job's own where it has no row."""
    about = job.job
    if about.revision and about.revision not in {each.mark for each in job.revision}:
        yield Revised(plain(about.revision), str(about.date or ""), "", "")
    for each in reversed(job.revision):
        day = str(each.date or "")
        yield Revised(plain(each.mark), day, plain(each.by), plain(each.says))
