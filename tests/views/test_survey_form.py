"""The survey form: one page, the job file's own keys, every caution, no crowding."""

from __future__ import annotations

import io
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any, Literal, get_args, get_origin

import pdfplumber
import pytest
from pydantic import BaseModel

from shopdraw.drawing.extents import extent_of, lettering_of
from shopdraw.drawing.ink import Drawing, Stroke, Words
from shopdraw.drawing.layers import LAYERS
from shopdraw.drawing.lettering import overlap, plain
from shopdraw.drawing.sheets import Sheet
from shopdraw.errors import NotDrawable
from shopdraw.job.model import Job
from shopdraw.lengths import Lengths, parse_length
from shopdraw.output.pdf import write_pdf
from shopdraw.review.cautions import CAUTIONS
from shopdraw.views.survey_form import (
    LEFT,
    RIGHT,
    SEEN,
    SINGLE,
    TENS,
    TYPED,
    draw_form,
    draw_form_on,
)
from tests.job.files import STARTER
from tests.views.lettering import collisions, crossings

SIZES: dict[Lengths, tuple[float, float]] = {"in": (8.5, 11.0), "mm": (210.0, 297.0)}
INCH = {"in": 1.0, "mm": 25.4}
MARGIN = 0.375
"""In inches: what no ink may enter."""
KEY = re.compile(r"\b[a-z_]+(?:\.[a-z_]+)+\b")
ASKED = {
    *("face.width", "face.height", "face.left_return", "face.right_return"),
    *("opening.width", "opening.height", "opening.from_left"),
    *(
        f"opening.corners.{corner}"
        for corner in ("bottom_left", "bottom_right", "top_left", "top_right", "sag")
    ),
    *("hearth.front", "hearth.left", "hearth.right", "hearth.points"),
    *("hearth.raised", "hearth.material", "hearth.later"),
    *("trim.left", "trim.bottom", "trim.width", "trim.height", "trim.projection"),
    *("brick.sample.lengths", "brick.sample.heights", "brick.thickness"),
    *("brick.sample.row_of_ten", "brick.sample.stack_of_ten"),
    *("appliance.kind", "appliance.manual.document", "appliance.manual.page"),
}
"""What a survey cannot do without."""

both = pytest.mark.parametrize("lengths", SIZES)


def form(lengths: Lengths) -> Sheet:
    return draw_form(lengths)


def ink_of(sheet: Sheet) -> Drawing:
    """Return the page's ink, which stands on the paper as it is drawn."""
    (placed,) = sheet.drawings
    assert placed.placement.to_paper((1.5, 2.5)) == (1.5, 2.5)
    return placed.drawing


def lettered(drawing: Drawing) -> list[str]:
    return [words.text for words, _ in lettering_of(drawing)]


def edited(drawing: Drawing, old: str, new: str) -> Drawing:
    """Return the drawing with one line of its lettering changed."""
    words = next(x for x in drawing.ink if isinstance(x, Words) and x.text == old)
    changed = replace(words, text=new)
    return replace(
        drawing, ink=tuple(changed if x is words else x for x in drawing.ink)
    )


def is_inside(drawing: Drawing, lengths: Lengths) -> bool:
    width, height = SIZES[lengths]
    margin = MARGIN * INCH[lengths]
    left, bottom, right, top = extent_of(drawing)
    return (
        min(left, bottom) > margin and right < width - margin and top < height - margin
    )


@both
def test_it_is_one_page_of_the_size_asked_with_all_ink_inside(lengths: Lengths) -> None:
    sheet = form(lengths)
    assert (sheet.width, sheet.height) == SIZES[lengths]
    assert sheet.lengths == lengths
    assert sheet.paper_ink == ()
    assert is_inside(ink_of(sheet), lengths)
    with pdfplumber.open(io.BytesIO(write_pdf((sheet,), "Form"))) as pdf:
        (page,) = pdf.pages
        assert "SURVEY FORM" in page.extract_text()
        wanted = [side / INCH[lengths] * 72 for side in SIZES[lengths]]
        assert [page.width, page.height] == pytest.approx(wanted, abs=0.01)


