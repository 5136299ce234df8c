"""Job files as text: the starter and every demo."""

from __future__ import annotations

from importlib import resources

from tests.demos import CONFIGS

STARTER = resources.files("shopdraw.job").joinpath("starter.toml").read_text("utf-8")
LIBRARY = (CONFIGS / "library-hearth.toml").read_text("utf-8")
TEXTS = {
    "starter": STARTER,
    **{path.stem: path.read_text("utf-8") for path in sorted(CONFIGS.glob("*.toml"))},
}
