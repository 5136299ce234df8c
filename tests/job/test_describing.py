"""The job file explains itself: its keys' rows, and its JSON Schema.

The schema is held by a general validator of JSON Schema (draft 2020-12) against what
the reader takes and refuses.
"""

from __future__ import annotations

import copy
import json
import re
import tomllib
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from datetime import date
from fractions import Fraction
from functools import reduce
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from shopdraw.errors import BadJob, BadLength
from shopdraw.job.describing import describe_key, list_tables
from shopdraw.job.faults import known_keys, value_at
from shopdraw.job.keys import KeyRow, key_rows, keys_in
from shopdraw.job.reading import parse_job
from shopdraw.job.scale import parse_scale
from shopdraw.job.schema import DEFINED, default_of, job_schema, typed_fields
from shopdraw.lengths import Lengths, parse_length
from tests.demos import CONFIGS
from tests.old_houses import make_job, seeded

VIEWS = Path(__file__).resolve().parents[2] / "shopdraw" / "views"
VALIDATOR = Draft202012Validator(job_schema())
READ_AHEAD = {"setting_bed.thickness"}
"""What the reader takes and makes other keys of: the model has no such key."""
STARTER = resources.files("shopdraw.job").joinpath("starter.toml").read_text("utf-8")
LIBRARY = (CONFIGS / "library-hearth.toml").read_text("utf-8")
TEXTS = {
    "starter": STARTER,
    **{path.stem: path.read_text("utf-8") for path in sorted(CONFIGS.glob("*.toml"))},
}


# ------------------------------------------------------------------------------- rows


def unlike(rows: Iterable[str]) -> set[str]:
    """Return the rows without a key, and the keys without a row."""
    return set(rows) ^ {*known_keys(), *READ_AHEAD}


def test_every_key_has_a_row_and_every_row_a_key() -> None:
    assert unlike(key_rows()) == set()
    assert list(typed_fields()) == sorted(typed_fields(), key=list(key_rows()).index)


@pytest.mark.parametrize(
    "damage",
    [
        lambda rows: rows - {"joints.bed.most"},
        lambda rows: rows | {"joints.bed.mots"},
        lambda rows: rows - {"brick"},
    ],
)
def test_a_row_that_is_missing_or_of_no_key_is_noticed(damage: Any) -> None:
    assert unlike(damage(set(key_rows())))


def test_what_the_reader_takes_ahead_is_taken() -> None:
    job = parse_job(f'{STARTER_LESS_BED}\n[setting_bed]\nthickness = "1/2 in"', "den")
    assert job.setting_bed.least == job.setting_bed.most == Fraction(1, 2)


STARTER_LESS_BED = re.sub(r"(?ms)^\[setting_bed\].*?(?=^\[)", "", STARTER)


def unsaid(row: KeyRow) -> bool:
    """Whether a row is no short phrase, or says nothing."""
    return any(
        not text.strip() or len(text) > 150 or text.endswith(".")
        for text in (row.says, row.shows)
    )


def test_every_row_says_what_it_is_and_where_it_shows_in_short() -> None:
    assert [key for key, row in key_rows().items() if unsaid(row)] == []
    assert unsaid(KeyRow("a width", ""))


def unlettered(shows: str, lettered: str) -> list[str]:
    """Return the titles and files that are named as places and that there are not."""
    titles = re.findall(r"\b[A-Z]{2}[A-Z',: ]*[A-Z]\b", shows)
    files = re.findall(r"\b[\w-]+\.(?:pdf|ics|csv|json)\b", shows)
    return [
        *(title for title in titles if title not in lettered and title != "DXF"),
        *(file for file in files if file not in FILES),
    ]


FILES = (
    *("set.pdf", "story-pole.pdf", "review.pdf", "ticket.pdf", "labels.pdf"),
    "schedule.ics",
)


def test_the_places_named_are_titles_on_the_sheets() -> None:
    lettered = "".join(path.read_text("utf-8") for path in VIEWS.rglob("*.py"))
    wrong = {key: unlettered(row.shows, lettered) for key, row in key_rows().items()}
    assert {key: names for key, names in wrong.items() if names} == {}
    assert unlettered("NOTES; THE ATTIC; roof.pdf", lettered) == [
        "THE ATTIC",
        "roof.pdf",
    ]


