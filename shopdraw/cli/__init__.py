"""The door: read the words, call the pipeline, print, choose the exit code.

In:  the command line.   Out: text, files, and 0, 1 or 2.
Frame: none.

0: done, nothing failed. 1: done, but a finding failed or a target was missed. 2: not
drawable, nothing written. Only this room catches the program's own errors.
"""

from __future__ import annotations

import click

from shopdraw import __version__
from shopdraw.cli.drawing import draw
from shopdraw.cli.remeasuring import remeasure
from shopdraw.cli.solving import check, compare_sizes
from shopdraw.cli.start import form, new, schema, sizes


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="shopdraw")
def main() -> None:
    """Shop drawings for a brick fireplace surround, from one job file.

    Start with `shopdraw new den.toml`, change it to what you measured, then
    `shopdraw check den.toml` and `shopdraw draw den.toml`.
    """


for command in (new, form, check, draw, remeasure, compare_sizes, schema, sizes):
    main.add_command(command)
