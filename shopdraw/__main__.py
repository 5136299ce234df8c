"""Let `python -m shopdraw` be the command."""

from shopdraw.cli import main

if __name__ == "__main__":
    main(prog_name="shopdraw")
