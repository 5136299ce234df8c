"""Pages and pictures are read back: each kind of damage is said in words."""

from __future__ import annotations

import io
import random
import zlib
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest
from PIL import Image, ImageChops
from PIL.PngImagePlugin import PngInfo

from shopdraw.drawing.ink import Stroke, Words
from shopdraw.drawing.sheets import Sheet
from shopdraw.errors import NotProved
from shopdraw.output.image import write_png
from shopdraw.output.pdf import write_pdf
from shopdraw.output.pdf_reading import compare_pdf, read_pdf
from shopdraw.output.picture_reading import compare_picture
from shopdraw.output.write import make_files, prove_files
from tests.demos import set_of

DEMOS = ("library-hearth", "metric-slips")
DRAWN_FROM = "shopdraw 0.1.0 / a03ac4d17851"
OTHERS = "shopdraw 0.1.0 / 000000000000"


def pages(demo: str = DEMOS[0]) -> tuple[Sheet, ...]:
    """Return two sheets and a page of the ticket."""
    drawn = set_of(demo)
    return (*drawn.sheets[1:3], dict(drawn.papers)["ticket"][0])


def shifted(sheet: Sheet, by: float) -> Sheet:
    """Return a sheet whose first drawing stands elsewhere on paper."""
    placed, *rest = sheet.drawings
    x, y = placed.placement.on_paper
    there = replace(placed.placement, on_paper=(x + by, y))
    return replace(sheet, drawings=(replace(placed, placement=there), *rest))


def bare(sheet: Sheet) -> Sheet:
    return replace(sheet, drawings=(), paper_ink=())


def without_a_line(sheet: Sheet) -> Sheet:
    """Return a sheet without the longest line of its frame."""
    strokes = [x for x in sheet.paper_ink if isinstance(x, Stroke)]
    gone = max(strokes, key=lambda x: abs(x.points[0][0] - x.points[1][0]))
    return replace(sheet, paper_ink=tuple(x for x in sheet.paper_ink if x is not gone))


def of_another_set(sheet: Sheet) -> Sheet:
    """Return a sheet that letters another job file's digest."""
    ink = (
        replace(x, text=OTHERS)
        if isinstance(x, Words) and x.text.startswith("shopdraw ")
        else x
        for x in sheet.paper_ink
    )
    return replace(sheet, paper_ink=tuple(ink))


@pytest.mark.parametrize("demo", DEMOS)
def test_pages_and_pictures_show_what_they_must(demo: str) -> None:
    drawn = set_of(demo)
    data = write_pdf(drawn.sheets, "t", None, DRAWN_FROM)
    assert compare_pdf(data, drawn.sheets, DRAWN_FROM) == ()
    for _, papers in drawn.papers:
        assert compare_pdf(write_pdf(papers, "t"), papers, "") == ()
    for sheet in drawn.sheets[:2]:
        for dpi in (15, 150):
            picture = write_png(sheet, dpi, DRAWN_FROM)
            assert compare_picture(picture, sheet, DRAWN_FROM) == ()


def test_the_picture_for_the_owner_is_held_too() -> None:
    sheet = set_of(DEMOS[0]).picture
    assert sheet is not None
    data = write_png(sheet, 50, DRAWN_FROM)
    assert compare_picture(data, sheet, DRAWN_FROM) == ()
    (said,) = compare_picture(write_png(bare(sheet), 50, DRAWN_FROM), sheet, DRAWN_FROM)
    assert said.startswith("no ink in ")


Change = Callable[[tuple[Sheet, ...]], tuple[Sheet, ...]]
PAGED: dict[str, tuple[Change, str]] = {
    "a page missing": (lambda x: x[:2], "it has 2 pages, should have 3"),
    "a page twice": (lambda x: (*x, x[0]), "it has 4 pages, should have 3"),
    "two pages exchanged": (lambda x: (x[1], x[0], x[2]), "should be lettered but is"),
    "another page": (lambda x: (x[0], x[0], x[2]), "is lettered but should not be"),
    "a blank page": (lambda x: (bare(x[0]), *x[1:]), "page 1: no ink in"),
    "a drawing shifted": (lambda x: (shifted(x[0], 0.3), *x[1:]), "should not be"),
    "a line left out": (lambda x: (without_a_line(x[0]), *x[1:]), "page 1: no ink in"),
    "another set's digest on it": (
        lambda x: (x[0], of_another_set(x[1]), x[2]),
        f'page 2: "{DRAWN_FROM}" should be lettered but is not',
    ),
    "another size": (
        lambda x: (replace(x[0], width=x[0].width + 1), *x[1:]),
        "points large, should be",
    ),
}


