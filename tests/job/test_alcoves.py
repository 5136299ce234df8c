"""Alcoves in the job file: what is taken, what is refused, one line a fault."""

from __future__ import annotations

from fractions import Fraction as F
from pathlib import Path

import pytest
from click.testing import CliRunner

from shopdraw.cli import main
from shopdraw.errors import BadJob
from shopdraw.job.reading import parse_job
from tests.alcoves import ALCOVES, JOB
from tests.splayed import RETURNS, text_of


def faults(face: str, more: str = "", opening: str = "") -> dict[str, str]:
    text = text_of(opening, face, more)
    text = text.replace('5/8 in"\ncorner', '5/8 in"\nat_fold = "mitre"\ncorner')
    with pytest.raises(BadJob) as refused:
        parse_job(text, "alcove.toml")
    return {fault.key: fault.wanted for fault in refused.value.faults}


def test_an_alcove_is_no_face_that_turns_back() -> None:
    face = parse_job(text_of("", ALCOVES), "alcove.toml").face
    assert (face.alcove("left"), face.alcove("right")) == (F(24), F(16))
    assert [x.name for x in face.beside("left")] == ["return"]
    assert face.turns("left") == (90,)
    bare = parse_job(text_of("", RETURNS), "alcove.toml").face
    assert bare.alcove("left") is bare.alcove("right") is None


@pytest.mark.parametrize(
    ("face", "key", "words"),
    [
        ('left_alcove = "24 in"', "face.left_alcove", "write face.left_return too"),
        (
            f'{RETURNS}\nleft_return_splay = 10\nleft_alcove = "24 in"',
            "face.left_alcove",
            "meets a return that splays by 10 degrees",
        ),
        # 3 in less the inch of the return's build-out, and two joints: 1 1/4.
        (f'{RETURNS}\nleft_alcove = "3 in"', "face.left_alcove", "leaves 1 1/4 in"),
        # 1/2 in, an inch more and an inch less, less the joint.
        (
            'left_return = "1/2 in"\nleft_alcove = "24 in"',
            "face.left_return",
            "leaves 1/8 in for brick",
        ),
        (f'{RETURNS}\nleft_alcove = "300 in"', "face.left_alcove", "the most is 240"),
    ],
)
def test_what_has_no_corner_or_no_room_is_refused(
    face: str, key: str, words: str
) -> None:
    told = faults(face)
    assert set(told) == {key}
    assert words in told[key]


@pytest.mark.parametrize(
    ("opening", "more", "key"),
    [
        ("", '[bond]\npattern = "stack"', "bond.pattern"),
        ("", '[[band]]\nkind = "rowlock"\ncourse = 3', "band[1].kind"),
        ("", '[[corbel]]\ncourses = 2\nstep = "1/2 in"', "corbel[1]"),
        ('head = "soldier"\nhead_over = "face"', "", "opening.head_over"),
        ("", '[edges]\nleft = { lean = "1/8 in" }', "edges.left.lean"),
    ],
)
def test_what_can_not_go_by_turns_is_refused_in_one_line(
    opening: str, more: str, key: str
) -> None:
    assert set(faults(ALCOVES, more, opening)) == {key}
    # Where there is no alcove the same is taken.
    text = text_of(opening, RETURNS, more)
    text = text.replace('5/8 in"\ncorner', '5/8 in"\nat_fold = "mitre"\ncorner')
    parse_job(text, "return.toml")


def test_a_riser_beside_an_alcove_is_refused() -> None:
    more = (
        '[hearth]\nfront = "20 in"\nleft = "12 in"\nright = "12 in"\n'
        'raised = "6 in"\n[hearth.brick]\nriser = "6 in"'
    )
    assert "hearth.brick.riser" in faults(ALCOVES, more)


def test_a_fault_is_a_line_on_the_screen_and_exit_code_2(tmp_path: Path) -> None:
    path = tmp_path / "alcove.toml"
    path.write_text(JOB.replace('left_return = "13 in"\n', ""))
    told = CliRunner().invoke(main, ["check", str(path)])
    assert told.exit_code == 2
    (line,) = told.output.strip().splitlines()
    assert "face.left_alcove" in line
    assert "write face.left_return too" in line
