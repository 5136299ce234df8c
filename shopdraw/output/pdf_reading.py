"""Read pages that were written as PDF, and hold them against the sheets they show.

In:  the bytes of a PDF file, `Sheet`s.   Out: differences in words.
Frame: points from a page's lower left corner.

It uses no PDF library, and reads just as much as these files have: pages in one list,
compressed contents, straight lines, lettering in one font that stands for itself.
"""

from __future__ import annotations

import re
import zlib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from shopdraw.drawing.sheets import Sheet
from shopdraw.output.inked import Line, cells_of, hold_ink, inked

POINTS = 72.0
NEAR = 0.01
"""Of a page's sides, in points."""
_OBJECT = re.compile(rb"(\d+) 0 obj\s")
_PLACES = re.compile(rb"(\d{10}) \d{5} n")
_STREAM = re.compile(rb"/Length (\d+).*?>>\s*stream\r?\n", re.DOTALL)
_SIGN = re.compile(rb"\\(\d{3}|.)", re.DOTALL)
_SHOWN = re.compile(rb"\(((?:\\.|[^\\()])*)\) Tj", re.DOTALL)
_STEP = re.compile(rb"([\d.-]+) ([\d.-]+) ([ml])\b(?: (h)\b)?")
_OPERATOR = re.compile(rb"(?<![/\w+])[A-Za-z][A-Za-z*]*")
KNOWN = frozenset(b"n m l h S f f* rg RG w d gs cm BT ET Tm Tf TL".split())
"""Straight lines, areas, pens, lettering, and where it stands: all that these have."""
AS_IT_IS = b"1 0 0 1 0 0 "
_OF_NUMBERS = b"0123456789.-"


@dataclass(frozen=True)
class PdfPage:
    """A page: its sides in points, its lettering, its lines in inches."""

    size: tuple[float, float]
    words: tuple[str, ...]
    lines: tuple[Line, ...]


def compare_pdf(
    data: bytes, sheets: Sequence[Sheet], drawn_from: str
) -> tuple[str, ...]:
    """Return every difference in words; none if each page shows just its sheet.

    Args:
        data: of the file.
        sheets: one for each page.
        drawn_from: what the file says that it is drawn from.
    """
    try:
        said, pages = read_pdf(data)
    except (ValueError, LookupError, zlib.error) as error:
        return (f"it can't be read back: {error}",)
    found = []
    if said != drawn_from:
        found.append(f"it says that it is drawn from {said or 'nothing'}")
    if len(pages) != len(sheets):
        found.append(f"it has {len(pages)} pages, should have {len(sheets)}")
        return tuple(found)
    for number, (page, sheet) in enumerate(zip(pages, sheets, strict=True), start=1):
        found += (f"page {number}: {each}" for each in _differences(page, sheet))
    return tuple(found)


def _differences(page: PdfPage, sheet: Sheet) -> Iterator[str]:
    wanted = inked(sheet)
    size = wanted.wide * POINTS, wanted.high * POINTS
    if any(abs(a - b) > NEAR for a, b in zip(page.size, size, strict=True)):
        yield f"it is {page.size} points large, should be {size}"
        return
    there, should = Counter(page.words), Counter(wanted.words)
    for text in sorted(should - there):
        yield f'"{text}" should be lettered but is not'
    for text in sorted(there - should):
        yield f'"{text}" is lettered but should not be'
    yield from hold_ink(cells_of(page.lines, wanted.wide, wanted.high), wanted)


def read_pdf(data: bytes) -> tuple[str, tuple[PdfPage, ...]]:
    """Return what a file says that it is drawn from, and its pages in their order.

    Raises:
        ValueError, LookupError, zlib.error: it is no whole file of the kind.
    """
    if not (data.startswith(b"%PDF-") and data.endswith(b"%%EOF\n")):
        message = "it is no whole file"
        raise ValueError(message)
    objects = _objects(data)
    trailer = data[data.rindex(b"trailer") :]
    root, about = (objects[_link(trailer, name)] for name in (b"Root", b"Info"))
    listed = re.search(rb"/Kids \[(.*?)\]", objects[_link(root, b"Pages")], re.DOTALL)
    kids = [int(x) for x in re.findall(rb"(\d+) 0 R", listed[1] if listed else b"")]
    said = re.search(rb"/Keywords \(((?:\\.|[^\\()])*)\)", about)
    pages = tuple(_page(objects[kid], objects) for kid in kids)
    return _text(said[1]) if said else "", pages


def _objects(data: bytes) -> dict[int, bytes]:
    """Return every object of a file, by the number that its own list gives it."""
    start = int(data[data.rindex(b"startxref") + 9 :].split()[0])
    objects = {}
    for number, place in enumerate(_PLACES.findall(data[start:]), start=1):
        begins = _OBJECT.match(data, int(place))
        if begins is None or int(begins[1]) != number:
            message = f"object {number} is not where its list says"
            raise ValueError(message)
        objects[number] = data[begins.end() :]
        stream = _STREAM.match(data, data.index(b"/", begins.end()))
        end = data.index(b"endobj", stream.end() if stream else begins.end())
        objects[number] = data[begins.end() : end]
    return objects


def _link(data: bytes, name: bytes) -> int:
    """Return the number of the object that a name leads to."""
    found = re.search(rb"/" + name + rb" (\d+) 0 R", data)
    if found is None:
        message = f"it has no {name.decode()}"
        raise ValueError(message)
    return int(found[1])


def _page(page: bytes, objects: Mapping[int, bytes]) -> PdfPage:
    box = re.search(rb"/MediaBox \[ 0 0 ([\d.]+) ([\d.]+) \]", page)
    if box is None or b"/Rotate 0" not in page or b"/CropBox" in page:
        message = "a page is turned, cut, or has no size"
        raise ValueError(message)
    content = objects[_link(page, b"Contents")]
    start = _STREAM.search(content)
    if start is None:
        message = "a page has no contents"
        raise ValueError(message)
    shown = zlib.decompress(content[start.end() : start.end() + int(start[1])])
    words, lines = _drawn(shown)
    return PdfPage((float(box[1]), float(box[2])), tuple(words), tuple(lines))


def _drawn(content: bytes) -> tuple[list[str], list[Line]]:
    """Return the lettering of a page's contents, and its lines in inches."""
    words = [_text(shown) for shown in _SHOWN.findall(content)]
    rest = _SHOWN.sub(b"", content)
    # Each word is looked at once, and most of them are numbers.
    spoken = b" ".join({*rest.translate(None, _OF_NUMBERS).split()})
    others = {*_OPERATOR.findall(spoken)} - KNOWN
    *before, _ = (b"\n" + rest).split(b"cm")
    if others or not all(each.endswith(b"\n" + AS_IT_IS) for each in before):
        named = b" ".join(sorted(others)).decode("latin-1") or "a page that is moved"
        message = f"it has what none of ours has: {named}"
        raise ValueError(message)
    lines: list[Line] = []
    first = last = (0.0, 0.0)
    for x, y, step, close in _STEP.findall(rest):
        point = (float(x) / POINTS, float(y) / POINTS)
        if step == b"m":
            first = point
        else:
            lines.append((last, point))
        if close:
            lines.append((point, first))
        last = point
    return [text for text in words if text.strip()], lines


def _text(data: bytes) -> str:
    """Return a text as it is lettered, its marks before signs taken away."""

    def sign(found: re.Match[bytes]) -> bytes:
        said = found[1]
        return bytes([int(said, 8)]) if len(said) == 3 else said

    return _SIGN.sub(sign, data).decode("latin-1")
