"""The record is what its published JSON Schema says, by a general validator."""

from __future__ import annotations

import copy
import json
from importlib import resources
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError

from shopdraw.pipeline import solve
from shopdraw.views.words.record import record_text
from tests.demos import solution_of
from tests.old_houses import make_job, seeded

SCHEMA = json.loads(
    resources.files("shopdraw.catalog").joinpath("solution.schema.json").read_text()
)
VALIDATOR = Draft202012Validator(SCHEMA)


def record_of(name: str) -> dict[str, Any]:
    record: dict[str, Any] = json.loads(record_text(solution_of(name)))
    return record


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(SCHEMA)


def test_every_demo_s_record_keeps_to_it(demo: str) -> None:
    VALIDATOR.validate(record_of(demo))


def test_other_jobs_keep_to_it_too() -> None:
    for number in range(700, 712):
        _, job = make_job(seeded(number))
        VALIDATOR.validate(json.loads(record_text(solve(job))))


@pytest.mark.parametrize(
    "damage",
    [
        lambda record: record.pop("findings"),
        lambda record: record["findings"][0].update(status="approved"),
        lambda record: record["takeoff"][0].update(net="25"),
        lambda record: record["layout"]["pieces"][0].update(colour="red"),
        lambda record: record["cut_plan"]["units"][0].pop("marks"),
        lambda record: record["job"].update(lengths="ft"),
    ],
)
def test_a_damaged_record_is_noticed(damage: Any) -> None:
    record = copy.deepcopy(record_of("library-hearth"))
    damage(record)
    with pytest.raises(ValidationError):
        VALIDATOR.validate(record)