# ---------------------------------------------------------------------------- defaults


PLAIN_JOB = """
[job]
name = "Old"
lengths = "{lengths}"
[face]
width = "1500 mm"
height = "1000 mm"
[opening]
width = "700 mm"
height = "700 mm"
[brick]
size = "{size}"
"""
GIVEN = {
    *("job.name", "job.lengths", "face.width", "face.height"),
    *("opening.width", "opening.height", "opening.from_left"),
    *("brick.size", "brick.length", "brick.height"),
}


@pytest.mark.parametrize(("lengths", "size"), [("in", "modular"), ("mm", "uk-65")])
def test_what_is_said_to_be_the_default_is_what_a_job_gets(
    lengths: Lengths, size: str
) -> None:
    job = parse_job(PLAIN_JOB.format(lengths=lengths, size=size), "old")
    held = 0
    for key in typed_fields().keys() - GIVEN - READ_AHEAD:
        *tables, name = key.split(".")
        table = reduce(lambda each, inner: getattr(each, inner, None), tables, job)
        if not hasattr(table, name) or keys_in(key):
            continue
        got, said = getattr(table, name), default_of(key, lengths)
        if isinstance(got, Fraction):
            assert parse_length(said, lengths) == got, key
        elif key == "sheet.scale":
            assert parse_scale(said) == got
        else:
            assert said == (None if got in ("", (), {}) else got), key
        held += 1
    # Edges, joints, bond, courses, waste, paper: what every job has.
    assert held > 80


# ------------------------------------------------------------------------ explained


def test_a_key_is_explained_with_both_defaults_and_where_it_shows() -> None:
    assert describe_key("joints.bed.most") == (
        "joints.bed.most\n"
        "  the widest that a bed joint may be\n"
        '  takes    a length with its unit, more than nothing, like "26 1/4 in", '
        '"667 mm"; at most "2 in"\n'
        '  default  "1/2 in"; "12 mm" where job.lengths is "mm"\n'
        "  shows    NOTES\n"
    )


@pytest.mark.parametrize(
    ("key", "line"),
    [
        ("job.number", "  takes    text in quotes, up to 200 characters"),
        ("job.lengths", '  default  "in"'),
        ("job.name", "  default  none; it must be given"),
        ("bond.pattern", '  takes    one of "half", "third", "stack"'),
        ("opening.head_courses", "  takes    one of 1, 2"),
        ("job.notes", "  takes    a list, each text in quotes, up to 500 characters"),
        ("packs.flats", "  takes    a whole number, more than 0 to 100000"),
        ("waste.flats.percent", "  takes    a number, 0 to 100"),
        ("house.smoke_stains", "  takes    true or false"),
        ("edges.left.lean", '  default  "0 in"; "0 mm" where job.lengths is "mm"'),
        ("rules.own[2].reason", "  takes    text in quotes, 3 to 120 characters"),
        ("layers.own.A-ELEV-OTLN", "  shows    DXF files"),
        ("labels", "  default  none; no labels are made"),
    ],
)
def test_what_a_key_takes_is_said_in_words(key: str, line: str) -> None:
    assert line in describe_key(key).splitlines()


def test_a_key_may_be_typed_as_it_stands_in_the_file() -> None:
    assert describe_key("target[1].level") == describe_key("target.level")
    assert describe_key("[opening.corners]") == describe_key("opening.corners")
    assert describe_key("[[target]]") == describe_key("target")


def test_a_table_lists_its_keys_one_a_line() -> None:
    lines = describe_key("joints").splitlines()
    assert lines[0] == "[joints]"
    assert [line.split("  ")[1] for line in lines[4:]] == [
        *("[joints.bed]", "[joints.bottom]", "[joints.head]"),
        *("joints.step", "joints.depth", "joints.profile"),
    ]


def test_every_key_can_be_explained() -> None:
    for key in key_rows():
        words = describe_key(key)
        assert key in words.splitlines()[0]
        assert keys_in(key) or "\n  takes    " in words


def test_the_tables_are_listed_one_a_line() -> None:
    lines = list_tables().splitlines()
    assert len(lines) == len(keys_in())
    assert lines[0].split() == ["[job]", "what", "the", "title", "block", "says"]
    assert any(line.startswith("  [[target]] ") for line in lines)


