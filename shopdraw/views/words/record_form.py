"""The form of a solution's record, and the JSON Schema that is made from it.

In:  nothing.   Out: `SolutionRecord` and what it holds; the schema as text.
Frame: lengths in the job's lengths; levels up from the datum.

The schema says of each key what is said here. `record` fills the form in, and the type
checker holds it to that: so a run that writes a record needs none of this loaded.
"""

from __future__ import annotations

import json
from typing import Annotated, Any, NotRequired

from pydantic import ConfigDict, Field, TypeAdapter, with_config
from pydantic.json_schema import GenerateJsonSchema
from typing_extensions import TypedDict

from shopdraw.lengths import Lengths
from shopdraw.review.findings import Status
from shopdraw.views.words.record_coursing import (
    ChangeRecord,
    CoursingRecord,
    RuleMarkRecord,
    VariationRecord,
)
from shopdraw.views.words.record_making import (
    CutListRowRecord,
    CutPlanRecord,
    EstimateRecord,
    TakeoffRowRecord,
)
from shopdraw.views.words.record_wall import HearthRecord, LayoutRecord, StopRecord

Day = Annotated[str, Field(json_schema_extra={"format": "date"})]
Digest = Annotated[str, Field(pattern="^([0-9a-f]{64})?$")]


class DrawnFromRecord(TypedDict):
    """Which program made this, and from which job file."""

    program: str
    """The program's name and its version."""
    job_file: Digest
    """The SHA-256 of the job file as UTF-8; empty where the job is from no file."""


class JobRecord(TypedDict):
    """What the title block says, and what every length here is measured in."""

    name: str
    """What the job is called."""
    number: str
    """The number of the project; empty where the job file gives none."""
    revision: str
    """The mark of the revision; empty where there is none."""
    date: Day | None
    """The date of the drawings, year first; null where the job file gives none."""
    lengths: Lengths
    """What every length here is measured in: inches or millimetres."""


class FindingRecord(TypedDict):
    """One rule, and whether the job keeps it."""

    rule: str
    """What is asked, in words."""
    status: Status
    """Whether the job keeps the rule. "not checked" is not an approval: `says` tells
    why."""
    measured: float | None
    """What was measured, a length; null where there is no figure."""
    limit: float | None
    """What it is held against, a length; null where there is no figure."""
    margin: float | None
    """By how much the limit is kept; below 0, by how much it is not. Null where there
    are not two figures to compare."""
    source: str
    """The document and the section that the limit comes from."""
    source_status: str
    """How that text was read: "read in the source", "second-hand", "typed by the
    user", and so on."""
    says: str
    """From where to where it was measured, what is missing, what to do."""
    pieces: list[str]
    """The IDs of the pieces that break a rule of the bond."""
    mends: list[str]
    """Where the rule is not kept: the smallest changes that would keep it, each of them
    enough."""


class StepRecord(TypedDict):
    """A piece of work that has to wait for mortar, and how long it waits."""

    what: str
    """What may be done: "take the ledger away", "point the joints"."""
    day: Day | None
    """The first day on which it may be done, year first; null where the job file does
    not say when the brick is set."""
    wait: str
    """How long to wait, and after what, in words."""
    source: str
    """Where the wait comes from, and how that was read."""


class UsedRecord(TypedDict):
    """How many whole units were used, broken ones among them."""

    flats: int | None
    """Flat units; null where nobody gave it."""
    corners: int | None
    """Corner units; null where nobody gave it."""


@with_config(ConfigDict(extra="forbid", use_attribute_docstrings=True))
class SolutionRecord(TypedDict):
    """What `solution.json` holds, and what `check --json` prints.

    Every length is a number of inches or of millimetres, as `job.lengths` says; only
    the sheets round it, once, for print. A level is a height above the datum, which is
    the highest point of the finished hearth under the brick. Left and right are as you
    stand before the fireplace. A unit is a brick as it is bought, or a corner unit,
    which is bought in the shape of an L.
    """

    drawn_from: DrawnFromRecord
    job: JobRecord
    coursing: CoursingRecord
    variation: VariationRecord | None
    """What the differences between the bricks as delivered do to the plan; null where
    the job file has no sample of them."""
    rule_marks: list[RuleMarkRecord]
    """Which mark of the mason's own spacing rule each course follows, from the bottom
    up; empty where the job file has no such marks."""
    layout: LayoutRecord
    hearth: HearthRecord | None
    """The hearth laid in brick; null where the job file asks for none."""
    stops: list[StopRecord]
    """Where each run of brick ends."""
    used: UsedRecord
    """How many whole units were taken out of the boxes, where the job file says so."""
    cut_list: list[CutListRowRecord]
    """Every mark once: what kind of piece it is, its size, and how many there are."""
    findings: list[FindingRecord]
    """What was reviewed. "not checked" is not an approval."""
    cut_plan: CutPlanRecord
    schedule: list[StepRecord]
    """From which day on work that waits for mortar may be done."""
    takeoff: list[TakeoffRowRecord]
    """What the work takes, and how much of it to order."""
    changes: NotRequired[list[ChangeRecord]]
    """How each course differs from the plan as it was before. Only `remeasure --json`
    prints this."""
    estimate: NotRequired[EstimateRecord]
    """Hours and price; only where the job has `[labour]`."""


class _Untitled(GenerateJsonSchema):
    """A schema in which no title says the name of its key again."""

    def field_title_should_be_set(self, _schema: object) -> bool:
        return False


def schema_text() -> str:
    """Return the JSON Schema of `solution.json` as the text that is printed."""
    made = TypeAdapter(SolutionRecord).json_schema(schema_generator=_Untitled)
    parts, _ = made.pop("$defs"), made.pop("title")
    head = {"$schema": _Untitled.schema_dialect, "title": "shopdraw solution"}
    whole = _on_one_line({**head, **made, "$defs": parts})
    return json.dumps(whole, indent=1) + "\n"


def _on_one_line(schema: Any) -> Any:
    """Return a schema with each description on one line, however it is broken here."""
    if isinstance(schema, list):
        return [_on_one_line(part) for part in schema]
    if not isinstance(schema, dict):
        return schema
    return {
        key: " ".join(part.split())
        if key == "description" and isinstance(part, str)
        else _on_one_line(part)
        for key, part in schema.items()
    }
