"""The record is what its published JSON Schema says, by a general validator."""

from __future__ import annotations

import copy
import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError

from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve
from shopdraw.views.words.record import record_text, remeasured_text
from shopdraw.views.words.record_form import schema_text
from tests.demos import solution_of
from tests.old_houses import make_job, seeded
from tests.views.jobs import text_of

SCHEMA = json.loads(schema_text())
VALIDATOR = Draft202012Validator(SCHEMA)
ROOT = Path(__file__).resolve().parents[3]


def record_of(name: str) -> dict[str, Any]:
    record: dict[str, Any] = json.loads(record_text(solution_of(name)))
    return record


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == Draft202012Validator.META_SCHEMA["$id"]


def test_every_demo_s_record_keeps_to_it(demo: str) -> None:
    VALIDATOR.validate(record_of(demo))


def test_other_jobs_keep_to_it_too() -> None:
    for number in range(700, 702):
        _, job = make_job(seeded(number))
        VALIDATOR.validate(json.loads(record_text(solve(job))))


def test_a_job_whose_bricks_were_only_measured_ten_together_keeps_to_it_too() -> None:
    text = text_of("morning-room")
    before, _, after = text.partition("[brick.sample]")
    ten = '[brick.sample]\nrow_of_ten = "79 5/8 in"\nstack_of_ten = "22 5/8 in"\n'
    job = parse_job(before + ten + after[after.index("\n[") :], "den.toml")
    record = json.loads(record_text(solve(job)))
    assert record["variation"]["height"] is None
    VALIDATOR.validate(record)


def test_what_is_printed_when_a_course_is_measured_again_keeps_to_it_too() -> None:
    solution = solution_of("library-hearth")
    record = json.loads(remeasured_text(solution, solution))
    assert len(record["changes"]) == len(record["coursing"]["courses"])
    VALIDATOR.validate(record)


@pytest.mark.parametrize(
    "damage",
    [
        lambda record: record.pop("findings"),
        lambda record: record["findings"][0].update(status="approved"),
        lambda record: record["takeoff"][0].update(net="25"),
        lambda record: record["layout"]["pieces"][0].update(colour="red"),
        lambda record: record["cut_plan"]["units"][0].pop("marks"),
        lambda record: record["job"].update(lengths="ft"),
        lambda record: record["drawn_from"].update(job_file="den.toml"),
        lambda record: record["layout"]["pieces"][0].update(kind="tile"),
        lambda record: record["layout"]["faces"][0]["outline"][0].append(0),
        lambda record: record["variation"]["height"].update(count=10.5),
        lambda record: record.update(changes=[{"course": 1}]),
    ],
)
def test_a_damaged_record_is_noticed(damage: Any) -> None:
    record = copy.deepcopy(record_of("morning-room"))
    damage(record)
    with pytest.raises(ValidationError):
        VALIDATOR.validate(record)


def thinned(record: Any) -> Any:
    """Return a record with the first of all that are alike."""
    if isinstance(record, dict):
        return {key: thinned(value) for key, value in record.items()}
    if isinstance(record, list) and record and isinstance(record[0], dict):
        return [thinned(record[0])]
    return record


def objects(record: Any) -> Iterator[dict[str, Any]]:
    if isinstance(record, dict):
        yield record
        for value in record.values():
            yield from objects(value)
    elif isinstance(record, list):
        for value in record:
            yield from objects(value)


@pytest.mark.parametrize("name", ["morning-room", "segmental-kitchen"])
def test_every_key_left_out_and_every_key_too_many_is_noticed(name: str) -> None:
    record = thinned(record_of(name))
    for each in list(objects(record)):
        each["colour"] = "red"
        assert not VALIDATOR.is_valid(record)
        del each["colour"]
        for key in list(each):
            value = each.pop(key)
            assert not VALIDATOR.is_valid(record), key
            each[key] = value
    VALIDATOR.validate(record)


# ------------------------------------------------------------- what it says of itself


def unsaid(schema: dict[str, Any]) -> list[str]:
    """Return the keys of which a schema does not say what they are, on one line."""
    parts = schema["$defs"]

    def says(part: dict[str, Any]) -> str:
        named = parts.get(part.get("$ref", "").rpartition("/")[2], {})
        return str(part.get("description") or named.get("description") or "\n")

    return [
        key
        for table in (schema, *parts.values())
        for key, part in table["properties"].items()
        if "\n" in says(part)
    ]


def test_it_says_what_every_key_is() -> None:
    assert unsaid(SCHEMA) == []


def test_a_key_of_which_nothing_is_said_is_noticed() -> None:
    damaged = copy.deepcopy(SCHEMA)
    del damaged["$defs"]["CourseRecord"]["properties"]["top"]["description"]
    del damaged["$defs"]["JobRecord"]["description"]
    assert sorted(unsaid(damaged)) == ["job", "top"]


def loaded_by(*words: str) -> set[str]:
    """Return the modules that the command loads."""
    code = (
        "import sys\n"
        "from shopdraw.cli import main\n"
        f"try: main({list(words)!r})\n"
        "except SystemExit: pass\n"
        "print(*sys.modules)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    return set(done.stdout.splitlines()[-1].split())


def test_a_record_is_printed_without_loading_what_its_schema_is_made_from() -> None:
    words = "shopdraw.views.words"
    loaded = loaded_by("check", "configs/library-hearth.toml", "--json")
    assert f"{words}.record" in loaded
    assert f"{words}.record_form" not in loaded
    assert f"{words}.record_form" in loaded_by("schema", "solution")
