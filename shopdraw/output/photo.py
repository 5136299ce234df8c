"""Read a photograph, and write it with what is laid into it.

In:  a file's bytes; `Montage`.   Out: `Photo`; a JPEG file.
Frame: dots, x right, y down, from the upper left corner of the upright photograph.

What a camera writes beside the dots (where, when, by whom, a small copy) is left out:
of the file nothing goes on but its dots, turned upright.
"""

from __future__ import annotations

import io
import warnings
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image, ImageDraw, ImageFilter, ImageOps

from shopdraw.drawing.ink import Point
from shopdraw.drawing.photo import Montage, Photo
from shopdraw.errors import BadJob, Fault

MOST_BYTES, MOST_DOTS = 40_000_000, 60_000_000
"""A photograph of more is not read: no camera that is at hand takes one."""
LONGEST = 2000
"""So many dots the longer side has at the most, once it is read."""
QUALITY = 88
SOFTLY, LIT = 0.6, (0.7, 1.2)
"""How far the light of the photograph is followed, and the least and the most of it."""
BRIGHT, WHITE = 97, 235.0
"""So many percent of a photograph are darker than what is white in it."""
FINE = 4
"""So many times as fine an edge is drawn before it is softened."""
WANTED = "write the name of a JPEG or PNG file"


def read_photo(
    path: Path, file: str, corners: tuple[tuple[float, ...], ...] = ()
) -> Photo:
    """Read a photograph.

    Args:
        path: of the file.
        file: what the job file's faults call that.
        corners: points that must lie in it, in dots of the upright photograph.

    Raises:
        BadJob: it can't be read, is no photograph, is too large, or a corner lies
            outside of it.
    """
    data = _bytes_of(path, file)
    picture = _upright(data, path.name, file)
    wide, high = picture.size
    for number, (right, down) in enumerate(corners, start=1):
        if right > wide or down > high:
            found = f"corner {number}, [{right:g}, {down:g}],"
            wanted = f"lies outside the photograph, which is {wide} by {high} dots"
            fault = Fault(file, "appearance.photo_corners", found, wanted)
            raise BadJob((fault,))
    shrunk = min(1.0, LONGEST / max(wide, high))
    if shrunk < 1:
        size = max(1, round(wide * shrunk)), max(1, round(high * shrunk))
        picture = picture.resize(size, Image.Resampling.LANCZOS)
    return Photo(
        dots=picture.tobytes(),
        wide=picture.width,
        high=picture.height,
        shrunk=picture.width / wide,
        digest=sha256(data).hexdigest(),
    )


def stripped(path: Path, file: str) -> bytes:
    """Return a photograph upright, as large as it is, and without all it says.

    Raises:
        BadJob: as `read_photo` does.
    """
    picture = _upright(_bytes_of(path, file), path.name, file)
    stream = io.BytesIO()
    if path.suffix.lower() == ".png":
        picture.save(stream, "PNG")
    else:
        picture.save(stream, "JPEG", quality=95)
    return stream.getvalue()


def _bytes_of(path: Path, file: str) -> bytes:
    try:
        if path.stat().st_size > MOST_BYTES:
            wanted = f"is larger than {MOST_BYTES // 1_000_000} MB; save it smaller"
            raise _refused(path.name, file, wanted)
        return path.read_bytes()
    except OSError as error:
        wanted = f"can't be read: {error.strerror or error}"
        raise _refused(path.name, file, wanted) from None


def _refused(name: str, file: str, wanted: str) -> BadJob:
    return BadJob((Fault(file, "appearance.photo", f'"{name}"', wanted),))


def _upright(data: bytes, name: str, file: str) -> Any:
    """Return the picture as it is to be seen, red, green and blue."""
    try:
        with warnings.catch_warnings():
            # Of a picture with very many dots the library warns; here it is refused.
            warnings.simplefilter("ignore")
            picture = Image.open(io.BytesIO(data), formats=("JPEG", "PNG"))
            dots = picture.width * picture.height
            if dots <= MOST_DOTS:
                picture.load()
                return ImageOps.exif_transpose(picture).convert("RGB")
        wanted = f"has more than {MOST_DOTS // 1_000_000} million dots; save it smaller"
    except Image.DecompressionBombError:
        wanted = f"has more than {MOST_DOTS // 1_000_000} million dots; save it smaller"
    except (OSError, ValueError, SyntaxError, EOFError):
        wanted = f"is no photograph that can be read; {WANTED}"
    raise _refused(name, file, wanted)


def write_montage(montage: Montage, says: str) -> bytes:
    """Write a photograph with what is laid into it.

    Args:
        montage: both.
        says: what it is drawn from: all that the file says of itself.
    """
    stream = io.BytesIO()
    composed(montage).save(stream, "JPEG", quality=QUALITY, comment=says.encode())
    return stream.getvalue()


def composed(montage: Montage) -> Any:
    """Return the dots of a photograph with what is laid into it."""
    from shopdraw.output.image import paint_over

    photo = montage.photo
    size = photo.wide, photo.high
    taken = Image.frombytes("RGB", size, photo.dots)
    where = _where(montage)
    painted = Image.fromarray(paint_over(taken, montage.paints))
    return Image.composite(_lit(painted, taken, where), taken, where)


def _lit(painted: Any, taken: Any, where: Any) -> Any:
    """Return what is painted in the light that fell where it is laid.

    How the light goes off from one side to the other is taken over, not how bright the
    old work was: the light of the photograph there, blurred far, over its mean. And
    nothing painted is as bright as it would be in a brighter room.
    """
    wide = where.getbbox()
    if wide is None:
        return painted
    far = ImageFilter.GaussianBlur((wide[2] - wide[0]) / 6)
    nothing = Image.new("L", taken.size)
    grey = Image.composite(taken.convert("L"), nothing, where)
    light = np.asarray(grey.filter(far), float)
    there = np.maximum(np.asarray(where.filter(far), float) / 255, 1 / 64)
    light = light / there
    share = np.asarray(where, float) / 255
    mean = (light * share).sum() / max(share.sum(), 1.0)
    by = np.clip((light / max(mean, 1.0)) ** SOFTLY, *LIT)
    bright = np.percentile(np.asarray(taken.convert("L")), BRIGHT) / WHITE
    by = by * min(1.0, max(bright, LIT[0]))
    lit = np.asarray(painted, float) * by[:, :, np.newaxis]
    return Image.fromarray(np.clip(lit + 0.5, 0, 255).astype(np.uint8))


def _where(montage: Montage) -> Any:
    """Return where paint shows, its edges soft: 255 for all of a dot."""
    photo = montage.photo
    fine = Image.new("L", (photo.wide * FINE, photo.high * FINE))
    draw = ImageDraw.Draw(fine)
    draw.polygon(list(_fine(montage.over)), fill=255)
    for ring in montage.free:
        draw.polygon(list(_fine(ring)), fill=0)
    return fine.reduce(FINE)


def _fine(ring: tuple[Point, ...]) -> Iterator[Point]:
    return ((x * FINE, y * FINE) for x, y in ring)


def metadata_in(data: bytes) -> Iterator[str]:
    """Yield the segments of a JPEG file that say more than how to show its dots."""
    at = 2
    while at + 4 <= len(data) and data[at] == 0xFF:
        kind, long = data[at + 1], int.from_bytes(data[at + 2 : at + 4])
        if 0xE1 <= kind <= 0xEF:
            yield f"APP{kind - 0xE0}"
        if kind == 0xDA:
            break
        at += 2 + long