@pytest.mark.parametrize(
    ("key", "nearest"),
    [
        ("joints.bed.mots", "joints.bed.most"),
        ("target[1].levl", "target.level"),
        ("jonts", "joints"),
        ("opening.width.inside", "opening.width"),
    ],
)
def test_an_unknown_key_names_the_nearest(key: str, nearest: str) -> None:
    with pytest.raises(BadJob) as told:
        describe_key(key)
    plain = key.replace("[1]", "")
    assert told.value.lines() == (
        f"explain: {plain}: is not a key of a job file (nearest known key: {nearest})",
    )


# -------------------------------------------------------------------------- the schema


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
            if key in key_rows():
                if not part["description"].startswith(key_rows()[key].says):
                    yield key
                yield from undescribed(part, f"{key}.")
            elif above != "layers.own.":
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
        lambda job: job["opening"].update(head_over="4 in"),
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


# ------------------------------------------------------------------- lengths, as typed

SPACES = st.sampled_from(("", " ", "  ", "\u00a0", "\u2009", "\t"))
HYPHENS = st.sampled_from(("", "-", "\u2212", "\u2013"))
HALVES = st.sampled_from("\u00bd\u00bc\u215e\u2189\ua831\U00010e7b")
DIGITS = st.integers(0, 999).map(str)


def joined(*parts: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    return st.tuples(*parts).map("".join)


SPLIT = joined(DIGITS, st.sampled_from("/\u2044"), st.integers(0, 64).map(str))
NUMBER = st.one_of(
    joined(DIGITS, st.sampled_from(("", ".", ".5", ".062"))),
    joined(st.sampled_from(("", "2 ", "2-", "2\u2009")), SPLIT),
    joined(st.sampled_from(("", "2", "2 ")), HALVES, st.sampled_from(("", "5"))),
)
FEET = st.sampled_from(("ft", "FT", "foot", "Feet", "'", "\u2032", "\u2019"))
INCHES = st.sampled_from(("in", "IN", "inch", "Inches", '"', "\u2033", "\u201d"))
METRIC = st.sampled_from(("mm", "CM", "m"))
IN_FEET = joined(NUMBER, SPACES, FEET, SPACES, HYPHENS, SPACES)
LENGTH = joined(
    *(SPACES, HYPHENS, SPACES),
    st.one_of(
        joined(IN_FEET, NUMBER, SPACES, INCHES),
        IN_FEET,
        joined(NUMBER, SPACES, INCHES | METRIC),
    ),
    SPACES,
)
"""Nearly all of them can be read."""


def matches(kind: str, text: str) -> bool:
    return re.search(DEFINED[kind]["pattern"], text) is not None


@given(LENGTH)
def test_a_length_that_can_be_read_keeps_to_the_pattern(text: str) -> None:
    try:
        length = parse_length(text, "in")
    except BadLength:
        assume(False)
    assert matches("length", text)
    if not re.match(r"\s*[-\u2212\u2013]", text):
        assert length >= 0
        assert matches("width", text)
        assert matches("size", text)


def test_no_sign_of_a_fraction_and_no_space_is_left_out() -> None:
    signs = [chr(code) for code in range(0x110000)]
    signs = [x for x in signs if x.isspace() or unicodedata.category(x) == "No"]
    read = 0
    for text in (f"2{sign}in" for sign in signs):
        try:
            parse_length(text, "in")
        except BadLength:
            continue
        assert matches("size", text), text
        read += 1
    assert read > 60


@pytest.mark.parametrize(
    "text",
    [
        "",
        "26",
        "26 1/4",
        "1/0 in",
        "26 1/4 yd",
        "26,5 in",
        "in",
        "2 in 3 ft",
        "2' 3 mm",
    ],
)
def test_what_is_no_length_does_not(text: str) -> None:
    with pytest.raises(BadLength):
        parse_length(text, "in")
    assert not matches("length", text)


def test_only_what_may_be_negative_takes_a_minus() -> None:
    assert matches("length", "-1/4 in")
    assert not matches("width", "-1/4 in")
    assert not matches("size", "-1/4 in")
