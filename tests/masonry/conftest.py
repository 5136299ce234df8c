"""Jobs for the masonry tests, built as tables: a test shows only what it changes."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from shopdraw.job.model import Job

APPEARANCE = {"brick": "#9c5344", "joint": "#cfc7b8", "variation": 14}
_STACK: dict[str, dict[str, Any]] = {
    "in": {
        "job": {"name": "A stack of courses", "lengths": "in"},
        "face": {"measured_to": "finish", "width": "56 in", "height": "34 5/8 in"},
        "opening": {"width": "34 in", "height": "27 in"},
        "brick": {"length": "7 5/8 in", "height": "2 1/4 in", "thickness": "5/8 in"},
        "setting_bed": {"least": "1/4 in", "most": "1/2 in"},
        "joints": {
            "bed": {"preferred": "3/8 in", "least": "1/4 in", "most": "1/2 in"},
            "bottom": {"least": "1/4 in", "most": "3/4 in"},
            "head": {"preferred": "3/8 in", "least": "1/4 in", "most": "1/2 in"},
            "step": "1/16 in",
            "depth": "1/2 in",
        },
        "bond": {
            "least_piece": "2 in",
            "least_width": "3/4 in",
            "least_corner": 30,
            "least_area": 25,
            "longest_fillet": "2 in",
            "least_lap": "2 in",
        },
        "sheet": {"size": "ARCH C", "page": "ANSI A", "scale": "fit"},
        "saw": {"kerf": "1/8 in"},
        "appearance": APPEARANCE,
    },
    "mm": {
        "job": {"name": "A stack of courses", "lengths": "mm"},
        "face": {"measured_to": "finish", "width": "1425 mm", "height": "750 mm"},
        "opening": {"width": "865 mm", "height": "525 mm"},
        "brick": {"length": "215 mm", "height": "65 mm", "thickness": "22 mm"},
        "setting_bed": {"least": "6 mm", "most": "14 mm"},
        "joints": {
            "bed": {"preferred": "10 mm", "least": "8 mm", "most": "12 mm"},
            "bottom": {"least": "6 mm", "most": "20 mm"},
            "head": {"preferred": "10 mm", "least": "8 mm", "most": "12 mm"},
            "step": "1 mm",
            "depth": "12 mm",
        },
        "bond": {
            "least_piece": "50 mm",
            "least_width": "20 mm",
            "least_corner": 30,
            "least_area": 25,
            "longest_fillet": "50 mm",
            "least_lap": "50 mm",
        },
        "sheet": {"size": "A2", "page": "A4", "scale": "fit"},
        "saw": {"kerf": "3 mm"},
        "appearance": APPEARANCE,
    },
}
_WASTE = {
    "flats": {"percent": 10},
    "corners": {"percent": 10},
    "setting_mortar": {"percent": 20},
    "pointing_mortar": {"percent": 20},
}


def stack_job_of(lengths: str = "in", /, **changes: Any) -> Job:
    """Build a job from dotted keys written with two underscores for each dot.

    `face__height="27 in"` sets `face.height`; a new table is made where there is none.
    """
    tables: dict[str, Any] = {"waste": dict(_WASTE)}
    for name, table in _STACK[lengths].items():
        tables[name] = {
            key: dict(value) if isinstance(value, dict) else value
            for key, value in table.items()
        }
    for key, value in changes.items():
        *path, last = key.split("__")
        table = tables
        for name in path:
            table = table.setdefault(name, {})
        table[last] = value
    return Job.model_validate(tables, context={"lengths": lengths})


@pytest.fixture(scope="session")
def stack_job() -> Callable[..., Job]:
    """Return the builder of jobs whose courses are in question."""
    return stack_job_of
