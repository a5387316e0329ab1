"""How many sheets of paper the pages take, printed by a browser: `python -m tests.benchmarks printed [FOLDER]`.

Needs chromium on the path. With a folder the files made are left there, to be looked at.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from tui.cli import main

PAPERS = ("A4", "Letter")
MOST = {"sitter": 1, "owner": 6}
"""Sheets of the demo home's pages, at most."""


def printed(words: list[str]) -> None:
    """Print both pages of the demo home on both papers; exit with 1 where one takes more than it may."""
    if shutil.which("chromium") is None:
        sys.exit("printed: no chromium here")
    with tempfile.TemporaryDirectory() as passing:
        folder = Path(words[0] if words else passing).absolute()
        folder.mkdir(exist_ok=True)
        main(["demo", "--copy", str(folder / "printed-home.json")])
        found = {(page, paper): _sheets(folder, page, paper) for page in MOST for paper in PAPERS}
    for (page, paper), sheets in found.items():
        print(f"{page:<8}{paper:<8}{sheets:>3}  at most {MOST[page]}")
    sys.exit(any(sheets > MOST[page] for (page, _), sheets in found.items()))


def _sheets(folder: Path, page: str, paper: str) -> int:
    made = folder / f"{page}-{paper}.html"
    main(["sheet", page, "--html", "--file", str(folder / "printed-home.json"), str(made)])
    made.write_text(
        made.read_text(encoding="utf-8").replace("@page {", f"@page {{ size: {paper};", 1), encoding="utf-8"
    )
    pdf = made.with_suffix(".pdf")
    quiet = ["--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer"]
    subprocess.run(["chromium", *quiet, f"--print-to-pdf={pdf}", made.as_uri()], check=True, capture_output=True)
    return len(re.findall(rb"/Type\s*/Page[^s]", pdf.read_bytes()))
