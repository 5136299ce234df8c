"""The photograph's keys: its name, and corners that a face can have in it."""

from __future__ import annotations

from pathlib import Path

import pytest

from shopdraw.errors import BadJob
from shopdraw.job.reading import parse_job, read_job
from tests.job.test_options import SNUG

SQUARE = "[[10, 10], [90, 12], [88, 70], [12, 72]]"
WRITE = (
    "write four pairs, [right, down], of the upper left, upper right, lower right and "
    "lower left corner of the face"
)
UNSEEN = f"is no face seen from before it; {WRITE}, in this order"


def said(typed: str) -> list[str]:
    try:
        parse_job(f"{SNUG}[appearance]\n{typed}", "snug.toml")
    except BadJob as error:
        return list(error.lines())
    return []


def corners(typed: str) -> list[str]:
    return said(f'photo = "a.jpg"\nphoto_corners = {typed}')


def test_a_photograph_with_its_corners_is_taken() -> None:
    assert corners(SQUARE) == []


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("[[10, 10], [90, 12], [88, 70]]", f"has not got four corners; {WRITE}"),
        ("[[10, 10], [90, 12], [88, 70], [1]]", f"has not got four corners; {WRITE}"),
        # Crossed, the other way round, turned by a right angle, one pushed in.
        ("[[10, 10], [90, 12], [12, 72], [88, 70]]", UNSEEN),
        ("[[90, 12], [10, 10], [12, 72], [88, 70]]", UNSEEN),
        ("[[90, 12], [88, 70], [12, 72], [10, 10]]", UNSEEN),
        ("[[10, 10], [90, 12], [30, 30], [12, 72]]", UNSEEN),
        ("[[10, 10], [90, 10], [90, 10], [10, 10]]", UNSEEN),
    ],
)
def test_corners_that_no_face_has_are_refused(typed: str, wanted: str) -> None:
    key = "snug.toml: appearance.photo_corners:"
    assert corners(typed) == [f"{key} a list {wanted}"]


def test_the_one_without_the_other_is_refused() -> None:
    assert said('photo = "a.jpg"') == [
        f"snug.toml: appearance.photo_corners: is missing; {WRITE}"
    ]
    assert said(f"photo_corners = {SQUARE}") == [
        "snug.toml: appearance.photo: is missing; write the name of the photograph "
        "that has these corners"
    ]


@pytest.mark.parametrize("name", ["../a.jpg", "/a.jpg", "a.heic", "a"])
def test_a_photograph_elsewhere_or_of_another_kind_is_refused(name: str) -> None:
    assert said(f'photo = "{name}"\nphoto_corners = {SQUARE}') == [
        f'snug.toml: appearance.photo: "{name}" must be the name of a JPEG or PNG file '
        "that lies beside the job file"
    ]


def test_a_photograph_called_as_what_the_set_draws_is_refused() -> None:
    assert said(f'photo = "Room.jpg"\nphoto_corners = {SQUARE}') == [
        'snug.toml: appearance.photo: "Room.jpg" is what the set calls what it draws; '
        "give the photograph another name"
    ]


def test_a_photograph_that_is_not_there_is_told_with_its_line(tmp_path: Path) -> None:
    text = f'{SNUG}[appearance]\nphoto = "a.jpg"\nphoto_corners = {SQUARE}\n'
    path = tmp_path / "snug.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BadJob) as refused:
        read_job(path)
    line = text.splitlines().index('photo = "a.jpg"') + 1
    assert refused.value.lines() == (
        f'{path}, line {line}: appearance.photo: "a.jpg" is not there; lay the '
        "photograph beside the job file",
    )
    (tmp_path / "a.jpg").write_bytes(b"")
    assert read_job(path).appearance.photo == "a.jpg"
