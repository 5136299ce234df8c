"""Random arches of every kind, and what is held of each of them.

In:  a pick, which returns a whole number from a least to a most.   Out: `Job`, faults.
Frame: typed in inches and sixteenths; one in three is drawn in millimetres.

What is held is geometry that is stated here by hand, or measured by shapely, and never
taken from the modules that set an arch out.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from math import asin, dist, pi, sin
from typing import Any

import shapely
from shapely.affinity import rotate

from shopdraw.errors import ShopdrawError
from shopdraw.job.model import Job
from shopdraw.pipeline import solve
from shopdraw.review.findings import Finding
from shopdraw.solution import Solution
from tests.old_houses import BRICK, Pick, first_built, length, write_toml

KINDS = ("semicircular arch", "segmental arch", "jack arch")
Ring = tuple[tuple[float, float], ...]
PLAIN = """
[job]
name = "An arch"
[face]
width = "76 in"
height = "50 in"
measured_to = "finish"
[opening]
width = "36 in"
height = "16 1/2 in"
head = "semicircular arch"
[brick]
size = "modular"
[arch]
key = { width = "4 in" }
"""
"""A semicircular arch between free edges."""
AS_SAWN = 0.02
"""How far corners may be apart that a saw makes the same, in either unit."""
CLOSE = 2e-3
"""How far two figures may differ that floating point and the fine grid make."""


def make_arch(pick: Pick) -> tuple[str, Job]:
    """Make a job with an arch that can be built: what can't be is picked again."""
    return first_built(lambda: write_toml(tables_of(pick)))


def tables_of(pick: Pick) -> dict[str, Any]:
    """Return the tables of a job; most of them can be built."""
    names = sorted(BRICK)
    size = names[pick(0, len(names) - 1)]
    unit, course = BRICK[size]
    kind = KINDS[pick(0, len(KINDS) - 1)]
    span = pick(320, 760)
    leg = pick(200, 320)
    spring = pick(3, 8) * (course + 6) + pick(-2, 2)
    rise = {"semicircular arch": span // 2, "jack arch": 0}.get(
        kind, span // pick(4, 12)
    )
    arch = _arch(pick, kind, unit, course, rise)
    top = spring + rise + unit * 3 // 2 + pick(1, 4) * (course + 6)
    tables: dict[str, Any] = {
        "job": {"name": "An arch", "lengths": ("in", "in", "mm")[pick(0, 2)]},
        "face": {
            "width": length(2 * leg + span),
            "height": length(top),
            "measured_to": "finish",
        },
        "opening": {"head": kind, "width": length(span), "height": length(spring)},
        "arch": arch,
        "brick": {"size": size, "thickness": "5/8 in"},
        "hearth": {"front": "20 in", "left": "12 in", "right": "12 in"},
    }
    if pick(0, 1):
        tables["face"] |= {"left_return": "12 in", "right_return": "12 in"}
        tables["brick"]["at_fold"] = "mitre"
    return {name: table for name, table in tables.items() if table}


