"""A photograph read and written: upright, its dots alone, what is free left alone."""

from __future__ import annotations

import io
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import Any
from zlib import compress, crc32

import numpy as np
import pytest
from PIL import Image
from PIL.ExifTags import Base

from shopdraw.drawing.ink import Paint
from shopdraw.drawing.photo import Montage, Photo
from shopdraw.errors import BadJob
from shopdraw.output import photo as module
from shopdraw.output.photo import (
    composed,
    metadata_in,
    read_photo,
    stripped,
    write_montage,
)

GPS = {1: "N", 2: (51.0, 28.0, 38.0), 3: "W", 4: (0.0, 0.0, 5.0)}
"""A made-up place."""
TURNS = {
    1: None,
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_90,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_270,
}
"""How a camera held some way lays the dots of an upright view down (Exif 2.3, tag 274:
the picture is to be turned back)."""


def view(wide: int = 60, high: int = 40) -> Any:
    """Return an upright view: red to the left, green above, blue below right."""
    picture = Image.new("RGB", (wide, high), (200, 40, 40))
    picture.paste((40, 180, 40), (wide // 3, 0, wide, high // 2))
    picture.paste((40, 40, 200), (wide // 3, high // 2, wide, high))
    return picture


def save(path: Path, picture: Any, turn: int = 1, kind: str = "PNG") -> Path:
    """Save a picture as a camera does: turned, with the place and the camera's name."""
    exif = Image.Exif()
    exif[Base.Orientation] = turn
    exif[Base.Make] = "made-up camera"
    exif[Base.GPSInfo] = GPS
    laid = picture if TURNS[turn] is None else picture.transpose(TURNS[turn])
    more = {"quality": 95} if kind == "JPEG" else {}
    laid.save(path, kind, exif=exif, **more)
    return path


def dots_of(photo: Photo) -> Any:
    shape = photo.high, photo.wide, 3
    return np.frombuffer(photo.dots, np.uint8).reshape(shape)


@pytest.mark.parametrize("turn", TURNS)
def test_a_photograph_is_turned_as_its_camera_was_held(
    turn: int, tmp_path: Path
) -> None:
    photo = read_photo(save(tmp_path / "a.png", view(), turn), "den.toml")
    assert (photo.wide, photo.high) == (60, 40)
    assert (dots_of(photo) == np.asarray(view())).all()


def test_what_is_not_turned_back_is_noticed(tmp_path: Path) -> None:
    path = save(tmp_path / "a.png", view(), 6)
    raw = Image.open(io.BytesIO(path.read_bytes())).convert("RGB")
    assert raw.size == (40, 60)
    assert not (np.asarray(raw.resize((60, 40))) == np.asarray(view())).all()


def test_its_digest_is_that_of_the_file(tmp_path: Path) -> None:
    path = save(tmp_path / "a.jpg", view(), kind="JPEG")
    photo = read_photo(path, "den.toml")
    assert photo.digest == sha256(path.read_bytes()).hexdigest()
    save(path, view().rotate(180), kind="JPEG")
    assert read_photo(path, "den.toml").digest != photo.digest


def test_a_large_one_is_made_smaller_and_says_by_how_much(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "LONGEST", 30)
    photo = read_photo(save(tmp_path / "a.png", view(), 6), "den.toml")
    assert (photo.wide, photo.high, photo.shrunk) == (30, 20, 0.5)


# ------------------------------------------------------------------- what is refused


def refused(path: Path, **given: Any) -> str:
    with pytest.raises(BadJob) as error:
        read_photo(path, "den.toml", **given)
    (line,) = error.value.lines()
    return line


def test_what_is_not_there_is_refused(tmp_path: Path) -> None:
    said = 'den.toml: appearance.photo: "a.jpg" can\'t be read: No such file'
    assert refused(tmp_path / "a.jpg").startswith(said)


@pytest.mark.parametrize("data", [b"", b"not a picture", b"\xff\xd8\xff\xe0 cut off"])
def test_what_is_no_picture_is_refused(data: bytes, tmp_path: Path) -> None:
    (tmp_path / "a.jpg").write_bytes(data)
    assert refused(tmp_path / "a.jpg") == (
        'den.toml: appearance.photo: "a.jpg" is no photograph that can be read; write '
        "the name of a JPEG or PNG file"
    )


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_a_picture_that_is_cut_off_is_refused(kind: str, tmp_path: Path) -> None:
    noise = np.random.default_rng(1).integers(0, 255, (80, 80, 3), np.uint8)
    path = save(tmp_path / "a.jpg", Image.fromarray(noise), kind=kind)
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    assert "is no photograph that can be read" in refused(path)


def test_another_kind_of_picture_is_refused(tmp_path: Path) -> None:
    view().save(tmp_path / "a.jpg", "GIF")
    assert "is no photograph that can be read" in refused(tmp_path / "a.jpg")


def test_too_many_bytes_are_refused_before_they_are_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = save(tmp_path / "a.png", view())
    monkeypatch.setattr(module, "MOST_BYTES", path.stat().st_size - 1)
    monkeypatch.setattr(Path, "read_bytes", lambda _: pytest.fail("was read"))
    assert 'appearance.photo: "a.png" is larger than' in refused(path)


def test_too_many_dots_are_refused_before_they_are_unpacked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = save(tmp_path / "a.png", view())
    monkeypatch.setattr(module, "MOST_DOTS", 60 * 40)
    read_photo(path, "den.toml")
    monkeypatch.setattr(module, "MOST_DOTS", 60 * 40 - 1)
    assert "million dots; save it smaller" in refused(path)


def test_a_file_that_unpacks_to_far_too_much_is_refused(tmp_path: Path) -> None:
    # A PNG file whose head says that it has 40,000 by 40,000 dots.
    def chunk(kind: bytes, held: bytes) -> bytes:
        return len(held).to_bytes(4) + kind + held + crc32(kind + held).to_bytes(4)

    head = (40_000).to_bytes(4) * 2 + b"\x08\x02\x00\x00\x00"
    parts = chunk(b"IHDR", head), chunk(b"IDAT", compress(b""))
    (tmp_path / "a.png").write_bytes(b"\x89PNG\r\n\x1a\n" + b"".join(parts))
    assert "million dots; save it smaller" in refused(tmp_path / "a.png")


def test_a_corner_outside_is_refused_in_dots_of_the_upright_picture(
    tmp_path: Path,
) -> None:
    path = save(tmp_path / "a.png", view(), 6)
    inside = ((0, 0), (60, 0), (60, 40), (0, 40))
    read_photo(path, "den.toml", inside)
    for corner, number in (((60.5, 0), 2), ((60, 41), 3)):
        corners = [*inside]
        corners[number - 1] = corner
        assert refused(path, corners=tuple(corners)) == (
            f"den.toml: appearance.photo_corners: corner {number}, "
            f"[{corner[0]:g}, {corner[1]:g}], lies outside the photograph, which is 60 "
            "by 40 dots"
        )


# ------------------------------------------------------------------ what is laid in


def montage_of(photo: Photo) -> Montage:
    """Return a photograph with a yellow square laid into it, and a hole in that."""
    over = ((10.0, 10.0), (50.0, 10.0), (50.0, 36.0), (10.0, 36.0))
    free = ((22.0, 18.0), (38.0, 18.0), (38.0, 36.0), (22.0, 36.0))
    ground = ((0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0))
    return Montage(photo, (Paint("pattern", ground, "#e8d020"),), over, (free,))


@pytest.fixture
def photo(tmp_path: Path) -> Photo:
    return read_photo(save(tmp_path / "a.png", view()), "den.toml")


def test_outside_and_in_what_is_free_each_dot_is_as_it_was_taken(photo: Photo) -> None:
    laid, taken = np.asarray(composed(montage_of(photo))), dots_of(photo)
    changed = (laid != taken).any(axis=2)
    assert not changed[19:36, 23:38].any()
    outside = np.ones(changed.shape, bool)
    outside[9:37, 9:51] = False
    assert not changed[outside].any()
    covered = np.zeros(changed.shape, bool)
    covered[11:35, 11:21] = covered[11:17, 11:49] = True
    assert changed[covered].all()
    red, green, blue = laid[14, 30]
    assert red > blue + 40
    assert green > blue + 40


def test_paint_in_what_is_free_is_noticed(photo: Photo) -> None:
    damaged = replace(montage_of(photo), free=())
    laid = np.asarray(composed(damaged))
    assert (laid != dots_of(photo)).any(axis=2)[19:36, 23:38].any()


def test_what_is_laid_in_has_the_light_of_the_room() -> None:
    falls = np.linspace(220, 90, 60).astype(np.uint8)
    dots = np.repeat(np.tile(falls, (40, 1))[:, :, None], 3, axis=2)
    photo = Photo(np.ascontiguousarray(dots).tobytes(), 60, 40, 1.0, "")
    laid = np.asarray(composed(montage_of(photo)), float)
    left, right = laid[12:16, 12:18].mean(), laid[12:16, 42:48].mean()
    assert left > 1.08 * right
    even = Photo(bytes([200]) * (60 * 40 * 3), 60, 40, 1.0, "")
    laid = np.asarray(composed(montage_of(even)), float)
    assert np.ptp(laid[12:16, 12:48, 0]) <= 4


# ------------------------------------------------------------------- what it says


def marks_in(data: bytes) -> set[bytes]:
    return {word for word in (b"made-up camera", b"Exif", b"GPS") if word in data}


def test_nothing_that_the_camera_wrote_goes_on(tmp_path: Path) -> None:
    path = save(tmp_path / "a.jpg", view(), 6, "JPEG")
    taken = path.read_bytes()
    assert marks_in(taken) >= {b"made-up camera", b"Exif"}
    assert dict(Image.open(io.BytesIO(taken)).getexif().get_ifd(Base.GPSInfo))
    data = write_montage(montage_of(read_photo(path, "den.toml")), "drawn / from")
    assert marks_in(data) == set()
    written = Image.open(io.BytesIO(data))
    assert dict(written.getexif()) == {}
    assert written.size == (60, 40)
    assert written.info["comment"] == b"drawn / from"
    assert list(metadata_in(data)) == []


def test_what_a_camera_writes_is_found_in_its_file(tmp_path: Path) -> None:
    path = save(tmp_path / "a.jpg", view(), 6, "JPEG")
    assert list(metadata_in(path.read_bytes())) == ["APP1"]


@pytest.mark.parametrize(("name", "kind"), [("a.jpg", "JPEG"), ("a.png", "PNG")])
def test_a_copy_is_upright_as_large_and_says_nothing(
    name: str, kind: str, tmp_path: Path
) -> None:
    path = save(tmp_path / name, view(600, 400), 6, kind)
    data = stripped(path, "den.toml")
    copy = Image.open(io.BytesIO(data))
    assert (copy.format, copy.size) == (kind, (600, 400))
    assert dict(copy.getexif()) == {}
    assert marks_in(data) == set()
    off = np.asarray(copy.convert("RGB"), int) - np.asarray(view(600, 400), int)
    assert abs(off[:, 20:180]).max() <= 6


def test_the_same_is_written_twice(photo: Photo) -> None:
    both = {write_montage(montage_of(photo), "x") for _ in range(2)}
    assert len(both) == 1
