"""Reading a job: what is filled in, and every fault at once, in words."""

from __future__ import annotations

import random
import re
from datetime import date
from fractions import Fraction as F
from pathlib import Path

import pytest

from shopdraw.errors import BadJob
from shopdraw.job.faults import known_keys
from shopdraw.job.reading import parse_job, read_job

CONFIGS = Path(__file__).resolve().parents[2] / "configs"
SAMPLE = (CONFIGS / "library-hearth.toml").read_text("utf-8")
LEAST = """
[job]
name = "Least"
[face]
width = "56 in"
height = "40 in"
[opening]
width = "30 in"
height = "24 in"
[brick]
size = "modular"
"""


def lines_of(text: str) -> list[str]:
    with pytest.raises(BadJob) as caught:
        parse_job(text, "den.toml")
    return list(caught.value.lines())


def changed(pattern: str, new: str, text: str = SAMPLE) -> str:
    """Change the first match, and be sure that there is one."""
    result, count = re.subn(pattern, lambda _: new, text, count=1, flags=re.MULTILINE)
    assert count == 1, pattern
    return result


def test_the_sample_reads_as_typed() -> None:
    job = parse_job(SAMPLE, "library.toml")
    assert job.face.width == F(221, 4)
    assert job.brick.length == F(61, 8)
    assert job.brick.corner is not None
    assert job.joints.step == F(1, 16)
    assert job.job.date == date(2026, 3, 2)


def test_what_is_left_out_is_filled_in_from_the_catalog() -> None:
    job = parse_job(LEAST, "least.toml")
    assert job.lengths == "in"
    assert job.joints.bed.preferred == F(3, 8)
    assert job.brick.height == F(9, 4)
    assert job.brick.corner is None
    assert job.appliance.kind is None
    assert job.hearth is None


def test_a_measured_size_wins_over_the_catalog() -> None:
    job = parse_job(f'{LEAST}length = "7 1/2 in"\n', "least.toml")
    assert job.brick.length == F(15, 2)
    assert job.brick.height == F(9, 4)


def test_a_brick_of_the_other_lengths_is_converted_exactly() -> None:
    text = LEAST.replace('name = "Least"', 'name = "Least"\nlengths = "mm"')
    job = parse_job(text, "least.toml")
    assert job.brick.length == F(61, 8) * F(254, 10)


def test_a_brick_that_turns_a_corner_gets_a_whole_and_a_half_leg() -> None:
    text = LEAST.replace("[opening]", 'left_return = "12 in"\n[opening]')
    corner = parse_job(text, "least.toml").brick.corner
    assert corner is not None
    assert (corner.long_leg, corner.short_leg) == (F(61, 8), F(29, 8))


def test_a_short_brick_is_asked_for_a_lap_that_it_can_keep() -> None:
    text = LEAST.replace('size = "modular"', 'length = "4 in"\nheight = "4 in"')
    assert parse_job(text, "least.toml").bond.least_lap == 1
    with pytest.raises(BadJob, match="is more than this brick can lap"):
        parse_job(f'{text}[bond]\nleast_lap = "2 in"\n', "least.toml")


def test_one_thickness_of_bed_is_both_least_and_most() -> None:
    job = parse_job(f'{LEAST}[setting_bed]\nthickness = "3/8 in"\n', "least.toml")
    assert (job.setting_bed.least, job.setting_bed.most) == (F(3, 8), F(3, 8))