@both
def test_ink_in_the_margin_is_noticed(lengths: Lengths) -> None:
    drawing = ink_of(form(lengths))
    width = SIZES[lengths][0]
    stray = Stroke("A-ANNO-DIMS", ((width / 2, width / 2), (width, width / 2)))
    assert not is_inside(replace(drawing, ink=(*drawing.ink, stray)), lengths)


@both
def test_no_lettering_lies_on_lettering_or_on_a_line(lengths: Lengths) -> None:
    drawing = ink_of(form(lengths))
    assert collisions(drawing) == []
    assert crossings(drawing) == []


@both
def test_words_on_words_and_a_line_through_words_are_noticed(lengths: Lengths) -> None:
    drawing = ink_of(form(lengths))
    words, (left, bottom, right, top) = next(lettering_of(drawing))
    again = replace(words, text="AGAIN")
    assert collisions(replace(drawing, ink=(*drawing.ink, again)))
    middle = (bottom + top) / 2
    line = Stroke("A-ANNO-DIMS", ((left, middle), (right, middle)))
    assert crossings(replace(drawing, ink=(*drawing.ink, line)))


@both
def test_all_ink_is_black_line_work_and_plain_lettering(lengths: Lengths) -> None:
    black = {layer.name for layer in LAYERS if layer.colour == 7 and layer.plots}
    for ink in ink_of(form(lengths)).ink:
        assert isinstance(ink, Stroke | Words)
        assert ink.layer in black
        if isinstance(ink, Words):
            assert plain(ink.text) == ink.text


def test_a_page_without_room_is_refused() -> None:
    with pytest.raises(NotDrawable, match=r"sheet\.page"):
        draw_form_on((8.5, 10.0), "in")
    with pytest.raises(NotDrawable, match=r"sheet\.page"):
        draw_form_on((148.0, 420.0), "mm")


@both
def test_a_larger_page_is_no_more_crowded(lengths: Lengths) -> None:
    drawing = ink_of(draw_form_on((11 * INCH[lengths], 17 * INCH[lengths]), lengths))
    assert collisions(drawing) == []
    assert crossings(drawing) == []


# ---------------------------------------------------------------------------- keys


def tables_in(annotation: Any) -> Iterator[type[BaseModel]]:
    """Yield the tables that a field may hold, alone, in a list, or not at all."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for part in get_args(annotation):
        yield from tables_in(part)


def annotation_of(key: str) -> Any:
    """Return the type that the job file's model has for a dotted key, or None."""
    tables: list[type[BaseModel]] = [Job]
    annotation: Any = None
    for name in key.split("."):
        fields = [x.model_fields[name] for x in tables if name in x.model_fields]
        if not fields:
            return None
        annotation = fields[0].annotation
        tables = list(tables_in(annotation))
    return annotation


def keys_on(drawing: Drawing) -> list[str]:
    return [key for text in lettered(drawing) for key in KEY.findall(text)]


def unknown(keys: Iterable[str]) -> list[str]:
    return [key for key in keys if annotation_of(key) is None]


@both
def test_every_key_on_it_is_one_of_the_job_file(lengths: Lengths) -> None:
    keys = keys_on(ink_of(form(lengths)))
    assert set(keys) >= ASKED
    assert unknown(keys) == []
    assert keys.count("hearth.points") == 5


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("face.width", "face.widht"),
        ("opening.corners.top_left", "opening.corner.top_left"),
        ("trim.projection", "trim.projects"),
        ("brick.sample.row_of_ten", "brick.row_of_ten"),
        ("hearth.material", "hearth.material.kind"),
    ],
)
def test_a_misspelt_key_is_noticed(right: str, wrong: str) -> None:
    keys = keys_on(edited(ink_of(form("in")), right, wrong))
    assert unknown(keys) == [wrong]
    assert not set(keys) >= ASKED


