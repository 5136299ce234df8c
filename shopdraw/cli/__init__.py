"""Read the command line, call the pipeline, print, and choose the exit code.

In:  the command line.   Out: text, files, and 0, 1 or 2.
Frame: none.

0: done, and nothing failed. 1: done, but a finding failed or a target was missed. 2:
not done, and nothing written. Only this room catches the program's own errors.
"""

from __future__ import annotations

import click

from shopdraw import __version__
from shopdraw.cli.choosing import draw_options
from shopdraw.cli.drawing import draw
from shopdraw.cli.remeasuring import remeasure
from shopdraw.cli.solving import check, compare_sizes
from shopdraw.cli.start import explain, form, new, schema, sizes
from shopdraw.cli.watching import watch

AT_THE_END = """\b
Exit codes:
  0  done, and nothing failed
  1  done, but a finding failed or a target was missed; the sheets say so too
  2  not done, and nothing written; a line for every fault says what is wrong, also
     where only the report can't be printed: then the line says what is written

\b
Where things go:
  draw       writes a set of files into out/JOB, or FOLDER/JOB with --out FOLDER
  options    writes what the owner may choose from into FOLDER/JOB-options
  remeasure  writes a new set into FOLDER/JOB-REVISION with --out FOLDER, else nothing
  new, form  write the file that you name, and never over one that exists
  The others write nothing. Reports go to standard output, faults to standard error.

\b
The tab key completes commands, options and keys, once one of these stands in the
start-up file of your shell (bash, zsh, fish):
  eval "$(_SHOPDRAW_COMPLETE=bash_source shopdraw)"
  eval "$(_SHOPDRAW_COMPLETE=zsh_source shopdraw)"
  _SHOPDRAW_COMPLETE=fish_source shopdraw | source

`shopdraw COMMAND --help` explains a command, with an example.
"""


@click.group(
    context_settings={"help_option_names": ["-h", "--help"]}, epilog=AT_THE_END
)
@click.version_option(__version__, prog_name="shopdraw")
def main() -> None:
    """Make shop drawings for a brick fireplace surround from one job file.

    Start with `shopdraw new den.toml` and change that file to what you measured. Then
    run `shopdraw check den.toml`, and `shopdraw draw den.toml`.
    """


for command in (
    *(new, form, explain, check, draw, watch, draw_options),
    *(remeasure, compare_sizes, schema, sizes),
):
    main.add_command(command)