KEYS = [
    (r'^width = "55 1/4 in"$', 'width = "55"',
     'den.toml: face.width: "55" has no unit; write "55 in"'),
    (r'^width = "34 in"$', "width = 34",
     'den.toml: opening.width: 34 needs quotes and a unit; write "34 in"'),
    (r'^width = "34 in"$', 'with = "34 in"\nwidth = "34 in"',
     "den.toml: opening.with: is not a key of a job file "
     "(nearest known key: opening.width)"),
    (r'^height = "27 in"$', 'height = "tall"',
     'den.toml: opening.height: "tall" is not a length; write one like "26 1/4 in"'),
    (r'^head = "soldier"$', 'head = "jack"',
     'den.toml: opening.head: "jack" is not one of "jack arch", '
     '"segmental arch", "semicircular arch", "soldier", "rowlock" or "running"'),
    (r'^head_over = "opening"$', 'head_over = "all"',
     'den.toml: opening.head_over: "all" is not one of "opening" or "face"'),
    (r'^head_over = "opening"$', 'head_bears = "far"',
     'den.toml: opening.head_bears: "far" does not say how far the head goes past each '
     'jamb; write "best", "no", or a length'),
    (r'^size = "modular"$', 'size = "moduler"',
     'den.toml: brick.size: "moduler" is not in the catalog; the nearest name is '
     '"modular"'),
    (r'^name = "Library hearth"$', 'name = ""',
     'den.toml: job.name: "" must not be empty'),
    (r'^name = "Library hearth"$', 'name = "a\\u0007b"',
     'den.toml: job.name: "a?b" has U+0007 in it, which can\'t be lettered; write '
     "plain text"),
    (r"^date = 2026-03-02$", 'date = "the second"',
     'den.toml: job.date: "the second" is not a date; write one like "2026-03-02"'),
    (r"^date = 2026-03-02$", "date = 0",
     'den.toml: job.date: 0 is not a date; write one like "2026-03-02"'),
    (r"^date = 2026-03-02$", "date = 9999-12-31",
     "den.toml: job.date: 9999-12-31 is a day of the year 9999; write one from 1900 to "
     "2199"),
    (r"^set_on = 2026-03-09$", 'set_on = "2200-01-01"',
     'den.toml: schedule.set_on: "2200-01-01" is a day of the year 2200; write one '
     "from 1900 to 2199"),
    (r'^least_piece = "2 in"$', 'least_piece = "0 in"',
     'den.toml: bond.least_piece: "0 in" must be more than zero'),
    (r'^front = "22 in"  ', 'front = "-1 in"  ',
     'den.toml: hearth.front: "-1 in" can\'t be negative'),
    (r'^kind = "masonry"$', 'kind = "wood stove"',
     'den.toml: appliance.kind: "wood stove" is not one of "masonry", '
     '"factory-built" or "gas"; a stove, free standing or let into the opening, is '
     "not covered here: its listing and manual, and the local code, say how far brick "
     "and woodwork stay off"),
    (r'^kind = "masonry"$', "kind = 1",
     "den.toml: appliance.kind: 1 is not one of \"masonry\", \"factory-built\" or "
     '"gas"'),
    (r'^\[rules\]$', "[rules]\nsets = 3",
     "den.toml: rules.sets: is not a key of a job file (nearest known key: rules.set)"),
    (r'^projection = "3/4 in"$', 'projection = "3/4"',
     'den.toml: trim[1].projection: "3/4" has no unit; write "3/4 in"'),
    (r'^\[sheet\]$', "[waste]\nflats = { percent = 200 }\n[sheet]",
     "den.toml: waste.flats.percent: 200 is too large; write 100 or less"),
    (r'^\[sheet\]$', '[waste]\nflats = { percent = "x" }\n[sheet]',
     'den.toml: waste.flats.percent: "x" must be a number, without quotes'),
    (r'^\[sheet\]$', "[waste]\nflats = { percent = 1, least = 1.5 }\n[sheet]",
     "den.toml: waste.flats.least: 1.5 must be a whole number"),
    (r'^\[appliance\]$', "[courses]\ntop_height = true\n[appliance]",
     'den.toml: courses.top_height: true is not a length; write one like "26 1/4 in"'),
    (r'^pattern = "half"$', "pattern = 5",
     'den.toml: bond.pattern: 5 is not one of "half", "third", "quarter", "stack", '
     '"Flemish", "English" or "common"'),
    (r'^number = "LH-01"$', "number = 7",
     "den.toml: job.number: 7 must be text in quotes"),
    (r'^\[edges\]$', "[edges]\nleft = 4",
     "den.toml: edges.left: 4 must be a table; write [edges.left] with its keys below "
     "it"),
    (r'^\[\[trim\]\]', "[trim]",
     "den.toml: trim: a table must stand under a heading in double brackets, [[trim]]"),
    (r'^\[edges\]$', "[[edges]]",
     "den.toml: edges: a list must be a table; write [edges] with its keys below it"),
    (r'^\[\[trim\]\]', "[[trim]]\n[[trim]]",
     "den.toml: trim[1].name: is missing; it has no default, so write it"),
    (r'^\[edges\]$', '[opening.corners]\nbottom_left = ["9 in", "0 in"]\n[edges]',
     "den.toml: opening.corners.top_left: is missing; write how far along and how far "
     'up, ["12 in", "0 in"]'),
    (r'^\[edges\]$', '[[laid]]\ncourse = 0\ntop = "3 in"\n[edges]',
     "den.toml: laid[1].course: 0 is too small; write 1 or more"),
    (r'^\[edges\]$', '[[rules.own]]\nfigure = "throat"\nvalue = "9 in"\n'
     'reason = "a"\n[edges]',
     'den.toml: rules.own[1].reason: "a" is too short; write at least 3 characters'),
    (r'^number = "LH-01"$', "notes = 3",
     "den.toml: job.notes: 3 must be a list, in square brackets"),
    (r'hidden = false', 'hidden = "no way"',
     'den.toml: joints.bottom.hidden: "no way" must be true or false, without quotes'),
    (r'^for_whom = .*$', f'for_whom = "{"x" * 61}"',
     f'den.toml: job.for_whom: "{"x" * 57}..." is too long; write at most 60 '
     "characters"),
    (r'^least = "1/4 in"  ', 'thickness = "3/8 in"\nleast = "1/4 in"  ',
     'den.toml: setting_bed.thickness: "3/8 in" is given with least or most; write '
     "thickness alone, or least and most"),
    (r'^scale = "fit"$', 'scale = "fit"\n[layers.own]\nA-ELEV-OTLN = "MY LAYER"',
     'den.toml: layers.own.A-ELEV-OTLN: "MY LAYER" is not a layer name; '
     'write up to 31 letters, digits, hyphens, _ or $'),
    (r'^scale = "fit"$', 'scale = "fit"\n[appearance]\nbrick = "red"',
     'den.toml: appearance.brick: "red" is not a colour; '
     'write # and six hexadecimal digits, like "#9c5344"'),
    (r'^scale = "fit"$', 'scale = "fit"\n[appearance]\nvariation = 80',
     'den.toml: appearance.variation: 80 is too large; write 50 or less'),
]  # fmt: skip