def values_of(annotation: Any) -> set[str]:
    if get_origin(annotation) is Literal:
        return set(get_args(annotation))
    return {value for part in get_args(annotation) for value in values_of(part)}


def wrongly_offered(questions: Iterable[tuple[str, str, str]]) -> list[str]:
    """Return the keys whose answers are not just those that the model takes."""
    return [
        key
        for _, key, ticks in questions
        if key and ticks and set(ticks.split(", ")) != values_of(annotation_of(key))
    ]


def test_every_question_with_a_key_offers_the_values_that_the_model_takes() -> None:
    offered = {key for _, key, ticks in TYPED if ticks}
    assert offered == {"appliance.kind", "hearth.material", "face.measured_to"}
    assert wrongly_offered(TYPED) == []


@pytest.mark.parametrize("ticks", ["masonry, wood, gas", "masonry, gas"])
def test_an_answer_that_the_model_refuses_or_misses_is_noticed(ticks: str) -> None:
    assert wrongly_offered([("", "appliance.kind", ticks)]) == ["appliance.kind"]


# --------------------------------------------------------------- letters and boxes


def letters_on(drawing: Drawing) -> Counter[str]:
    return Counter(x for x in lettered(drawing) if re.fullmatch(r"[A-Z]\d?", x))


@both
def test_every_letter_stands_once_in_the_figure_and_once_in_the_table(
    lengths: Lengths,
) -> None:
    letters = [letter for letter, _, _ in (*LEFT, *RIGHT) if letter]
    assert len(letters) == len(set(letters)) == 28
    drawing = ink_of(form(lengths))
    assert letters_on(drawing) == dict.fromkeys(letters, 2)
    heights: dict[str, list[float]] = {}
    for words, _ in lettering_of(drawing):
        heights.setdefault(words.text, []).append(words.at[1])
    in_figure = min(max(heights[letter]) for letter in letters)
    in_table = max(min(heights[letter]) for letter in letters)
    assert in_figure > in_table


def test_a_letter_without_its_row_is_noticed() -> None:
    drawing = edited(ink_of(form("in")), "W", "I")
    letters = [letter for letter, _, _ in (*LEFT, *RIGHT) if letter]
    assert letters_on(drawing) != dict.fromkeys(letters, 2)


def empty_boxes(drawing: Drawing, wide: float, high: float) -> int:
    """Count the boxes at least so wide and so high that nothing is lettered in."""
    count = 0
    boxes = [box for _, box in lettering_of(drawing)]
    for ink in drawing.ink:
        if not isinstance(ink, Stroke) or not ink.closed or len(ink.points) != 4:
            continue
        xs, ys = zip(*ink.points, strict=True)
        box = (min(xs), min(ys), max(xs), max(ys))
        if box[2] - box[0] >= wide and box[3] - box[1] >= high:
            count += not any(overlap(box, other) for other in boxes)
    return count


def boxes_wanted() -> int:
    """Count what is written in boxes: two figures a point, ten brick a row."""
    count = 10 * len(TENS) + len(SINGLE)
    for rows in (LEFT, RIGHT):
        each = 0
        for letter, key, _ in rows:
            each = each if letter else len(key.split())
            count += each if letter else 0
    return count


@both
def test_there_is_a_box_for_every_figure_large_enough_to_write_in(
    lengths: Lengths,
) -> None:
    inch = INCH[lengths]
    assert boxes_wanted() == 60
    assert empty_boxes(ink_of(form(lengths)), 0.38 * inch, 0.19 * inch) == 60


def test_a_box_that_is_written_in_is_noticed() -> None:
    drawing = ink_of(form("in"))
    key = next(x for x, _ in lettering_of(drawing) if x.text == "face.width")
    words = replace(key, at=(key.at[0] + 2.9, key.at[1]), text="55 1/4")
    marked = replace(drawing, ink=(*drawing.ink, words))
    assert empty_boxes(marked, 0.38, 0.19) == 59


