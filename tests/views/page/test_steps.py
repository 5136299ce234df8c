"""What a course says beyond its places: what is between pieces, and under the first."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

import pytest

from shopdraw.drawing.page import PageStep
from shopdraw.job.reading import parse_job
from shopdraw.lengths import format_length, format_made
from shopdraw.pipeline import solve
from shopdraw.views.page.make import make_page
from shopdraw.views.words.record import solution_record
from tests.demos import solution_of
from tests.views.jobs import text_of
from tests.views.page.test_page import page_of

FACED = {
    "left": "left return", "right": "right return",
    "left reveal": "left jamb", "right reveal": "right jamb",
}  # fmt: skip


def wrong_places(demo: str, change: tuple[str, str] = ("", "")) -> list[str]:
    """Name what a run says otherwise than the record has it: order, place, joint.

    Only rectangles are held, and joints between neighbours on one face.
    """
    record: Any = solution_record(solution_of(demo))["layout"]
    starts = {x["name"]: min(p[0] for p in x["outline"]) for x in record["faces"]}
    spans: dict[tuple[str, str], list[Any]] = {}
    for piece in record["pieces"]:
        for outline in piece["outlines"]:
            xs = sorted({x for x, _ in outline["points"]})
            span = xs[0], xs[-1], piece, len(xs) == 2
            spans.setdefault((str(piece["course"]), outline["face"]), []).append(span)
    wrong = []
    for (course, face), there in spans.items():
        there.sort(key=lambda span: (span[0], span[2]["id"]))
        title = f"{FACED.get(face, face)}, from its left end"
        (run,) = (x for x in step_of(demo, course).runs if x.title == title)
        if [x.card for x in run.places] != [span[2]["id"] for span in there]:
            wrong.append(f"{course}, {face}: {[x.card for x in run.places]}")
            continue
        for n, (place, span) in enumerate(zip(run.places, there, strict=True)):
            ends = [exact(x - starts[face]) for x in span[:2]]
            said = place.reach.replace(*change).split(" to ")
            if span[3] and not all(map(is_told, said, ends)):
                wrong.append(f"{place.card}: {place.reach}, not {ends}")
            after = there[n + 1] if n + 1 < len(there) else None
            if after and span[3] and after[3] and place.then.startswith("joint"):
                gap = format_length(exact(after[0] - span[1]), "in")
                is_next = "laid with" not in place.then
                if is_next and place.then.replace(*change) != f"joint {gap}":
                    wrong.append(f"{place.card}: {place.then}, not {gap}")
            if place.name.strip("()") != span[2]["mark"]:
                wrong.append(f"{place.card}: {place.name}")
    return wrong


def exact(value: float) -> Fraction:
    return Fraction(value).limit_denominator(100_000)


def is_told(said: str, value: Fraction) -> bool:
    """Whether words say a length in inches; half a brick as the saw makes it."""
    return said in (format_length(value, "in"), format_made(value, "in"))


INCHES = ("library-hearth", "chimney-breast-gas", "flemish-breast", "crooked-study",
          "chamfered-breast", "jack-arch-parlour", "banded-breast")  # fmt: skip


@pytest.mark.parametrize("demo", INCHES)
def test_each_course_is_told_from_left_to_right_as_the_record_has_it(demo: str) -> None:
    assert wrong_places(demo) == []


def test_a_place_that_is_not_so_is_noticed() -> None:
    assert wrong_places("library-hearth", ('8"', '8 1/16"'))
    assert wrong_places("library-hearth", ("joint 3/8", "joint 1/2"))


def step_of(demo: str, name: str) -> PageStep:
    (step,) = (x for x in page_of(demo).steps if x.name == name)
    return step


def test_what_stands_between_two_pieces_is_named_with_both_its_joints() -> None:
    front = step_of("library-hearth", "12").runs[1]
    assert front.title == "front, from its left end"
    assert [x.then for x in front.places] == [
        'joint 3/8"',
        'joint 5/16"; S F-11-03 to S F-11-15, laid with course 11; joint 5/16"',
        'joint 3/8"',
        "the corner",
    ]
    over = step_of("semicircular-dining-room", "10").runs[1]
    (then,) = (x.then for x in over.places if "laid with" in x.then)
    assert re.fullmatch(
        r"joint \S+; V1 F-07-\d\d to V1 F-07-\d\d, laid with course 7; joint \S+", then
    )


def test_the_runs_are_named_as_the_mason_calls_them() -> None:
    titles = [x.title for x in step_of("splayed-parlour", "3").runs]
    assert [x.partition(",")[0] for x in titles] == [
        "left return", "front", "right return", "left jamb", "right jamb",
    ]  # fmt: skip

    (card,) = (x for x in page_of("library-hearth").cards if x.id == "L-02-02")
    facts = dict(card.facts)
    assert facts["along the left return"] == '6 3/4" to 1\'-2 3/8"'
    assert facts["legs"] == '7 5/8" on the left return and 3 5/8" on the front'


def test_on_a_hearth_that_falls_each_piece_says_its_joint() -> None:
    says = [[x.says for x in run.places] for run in step_of("library-hearth", "1").runs]
    assert says[1] == [
        'joint below 3/8"',
        'sawn end left; joint below 3/8"',
        'sawn end right; joint below 1/2"',
        'joint below 1/2"',
    ]
    assert not any(
        "below" in x.says for run in step_of("chimney-breast-gas", "1").runs
        for x in run.places
    )  # fmt: skip


def test_of_rowlocks_two_high_the_upper_ones_say_where_their_feet_are() -> None:
    two = 'head = "rowlock"\nhead_courses = 2'
    text = text_of("library-hearth", ('head = "soldier"', two))
    page = make_page(solve(parse_job(text, "den.toml")), ())
    (step,) = (x for x in page.steps if x.name == "11")
    places = [x for run in step.runs for x in run.places]
    on_high = [x for x in places if x.says.startswith("foot at")]
    # 2'-3" and a header's end of 3 5/8" and a joint of 3/8".
    assert {x.says for x in on_high} == {"foot at 2'-7\""}
    for one in on_high:
        assert [x.reach for x in places].count(one.reach) == 2


def test_where_a_piece_is_that_is_sawn_aslant_is_told_where_there_is_one() -> None:
    for demo, is_told in (("segmental-kitchen", True), ("library-hearth", False)):
        assert ("sawn aslant" in page_of(demo).steps_say) is is_told


def test_an_arch_says_where_it_begins_and_which_courses_run_up_to_it() -> None:
    dues = {x.name: x.due for x in page_of("semicircular-dining-room").steps}
    # The keystone's head, 3'-2 3/8", is within course 15: 3'-1 1/8" to 3'-3 3/8".
    assert [x.words for x in dues["7"] if x.words.startswith("The arch")] == [
        "The arch stands on the centre from here, its top at 3'-2 3/8\". "
        "Courses 7 to 15 run up to it."
    ]
    (wait,) = (x.words for x in dues["7"] if x.words.startswith("Take"))
    assert wait == (
        "Take the centre away: 7 days after setting; the day of setting is not given."
    )
