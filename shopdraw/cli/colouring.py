"""Colour the words of a report that say how it went, for a person at a terminal.

In:  a finished report.   Out: it, on standard output.
Frame: none.

Nothing else is coloured, and nothing that goes to a file or to another program. Whoever
sets NO_COLOR in the environment gets no colour at all.
"""

from __future__ import annotations

import os
import re
import sys

import click

COLOURS = {"PASSED": "green", "FAILED": "red", "MISSED": "red", "NOT CHECKED": "yellow"}
_WORDS = re.compile(rf"\b(?:{'|'.join(COLOURS)})\b")


def print_report(text: str, *, plain: bool = False) -> None:
    """Print a report as it stands, in colour where somebody sees it.

    What is not a report but for a program is to be plain.
    """
    is_plain = plain or not sys.stdout.isatty() or os.environ.get("NO_COLOR")
    click.echo(text if is_plain else coloured(text), nl=False)


def coloured(text: str) -> str:
    """Return a text with the words that say how it went in their colours."""
    return _WORDS.sub(lambda word: click.style(word[0], fg=COLOURS[word[0]]), text)