@pytest.mark.parametrize("damage", PAGED)
def test_damage_to_pages_is_said_in_words(damage: str) -> None:
    change, complaint = PAGED[damage]
    data = write_pdf(change(pages()), "t", None, DRAWN_FROM)
    said = compare_pdf(data, pages(), DRAWN_FROM)
    assert any(complaint in line for line in said), said[:5]


@cache
def whole_pdf() -> bytes:
    return write_pdf(pages(), "t", None, DRAWN_FROM)


def test_a_pdf_of_another_set_is_noticed() -> None:
    data = write_pdf(pages(), "t", None, OTHERS)
    (said,) = compare_pdf(data, pages(), DRAWN_FROM)
    assert said == f"it says that it is drawn from {OTHERS}"


@pytest.mark.parametrize(
    "more",
    [
        *(b"1 0 0 1 36 0 cm ", b"1 0 0 1 0 0 cm 2 0 0 2 0 0 cm\n", b"21 0 0 1 0 0 cm "),
        *(b"0 0 9 9 re ", b"/Im0 Do ", b"0 0 1 1 2 2 c ", b"/F1 9 Tf 1 Tr "),
    ],
)
def test_contents_that_none_of_ours_has_are_refused(more: bytes) -> None:
    """They could move the whole page, or cover it."""
    data = whole_pdf()
    start = data.rindex(b"stream\n", 0, data.rindex(b"endstream")) + 7
    end = data.index(b"endstream", start)
    shown = zlib.compress(more + zlib.decompress(data[start:end]), 9)
    room = end - start - len(shown)
    # Its list of objects holds as long as nothing grows.
    if room < 0:
        head = data[:start].rindex(b"/Length")
        old = data[head : data.index(b"\n", head)]
        new = old.split(b" ")[0] + b" %d" % len(shown)
        assert len(new) == len(old)
        data = data.replace(old, new)
        data = data[:start] + shown + data[end:]
        places = data.rindex(b"startxref")
        grown = places, int(data[places + 9 :].split()[0])
        data = _listed_anew(data, grown[1], start, -room)
    else:
        data = data[:start] + shown + b"\n" * room + data[end:]
    (said,) = compare_pdf(data, pages(), DRAWN_FROM)
    assert said.startswith("it can't be read back: it has what none of ours has")


def _listed_anew(data: bytes, old: int, start: int, grown: int) -> bytes:
    """Return a PDF whose list says where its objects are, one of them having grown."""
    at = old + grown
    lines = data[at:].split(b"\n")
    moved = [
        b"%010d 00000 n " % (int(line[:10]) + grown * (int(line[:10]) > start))
        if line.endswith(b" n ")
        else line
        for line in lines
    ]
    text = b"\n".join(moved).replace(
        b"startxref\n%d" % old, b"startxref\n%d" % (old + grown)
    )
    return data[:at] + text


def test_a_pdf_that_is_cut_anywhere_is_refused_in_words() -> None:
    data = whole_pdf()
    read_pdf(data)
    for place in random.Random(22).sample(range(len(data)), 60):
        (said,) = compare_pdf(data[:place], pages(), DRAWN_FROM)
        assert said == "it can't be read back: it is no whole file"


def test_a_pdf_with_any_byte_changed_is_no_traceback() -> None:
    data = whole_pdf()
    for place in random.Random(23).sample(range(len(data)), 60):
        changed = data[:place] + bytes([data[place] ^ 0x55]) + data[place + 1 :]
        assert isinstance(compare_pdf(changed, pages(), DRAWN_FROM), tuple)


def repainted(change: Callable[[Image.Image], Image.Image]) -> bytes:
    """Return a sheet's picture with its dots changed, as true to size as before."""
    picture = Image.open(io.BytesIO(write_png(pages()[0], 60, DRAWN_FROM)))
    says, stream = PngInfo(), io.BytesIO()
    says.add_text("Software", DRAWN_FROM)
    change(picture).save(stream, "PNG", dpi=(60, 60), pnginfo=says)
    return stream.getvalue()


