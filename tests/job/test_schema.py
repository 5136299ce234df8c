"""The job file's JSON Schema, against what the reader takes and refuses.

It is held by a general validator of JSON Schema (draft 2020-12).
"""

from __future__ import annotations

import copy
import json
import re
import tomllib
from collections.abc import Callable, Iterator
from datetime import date
from fractions import Fraction
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from shopdraw.errors import BadJob
from shopdraw.job.faults import value_at
from shopdraw.job.keys import key_rows
from shopdraw.job.reading import parse_job
from shopdraw.job.schema import DEFINED, job_schema
from shopdraw.lengths import parse_length
from tests.job.files import LIBRARY, STARTER, TEXTS
from tests.old_houses import make_job, seeded

VALIDATOR = Draft202012Validator(job_schema())


def as_json(given: Any) -> Any:
    """Write a file's tables as JSON has them: TOML's dates are text there."""
    if isinstance(given, dict):
        return {key: as_json(value) for key, value in given.items()}
    if isinstance(given, list):
        return [as_json(value) for value in given]
    return given.isoformat() if isinstance(given, date) else given


def complaints(given: Any) -> list[str]:
    return [f"{x.json_path}: {x.message}" for x in VALIDATOR.iter_errors(given)]


def test_the_schema_is_one_and_names_no_place_on_the_net() -> None:
    Draft202012Validator.check_schema(job_schema())
    assert job_schema()["$id"] == "urn:shopdraw:job"


def test_every_key_of_it_says_what_it_is() -> None:
    def undescribed(node: Any, above: str) -> Iterator[str]:
        for name, part in node.get("items", node).get("properties", {}).items():
            key = f"{above}{name}"
            # An option's tables are the job's, in part.
            row = key_rows().get(key, key_rows().get(key.removeprefix("option.")))
            if row is not None:
                if not part["description"].startswith(row.says):
                    yield key
                yield from undescribed(part, f"{key}.")
            elif above.removeprefix("option.") not in ("layers.own.", "labour.markup."):
                yield key

    assert list(undescribed(job_schema(), "")) == []


@pytest.mark.parametrize("name", TEXTS)
def test_the_starter_and_every_demo_keep_to_it(name: str) -> None:
    assert complaints(as_json(tomllib.loads(TEXTS[name]))) == []


def test_other_jobs_keep_to_it_too() -> None:
    for number in range(900, 920):
        text, _ = make_job(seeded(number))
        assert complaints(as_json(tomllib.loads(text))) == []


def written(given: Any) -> str:
    """Write what a file may hold as TOML; text is quoted there as in JSON."""
    if isinstance(given, dict):
        pairs = (f"{json.dumps(key)} = {written(each)}" for key, each in given.items())
        return f"{{ {', '.join(pairs)} }}"
    if isinstance(given, list):
        return f"[{', '.join(map(written, given))}]"
    return json.dumps(given)


def read(given: Any) -> None:
    """Let the reader have the file's tables.

    Raises:
        BadJob: it refuses them.
    """
    parse_job("\n".join(f"{key} = {written(x)}" for key, x in given.items()), "den")


def library_with(edit: Callable[[Any], object]) -> Any:
    job = as_json(tomllib.loads(LIBRARY))
    edit(job)
    return job


CORNERS = {
    f"{level}_{side}": [f"{along} in", f"{up} in"]
    for level, up in (("bottom", 0), ("top", 27))
    for side, along in (("left", 10), ("right", 44))
}


