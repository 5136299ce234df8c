"""Say in plain words what in a job can't be built.

In:  `Job`, every key well formed.   Out: `Complaint`s; none where it can be built.
Frame: the job's lengths, as the person measured.
"""

from __future__ import annotations

import difflib
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from shopdraw.catalog.rows import layer_namings, sheet_names
from shopdraw.job.complaint import (
    Complaint,
    grown_on,
    inches,
    legs_of,
    or_less,
    or_more,
    said,
)
from shopdraw.job.model import Job, JointTable
from shopdraw.job.model_bands import band_names, corbel_names
from shopdraw.job.model_brick import CornerTable
from shopdraw.job.model_face import SIDES
from shopdraw.job.model_head import STANDING
from shopdraw.job.sense_arch import complaints_of_arch
from shopdraw.job.sense_bands import complaints_of_bands
from shopdraw.job.sense_courses import complaints_of_sawn
from shopdraw.job.sense_existing import complaints_of_existing
from shopdraw.job.sense_found import complaints_of_found
from shopdraw.job.sense_hearth import complaints_of_hearth
from shopdraw.job.sense_labour import complaints_of_labour
from shopdraw.job.sense_laid import complaints_of_laid, complaints_of_sample
from shopdraw.job.sense_panels import complaints_of_panels
from shopdraw.job.sense_picture import complaints_of_picture
from shopdraw.job.sense_review import complaints_of_review
from shopdraw.job.sense_sizes import complaints_of_sizes
from shopdraw.job.splayed import turns_of

OWN_TARGETS = ("opening head", "spring line", "top", "soldier top", "arch back")


def complaints_of(job: Job, *, is_measured: bool = True) -> tuple[Complaint, ...]:
    """Return everything in a job that can't be built.

    Args:
        job: the job.
        is_measured: False where its sizes only stand in for missing ones; then
            nothing is said of what depends on them.
    """
    if not is_measured:
        return (*_joints(job), *_catalog(job))
    absurd = tuple(complaints_of_sizes(job))
    if absurd:
        # Nothing else is worth saying of a wall a mile long.
        return absurd
    return (
        *_joints(job),
        *_brick(job),
        *complaints_of_sawn(job),
        *_bond(job),
        *_opening(job),
        *_head(job),
        *complaints_of_found(job),
        *complaints_of_arch(job),
        *complaints_of_hearth(job),
        *complaints_of_panels(job),
        *complaints_of_laid(job),
        *complaints_of_review(job),
        *complaints_of_sample(job),
        *_targets(job),
        *complaints_of_existing(job),
        *complaints_of_bands(job),
        *_trim(job),
        *complaints_of_labour(job),
        *complaints_of_picture(job),
        *_catalog(job),
    )


