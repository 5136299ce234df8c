"""What the starter job file leaves commented out can be read once it is not."""

from __future__ import annotations

import re
from itertools import takewhile

import pytest

from shopdraw.errors import BadJob
from shopdraw.job.reading import parse_job
from tests.job.files import STARTER


def opened(text: str, first: str) -> str:
    """Return the starter with a commented table, or one key's lines, let stand.

    Args:
        text: the starter.
        first: what the first of those lines begins with, after "# ".
    """
    lines = text.splitlines()
    at = next(i for i, x in enumerate(lines) if x.startswith(f"# {first}"))
    if first.startswith("["):
        more = takewhile(lambda x: re.match(r"# [^\[]", x), lines[at + 1 :])
    else:
        more = iter(())
    for place, line in enumerate((lines[at], *more), start=at):
        lines[place] = line.removeprefix("# ")
    return "\n".join(lines)


def without(text: str, *keys: str) -> str:
    """Return the starter without the first line of each key."""
    for key in keys:
        text = re.sub(rf"(?m)^{key} = .*\n", "", text, count=1)
    return text


@pytest.mark.parametrize(
    ("first", "key"),
    [
        ("measured_by", "job.measured_by"),
        ("measured_on", "job.measured_on"),
        ("[brick.sample]", "brick.sample"),
        ("left = { lean", "edges.left.lean"),
        ("right = { lean", "edges.right.lean"),
        ("points", "hearth.points"),
        ("later", "hearth.later"),
    ],
)
def test_what_a_survey_brings_can_be_let_stand(first: str, key: str) -> None:
    before, after = (
        parse_job(text, "starter.toml").at(key)
        for text in (STARTER, opened(STARTER, first))
    )
    assert before != after
    assert after


def test_a_crooked_opening_can_be_let_stand_instead_of_its_width() -> None:
    text = opened(STARTER, "[opening.corners]")
    head, tail = text.split("[opening]", 1)
    job = parse_job(f"{head}[opening]{without(tail, 'width', 'from_left')}", "x.toml")
    assert job.opening.corners is not None
    with pytest.raises(BadJob, match=r"already follows from opening\.corners"):
        parse_job(text, "x.toml")


def test_a_manual_can_be_let_stand_for_a_listed_unit() -> None:
    text = opened(STARTER, "[appliance.manual]")
    text = text.replace('kind = "masonry" ', 'kind = "gas" ', 1)
    manual = parse_job(without(text, "set"), "x.toml").appliance.manual
    assert manual is not None
    assert manual.page == "14"