@both
def test_every_answer_has_a_square_before_it(lengths: Lengths) -> None:
    drawing = ink_of(form(lengths))
    answers = [x for _, _, ticks in (*TYPED, *SEEN) for x in ticks.split(", ") if x]
    assert len(answers) == 27
    inch = INCH[lengths]
    squares = [
        ink.points
        for ink in drawing.ink
        if isinstance(ink, Stroke)
        and ink.closed
        and len(ink.points) == 4
        and max(x for x, _ in ink.points) - min(x for x, _ in ink.points) < 0.2 * inch
    ]
    assert len(squares) == len(answers)
    for answer, many in Counter(answers).items():
        spots = [words.at for words, _ in lettering_of(drawing) if words.text == answer]
        assert len(spots) == many
        for x, y in spots:
            assert [
                square
                for square in squares
                if 0 < x - max(a for a, _ in square) < 0.1 * inch
                and min(b for _, b in square) < y < max(b for _, b in square)
            ]


@both
def test_all_that_is_asked_is_lettered(lengths: Lengths) -> None:
    said = lettered(ink_of(form(lengths)))
    for what, *_ in (*TYPED, *SEEN, *TENS, *SINGLE):
        assert said.count(what) == 1, what
    for _, _, what in (*LEFT, *RIGHT):
        assert said.count(what) == 1, what
    assert {"SURVEY FORM", "PROJECT", "MEASURED BY", "DATE"} <= set(said)


@both
def test_it_says_which_lengths_and_how_one_is_typed(lengths: Lengths) -> None:
    text = " ".join(lettered(ink_of(form(lengths))))
    assert f'job.lengths = "{lengths}"' in text
    assert ("ALL LENGTHS IN INCHES" in text) == (lengths == "in")
    assert ("ALL LENGTHS IN MILLIMETRES" in text) == (lengths == "mm")
    typed = re.search(r'in quotes: "([^"]+)"', text)
    assert typed is not None
    assert parse_length(typed[1], lengths) > 0
    assert typed[1].endswith(lengths)


# ------------------------------------------------------------------------ cautions


def missing_cautions(drawing: Drawing) -> list[str]:
    """Return the topics that are not named with all their words behind them."""
    text = " ".join(lettered(drawing))
    return [
        each.topic
        for each in CAUTIONS
        if plain(f"{each.topic.upper()}: {each.words}") not in text
    ]


@both
def test_every_caution_is_on_it_whole(lengths: Lengths) -> None:
    assert missing_cautions(ink_of(form(lengths))) == []


@both
def test_a_caution_that_lost_a_line_is_noticed(lengths: Lengths) -> None:
    drawing = ink_of(form(lengths))
    for each in CAUTIONS:
        start = f"{each.topic.upper()}: "
        line = next(x for x in lettered(drawing) if x.startswith(start))
        assert missing_cautions(edited(drawing, line, "")) == [each.topic]


@both
def test_an_empty_box_is_never_said_to_have_passed(lengths: Lengths) -> None:
    text = " ".join(lettered(ink_of(form(lengths))))
    assert "what is not given is not checked and never passes" in text


# ----------------------------------------------------------------------- the starter


def asked_but_not_in(starter: str) -> set[str]:
    """Return the keys of the form whose last word the starter never gives a value."""
    keys = set(keys_on(ink_of(form("in"))))
    names = set(re.findall(r"(\w+)\s*=", starter))
    tables = {x.rpartition(".")[2] for x in re.findall(r"\[+([\w.]+)\]+", starter)}
    return {key for key in keys if not set(key.split(".")[-2:]) <= names | tables}


def test_whatever_the_form_asks_can_be_typed_into_the_starter() -> None:
    assert asked_but_not_in(STARTER) == set()
    assert asked_but_not_in(STARTER.replace("sag", "")) == {"opening.corners.sag"}