def _joints(job: Job) -> Iterator[Complaint]:
    joints = job.joints
    for name, joint in (("bed", joints.bed), ("head", joints.head)):
        yield from _ordered(job, f"joints.{name}", joint)
    if joints.bottom.least > joints.bottom.most:
        yield _least_over_most(job, "joints.bottom", joints.bottom.most)
    for key, least, most in (
        ("joints.bed", joints.bed.least, joints.bed.most),
        ("joints.bottom", joints.bottom.least, joints.bottom.most),
    ):
        if least <= most and -(-least // joints.step) * joints.step > most:
            wanted = (
                "is a range without a whole multiple of joints.step, "
                f"{said(job, joints.step)}; write a wider range or a smaller step"
            )
            yield Complaint(key, wanted, f"{said(job, least)} to {said(job, most)}")
    if joints.depth > job.brick.thickness:
        wanted = (
            f"is deeper than the brick is thick, {said(job, job.brick.thickness)}; "
            "write a smaller depth"
        )
        deep = f"is less than the joints are deep, {said(job, joints.depth)}; "
        thin = Complaint("brick.thickness", f"{deep}write a smaller joints.depth")
        yield Complaint("joints.depth", wanted, otherwise=thin)
    if job.setting_bed.least > job.setting_bed.most:
        yield _least_over_most(job, "setting_bed", job.setting_bed.most)


def _least_over_most(job: Job, key: str, most: Fraction) -> Complaint:
    wanted = f"is more than {key}.most, {said(job, most)}; write a smaller least"
    return Complaint(f"{key}.least", wanted)


def _ordered(job: Job, key: str, joint: JointTable) -> Iterator[Complaint]:
    if joint.least > joint.most:
        yield _least_over_most(job, key, joint.most)
    elif not joint.least <= joint.preferred <= joint.most:
        wanted = (
            f"is outside the joint's own range; write a length from "
            f"{said(job, joint.least)} to {said(job, joint.most)}"
        )
        yield Complaint(f"{key}.preferred", wanted)


def _brick(job: Job) -> Iterator[Complaint]:
    brick = job.brick
    if brick.height > brick.length:
        sides = "; the height is the shorter side of the face"
        wanted = f"is more than the brick's length, {said(job, brick.length)}{sides}"
        less = f"is less than the brick's height, {said(job, brick.height)}{sides}"
        short = Complaint("brick.length", less)
        yield Complaint("brick.height", wanted, otherwise=short)
    for name, corner in (
        ("corner", brick.corner),
        ("soldier_corner", brick.soldier_corner),
    ):
        if corner is not None:
            yield from _corner(job, f"brick.{name}", corner)
    if brick.corner is None and turns_of(job):
        yield from _usual_corner(job)
    if brick.header is not None and brick.header >= brick.length:
        wanted = (
            f"is not shorter than the brick, {said(job, brick.length)}; write the "
            "width of the full brick, which a header shows"
        )
        less = f"is no longer than brick.header, {said(job, brick.header)}"
        yield Complaint("brick.header", wanted, "", Complaint("brick.length", less))
    if job.opening.head_courses > 1 and job.opening.head not in STANDING:
        wanted = (
            "is for soldiers and rowlocks only, and opening.head is "
            f'"{job.opening.head}"; leave it out'
        )
        yield Complaint("opening.head_courses", wanted)


def _bond(job: Job) -> Iterator[Complaint]:
    bond, length = job.bond, job.brick.length
    if bond.least_piece > length:
        wanted = f"is longer than a whole brick, {said(job, length)}"
        less = f"is less than bond.least_piece, {said(job, bond.least_piece)}"
        yield Complaint("bond.least_piece", wanted, "", Complaint("brick.length", less))
    if bond.least_width > job.brick.height:
        wanted = f"is more than a brick's height, {said(job, job.brick.height)}"
        less = f"is less than bond.least_width, {said(job, bond.least_width)}"
        yield Complaint("bond.least_width", wanted, "", Complaint("brick.height", less))
    most = (length - job.joints.head.least) / 2
    if bond.pattern != "stack" and bond.least_lap > most:
        wanted = f"is more than this brick can lap; write {or_less(job, most)}"
        yield Complaint("bond.least_lap", wanted)
    if bond.header_every != 6 and bond.pattern != "common":
        wanted = (
            'is for common bond only, and bond.pattern is "'
            f'{bond.pattern}"; leave it out'
        )
        yield Complaint("bond.header_every", wanted)


def _corner(job: Job, key: str, corner: CornerTable) -> Iterator[Complaint]:
    if corner.short_leg > corner.long_leg:
        wanted = (
            f"is longer than the long leg, {said(job, corner.long_leg)}; swap the two"
        )
        yield Complaint(f"{key}.short_leg", wanted)
    if corner.measured == "outside" and corner.short_leg <= job.brick.thickness:
        wanted = (
            "is no longer than the brick is thick, "
            f"{said(job, job.brick.thickness)}; measure the leg along the outside, or "
            'write measured = "inside"'
        )
        yield Complaint(f"{key}.short_leg", wanted)


def _usual_corner(job: Job) -> Iterator[Complaint]:
    """Complain of a brick too short for the corner units that go with its size."""
    thick, short = job.brick.thickness, job.header_length
    if short > thick:
        return
    legs = "write brick.corner with the legs of the units that you buy"
    wanted = (
        f"leaves corner units a short leg of {said(job, short)}, no longer than the "
        f"brick is thick, {said(job, thick)}; {legs}"
    )
    over = f"is no less than the short leg of corner units, {said(job, short)}; {legs}"
    thin = Complaint("brick.thickness", over)
    length = Complaint("brick.length", wanted, otherwise=thin)
    yield Complaint("brick.header", wanted, otherwise=length)


def _opening(job: Job) -> Iterator[Complaint]:
    face, opening, brick = job.face, job.opening, job.brick
    legs = legs_of(job)
    taken = job.edges.jambs.width
    if opening.width >= face.width:
        wanted = (
            f"is not narrower than the face, {said(job, face.width)}; there must be "
            "a leg of brick at each side"
        )
        yield Complaint("opening.width", wanted)
    else:
        for side, leg in zip(("left", "right"), legs, strict=True):
            edge = job.edges.left if side == "left" else job.edges.right
            has_return = face.left_return if side == "left" else face.right_return
            room = leg - taken - (edge.width if has_return is None else 0)
            least = inches(job, Fraction(1))
            if has_return is not None or opening.jamb_return is not None:
                # A corner unit must reach past the thickness of the brick it turns.
                least = max(least, brick.thickness + job.joints.step)
            if room < least:
                key = (
                    "opening.from_left"
                    if opening.from_left is not None
                    else "face.width"
                )
                left = f"{said(job, room)} of" if room > 0 else "no"
                wanted = (
                    f"leaves {left} brick at the {side} of the opening; it must leave "
                    f"at least {said(job, least, 'up')}"
                )
                yield Complaint(key, wanted)
    if opening.height + brick.height > face.height:
        wanted = (
            "leaves no room for a course over the opening; the face is "
            f"{said(job, face.height)} high and a brick {said(job, brick.height)}"
        )
        yield Complaint("opening.height", wanted)
    bottom = job.courses.bottom_height or brick.height
    lowest = bottom + job.joints.bottom.least + job.joints.bed.least
    if opening.height < lowest:
        wanted = (
            f"is lower than one course with its joints; write {or_more(job, lowest)}"
        )
        yield Complaint("opening.height", wanted)
    for name in SIDES:
        depth = face.left_return if name == "left" else face.right_return
        if depth is None or face.alcove(name) is not None:
            continue
        edge = job.edges.left if name == "left" else job.edges.right
        room = depth + grown_on(job, name)[-1] - edge.width
        if room <= brick.thickness:
            left = said(job, room) if room > 0 else "nothing"
            wanted = (
                f"leaves {left} for brick, and the front's brick alone is "
                f"{said(job, brick.thickness)} thick; write more, or leave the return "
                "out"
            )
            yield Complaint(f"face.{name}_return", wanted)


def _head(job: Job) -> Iterator[Complaint]:
    opening, face, brick = job.opening, job.face, job.brick
    if isinstance(opening.head_bears, Fraction):
        yield from _bearing(job, opening.head_bears)
    if opening.head not in STANDING or opening.head_over != "face":
        return
    if opening.height + job.head_height > face.height + job.joints.step:
        wanted = (
            f"leaves no room for {opening.head}s over the whole face; write "
            f"{or_more(job, opening.height + job.head_height)}"
        )
        yield Complaint("face.height", wanted)
    folds = face.left_return is not None or face.right_return is not None
    if folds and brick.soldier_corner is None and brick.at_fold is None:
        wanted = (
            f"is missing, and the {opening.head}s go round an outside corner; write "
            '"mitre", "butt" or "stop short", or give brick.soldier_corner'
        )
        yield Complaint("brick.at_fold", wanted)


def _bearing(job: Job, bears: Fraction) -> Iterator[Complaint]:
    opening, key = job.opening, "opening.head_bears"
    least = min(legs_of(job)) - job.edges.jambs.width
    if bears < 0:
        yield Complaint(key, "can't be negative")
    elif opening.head not in STANDING:
        wanted = (
            f'is for soldiers and rowlocks only, and opening.head is "{opening.head}"; '
            "leave it out"
        )
        yield Complaint(key, wanted)
    elif opening.head_over == "face":
        wanted = 'is for opening.head_over = "opening" only; leave it out'
        yield Complaint(key, wanted)
    elif bears >= least > 0:
        wanted = (
            f"reaches past the end of a leg, {said(job, least)} wide; write less, or "
            'opening.head_over = "face" for the whole face'
        )
        yield Complaint(key, wanted)


def _targets(job: Job) -> Iterator[Complaint]:
    names: set[str] = set()
    head, length = job.opening.height, job.head_height
    top = said(job, job.face.height)
    own = {*OWN_TARGETS, *band_names(job.band), *corbel_names(job.corbel)}
    own |= {name.lower() for panel in job.panel for name in panel.levels}
    for place, target in enumerate(job.target, start=1):
        key = f"target[{place}]"
        name = target.name.strip().lower()
        if name in OWN_TARGETS:
            yield Complaint(
                f"{key}.name", "is a target that every job has; write another name"
            )
        elif name in own:
            wanted = "is what a band, a corbel or a panel has; write another name"
            yield Complaint(f"{key}.name", wanted)
        elif name in names:
            wanted = "is the name of another target too; write another name"
            yield Complaint(f"{key}.name", wanted)
        names.add(name)
        if target.level > job.face.height:
            wanted = f"is above the top of the face; write at most {top}"
            yield Complaint(f"{key}.level", wanted)
        elif job.opening.head in STANDING and head < target.level < head + length:
            wanted = (
                f"lies within the {job.opening.head}s, which reach from "
                f"{said(job, head)} to {said(job, head + length)}; no bed joint can "
                "be there"
            )
            yield Complaint(f"{key}.level", wanted)


def _trim(job: Job) -> Iterator[Complaint]:
    """Complain of woodwork without a measure; it may hang past the face's ends.

    It is fixed on the finished face, so it never stands where brick is.
    """
    for place, trim in enumerate(job.trim, start=1):
        key = f"trim[{place}]"
        if trim.projection is None and not trim.steps:
            wanted = "is missing; write the projection, or steps"
            yield Complaint(f"{key}.projection", wanted)
        elif trim.projection is not None and trim.steps:
            wanted = "is given as well as steps; remove one of the two"
            yield Complaint(f"{key}.projection", wanted)
        reach = sum((step.reach for step in trim.steps), Fraction(0))
        if trim.steps and reach > max(trim.width, trim.height):
            wanted = (
                "are more than the whole piece, "
                f"{said(job, max(trim.width, trim.height))}; write smaller steps"
            )
            found = f"steps of {said(job, reach)} together"
            yield Complaint(f"{key}.steps", wanted, found)


def _catalog(job: Job) -> Iterator[Complaint]:
    sizes = sheet_names()
    for key, size in (("sheet.size", job.sheet.size), ("sheet.page", job.sheet.page)):
        if size not in sizes:
            wanted = f"is not a sheet in the catalog, which has {', '.join(sizes)}"
            yield Complaint(key, wanted)
    yield from _layers(job)


def _layers(job: Job) -> Iterator[Complaint]:
    """Complain of layer names that the catalog does not have, or that repeat."""
    namings = {naming.name: dict(naming.names) for naming in layer_namings()}
    if job.layer_naming not in ("NCS", *namings):
        wanted = f"is not a layer naming; the catalog has NCS, {', '.join(namings)}"
        yield Complaint("layers.names", wanted)
        return
    known = list(next(iter(namings.values())))
    for name in job.layers.own:
        if name not in known:
            near = difflib.get_close_matches(name, known, 1, 0.5)
            wanted = "is given to a layer that the drawings do not have"
            wanted += f" (nearest known layer: {near[0]})" if near else ""
            yield Complaint(f"layers.own.{name}", wanted)
    called = namings.get(job.layer_naming, {name: name for name in known})
    called = {**called, **job.layers.own}
    # Capitals do not tell layers apart.
    times = Counter(each.upper() for each in called.values())
    for name in job.layers.own:
        if times[called[name].upper()] > 1:
            wanted = "is the name of another layer too; each layer needs its own"
            yield Complaint(f"layers.own.{name}", wanted)
