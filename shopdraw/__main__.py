"""Let `python -m shopdraw` be the command."""

from shopdraw.cli import main

main(prog_name="shopdraw")