@pytest.mark.parametrize(
    "edit",
    [
        lambda job: job["joints"].update(stepp="1/16 in"),
        lambda job: job.update(joint={}),
        lambda job: job["trim"][0].update(hight="6 in"),
        lambda job: job["face"].update(width=55.25),
        lambda job: job["face"].update(width="55 1/4"),
        lambda job: job["face"].update(width="-55 in"),
        lambda job: job["face"].update(width="55,25 in"),
        lambda job: job["bond"].update(pattern="english"),
        lambda job: job["bond"].update(pattern="running"),
        lambda job: job["bond"].update(header_every=7),
        lambda job: job["brick"].update(header="-3 in"),
        lambda job: job["brick"].update(size="modulr"),
        lambda job: job["rules"].update(set="irc-1492"),
        lambda job: job["sheet"].update(size="ARCH Z"),
        lambda job: job["sheet"].update(scale="big"),
        lambda job: job["job"].update(date="2 March"),
        lambda job: job["job"].update(name=""),
        lambda job: job["job"].update(name="two\nlines"),
        lambda job: job["job"].update(lengths="ft"),
        lambda job: job.update(appearance={"brick": "red"}),
        lambda job: job.update(packs={"setting_mortar": "a bag"}),
        lambda job: job.update(layers={"own": {"A-ROOF": "ROOF"}}),
        lambda job: job["opening"].update(corners=CORNERS),
        lambda job: job["opening"].pop("height"),
        lambda job: job["opening"].update(head_over="wall"),
        lambda job: job["opening"].update(head_over="4 in"),
        lambda job: job["opening"].update(head_bears="face"),
        lambda job: job["hearth"].update(points=[["0 in", "0 in", "0 in"]]),
        lambda job: job["hearth"].update(points=[["0 in", "0 in"], ["9 in", "0 in"]]),
        lambda job: job["setting_bed"].update(thickness="3/8 in"),
        lambda job: job["brick"]["corner"].pop("short_leg"),
        lambda job: job["brick"].pop("size"),
        lambda job: job["trim"][0].pop("projection"),
        lambda job: job.update(laid=[{"course": 3, "left": "9 in"}]),
        lambda job: job.update(laid=[{"course": 0, "top": "9 in"}]),
        lambda job: job["labels"].update(columns="3 columns"),
        lambda job: job["substrate"].update(condition=["wet"]),
        lambda job: job.pop("job"),
    ],
)
def test_what_the_reader_refuses_it_refuses(edit: Callable[[Any], object]) -> None:
    job = library_with(edit)
    assert complaints(job)
    with pytest.raises(BadJob):
        read(job)


@pytest.mark.parametrize(
    "edit",
    [
        lambda job: job.pop("joints"),
        lambda job: job["joints"]["bed"].pop("preferred"),
        lambda job: job["job"].pop("lengths"),
        lambda job: job.update(setting_bed={"thickness": "3/8 in"}),
        lambda job: (
            [job["opening"].pop(x) for x in ("width", "height", "from_left")]
            and job["opening"].update(corners=CORNERS)
        ),
        lambda job: (
            job["brick"].pop("size")
            and job["brick"].update(length="7 5/8 in", height="57.15 mm")
        ),
        lambda job: job["opening"].update(head_bears="4 in"),
        lambda job: job["brick"].update(header="3 1/2 in"),
        lambda job: job["bond"].update(header_every=6),
        lambda job: job["opening"].update(head_bears="no"),
        lambda job: job.update(packs={"setting_mortar": "0.5 cu ft"}),
        lambda job: job.update(layers={"own": {"A-ELEV-OTLN": "OUTLINE"}}),
        lambda job: job["sheet"].update(scale="1 1/2 in = 1 ft"),
        lambda job: job["face"].update(width="4\u2032-7\u00bc\u2033"),
    ],
)
def test_what_the_reader_takes_it_takes(edit: Callable[[Any], object]) -> None:
    job = library_with(edit)
    assert complaints(job) == []
    read(job)


def places(given: Any, above: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Yield where every key of a file is, those of its tables too."""
    pairs = given.items() if isinstance(given, dict) else enumerate(given)
    for name, value in pairs:
        if isinstance(given, dict):
            yield (*above, name)
        if isinstance(value, dict | list):
            yield from places(value, (*above, name))


def test_it_asks_for_what_the_reader_misses_and_for_nothing_else() -> None:
    whole = as_json(tomllib.loads(STARTER))
    asked = []
    for place in places(whole):
        job = copy.deepcopy(whole)
        table = value_at(job, place[:-1])
        assert isinstance(table, dict)
        del table[place[-1]]
        try:
            read(job)
            missed = False
        except BadJob as error:
            missed = any("is missing" in line for line in error.lines())
        assert bool(complaints(job)) == missed, place
        asked.append(missed)
    assert any(asked)
    assert not all(asked)


@pytest.mark.parametrize("typed", ["4' 7 1/4\"", "4'-7 1/4\"", "4 ft \u2013 7.25 in"])
def test_feet_and_inches_are_taken_with_a_hyphen_between_as_the_reader_does(
    typed: str,
) -> None:
    assert parse_length(typed, "in") == 4 * 12 + Fraction("7.25")
    assert re.search(DEFINED["length"]["pattern"], typed)