@pytest.mark.parametrize(("pattern", "new", "line"), KEYS)
def test_a_wrong_key_is_one_line(pattern: str, new: str, line: str) -> None:
    assert line in lines_of(changed(pattern, new))


SENSE = [
    (r'^width = "34 in"$', 'width = "60 in"',
     'opening.width: "60 in" is not narrower than the face, 55 1/4 in; there must be a '
     "leg of brick at each side"),
    (r'^from_left = "10 5/8 in"$', 'from_left = "22 in"',
     'opening.from_left: "22 in" leaves 1/4 in of brick at the right of the '
     "opening; it must leave at least 1 in"),
    (r'^from_left = "10 5/8 in"$', 'from_left = "23 in"',
     'opening.from_left: "23 in" leaves no brick at the right of the opening; it must '
     "leave at least 1 in"),
    (r'^height = "27 in"$', 'height = "33 in"',
     'opening.height: "33 in" leaves no room for a course over the opening; the '
     "face is 34 5/8 in high and a brick 2 1/4 in"),
    (r'^height = "27 in"$', 'height = "2 in"',
     'opening.height: "2 in" is lower than one course with its joints; write '
     "2 3/4 in or more"),
    (r'^bed    = .*$',
     'bed = { preferred = "3/8 in", least = "5/8 in", most = "1/2 in" }',
     'joints.bed.least: "5/8 in" is more than joints.bed.most, 1/2 in; write a smaller '
     "least"),
    (r'^head   = .*$', 'head = { preferred = "3/4 in" }',
     'joints.head.preferred: "3/4 in" is outside the joint\'s own range; write a '
     "length from 1/4 in to 1/2 in"),
    (r'^bottom = \{.*$', 'bottom = { least = "1 in", most = "3/4 in" }',
     'joints.bottom.least: "1 in" is more than joints.bottom.most, 3/4 in; write a '
     "smaller least"),
    (r'^step   = .*$', 'step = "3/4 in"',
     "joints.bed: 1/4 in to 1/2 in is a range without a whole multiple of joints.step, "
     "3/4 in; write a wider range or a smaller step"),
    (r'^least = "1/4 in"  ', 'least = "5/8 in"  ',
     'setting_bed.least: "5/8 in" is more than setting_bed.most, 1/2 in; write a '
     "smaller least"),
    (r'^thickness = "5/8 in"$', 'thickness = "5/8 in"\nheight = "9 in"',
     'brick.height: "9 in" is more than the brick\'s length, 7 5/8 in; the height is '
     "the shorter side of the face"),
    (r'^thickness = "5/8 in"$', 'thickness = "5/8 in"\nlength = "2 in"',
     'brick.length: "2 in" is less than the brick\'s height, 2 1/4 in; the height is '
     "the shorter side of the face"),
    (r'^thickness = "5/8 in"$', 'thickness = "1/16 in"',
     'brick.thickness: "1/16 in" is less than the joints are deep, 1/2 in; write a '
     "smaller joints.depth"),
    (r'^corner = .*$', 'corner = { long_leg = "3 in", short_leg = "4 in" }',
     'brick.corner.short_leg: "4 in" is longer than the long leg, 3 in; swap the two'),
    (r'^corner = .*$', 'corner = { long_leg = "7 in", short_leg = "1/2 in" }',
     'brick.corner.short_leg: "1/2 in" is no longer than the brick is thick, 5/8 in; '
     'measure the leg along the outside, or write measured = "inside"'),
    (r'^corner = .*$', 'length = "1 1/2 in"\nheight = "1 in"',
     'brick.length: "1 1/2 in" leaves corner units a short leg of 9/16 in, no longer '
     "than the brick is thick, 5/8 in; write brick.corner with the legs of the units "
     "that you buy"),
    (r'^corner = .*$', 'header = "5/8 in"',
     'brick.header: "5/8 in" leaves corner units a short leg of 5/8 in'),
    (r'^step   = .*$', 'step = "1/16 in"\ndepth = "3/4 in"',
     'joints.depth: "3/4 in" is deeper than the brick is thick, 5/8 in; write a '
     "smaller depth; or change brick.thickness"),
    (r'^thickness = "5/8 in"$', 'thickness = "5/8 in"\nlength = "2 in"\n'
     'height = "3 in"',
     'brick.height: "3 in" is more than the brick\'s length, 2 in; the height is the '
     "shorter side of the face; or change brick.length"),
    (r'^thickness = "5/8 in"$', 'thickness = "5/8 in"\nlength = "1 3/4 in"\n'
     'height = "1 in"',
     'bond.least_piece: "2 in" is longer than a whole brick, 1 3/4 in; or change '
     "brick.length"),
    (r'^\[edges\]$', '[courses]\nsoldier_height = "8 in"\n[edges]',
     'courses.soldier_height: "8 in" is more than the brick\'s length, 7 5/8 in'),
    (r'^\[edges\]$', '[edges]\nleft = { kind = "gap", width = "13 7/8 in" }',
     'face.left_return: "13 3/8 in" leaves 1/2 in for brick, and the front\'s brick '
     "alone is 5/8 in thick; write more, or leave the return out"),
    (r'^\[edges\]$', '[edges]\nleft = { kind = "gap", width = "14 1/2 in" }',
     'face.left_return: "13 3/8 in" leaves nothing for brick, and the front\'s brick '
     "alone is 5/8 in thick; write more, or leave the return out"),
    (r'^head_over = .*$', 'head_bears = "-1 in"',
     'opening.head_bears: "-1 in" can\'t be negative'),
    (r'^least_piece = .*$', 'least_piece = "9 in"',
     'bond.least_piece: "9 in" is longer than a whole brick, 7 5/8 in'),
    (r'^least_lap = .*$', 'least_lap = "5 in"',
     'bond.least_lap: "5 in" is more than this brick can lap; write 3 11/16 in or '
     "less"),
    (r'^\[edges\]$', '[courses]\ntop_height = "3 in"\n[edges]',
     'courses.top_height: "3 in" is more than the brick\'s height, 2 1/4 in'),
    (r'^left_return = "13 3/8 in"  ', 'left_return = "1/2 in"\n[[target]]\nname="a"\n'
     'level="1 in"\n[spare]\n#', "spare: is not a key"),
    (r'^head_over = .*$', 'head_bears = "12 in"',
     'opening.head_bears: "12 in" reaches past the end of a leg, 11 5/8 in wide; write '
     'less, or opening.head_over = "face" for the whole face'),
    (r'^head_over = .*$',
     'head_over = "face"\nhead_bears = "2 in"',
     'opening.head_bears: "2 in" is for opening.head_over = "opening" only; leave it '
     "out"),
    (r'^head = "soldier"$', 'head = "running"\nhead_bears = "2 in"',
     'opening.head_bears: "2 in" is for soldiers and rowlocks only, and opening.head '
     'is "running"; leave it out'),
    (r'^head_over = .*$', 'head_over = "face"',
     "brick.at_fold: is missing, and the soldiers go round an outside corner; write "
     '"mitre", "butt" or "stop short", or give brick.soldier_corner'),
    (r'^\[edges\]$', '[[target]]\nname = "Top"\nlevel = "20 in"\n[edges]',
     'target[1].name: "Top" is a target that every job has; write another name'),
    (r'^\[edges\]$', '[[target]]\nname = "line"\nlevel = "48 in"\n[edges]',
     'target[1].level: "48 in" is above the top of the face; write at most 34 5/8 in'),
    (r'^\[edges\]$', '[[target]]\nname = "line"\nlevel = "30 in"\n[edges]',
     'target[1].level: "30 in" lies within the soldiers, which reach from 27 in to '
     "34 5/8 in; no bed joint can be there"),
    (r'^\[edges\]$', '[[target]]\nname = "a"\nlevel = "9 in"\n[[target]]\nname = "A"\n'
     'level = "18 in"\n[edges]',
     'target[2].name: "A" is the name of another target too; write another name'),
    (r'^projection = "3/4 in"$', "",
     "trim[1].projection: is missing; write the projection, or steps"),
    (r'^projection = "3/4 in"$',
     'projection = "3/4 in"\nsteps = [{ reach = "1 in", projection = "1 in" }]',
     'trim[1].projection: "3/4 in" is given as well as steps; remove one of the two'),
    (r'^projection = "3/4 in"$', 'steps = [{ reach = "99 in", projection = "1 in" }]',
     "trim[1].steps: steps of 99 in together are more than the whole piece, 57 1/4 in"),
    (r'^size = "ARCH C"$', 'size = "ARCH Z"', 'sheet.size: "ARCH Z" is not a sheet'),
    (r'^scale = "fit"$', 'scale = "big"',
     'sheet.scale: "big" is not a scale; write "fit", "1:10" or "1 1/2 in = 1 ft"'),
    (r'^set = "irc-2015"$', 'set = "irc-1776"',
     'rules.set: "irc-1776" is not a rule set in the catalog, which has irc-2015'),
    (r'^width = "55 1/4 in"$', 'width = "2000 ft"',
     'face.width: "2000 ft" is more than this program draws; the most is 720 in'),
    (r'^size = "modular"$', 'size = "modular"\nheight = "1/16 in"',
     'brick.height: "1/16 in" is too small for any brick; the least is 1/2 in'),
    (r'^height = "34 5/8 in"  ', 'height = "33 in"  ', ""),
    (r'^scale = "fit"$', 'scale = "fit"\n[layers]\nnames = "OFFICE"',
     'layers.names: "OFFICE" is not a layer naming; the catalog has NCS, ISO 13567'),
    (r'^scale = "fit"$', 'scale = "fit"\n[layers.own]\nA-ELEV-OUTL = "X"',
     'layers.own.A-ELEV-OUTL: "X" is given to a layer that the drawings do not have '
     "(nearest known layer: A-ELEV-OTLN)"),
    (r'^scale = "fit"$', 'scale = "fit"\n[layers.own]\nA-ELEV-OTLN = "A-ELEV-MSNR"',
     'layers.own.A-ELEV-OTLN: "A-ELEV-MSNR" is the name of another layer too'),
    (r'^scale = "fit"$', 'scale = "fit"\npage = "LETTER"',
     'sheet.page: "LETTER" is not a sheet in the catalog, which has ANSI A'),
]  # fmt: skip


