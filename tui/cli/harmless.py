"""What a command prints: control marks of what somebody wrote are signs there, so that none reaches the terminal."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from typing import TextIO, cast

from model.visible import visible


class Harmless:
    """A stream that passes on everything, with control marks made visible and letters it cannot write as "?"."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def write(self, text: str) -> int:
        """Write the text; gives its length."""
        shown, encoding = visible(text), getattr(self._stream, "encoding", None) or "utf-8"
        self._stream.write(shown.encode(encoding, "replace").decode(encoding))
        return len(text)

    def __getattr__(self, name: str) -> object:
        return getattr(self._stream, name)


@contextmanager
def harmless_output() -> Iterator[None]:
    """Both streams harmless for as long as a command runs."""
    out, err = (cast("TextIO", Harmless(stream)) for stream in (sys.stdout, sys.stderr))
    with redirect_stdout(out), redirect_stderr(err):
        yield