def blotted(picture: Image.Image) -> Image.Image:
    # Between the border and the paper's edge.
    picture.paste(0, (8, 8, 24, 24))
    return picture


PICTURED: dict[str, tuple[Callable[[Image.Image], Image.Image], str]] = {
    "shifted": (lambda x: ImageChops.offset(x.convert("L"), 18, 0), "no ink in"),
    "upside down": (lambda x: x.rotate(180), "no ink in"),
    "blank": (lambda x: Image.new("L", x.size, 255), "no ink in"),
    "black": (lambda x: Image.new("L", x.size, 0), "ink that should not be there"),
    "a blot": (blotted, "ink that should not be there"),
    "cropped": (lambda x: x.crop((0, 0, x.width - 30, x.height)), "dots, should have"),
    "smaller": (lambda x: x.reduce(2) if x.mode == "L" else x.convert("L").reduce(2),
                "dots, should have"),
}  # fmt: skip


@pytest.mark.parametrize("damage", PICTURED)
def test_damage_to_a_picture_is_said_in_words(damage: str) -> None:
    change, complaint = PICTURED[damage]
    sheet = pages()[0]
    assert compare_picture(repainted(lambda x: x), sheet, DRAWN_FROM) == ()
    said = compare_picture(repainted(change), sheet, DRAWN_FROM)
    assert any(complaint in line for line in said), said


def test_the_picture_of_another_sheet_or_of_another_set_is_noticed() -> None:
    one, other, _ = pages()
    assert compare_picture(write_png(other, 60, DRAWN_FROM), one, DRAWN_FROM)
    (said,) = compare_picture(write_png(one, 60, OTHERS), one, DRAWN_FROM)
    assert said == f"it says that it is drawn from {OTHERS}, not {DRAWN_FROM}"


def test_a_picture_that_is_cut_anywhere_is_refused_in_words() -> None:
    sheet = pages()[0]
    data = write_png(sheet, 15, DRAWN_FROM)
    assert compare_picture(data, sheet, DRAWN_FROM) == ()
    for place in random.Random(24).sample(range(len(data)), 60):
        assert compare_picture(data[:place], sheet, DRAWN_FROM), place


@pytest.mark.parametrize("place", [16, 20])
def test_a_picture_of_more_dots_than_it_holds_is_refused(place: int) -> None:
    """By its own head it is wider, or higher; its checksum is right."""
    sheet = pages()[0]
    data = write_png(sheet, 15, DRAWN_FROM)
    side = int.from_bytes(data[place : place + 4]) + 1
    head = data[12:place] + side.to_bytes(4) + data[place + 4 : 29]
    other = data[:12] + head + zlib.crc32(head).to_bytes(4) + data[33:]
    assert compare_picture(other, sheet, DRAWN_FROM)


def test_a_picture_says_its_size_and_what_made_it_to_another_reader() -> None:
    """As the imaging library reads it, which did not write it."""
    one = pages()[0]
    owners = set_of(DEMOS[0]).picture
    assert owners is not None
    for sheet, mode in ((one, "P"), (owners, "RGB")):
        data = write_png(sheet, 60, DRAWN_FROM)
        Image.open(io.BytesIO(data)).verify()
        picture = Image.open(io.BytesIO(data))
        picture.load()
        assert (picture.format, picture.mode) == ("PNG", mode)
        assert picture.info["dpi"] == pytest.approx((60, 60), abs=0.01)
        assert picture.info["Software"] == DRAWN_FROM
        assert picture.size == (round(sheet.width * 60), round(sheet.height * 60))


def test_a_set_with_another_s_page_or_picture_is_not_published() -> None:
    whole = set_of(DEMOS[0])
    drawn = whole.picked((whole.sheets[1].identity, "ticket"))
    other = set_of("metric-slips").picked(("ticket",))
    files = make_files(drawn)
    prove_files(drawn, files)
    tickets = make_files(other)
    (picture,) = (name for name in files if name.endswith(".png"))
    for changed in ({"ticket.pdf": tickets["ticket.pdf"]}, {picture: b"\x89PNG"}):
        with pytest.raises(NotProved) as refused:
            prove_files(drawn, {**files, **changed})
        assert all(line.startswith((*changed,)) for line in refused.value.lines())