def _arch(pick: Pick, kind: str, unit: int, course: int, rise: int) -> dict[str, Any]:
    arch: dict[str, Any] = {"voussoirs": ("best", "whole", "cut")[pick(0, 2)]}
    if kind == "jack arch":
        arch["voussoirs"] = "best"
    if kind == "segmental arch":
        arch["rise"] = length(rise)
    if pick(0, 2) == 0:
        arch["made_of"] = "rowlocks"
        if kind != "jack arch":
            arch["rings"] = pick(1, 2)
    elif pick(0, 1):
        arch["depth"] = length(pick(unit // 2, unit))
    middle = pick(0, 3)
    if middle == 0:
        arch["number"] = "even"
    elif middle == 1:
        arch["key"] = {
            "width": length(pick(course, course * 2)),
            "rises": length(pick(0, 2) * 8),
            "projection": length(pick(0, 1) * 12),
        }
    return arch


def wrong_with(job: Job) -> list[str]:
    """Solve an arch, and return what is wrong with it; a refusal is wrong too."""
    try:
        solution = solve(job)
    except ShopdrawError as error:
        return [f"refused: {error}"]
    return [*held(solution)]


def held(solution: Solution) -> Iterator[str]:
    """Yield what is wrong with a solved arch."""
    yield from _stones(solution)
    yield from _as_asked(solution)
    yield from _area(solution)
    yield from _reported(solution)
    yield from _sawable(solution)
    yield from _run_out(solution)
    if not any(x.rule.key == "piece-shape" for x in _failed(solution)):
        yield from (f"course {x} is no mirror image" for x in unlike(solution))


def unlike(solution: Solution) -> list[int]:
    """Return the courses of the front that are not their own mirror image, as sawn."""
    centre = solution.surround.opening.centre
    rows: dict[int, set[Ring]] = defaultdict(set)
    turned: dict[int, set[Ring]] = defaultdict(set)
    for piece in solution.layout.pieces:
        for outline in piece.outlines:
            if outline.face == "front" and piece.kind not in ("voussoir", "keystone"):
                spots = [(float(x - centre), float(y)) for x, y in outline.points]
                rows[piece.course].add(_ring(spots))
                turned[piece.course].add(_ring([(-x, y) for x, y in spots]))
    return [
        course
        for course, rings in rows.items()
        if not all(_has(turned[course], ring) for ring in rings)
    ]


def _ring(spots: list[tuple[float, float]]) -> Ring:
    return tuple(sorted((round(x, 3), round(y, 3)) for x, y in spots))


def _has(rings: set[Ring], ring: Ring) -> bool:
    """Whether a ring is among others, each corner to a fraction of what is sawn."""
    return any(
        len(other) == len(ring)
        and all(dist(a, b) < AS_SAWN for a, b in zip(other, ring, strict=True))
        for other in rings
    )


def _sawable(solution: Solution) -> Iterator[str]:
    """Hold that what is too narrow or too small is named in a finding that failed.

    A piece is no wider than any rectangle that holds it: shapely finds the least one.
    """
    job = solution.job
    named = {name for finding in _failed(solution) for name in finding.pieces}
    least = float(job.bond.least_width)
    face = float(job.brick.length * job.brick.height * job.bond.least_area / 100)
    for piece in solution.layout.pieces:
        if piece.kind != "stretcher" or not piece.is_cut or piece.id in named:
            continue
        shape = shapely.Polygon(
            [(float(x), float(y)) for x, y in piece.outlines[0].points]
        )
        box = shapely.oriented_envelope(shape).exterior.coords
        wide = min(dist(box[0], box[1]), dist(box[1], box[2]))
        if wide < least - CLOSE:
            yield f"{piece.id} is {wide} wide, and passed"
        # The bond may lay its least piece, which is smaller in long brick.
        small = min(face, float(job.bond.least_piece * piece.height))
        if shape.area < small - CLOSE and not piece.outlines[0].is_rectangle:
            yield f"{piece.id} has a face of {shape.area}, and passed"


def _run_out(solution: Solution) -> Iterator[str]:
    """Hold that mortar longer than is allowed is a finding that failed."""
    most = float(solution.job.bond.longest_fillet)
    reported = any(x.rule.key == "fillet" for x in _failed(solution))
    for fillet in solution.layout.fillets:
        xs = [float(x) for x, _ in fillet.points]
        if max(xs) - min(xs) > most + CLOSE and not reported:
            yield f"{max(xs) - min(xs)} of mortar in course {fillet.course}, and passed"


def _failed(solution: Solution) -> list[Finding]:
    return [x for x in solution.findings if x.status == "failed"]


def _stones(solution: Solution) -> Iterator[str]:
    """Hold each voussoir: out of one brick, mirrored, off its neighbours."""
    job, arch = solution.job, solution.layout.arch
    assert arch is not None
    middle = float(arch.centre[0])
    shapes = [
        shapely.Polygon([(float(x) - middle, float(y)) for x, y in ring])
        for ring in arch.voussoirs
    ]
    centres = {(round(s.centroid.x, 2), round(s.centroid.y, 2)) for s in shapes}
    # An even number in two pieces each can't be bonded and its own mirror image.
    is_mirrored = job.arch.number == "odd" or len(shapes) == sum(arch.counts)
    for place, shape in enumerate(shapes):
        if not shape.is_valid:
            yield f"voussoir {place} crosses itself"
        x, y = shape.centroid.x, shape.centroid.y
        near = ((round(-x + dx, 2), round(y + dy, 2)) for dx, dy in NEAR)
        if is_mirrored and not centres.intersection(near):
            yield f"voussoir {place} has no mirror image"
        if place == arch.keystone:
            continue
        # Turned upright it must come out of one brick: shapely turns and measures it.
        upright = rotate(shape, arch.tilts[place], use_radians=True)
        left, low, right, high = upright.bounds
        sides = right - left, high - low
        brick = float(job.brick.height), float(job.brick.length)
        if any(a > b + CLOSE for a, b in zip(sides, brick, strict=True)):
            yield f"voussoir {place} is {sides}, more than a brick"
    least = float(min(job.joints.head.least, job.joints.bed.least - job.joints.step))
    tree = shapely.STRtree(shapes)
    for a, b in zip(*tree.query(shapes, "dwithin", least - CLOSE), strict=True):
        if a < b:
            yield f"voussoirs {a} and {b} are closer than the least joint"


NEAR = [(a / 100, b / 100) for a in (-1, 0, 1) for b in (-1, 0, 1)]


def _as_asked(solution: Solution) -> Iterator[str]:
    """Hold what the job asks for: the depth, the number, what is on the centre line."""
    job, arch = solution.job, solution.layout.arch
    assert arch is not None
    if job.arch.depth is not None and arch.depth != job.arch.depth:
        yield f"{arch.depth} deep, and {job.arch.depth} was asked for"
    if any(count % 2 != (job.arch.number == "odd") for count in arch.counts):
        yield f"{arch.counts} voussoirs, and {job.arch.number} was asked for"
    if (arch.keystone is not None) != (job.arch.key is not None):
        yield "a keystone that was not asked for, or none"
    tops = max(float(y) for ring in arch.voussoirs for _, y in ring)
    jack = arch.kind == "jack arch"
    wanted = float(arch.spring + arch.depth + (0 if jack else arch.rise))
    wanted += float(job.arch.key.rises) if job.arch.key else 0.0
    high = float(job.brick.height)
    if not wanted - 0.15 * high < tops < wanted + 0.01 * high:
        yield f"its crown is at {tops}, not at {wanted}"


def _area(solution: Solution) -> Iterator[str]:
    """Hold the opening's area against a rectangle and a part of a circle."""
    arch, opening = solution.layout.arch, solution.openings.finished
    assert arch is not None
    span, rise, spring = float(arch.span), float(arch.rise), float(arch.spring)
    segment = 0.0
    if arch.kind == "semicircular arch":
        segment = pi * span * span / 8
    elif rise:
        # The part of a circle over a chord: r^2 / 2 (a - sin a), a its whole angle.
        radius = (span * span / 4 + rise * rise) / (2 * rise)
        angle = 2 * asin(span / 2 / radius)
        segment = radius * radius / 2 * (angle - sin(angle))
    wanted = span * spring + segment
    if abs(float(opening.area) - wanted) > 0.001 * wanted:
        yield f"an area of {float(opening.area)}, and {wanted} by hand"


def _reported(solution: Solution) -> Iterator[str]:
    """Hold that a joint out of range, or a thin strip, is a finding that failed."""
    job, arch = solution.job, solution.layout.arch
    assert arch is not None
    failed = {x.rule.key for x in _failed(solution)}
    widths = [x for joint in arch.joints for x in (joint.at_soffit, joint.at_back)]
    if min(widths) < float(job.joints.head.least) - CLOSE and (
        "arch-joints-narrowest" not in failed
    ):
        yield f"a joint of {min(widths)} is not reported"
    if max(widths) > float(job.joints.head.most) + CLOSE and (
        "arch-joints-widest" not in failed
    ):
        yield f"a joint of {max(widths)} is not reported"
    yield from _left_over_crown(solution)
    if arch.is_cut_thin and "arch-crown" not in failed:
        yield f"a strip of {arch.strip} over the crown is not reported"


def _left_over_crown(solution: Solution) -> Iterator[str]:
    """Hold that as much is left over the crown as is said, if no key stands there."""
    arch, brick = solution.layout.arch, solution.coursing.courses
    assert arch is not None
    if arch.strip is None or solution.job.arch.key is not None:
        return
    crown = max(y for _, y in arch.keep_out)
    left = min(course.top for course in brick if course.top > crown) - crown
    if float(left) < float(arch.strip) - CLOSE:
        yield f"{float(left)} is left over the crown, and {arch.strip} was said"
