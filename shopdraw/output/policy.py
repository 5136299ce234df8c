"""Say what a page may do: run and load what is named by its digest, and nothing else.

In:  a page's style and script.   Out: its content-security policy.
Frame: none.
"""

from __future__ import annotations

from base64 import b64encode
from functools import cache
from hashlib import sha256
from importlib import resources


@cache
def packaged(name: str) -> str:
    """Return a file that lies in the package beside this module."""
    return resources.files("shopdraw.output").joinpath(name).read_text("utf-8")


def policy(style: str, script: str) -> str:
    """Return what a page may do: nothing but its own style and its own script."""
    return (
        "default-src 'none'; img-src data:; base-uri 'none'; form-action 'none'; "
        f"style-src '{_hash(style)}'; script-src '{_hash(script)}'"
    )


def style_only(style: str) -> str:
    """Return what a page without a script may do: nothing but its own style."""
    return (
        "default-src 'none'; base-uri 'none'; form-action 'none'; "
        f"style-src '{_hash(style)}'"
    )


def _hash(text: str) -> str:
    return f"sha256-{b64encode(sha256(text.encode()).digest()).decode()}"
