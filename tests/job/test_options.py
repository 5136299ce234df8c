"""Options in a job file: the job with what differs, and whose a fault is."""

from __future__ import annotations

import copy
import tomllib
from fractions import Fraction
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from shopdraw.errors import BadJob
from shopdraw.job.describing import describe_key
from shopdraw.job.lines import placed
from shopdraw.job.model import Job
from shopdraw.job.model_option import DIFFERING
from shopdraw.job.options import MOST
from shopdraw.job.reading import parse_job
from shopdraw.job.schema import job_schema
from tests.demos import solution_of

SNUG = """
[job]
name = "Snug"
units_lot = "first firing"
[face]
width = "28 in"
height = "36 in"
[opening]
width = "14 in"
height = "24 in"
[brick]
size = "modular"
header = "3 1/2 in"
[packs]
flats = 40
setting_mortar = "0.45 cu ft"
[prices]
flats = 88.40
setting_mortar = 36.90
"""


def job_of(options: str, text: str = SNUG) -> Job:
    return parse_job(text + options, "snug.toml")


def faults_of(options: str, text: str = SNUG) -> list[str]:
    with pytest.raises(BadJob) as refused:
        job_of(options, text)
    return list(refused.value.lines())


def only(options: str) -> Job:
    ((_, job),) = job_of(options).options
    return job


def test_an_option_with_a_name_alone_is_the_job_as_it_stands() -> None:
    job = job_of('[[option]]\nname = "As it is"')
    ((name, option),) = job.options
    assert name == "As it is"
    assert option.model_dump() == {**job.model_dump(), "option": ()}
    assert option.digest == job.digest


def test_an_option_has_what_differs_and_the_rest_as_the_job_has_it() -> None:
    option = only(
        '[[option]]\nname = "Stack"\n[option.bond]\npattern = "stack"\n'
        '[option.joints.bed]\npreferred = "1/4 in"\nleast = "1/8 in"\n'
        '[option.opening]\nhead = "soldier"'
    )
    assert (option.bond.pattern, option.opening.head) == ("stack", "soldier")
    bed = option.joints.bed
    assert (bed.least, bed.preferred) == (Fraction(1, 8), Fraction(1, 4))
    assert bed.most == job_of("").joints.bed.most
    assert option.brick.header == Fraction(7, 2)
    assert option.prices.flats == job_of("").prices.flats


def test_another_brick_takes_nothing_over_from_the_jobs_own() -> None:
    option = only('[[option]]\nname = "Long"\n[option.brick]\nsize = "roman"')
    own = parse_job(SNUG.replace('"modular"\nheader = "3 1/2 in"', '"roman"'), "snug")
    assert option.brick == own.brick
    assert option.packs.flats is option.prices.flats is None
    assert option.packs.setting_mortar == own.packs.setting_mortar is not None
    assert option.prices.setting_mortar == own.prices.setting_mortar
    assert option.job.units_lot == ""


def test_a_part_of_the_brick_that_differs_leaves_it_the_same_brick() -> None:
    option = only('[[option]]\nname = "A"\n[option.brick]\nthickness = "3/4 in"')
    assert option.brick.header == Fraction(7, 2)
    assert option.prices.flats == job_of("").prices.flats


ARCHED = SNUG.replace('height = "24 in"', 'height = "20 in"\nhead = "jack arch"')
JACK = '[arch]\ndepth = "7 1/2 in"\nvoussoirs = "cut"\n'


def test_another_head_takes_nothing_over_from_the_jobs_own() -> None:
    """An owner is asked most often: an arch, or soldiers?"""
    typed = '[[option]]\nname = "Plain"\n[option.opening]\nhead = "soldier"'
    ((_, option),) = job_of(typed, ARCHED + JACK).options
    own = parse_job(ARCHED.replace('"jack arch"', '"soldier"'), "snug")
    assert option.opening == own.opening
    assert option.arch == own.arch
    stood = ARCHED.replace('"jack arch"', '"soldier"\nhead_ends = "joint in the leg"')
    typed = typed.replace('"soldier"', '"rowlock"')
    ((_, option),) = job_of(typed, stood).options
    assert option.opening.head_ends == own.opening.head_ends
    assert own.opening.head_ends != "joint in the leg"


def test_what_another_head_needs_is_asked_for_in_the_option() -> None:
    typed = '[[option]]\nname = "Curved"\n[option.opening]\nhead = "segmental arch"'
    (line,) = faults_of(typed, ARCHED + JACK)
    assert line.startswith("snug.toml: option[1].arch.rise: is missing; measure from")
    assert line.endswith('(option "Curved")')


def test_the_same_head_keeps_what_was_said_of_it() -> None:
    typed = '[[option]]\nname = "A"\n[option.opening]\nhead = "jack arch"'
    ((_, option),) = job_of(typed, ARCHED + JACK).options
    assert option.arch.depth == Fraction(15, 2)
    assert option.arch.voussoirs == "cut"


def test_an_empty_list_takes_bands_out() -> None:
    band = '[[band]]\nkind = "soldier"\ncourse = 4\n'
    ((_, with_it), (_, without)) = job_of(
        '[[option]]\nname = "A"\n[[option]]\nname = "B"\nband = []\n', SNUG + band
    ).options
    assert (len(with_it.band), len(without.band)) == (1, 0)


def test_its_own_prices_count_beside_another_brick() -> None:
    option = only(
        '[[option]]\nname = "Long"\n[option.brick]\nsize = "roman"\n'
        "[option.prices]\nflats = 120.5"
    )
    assert str(option.prices.flats) == "120.5"


