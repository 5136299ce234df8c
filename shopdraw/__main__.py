"""The command: what `shopdraw` and `python -m shopdraw` run.

In:  the command line.   Out: text, files, and an exit code.
Frame: none.
"""

import os
import signal
import sys

ENDED = 130
"""What a shell calls a command that was ended by Ctrl-C."""


def run() -> None:
    """Run the command; Ctrl-C ends it from here on, whatever is loaded meanwhile."""
    signal.signal(signal.SIGINT, _end)
    from shopdraw.cli import main
    from shopdraw.cli.door import say
    from shopdraw.cli.streams import keep_streams
    from shopdraw.errors import NotPrinted

    keep_streams()
    try:
        main(prog_name="shopdraw")
    except NotPrinted as error:
        say(error)
        sys.exit(2)


def _end(*_: object) -> None:
    """End the process where it stands, and those that it started.

    An exception would be swallowed here and there: libraries that are just being loaded
    turn it into one of their own. A set is in place whole or not at all, and what an
    ended run leaves beside it goes with the next one.
    """
    sharing = sys.modules.get("shopdraw.output.sharing")
    end_all = getattr(sharing, "end_all", None)
    if end_all is not None:
        end_all()
    try:
        # On a terminal something may stand on the line already.
        begin = b"\n" if os.isatty(2) else b""
        os.write(2, begin + b"Ended; what is not whole was not put in place.\n")
    finally:
        os._exit(ENDED)


if __name__ == "__main__":
    run()
