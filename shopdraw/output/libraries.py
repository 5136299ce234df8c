"""Load the libraries that draw as they come, whatever lies about on this machine.

In:  nothing.   Out: a block to load them in.
Frame: none.

Some read settings when they are loaded: from the working folder, from the home folder,
from modules by certain names. None of that is a part of the job, so none is read. What
they keep for their own speed stays in the cache of the home folder, where there is one.
"""

from __future__ import annotations

import logging
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from importlib.util import find_spec
from pathlib import Path
from threading import RLock
from types import ModuleType

BARE = Path(__file__).resolve().parent
"""A folder without any settings."""
OF_A_USER = ("reportlab_mods", "reportlab_settings")
"""Modules that a library runs if they are found, or else files of the same names."""
_one_at_a_time = RLock()


def beside_matplotlib() -> Path:
    """Return the folder of the data that come with matplotlib, which is not loaded."""
    found = find_spec("matplotlib")
    inside = Path(found.origin).parent if found and found.origin else BARE
    return inside / "mpl-data"


@contextmanager
def as_they_come() -> Iterator[None]:
    """Load libraries in this block without anybody's settings."""
    for name in OF_A_USER:
        sys.modules.setdefault(name, ModuleType(name))
    # That a cache can't be kept is nobody's concern.
    for name in ("matplotlib", "ezdxf"):
        logging.getLogger(name).setLevel(logging.ERROR)
    cache = os.environ.get("XDG_CACHE_HOME") or str(Path("~").expanduser() / ".cache")
    settings = {
        "MATPLOTLIBRC": str(beside_matplotlib() / "matplotlibrc"),
        "XDG_CONFIG_HOME": str(BARE),
        "XDG_CACHE_HOME": cache,
        "EZDXF_CONFIG_FILE": "",
    }
    with _one_at_a_time, _elsewhere():
        before = {name: os.environ.get(name) for name in settings}
        os.environ.update(settings)
        try:
            yield
        finally:
            for name, value in before.items():
                if value is None:
                    del os.environ[name]
                else:
                    os.environ[name] = value


@contextmanager
def _elsewhere() -> Iterator[None]:
    """Work in a folder without settings; one that is gone can't be come back to."""
    try:
        before = Path.cwd()
    except OSError:
        yield
        return
    os.chdir(BARE)
    try:
        yield
    finally:
        with suppress(OSError):
            os.chdir(before)