FAULTS = {
    '[option.brick]\nsize = "romn"': 'option[1].brick.size: "romn" is not in the '
    'catalog; the nearest name is "roman" (option "Odd")',
    '[option.joints.bed]\nleast = "1/4"': 'option[1].joints.bed.least: "1/4" has no '
    'unit; write "1/4 in" (option "Odd")',
    '[option.brick]\nlength = "6 in"': "option[1].brick.height: is missing; write a "
    'length such as "26 1/4 in" (option "Odd")',
    '[option.joints.bed]\nleast = "5/8 in"': "option[1].joints.bed.least: "
    '"5/8 in" is more than joints.bed.most, 1/2 in; write a smaller least '
    '(option "Odd")',
    '[option.brick]\nlenght = "6 in"': "option[1].brick.lenght: is not a key of a job "
    'file (option "Odd") (nearest known key: brick.length)',
    '[option.face]\nwidth = "30 in"': "option[1].face: can't differ from one option to "
    f"the next; an option may have the tables {', '.join(DIFFERING)}",
    '[option.opening]\nwidth = "12 in"': 'option[1].opening: "width" is not one of '
    '"head", "head_courses", "head_over", "head_bears", "head_centre" or "head_ends"',
    '[option.appearance]\nphoto = "a.jpg"': 'option[1].appearance: "photo" is not one '
    'of "brick", "joint", "variation" or "seed"',
}


@pytest.mark.parametrize("typed", FAULTS)
def test_a_fault_is_one_line_with_the_options_key_and_its_name(typed: str) -> None:
    said = faults_of(f'[[option]]\nname = "Odd"\n{typed}')
    assert said == [f"snug.toml: {FAULTS[typed]}"]


def test_what_does_not_go_with_the_job_names_the_key_there() -> None:
    # A joint depth of 3/8 in is typed in the job; the option's brick is thinner.
    text = SNUG + '[joints]\ndepth = "1/2 in"\n'
    typed = '[[option]]\nname = "Thin"\n[option.brick]\nthickness = "3/8 in"'
    (line,) = faults_of(typed, text)
    assert line == (
        'snug.toml: option[1]: "Thin" does not go with the job\'s joints.depth: '
        '"1/2 in" is deeper than the brick is thick, 3/8 in; write a smaller depth; '
        "or change brick.thickness"
    )


def test_a_fault_of_the_job_is_told_once_not_again_for_each_option() -> None:
    typed = '[[option]]\nname = "A"\n[[option]]\nname = "B"'
    said = faults_of(typed, SNUG.replace('"28 in"', '"28"'))
    assert said == ['snug.toml: face.width: "28" has no unit; write "28 in"']


def test_one_fault_of_an_option_hides_no_other() -> None:
    said = faults_of(
        '[[option]]\nname = "A"\n[option.face]\nwidth = "1 in"\n'
        '[option.brick]\nsize = "x"\n[[option]]\nname = "A"'
    )
    assert [line.split(": ")[1] for line in said] == [
        "option[1].face", "option[1].brick.size", "option[2].name",
    ]  # fmt: skip
    assert said[-1].endswith(': "A" is the name of option[1] too; write another')


def test_more_options_than_anybody_can_choose_from_are_refused() -> None:
    def many(count: int) -> str:
        return "".join(f'[[option]]\nname = "{n}"\n' for n in range(count))

    assert len(job_of(many(MOST)).options) == MOST
    wanted = f"snug.toml: option: is there {MOST + 1} times; write {MOST} options"
    assert faults_of(many(MOST + 1)) == [f"{wanted} or fewer"]


def test_once_a_course_is_laid_nothing_is_left_to_choose() -> None:
    laid = '[[laid]]\ncourse = 1\ntop = "2 5/8 in"\n'
    typed = '[[option]]\nname = "Long"\n[option.brick]\nsize = "roman"\n'
    assert len(job_of(typed).options) == 1
    assert job_of(laid + typed).options == ()


def test_a_fault_of_an_option_has_its_line() -> None:
    typed = '[[option]]\nname = "Odd"\n[option.bond]\npattern = "stak"\n'
    text = SNUG + typed
    with pytest.raises(BadJob) as refused:
        parse_job(text, "snug.toml")
    (fault,) = placed(refused.value.faults, text)
    lines = text.splitlines()
    assert fault.on_line == lines.index('pattern = "stak"') + 1


def test_what_an_option_may_have_the_schema_takes_and_nothing_else() -> None:
    validator = Draft202012Validator(job_schema())
    good: dict[str, Any] = tomllib.loads(SNUG)
    good["option"] = [
        {
            "name": "Long",
            "brick": {"size": "roman"},
            "joints": {"bed": {"most": "1/2 in"}},
            "opening": {"head": "soldier"},
        }
    ]
    assert list(validator.iter_errors(good)) == []
    for key, value in (
        ("face", {"width": "2 in"}),
        ("opening", {"width": "2 in"}),
        ("brick", {"size": "romn"}),
        ("joints", {"bed": {"most": 2}}),
    ):
        bad = copy.deepcopy(good)
        bad["option"][0][key] = value
        assert list(validator.iter_errors(bad)), key


@pytest.mark.parametrize("key", ["brick.size", "joints.bed.most", "opening.head"])
def test_a_key_of_an_option_is_explained_as_the_jobs(key: str) -> None:
    assert describe_key(f"option[2].{key}") == describe_key(key)


def test_a_key_that_may_not_differ_is_not_explained() -> None:
    with pytest.raises(BadJob):
        describe_key("option.opening.width")


def test_a_paper_that_is_asked_for_twice_is_drawn_once() -> None:
    job = solution_of("library-hearth").job
    asked = job.asking_for(("quote",))
    assert asked.sheet.papers == (*job.sheet.papers, "quote")
    assert asked.asking_for(("costs", "quote")).sheet.papers[-2:] == ("quote", "costs")
    assert asked.digest == job.digest
