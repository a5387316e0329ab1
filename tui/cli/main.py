"""Runs one command and turns every known trouble into one line and an exit code."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence

from model.errors import WellwardError
from tui.cli.harmless import harmless_output
from tui.cli.parser import Asked, build_parser

DONE, PROBLEM, USAGE, OVERDUE = 0, 1, 2, 3


def main(argv: Sequence[str] | None = None) -> int:
    """Run `wellward` with these words; returns the exit code: 0 done, 1 a problem, 2 wrong usage, 3 overdue."""
    # Starting makes many objects and hardly any garbage: look for it less often. The screen looks while it is idle.
    gc.set_threshold(200_000, 20, 50)
    words = list(sys.argv[1:] if argv is None else argv)
    with harmless_output():
        return _run(words)


def _run(words: list[str]) -> int:
    try:
        asked = build_parser(words).parse_args(words, namespace=Asked())
        return asked.run(asked)
    except WellwardError as problem:
        print(f"wellward: {problem}", file=sys.stderr)
        return PROBLEM
    except BrokenPipeError:
        # The reader (head, say) has enough: leave quietly, without Python complaining at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except KeyboardInterrupt:
        return PROBLEM
