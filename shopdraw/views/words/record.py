"""Turn a solution into plain records, for `solution.json` and `--json`.

In:  `Solution`.   Out: dicts, lists, numbers and text, as `record_form` has them.
Frame: on the developed plane; lengths are the nearest floating point to the exact ones.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from shopdraw.job.model import Job
from shopdraw.masonry.coursing.form import Coursing, Merit, WayOut
from shopdraw.masonry.marks.form import Spread, Variation
from shopdraw.masonry.wall.form import NONE, Face
from shopdraw.masonry.wall.layout import CutListRow, Outline, Piece
from shopdraw.masonry.wall.surround import opening_ring
from shopdraw.quantities.comparing import Alternative
from shopdraw.quantities.cutting import CutPlan
from shopdraw.review.findings import Finding
from shopdraw.solution import Solution
from shopdraw.views.parts.stamps import drawn_from
from shopdraw.views.words.numbers import (
    arch_record,
    changes_record,
    day_of,
    estimate_record,
    known_joint,
    number,
    numbers,
    old_line_records,
    target_record,
)
from shopdraw.views.words.patterns import hearth_record, panel_record

if TYPE_CHECKING:
    from shopdraw.views.words import (
        record_coursing,
        record_form,
        record_making,
        record_wall,
    )


def record_text(solution: Solution) -> str:
    """Return the solution as the JSON text that is printed and written."""
    return _text(solution_record(solution))


def remeasured_text(plan: Solution, after: Solution) -> str:
    """Return a solution as JSON, with what the courses laid change."""
    record = solution_record(after)
    record["changes"] = changes_record(plan.coursing.courses, after.coursing)
    return _text(record)


def compared_text(alternatives: tuple[Alternative, ...]) -> str:
    """Return brick sizes and bonds as JSON."""
    return _text(compared_record(alternatives))


def _text(
    record: record_form.SolutionRecord | list[record_making.AlternativeRecord],
) -> str:
    return json.dumps(record, indent=1) + "\n"


def solution_record(solution: Solution) -> record_form.SolutionRecord:
    """Return everything that was solved as one record."""
    origin = drawn_from(solution.job)
    record: record_form.SolutionRecord = {
        "drawn_from": {"program": origin.program, "job_file": origin.job_file},
        "job": _job(solution.job),
        "coursing": _coursing(solution.coursing, solution.ways_out),
        "variation": _variation(solution.variation, solution.coursing),
        "rule_marks": [
            {"mark": x.mark, "off": number(x.off), "moves": x.moves}
            for x in solution.rule_marks
        ],
        "layout": _layout(solution),
        "hearth": hearth_record(solution.hearth, _piece, _outline),
        "stops": [
            {"face": x.face, "course": x.course, "kind": x.kind, "x": number(x.x)}
            for x in solution.layout.stops
        ],
        "used": {
            "flats": solution.job.used.flats,
            "corners": solution.job.used.corners,
        },
        "cut_list": [_cut_list_row(row) for row in solution.cut_list],
        "findings": [_finding(finding) for finding in solution.findings],
        "cut_plan": _cut_plan(solution.cut_plan),
        "schedule": [
            {"what": x.what, "day": day_of(x.day), "wait": x.wait, "source": x.status}
            for x in solution.schedule
        ],
        "takeoff": [
            {
                "item": row.item,
                "laid": row.laid,
                "net": number(row.net),
                "order": number(row.order),
                "measure": row.measure,
                "note": row.note,
            }
            for row in solution.takeoff.rows
        ],
    }
    if solution.job.labour is not None:
        record["estimate"] = estimate_record(solution.estimate)
    return record


def compared_record(
    alternatives: tuple[Alternative, ...],
) -> list[record_making.AlternativeRecord]:
    """Return brick sizes and bonds, bond by bond, the best first."""
    return [
        {
            "size": one.size,
            "bond": one.pattern,
            "length": number(one.length),
            "height": number(one.height),
            "is_own": one.is_own,
            "why_not": one.why_not,
            "lands": one.lands,
            "missed": number(one.missed),
            "broken": one.broken,
            "departure": number(one.departure),
            "smallest": number(one.smallest),
            "cuts": one.cuts,
            "different_cuts": one.different_cuts,
            "units": one.units,
            "sawn_off": float(one.sawn_off),
            "worse": list(one.worse),
        }
        for one in alternatives
    ]


def _points(points: Iterable[tuple[Fraction, Fraction]]) -> list[record_wall.Point]:
    return [(number(x), number(y)) for x, y in points]


def _job(job: Job) -> record_form.JobRecord:
    return {
        "name": job.job.name,
        "number": job.job.number,
        "revision": job.job.revision,
        "date": day_of(job.job.date),
        "lengths": job.lengths,
    }


def _coursing(
    coursing: Coursing, ways_out: tuple[WayOut, ...]
) -> record_coursing.CoursingRecord:
    return {
        "lands": coursing.lands,
        "targets": [target_record(target) for target in coursing.targets],
        "old_lines": [*old_line_records(coursing)],
        "is_as_built": coursing.is_as_built,
        "off_plan": changes_record(coursing.planned, coursing),
        "courses": [
            {
                "number": course.number,
                "kind": course.kind,
                "bottom": number(course.bottom),
                "top": number(course.top),
                "bed_joint": known_joint(course),
                "is_laid": course.is_laid,
                "is_reckoned": course.is_reckoned,
                "band": course.band,
                "projection": number(course.projection),
            }
            for course in coursing.courses
        ],
        "joints": [
            *(known_joint(course) for course in coursing.courses),
            *numbers(coursing.joints[len(coursing.courses) :]),
        ],
        "order_of_merit": _order_of_merit(coursing.merit),
        "head": number(coursing.head),
        "soldier_top": number(coursing.soldier_top),
        "soldiers_cut": coursing.soldiers_cut,
        "reasons": list(coursing.reasons),
        "ways_out": [_way_out(way) for way in ways_out],
    }


def _order_of_merit(merit: Merit) -> record_coursing.OrderOfMeritRecord:
    return {
        "misses": numbers(merit.misses),
        "jump": number(merit.jump),
        "departure": number(merit.departure),
        "narrow": merit.narrow,
        "changes": merit.changes,
        "bottom_departure": number(merit.bottom_departure),
        "total_departure": number(merit.total_departure),
    }


def _way_out(way: WayOut) -> record_coursing.WayOutRecord:
    return {
        "edits": [{"key": key, "value": number(value)} for key, value in way.edits],
        "says": way.says,
        "cost": way.cost,
    }


def _variation(
    variation: Variation | None, coursing: Coursing
) -> record_coursing.VariationRecord | None:
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


def _spread(spread: Spread | None) -> record_coursing.SpreadRecord | None:
    if spread is None:
        return None
    return {
        "count": spread.count,
        "mean": number(spread.mean),
        "least": number(spread.least),
        "most": number(spread.most),
        "deviation": spread.deviation,
    }


def _layout(solution: Solution) -> record_wall.LayoutRecord:
    layout = solution.layout
    return {
        "faces": list(_faces(solution)),
        "opening": _opening(solution),
        "as_found": _as_found(solution),
        "arch": None if layout.arch is None else arch_record(layout.arch),
        "panels": [panel_record(panel) for panel in layout.panels],
        "pieces": [_piece(piece) for piece in layout.pieces],
        "least_piece": number(layout.least_piece.measured),
        "least_lap": number(layout.least_lap.measured if layout.least_lap else None),
        "fillets": [
            {"face": x.face, "course": x.course, "length": number(x.length)}
            for x in layout.fillets
        ],
        "given_up": [
            {
                "face": x.face,
                "place": x.place,
                "level": x.level,
                "count": x.count,
                "zones": [{"zone": zone, "count": n} for zone, n in x.zones],
            }
            for x in layout.given_up
        ],
        "searched_all": layout.searched_all,
        "reasons": list(layout.reasons),
        "ways_out": list(layout.ways_out),
    }


def _faces(solution: Solution) -> Iterator[record_wall.FaceRecord]:
    """Yield the faces, and the jambs that brick turns into."""
    surround, head = solution.surround, solution.coursing.head
    opening = surround.opening
    folds = (*surround.folds, *surround.jamb_folds)
    within = (opening.brick_right - opening.brick_left) * head
    top = max(course.top for course in solution.coursing.courses)
    for face in surround.faces:
        yield _face(face, top, within if face.name == "front" else NONE, folds)
    for face in surround.reveals:
        yield _face(face, head, NONE, folds)


def _face(
    face: Face, high: Fraction, within: Fraction, folds: tuple[Fraction, ...]
) -> record_wall.FaceRecord:
    """Return a face so high, its area without the opening within it."""
    left, right = face.seen
    return {
        "name": face.name,
        "outline": _points(((left, NONE), (right, NONE), (right, high), (left, high))),
        "area": number((right - left) * high - within),
        "folds": numbers(x for x in folds if x in (left, right)),
        "turn_deg": 0.0 if face.name == "front" else float(face.turn),
    }


def _opening(solution: Solution) -> record_wall.OpeningRecord:
    surround, head = solution.surround, solution.coursing.head
    opening = surround.opening
    ring = opening_ring(surround, head, solution.layout.arch, opening.beside)
    return {
        "left": number(opening.brick_left),
        "right": number(opening.brick_right),
        "bottom": 0,
        "top": number(head),
        "outline": _points(ring),
    }


def _as_found(solution: Solution) -> record_wall.AsFoundRecord:
    built = solution.surround.as_built
    return {
        "hearth": _points(built.hearth.points),
        "opening": _points(built.opening(built.lowest_head)),
        "ends": [_points(line) for line in built.ends],
    }


def _piece(piece: Piece) -> record_wall.PieceRecord:
    return {
        "id": piece.id,
        "mark": piece.mark,
        "kind": piece.kind,
        "course": piece.course,
        "place": piece.place,
        "outlines": [_outline(outline) for outline in piece.outlines],
        "length": number(piece.length),
        "height": number(piece.height),
        "legs": numbers(piece.legs),
        "is_cut": piece.is_cut,
        "is_trimmed": piece.is_trimmed,
        "broken": list(piece.broken),
        "left_long": [_outline(outline) for outline in piece.left_long],
    }


def _outline(outline: Outline) -> record_wall.OutlineRecord:
    return {"face": outline.face, "points": _points(outline.points)}


def _cut_list_row(row: CutListRow) -> record_making.CutListRowRecord:
    return {
        "mark": row.mark,
        "kind": row.kind,
        "length": number(row.length),
        "height": number(row.height),
        "count": row.count,
        "legs": numbers(row.legs),
        "is_cut": row.is_cut,
        "is_trimmed": row.is_trimmed,
        "note": row.note,
    }


def _cut_plan(plan: CutPlan) -> record_making.CutPlanRecord:
    return {
        "whole_units": plan.whole_units,
        "least": plan.least,
        "kerf": number(plan.kerf),
        "units": [
            {"marks": list(x.marks), "count": x.count, "left": number(x.left)}
            for x in plan.units
        ],
        "stops": [
            {
                "length": number(x.length),
                "against": x.against,
                "is_mitred": x.is_mitred,
                "marks": list(x.marks),
                "cuts": x.cuts,
            }
            for x in plan.stops
        ],
    }


def _finding(finding: Finding) -> record_form.FindingRecord:
    return {
        "rule": finding.rule.words,
        "status": finding.status,
        "measured": number(finding.measured),
        "limit": number(finding.limit),
        "margin": number(finding.margin),
        "source": finding.source,
        "source_status": finding.source_status,
        "says": finding.says,
        "pieces": list(finding.pieces),
        "mends": list(finding.mends),
    }
