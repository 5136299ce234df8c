"""Say in plain words what in the panels of a face can't be built.

In:  `Job`, every key well formed.   Out: `Complaint`s; none where they can be built.
Frame: x from the left edge of the finished front, y up from the datum.

What stands over the opening is not known yet: an arch or soldiers in a panel's way are
found when the brick are laid.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from shopdraw.job.complaint import Complaint, build_out_of, said
from shopdraw.job.model import Job
from shopdraw.job.model_panel import PanelTable

NONE = Fraction(0)


def complaints_of_panels(job: Job) -> Iterator[Complaint]:
    """Complain of panels that leave the face, meet the opening, or meet one another."""
    names: set[str] = set()
    for place, panel in enumerate(job.panel, start=1):
        key = f"panel[{place}]"
        name = panel.name.strip().lower()
        if name in names:
            wanted = "is the name of another panel too; write another name"
            yield Complaint(f"{key}.name", wanted)
        names.add(name)
        yield from _size(job, key, panel)
        yield from _in_the_face(job, key, panel)
        yield from _clear_of_the_opening(job, key, panel)
        for number, other in enumerate(job.panel[: place - 1], start=1):
            yield from _apart(job, key, panel, (number, other))


def _border_depth(job: Job, panel: PanelTable) -> Fraction:
    """Return how deep a panel's border is: of a header along the edge a course."""
    return {
        "rowlock": job.rowlock_height,
        "header": job.brick.height,
        "none": NONE,
    }[panel.border]


def _size(job: Job, key: str, panel: PanelTable) -> Iterator[Complaint]:
    """Complain of a panel that has no room for its pattern within its border."""
    frame = NONE
    if panel.border != "none":
        frame = 2 * (_border_depth(job, panel) + job.joints.head.preferred)
    long, high = job.brick.length, job.brick.height
    least = (long, high if panel.pattern == "stack" else long)
    for name, size, room in zip(
        ("width", "height"), (panel.width, panel.height), least, strict=True
    ):
        if size < room + frame:
            within = " within its border" if frame else ""
            wanted = (
                f"has no room for {panel.pattern}{within}; write "
                f"{said(job, room + frame)} or more"
            )
            yield Complaint(f"{key}.{name}", wanted)


def _beside(job: Job) -> Fraction:
    """Return the least that is left for brick beside a panel, its joint included."""
    return job.bond.least_piece + job.joints.head.preferred


def _at_a_corner(job: Job) -> Fraction:
    """Return what a corner unit takes of the front: its long leg, and a joint."""
    corner = job.brick.corner
    if corner is None:
        return job.brick.length + job.joints.head.most
    thick = NONE if corner.measured == "outside" else job.brick.thickness
    return corner.long_leg + thick + job.joints.head.most


def _ends_of(job: Job) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    """Return x of the front's left end, the opening's edges, and its right end."""
    grow = build_out_of(job)
    face, opening = job.face, job.opening
    left = grow if face.left_return is not None else NONE
    right = grow if face.right_return is not None else NONE
    from_left = opening.from_left
    if from_left is None:
        from_left = (face.width - opening.width) / 2
    jamb = left + from_left
    return NONE, jamb, jamb + opening.width, left + face.width + right


def _in_the_face(job: Job, key: str, panel: PanelTable) -> Iterator[Complaint]:
    """Complain of a panel that leaves the face, or comes too near its edge."""
    width = _ends_of(job)[-1]
    for side, name, room in (
        ("left", "left", panel.left),
        ("right", "width", width - panel.right),
    ):
        has_return = getattr(job.face, f"{side}_return") is not None
        taken = _at_a_corner(job) if has_return else getattr(job.edges, side).width
        least = taken + _beside(job)
        if room >= least:
            continue
        where = f"leaves {said(job, room)} between it and the {side} edge of the face"
        if room < 0:
            where = f"leaves the face by {said(job, -room)} at its {side} edge"
        wanted = (
            f"{where}; there must be at least {said(job, least)} between the two, for "
            "brick and joints"
        )
        yield Complaint(f"{key}.{name}", wanted)
    if panel.bottom < 0:
        yield Complaint(f"{key}.bottom", "is below the datum; write 0 or more")
    if panel.top > job.face.height + job.joints.step / 2:
        wanted = (
            f"ends {said(job, panel.top)} above the datum, and the face "
            f"{said(job, job.face.height)}; write less"
        )
        yield Complaint(f"{key}.height", wanted)


def _clear_of_the_opening(job: Job, key: str, panel: PanelTable) -> Iterator[Complaint]:
    """Complain of a panel that overlaps the opening, or comes too near its jambs."""
    if panel.bottom >= job.opening.height:
        return
    _, left, right, _ = _ends_of(job)
    room = max(left - panel.right, panel.left - right)
    turns = job.opening.jamb_return is not None
    taken = _at_a_corner(job) if turns else job.edges.jambs.width
    least = taken + _beside(job)
    if room >= least:
        return
    if room < 0:
        wanted = (
            "overlaps the opening, whose head is "
            f"{said(job, job.opening.height)} above the datum; write that or more, or "
            "move the panel aside"
        )
    else:
        wanted = (
            f"leaves {said(job, room)} between the panel and the opening's jamb; there "
            f"must be at least {said(job, least)}, for brick and joints"
        )
    yield Complaint(f"{key}.bottom" if room < 0 else f"{key}.left", wanted)


def _apart(
    job: Job, key: str, panel: PanelTable, other: tuple[int, PanelTable]
) -> Iterator[Complaint]:
    """Complain of two panels that overlap, or that leave too little between them."""
    number, one = other
    up = max(panel.bottom - one.top, one.bottom - panel.top)
    across = max(panel.left - one.right, one.left - panel.right)
    least = _beside(job) + job.joints.head.preferred
    if up >= job.joints.bed.least or across >= least:
        return
    if up < 0 and across < 0:
        wanted = f"overlaps panel[{number}]; move one of the two"
    else:
        wanted = (
            f"leaves too little between it and panel[{number}]; there must be at least "
            f"{said(job, least)} beside it, or {said(job, job.joints.bed.least)} above "
            "or below it"
        )
    yield Complaint(f"{key}.left", wanted)