@pytest.mark.parametrize(("pattern", "new", "line"), SENSE)
def test_what_cannot_be_built_is_one_line(pattern: str, new: str, line: str) -> None:
    text = changed(pattern, new)
    if not line:
        # Lower than the soldiers are long: sawn soldiers, not a fault.
        parse_job(text, "den.toml")
        return
    assert any(x.startswith(f"den.toml: {line}") for x in lines_of(text)), lines_of(
        text
    )


def test_three_mistakes_are_three_lines_in_the_order_of_the_file() -> None:
    text = changed(r'^width = "34 in"$', "width = 34")
    text = changed(r"^step   = .*$", 'stepp = "1/16 in"', text)
    text = changed(r'^scale = "fit"$', 'scale = "big"', text)
    assert [line.split(": ")[1] for line in lines_of(text)] == [
        "opening.width",
        "joints.stepp",
        "sheet.scale",
    ]


def test_a_missing_table_says_what_every_job_needs() -> None:
    lines = lines_of('[job]\nname = "x"\n')
    assert "den.toml: [opening]: is missing; every job needs this table" in lines
    assert any(line.startswith("den.toml: face.width: is missing") for line in lines)


def test_what_is_not_toml_says_where() -> None:
    (line,) = lines_of("[job\n")
    assert line.startswith("den.toml: is not valid TOML: ")
    assert "line 1" in line


