"""Examples of each command, shown by its --help; each of them can be typed as it stands on the sample home."""

from __future__ import annotations

EXAMPLES: dict[str, tuple[str, ...]] = {
    "due": ("wellward due", "wellward due --days 30 --check"),
    "round": ("wellward round",),
    "visit": ("wellward visit --days 30",),
    "water": ("wellward water", "wellward water --json"),
    "costs": ("wellward costs --months 24",),
    "what-if": ("wellward what-if people=4 stages.softener.salt_dose_kg=9lb",),
    "guide": ("wellward guide salt bridge",),
    "log": ("wellward log --last 10",),
    "done": (
        'wellward done softener.refill_salt --used salt=40lb --read salt_depth="20 in"',
        "wellward done ultraviolet.clean_sleeve --handles service --on yesterday",
    ),
    "read": (
        "wellward read meter 640000",
        'wellward read nitrate 6 "mg/L as N" --at after_softener',
        'wellward read nitrate 5-10 "mg/L as N" --at tap --method strip',
    ),
    "buy": ("wellward buy salt 3 packs --price 25.80",),
    "note": ('wellward note "manure on the north field" --on yesterday',),
    "away": ("wellward away 2026-12-20 2027-01-03",),
    "guests": ("wellward guests 2 2026-12-24 2026-12-27",),
    "use": ("wellward use Pool 400 gal --at hose --months 6-8", "wellward use Pool --end"),
    "explain": ("wellward explain 2026-10-05 2026-11-05 leak --over",),
    "event": ("wellward event", "wellward event power_cut", 'wellward event skip 12.sample --because "short"'),
    "finding": ("wellward finding", "wellward finding salt_bridge.softener snooze --until 2027-01-15"),
    "handle": ("wellward handle", "wellward handle softener.bypass bypass"),
    "rule": ('wellward rule brine "not into the field" --by "county office"',),
    "contact": ("wellward contact", 'wellward contact contractor 555-0142 "Hill Well Service"'),
    "import": ("wellward import report.csv",),
    "calendar": ("wellward calendar well.ics",),
    "sheet": ("wellward sheet sitter --html sitter.html",),
    "report": ("wellward report --year 2026 2026.html",),
    "undo": ("wellward undo", "wellward undo 334"),
    "redo": ("wellward redo 334",),
    "check": ("wellward check",),
    "restore": ("wellward restore",),
    "settings": ("wellward settings --write",),
    "serve": ("wellward serve --port 8000",),
    "demo": ("wellward demo", "wellward demo --copy /tmp/home.json"),
    "completion": ("wellward completion bash > ~/.local/share/bash-completion/completions/wellward",),
}


def with_examples(command: str, epilog: str | None) -> str | None:
    """What stands below the options of a command: its examples, then what else there is to say."""
    found = EXAMPLES.get(command, ())
    if not found:
        return epilog
    told = "\n".join(["examples:", *(f"  {line}" for line in found)])
    return f"{told}\n\n{epilog}" if epilog else told
