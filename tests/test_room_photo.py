"""The demo's photograph is a drawing of our own, and has the corners as typed."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image

from shopdraw.job.reading import read_job
from tests.demos import CONFIGS
from tests.room_photo import FACE, HIGH, PHOTO, SPAN, SPRING, WIDE, corners, draw_photo

JOB = CONFIGS / "semicircular-dining-room.toml"


def test_the_job_has_its_corners_and_its_sizes() -> None:
    job = read_job(JOB)
    assert job.appearance.photo == PHOTO.name
    typed = [tuple(corner) for corner in job.appearance.photo_corners]
    for corner, wanted in zip(typed, corners(), strict=True):
        assert corner == pytest.approx(wanted, abs=0.5)
    assert (float(job.face.width), float(job.face.height)) == FACE
    opening = job.opening
    assert (float(opening.width), float(opening.height)) == (SPAN, SPRING)


def test_it_is_small_and_is_what_is_drawn_today() -> None:
    assert PHOTO.stat().st_size < 300_000
    with Image.open(PHOTO) as kept:
        assert kept.size == (WIDE, HIGH)
        assert dict(kept.getexif()) == {}
        shown = np.asarray(kept.convert("RGB"), float)
    off = np.abs(shown - np.asarray(draw_photo(), float))
    assert off.mean() < 4