@pytest.mark.parametrize(
    "name", ["absent.toml", "folder", "latin.toml", "huge.toml", "a\0b"]
)
def test_a_file_that_cannot_be_read_is_one_line(tmp_path: Path, name: str) -> None:
    (tmp_path / "folder").mkdir()
    (tmp_path / "latin.toml").write_bytes(b'[job]\nname = "caf\xe9"\n')
    (tmp_path / "huge.toml").write_bytes(b"#" * 1_000_001)
    with pytest.raises(BadJob) as caught:
        read_job(tmp_path / name)
    assert len(caught.value.lines()) == 1


def test_damaged_jobs_are_read_or_refused_and_never_break() -> None:
    rng = random.Random(20260302)
    data = SAMPLE.encode()
    refused = 0
    for _ in range(400):
        broken = bytearray(data)
        for _ in range(rng.randint(1, 4)):
            at = rng.randrange(len(broken))
            kind = rng.randrange(3)
            if kind == 0:
                broken[at] = rng.randrange(256)
            elif kind == 1:
                del broken[at : at + rng.randint(1, 12)]
            else:
                broken[at:at] = bytes([rng.randrange(32, 127)])
        try:
            parse_job(broken.decode("utf-8", "replace"), "den.toml")
        except BadJob as error:
            refused += 1
            assert all(line.startswith("den.toml: ") for line in error.lines())
            assert all("\n" not in line for line in error.lines())
    assert refused > 100


def test_every_key_is_known_once() -> None:
    keys = list(known_keys())
    assert "joints.bed.most" in keys
    assert "trim.steps.reach" in keys


def test_a_misspelt_key_is_told_once() -> None:
    """The key that is then missing is the one that it was meant to be."""
    text = LEAST.replace("width =", "widht =", 1)
    with pytest.raises(BadJob) as caught:
        parse_job(text, "den.toml")
    (line,) = caught.value.lines()
    assert "widht" in line
    assert "nearest known key" in line
    with pytest.raises(BadJob) as caught:
        parse_job(text.replace("widht =", "colour =", 1), "den.toml")
    assert any("is missing" in line for line in caught.value.lines())
