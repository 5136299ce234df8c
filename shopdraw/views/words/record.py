"""Turn a solution into plain records, for `solution.json` and `--json`.

In:  `Solution`.   Out: dicts, lists, numbers and text.
Frame: lengths as numbers in the job's lengths, on the developed plane; the exact
lengths are fractions, so a number here is the nearest floating point to one.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from fractions import Fraction
from typing import Any

from shopdraw.masonry.coursing.form import Coursing, WayOut
from shopdraw.masonry.marks.form import Spread, Variation
from shopdraw.masonry.wall.layout import Arch, Outline, Piece
from shopdraw.masonry.wall.surround import opening_ring
from shopdraw.quantities.comparing import Alternative
from shopdraw.review.findings import Finding
from shopdraw.solution import Solution
from shopdraw.views.parts.stamps import PROGRAM

Record = dict[str, Any]


def solution_record(solution: Solution) -> Record:
    """Return the whole solution as one record."""
    job, coursing, cut_plan = solution.job, solution.coursing, solution.cut_plan
    return {
        "drawn_from": {"program": PROGRAM, "job_file": job.digest},
        "job": {
            "name": job.job.name,
            "number": job.job.number,
            "revision": job.job.revision,
            "date": job.job.date.isoformat() if job.job.date else None,
            "lengths": job.lengths,
        },
        "coursing": _coursing(coursing, solution.ways_out),
        "variation": _variation(solution.variation, coursing),
        "rule_marks": [
            {"mark": x.mark, "off": _number(x.off), "moves": x.moves}
            for x in solution.rule_marks
        ],
        "layout": _layout(solution),
        "stops": [
            {"face": x.face, "course": x.course, "kind": x.kind, "x": _number(x.x)}
            for x in solution.layout.stops
        ],
        "cut_list": [
            {
                "mark": row.mark,
                "kind": row.kind,
                "length": _number(row.length),
                "height": _number(row.height),
                "count": row.count,
                "legs": [_number(leg) for leg in row.legs],
                "is_cut": row.is_cut,
                "is_trimmed": row.is_trimmed,
                "note": row.note,
            }
            for row in solution.cut_list
        ],
        "findings": [_finding(finding) for finding in solution.findings],
        "cut_plan": {
            "whole_units": cut_plan.whole_units,
            "least": cut_plan.least,
            "kerf": _number(cut_plan.kerf),
            "units": [
                {
                    "marks": list(unit.marks),
                    "count": unit.count,
                    "left": _number(unit.left),
                }
                for unit in cut_plan.units
            ],
            "stops": [
                {
                    "length": _number(stop.length),
                    "marks": list(stop.marks),
                    "cuts": stop.cuts,
                }
                for stop in cut_plan.stops
            ],
        },
        "schedule": [
            {
                "what": step.what,
                "day": step.day.isoformat() if step.day else None,
                "wait": step.wait,
                "source": step.source,
            }
            for step in solution.schedule
        ],
        "takeoff": [
            {
                "item": row.item,
                "net": _number(row.net),
                "order": _number(row.order),
                "measure": row.measure,
                "note": row.note,
            }
            for row in solution.takeoff.rows
        ],
    }


def record_text(solution: Solution) -> str:
    """Return the solution as JSON text, as it is printed and written."""
    return _text(solution_record(solution))


def remeasured_text(plan: Solution, after: Solution) -> str:
    """Return a re-measured solution as JSON, with how each course has changed."""
    changes = changes_record(plan.coursing, after.coursing)
    return _text({**solution_record(after), "changes": changes})


def compared_text(alternatives: tuple[Alternative, ...]) -> str:
    """Return the comparison of brick sizes and bonds as JSON."""
    return _text(compared_record(alternatives))


def _text(record: Record | list[Record]) -> str:
    return json.dumps(record, indent=1) + "\n"


def compared_record(alternatives: tuple[Alternative, ...]) -> list[Record]:
    """Return the comparison of brick sizes and bonds as records, the best first."""
    return [
        {
            "size": one.size,
            "bond": one.pattern,
            "length": _number(one.length),
            "height": _number(one.height),
            "why_not": one.why_not,
            "lands": one.lands,
            "missed": _number(one.missed),
            "departure": _number(one.departure),
            "smallest": _number(one.smallest),
            "cuts": one.cuts,
            "different_cuts": one.different_cuts,
            "units": one.units,
            "sawn_off": float(one.sawn_off),
        }
        for one in alternatives
    ]


def changes_record(plan: Coursing, coursing: Coursing) -> list[Record]:
    """Return how each course differs from the plan: the new figure less the planned."""
    return [
        {
            "course": change.course,
            "joint": _number(change.joint),
            "top": _number(change.top),
        }
        for change in coursing.changes_from(plan)
    ]


def _number(value: Fraction | None) -> float | int | None:
    """Return a whole number as an int, and any other number as the nearest float."""
    if value is None:
        return None
    return int(value) if value.denominator == 1 else float(value)


def _coursing(coursing: Coursing, ways_out: tuple[WayOut, ...]) -> Record:
    merit = coursing.merit
    return {
        "lands": coursing.lands,
        "targets": [
            {
                "name": target.name,
                "meets": target.meets,
                "wanted": _number(target.wanted),
                "got": _number(target.got),
                "miss": _number(target.miss),
                "tolerance": _number(target.tolerance),
            }
            for target in coursing.targets
        ],
        "courses": [
            {
                "number": course.number,
                "kind": course.kind,
                "bottom": _number(course.bottom),
                "top": _number(course.top),
                "bed_joint": _number(course.bed_joint),
                "is_laid": course.is_laid,
                "is_reckoned": course.is_reckoned,
            }
            for course in coursing.courses
        ],
        "joints": [_number(joint) for joint in coursing.joints],
        "order_of_merit": {
            "misses": [_number(miss) for miss in merit.misses],
            "jump": _number(merit.jump),
            "departure": _number(merit.departure),
            "narrow": merit.narrow,
            "changes": merit.changes,
            "bottom_departure": _number(merit.bottom_departure),
            "total_departure": _number(merit.total_departure),
        },
        "head": _number(coursing.head),
        "soldier_top": _number(coursing.soldier_top),
        "soldiers_cut": coursing.soldiers_cut,
        "reasons": list(coursing.reasons),
        "ways_out": [
            {
                "edits": [
                    {"key": key, "value": _number(value)} for key, value in way.edits
                ],
                "says": way.says,
                "cost": way.cost,
            }
            for way in ways_out
        ],
    }


def _variation(variation: Variation | None, coursing: Coursing) -> Record | None:
    if variation is None:
        return None
    return {
        "height": _spread(variation.height),
        "length": _spread(variation.length),
        "at_once": variation.at_once,
        "remeasure_at": list(variation.remeasure_at),
        "tight": list(variation.tight),
        "wander": [
            {"course": course.number, "two_deviations": wander}
            for course in coursing.courses
            if (wander := variation.wander_at(course.number)) is not None
        ],
    }


def _spread(spread: Spread | None) -> Record | None:
    if spread is None:
        return None
    return {
        "count": spread.count,
        "mean": _number(spread.mean),
        "least": _number(spread.least),
        "most": _number(spread.most),
        "deviation": spread.deviation,
    }


def _layout(solution: Solution) -> Record:
    surround, coursing = solution.surround, solution.coursing
    layout, top = solution.layout, max(course.top for course in coursing.courses)
    opening, built = surround.opening, surround.as_built
    return {
        "faces": [
            {
                "name": face.name,
                "outline": _points(
                    (
                        (face.left, Fraction(0)),
                        (face.right, Fraction(0)),
                        (face.right, high),
                        (face.left, high),
                    )
                ),
                "area": _number(
                    face.width * high
                    - (
                        (opening.brick_right - opening.brick_left) * coursing.head
                        if face.name == "front"
                        else 0
                    )
                ),
                "folds": [
                    _number(x)
                    for x in (*surround.folds, *surround.jamb_folds)
                    if x in (face.left, face.right)
                ],
            }
            for face, high in (
                *((face, top) for face in surround.faces),
                *((face, coursing.head) for face in surround.reveals),
            )
        ],
        "opening": {
            "left": _number(opening.brick_left),
            "right": _number(opening.brick_right),
            "bottom": 0,
            "top": _number(coursing.head),
            "outline": _points(
                opening_ring(surround, coursing.head, layout.arch, opening.beside)
            ),
        },
        "as_found": {
            "hearth": _points(built.hearth.points),
            "opening": _points(built.opening(built.lowest_head)),
            "ends": [_points(line) for line in built.ends],
        },
        "arch": None if layout.arch is None else _arch(layout.arch),
        "pieces": [_piece(piece) for piece in layout.pieces],
        "least_piece": _number(layout.least_piece),
        "least_lap": _number(layout.least_lap),
        "reasons": list(layout.reasons),
        "ways_out": list(layout.ways_out),
    }


def _arch(arch: Arch) -> Record:
    return {
        "kind": arch.kind,
        "span": _number(arch.span),
        "spring": _number(arch.spring),
        "rise": _number(arch.rise),
        "depth": _number(arch.depth),
        "radius": arch.radius,
        "skewback_deg": arch.skewback_deg,
        "centre": [_number(x) for x in arch.centre],
        "are_whole": arch.are_whole,
        "joints": [[joint.at_soffit, joint.at_back] for joint in arch.joints],
    }


def _points(
    points: Iterable[tuple[Fraction, Fraction]],
) -> list[list[float | int | None]]:
    return [[_number(x), _number(y)] for x, y in points]


def _piece(piece: Piece) -> Record:
    return {
        "id": piece.id,
        "mark": piece.mark,
        "kind": piece.kind,
        "course": piece.course,
        "place": piece.place,
        "outlines": [_outline(outline) for outline in piece.outlines],
        "length": _number(piece.length),
        "height": _number(piece.height),
        "legs": [_number(leg) for leg in piece.legs],
        "is_cut": piece.is_cut,
        "is_trimmed": piece.is_trimmed,
        "broken": list(piece.broken),
    }


def _outline(outline: Outline) -> Record:
    return {
        "face": outline.face,
        "points": _points(outline.points),
    }


def _finding(finding: Finding) -> Record:
    return {
        "rule": finding.rule.words,
        "status": finding.status,
        "measured": _number(finding.measured),
        "limit": _number(finding.limit),
        "margin": _number(finding.margin),
        "source": finding.source,
        "source_status": finding.source_status,
        "says": finding.says,
        "pieces": list(finding.pieces),
        "mends": list(finding.mends),
    }
