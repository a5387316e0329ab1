"""`wellward due` against the bare import of what it stands on."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

from tests.benchmarks.measure import Measure, ratio, seconds

RUN = "import sys; from tui.cli.main import main; sys.exit(main())"


def due_command() -> Measure:
    """Wall time of `wellward due` on the demo home, as a process."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "home.json"
        subprocess.run([sys.executable, "-c", RUN, "demo", "--copy", str(path)], check=True, capture_output=True)
        ours = [sys.executable, "-c", RUN, "due", "--file", str(path)]
        theirs = [sys.executable, "-c", "import pendulum, tinydb, msgspec"]
        value = ratio(lambda: seconds(lambda: _run(ours)), lambda: seconds(lambda: _run(theirs)), rounds=21)
    return Measure("due_command", value, 1.5, "python -c 'import pendulum, tinydb, msgspec'")


def _run(command: list[str]) -> None:
    subprocess.run(command, check=True, capture_output=True)
