"""The words of the command line. Each command's work is imported only when it is asked for."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from datetime import date
from importlib import import_module
from pathlib import Path
from typing import NamedTuple, cast

from model import clock
from model.records.typed import parse_date
from tui.cli.examples import with_examples

_CSV_FORM = """The first line says what the file is:
  date,point,analyte,value,unit   a laboratory's results; value may be <0.05, >2419.6, present, absent, TNTC
  date,reading,unit               what the water meter showed
  date,use,unit                   water used since the row before
A meter's rows may have a time after the date, 2026-03-31T02:00: from rows an hour apart or closer between midnight and
05:00 the least that ran in an hour of each night is kept too, which shows leaks.
A line with an unknown analyte is left out and named; anything else that is wrong refuses the whole file.
Of a copy that F9 saved, what the home's file does not hold is recorded, nothing twice; the file is kept first."""


_USES = """  wellward use Pool 400 gal --at hose --months 6-8 --from 2027-06-01
  wellward use Pool --end --on 2027-08-20
For another amount, end the use and add it anew from the same day."""
_METHODS = ("strip", "drop_count", "liquid_kit", "meter", "display", "tape", "lab")
_EVENTS = """  wellward event                      the playbooks, and the open steps of those begun
  wellward event power_cut --show     read one: cautions first, then the steps by day
  wellward event power_cut            begin it
  wellward event done 12.flush        a step without a checklist was done
  wellward event skip 12.sanitize --because "nothing was drawn"
A step with a checklist is done once its service is recorded: `wellward done TASK`. A playbook begun by mistake is taken
back with `wellward undo EVENT`."""
_CAUSE_NAMES = ("leak", "guests", "watering", "away", "household", "misread", "other")
_CAUSES = """causes:
  leak       something ran that should not
  guests     more people than usual for a while
  watering   a garden, a pool, a fill
  away       nobody or fewer at home
  household  more or fewer people live here now
  misread    the meter was misread
  other      something else"""

_HANDLES = """Without a handle: the list. In service is assumed until something else is recorded.
  wellward handle softener.bypass bypass --note "gasket on order, until Friday"
  wellward handle softener.bypass service"""
_RULES = """Without a topic: the list. Each rule is asked about again after a year.
  wellward rule brine "not into the septic field" --by "county health office" --on 2026-03-01"""

_CONTACTS = """Without a role: the list. They stand on both sheets; what is not written down is a line to fill in there.
  wellward contact contractor 555-0142 "Hill Well Service"
  wellward contact contractor --remove"""


_SERVE = """Needs an extra: pip install 'wellward[web]'. Without --host only this machine can open it.
There is no password: with --host 0.0.0.0 anyone on the network can read and change the record."""
_WHAT_IF = """Nothing is written down. Several changes may be tried together:
  wellward what-if people=4 stages.softener.salt_dose_kg=9lb
  wellward what-if stages.neutralizer.target_pH=7.2
  wellward what-if "uses.More water=300 gal" supplies.salt.price=12"""
_CALENDAR = """  wellward calendar water.ics
Take the file into a calendar program. Made and taken in again it moves what is there: the ids stay the same. An event
of a stage that was removed since stays until you delete it."""
_SHEET = """  wellward sheet sitter --html sitter.html
  wellward sheet owner next-owner.md
Print it from a browser; fill in the blank lines by hand."""
_ANSWERS = """answers:
  accept   it becomes a task, until its job is done
  dismiss  it is put away until a new reading shows it again; say why with --reason
  snooze   it is put away until the day given with --until
  done     the task it became is done"""


class Asked(argparse.Namespace):
    """What was asked: the common options, and the command's own."""

    file: Path | None = None
    on_day: str | None = None
    json: bool = False
    run: Callable[[Asked], int]

    @property
    def today(self) -> date:
        """The day to plan for: --today, or the day it is."""
        return clock.today() if self.on_day is None else parse_date(self.on_day, clock.today())


def _later(module: str, function: str) -> Callable[[Asked], int]:
    def run(asked: Asked) -> int:
        work: Callable[[Asked], int] = getattr(import_module(f"tui.cli.{module}"), function)
        return work(asked)

    return run


def build_parser(words: list[str]) -> argparse.ArgumentParser:
    """The parser. `words` are looked at only to spare the list of quantities when nobody asks for help."""
    common = argparse.ArgumentParser(add_help=False)
    common.add_argument("--file", type=Path, default=argparse.SUPPRESS, help="the home's file")
    common.add_argument("--today", dest="on_day", metavar="DATE", default=argparse.SUPPRESS, help="plan as of that day")
    common.add_argument("--json", action="store_true", default=argparse.SUPPRESS, help="print one JSON document")
    parser = argparse.ArgumentParser(
        prog="wellward",
        parents=[common],
        description="Keeps a household well's water treatment in order. Without a command: the full screen.",
    )
    parser.add_argument("--version", action=_Version, nargs=0, help="print the version and stop")
    parser.set_defaults(run=_later("screen", "open_home"))
    commands = _Commands(parser.add_subparsers(metavar="COMMAND", title="commands"), _asked_for(words))
    _add_showing(commands, common)
    _add_recording(commands, common, words)
    _add_pages(commands, common)
    _add_keeping(commands, common)
    return parser


def _asked_for(words: list[str]) -> frozenset[str] | None:
    """The words that may be a command; None where all commands are wanted: for help, or to say what there is."""
    plain = [one for one, before in zip(words, ["", *words], strict=False) if before not in ("--file", "--today")]
    named = frozenset(one for one in plain if not one.startswith("-"))
    if named & _NAMES:
        return named
    return None if named or {"-h", "--help"} & set(words) else frozenset()


class _Commands(NamedTuple):
    """Where commands are made; only those among the words, all for None: each takes a while to make."""

    made: argparse._SubParsersAction[argparse.ArgumentParser]
    words: frozenset[str] | None


class _NotAsked(argparse.ArgumentParser):
    """Stands for a command that is not made."""

    def __init__(self) -> None:
        """Nothing to set up."""

    def add_argument(self, *_: object, **__: object) -> argparse.Action:
        """Takes no argument."""
        return _NO_ACTION

    def add_mutually_exclusive_group(self, **_: object) -> argparse._MutuallyExclusiveGroup:
        """Takes no group."""
        return cast(argparse._MutuallyExclusiveGroup, self)


_NAMES = frozenset(
    (
        "away",
        "buy",
        "calendar",
        "check",
        "completion",
        "contact",
        "costs",
        "demo",
        "done",
        "due",
        "event",
        "explain",
        "finding",
        "guests",
        "guide",
        "handle",
        "import",
        "log",
        "note",
        "read",
        "redo",
        "report",
        "restore",
        "round",
        "rule",
        "serve",
        "settings",
        "sheet",
        "undo",
        "use",
        "visit",
        "water",
        "what-if",
    )
)
"""Every command; a test holds it to those that are made."""

_NO_ACTION = argparse.Action([], "")


def _command(
    commands: _Commands,
    common: argparse.ArgumentParser,
    name: str,
    tells: str,
    work: tuple[str, str],
    epilog: str | None = None,
) -> argparse.ArgumentParser:
    if commands.words is not None and name not in commands.words:
        return _NotAsked()
    made = commands.made.add_parser(
        name,
        parents=[common],
        help=tells,
        description=tells[:1].upper() + tells[1:] + ".",
        epilog=with_examples(name, epilog),
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    made.set_defaults(run=_later(*work))
    return made


def _add_showing(commands: _Commands, common: argparse.ArgumentParser) -> None:
    due = _command(commands, common, "due", "what is due, and why", ("showing", "due"))
    due.add_argument("--days", type=_whole, default=7, metavar="N", help="days to look ahead (7)")
    due.add_argument("--check", action="store_true", help="exit with 3 if something is overdue")
    _command(commands, common, "round", "print the monthly round, a page to fill in", ("round_sheet", "print_round"))
    visit = _command(
        commands, common, "visit", "the coming jobs with the water off, put together for one day", ("visits", "visit")
    )
    visit.add_argument("--days", type=_days, default=14, metavar="N", help="days to look ahead, at most 366 (14)")
    _command(commands, common, "water", "the water at each point of the train", ("showing", "water"))
    costs = _command(commands, common, "costs", "the cost forecast", ("showing", "costs"))
    costs.add_argument("--months", type=_months, default=12, metavar="N", help="months to forecast (12)")
    what_if = _command(
        commands, common, "what-if", "what other settings would change, from today on", ("what_if", "what_if"), _WHAT_IF
    )
    what_if.add_argument("changes", nargs="*", metavar="PATH=VALUE", help="without any: what can be changed")
    guide = _command(
        commands, common, "guide", "what owners ask, answered from the home's own numbers", ("guide", "guide")
    )
    guide.add_argument("words", nargs="*", metavar="WORDS", help="only questions with all of these words, in full")
    log = _command(commands, common, "log", "what happened", ("showing", "log"))
    log.add_argument("--last", type=_whole, metavar="N", help="only the last N")
    log.add_argument("--who", action="store_true", help="also who recorded it, when, and whether by a command")


def _add_recording(commands: _Commands, common: argparse.ArgumentParser, words: list[str]) -> None:
    done = _command(commands, common, "done", "record a service done", ("recording", "done"))
    done.add_argument("task", metavar="TASK", help="as in `wellward due`: softener.refill_salt")
    done.add_argument("--note", default="", metavar="TEXT")
    done.add_argument("--used", action="append", metavar="SUPPLY=N", help="parts used, if not the checklist's")
    done.add_argument("--read", action="append", default=[], metavar="QUANTITY=VALUE", help="a reading taken with it")
    done.add_argument("--handles", choices=["service"], help="every valve handle is back in service")
    done.add_argument("--accept", default="", metavar="TEXT", help="a handle stays moved, and what that means")
    read = _command(commands, common, "read", "record a reading", ("recording", "read"), _quantities(words))
    read.add_argument("quantity", metavar="QUANTITY")
    read.add_argument("value", metavar="VALUE")
    read.add_argument("unit", nargs="?", metavar="UNIT")
    read.add_argument("--at", dest="point", metavar="POINT", help="a point of the train, or a stage")
    _add_how(read)
    buy = _command(commands, common, "buy", "record a purchase", ("recording", "buy"))
    buy.add_argument("supply", metavar="SUPPLY")
    buy.add_argument("quantity", metavar="QUANTITY", help="a number in the supply's unit, or with its unit: 40lb")
    buy.add_argument("unit", nargs="?", metavar="UNIT", help="the unit, or packs: 3 packs")
    buy.add_argument("--price", metavar="TOTAL", help="paid in all")
    note = _command(
        commands, common, "note", "write down what happened: manure, hay, rain, drought, power", ("recording", "note")
    )
    note.add_argument("text", nargs="+", metavar="TEXT", help="in your own words; the log shows it as typed")
    for dated in (done, read, buy, note):
        dated.add_argument("--on", metavar="DATE", help="the day it happened (today)")
    away = _command(commands, common, "away", "record an absence", ("recording", "away"))
    away.add_argument("first", metavar="FROM")
    away.add_argument("last", metavar="TO")
    _add_events(commands, common)
    _add_water_use(commands, common)
    _add_finding(commands, common)
    _add_valves(commands, common)
    _add_contacts(commands, common)
    _add_import(commands, common)
    undo = _command(commands, common, "undo", "take back the last event or the one named", ("undoing", "undo"))
    redo = _command(commands, common, "redo", "bring back what was taken back last, or the named", ("undoing", "redo"))
    for one in (undo, redo):
        one.add_argument("event", nargs="?", type=_whole, metavar="EVENT", help="its number in `wellward log`")


def _add_import(commands: _Commands, common: argparse.ArgumentParser) -> None:
    taken_in = _command(
        commands,
        common,
        "import",
        "take in a laboratory or meter CSV, or a copy of the home",
        ("importing", "import_file"),
        _CSV_FORM,
    )
    taken_in.add_argument("source", type=Path, metavar="FILE")


def _add_how(read: argparse.ArgumentParser) -> None:
    """How it was read: all of it optional."""
    read.add_argument("--method", default="", choices=_METHODS, help=", ".join(_METHODS))
    read.add_argument("--state", default="", choices=["rest", "flow"], help="the water had stood, or it ran")
    read.add_argument("--kit", default="", metavar="LOT", help="the lot on the test kit")
    read.add_argument("--kit-expires", default="", metavar="DATE", help="its last day, or month: 2027-03")
    read.add_argument(
        "--since-regeneration", default="", metavar="VALUE", help='water since the softener regenerated: "300 gal"'
    )


def _add_events(commands: _Commands, common: argparse.ArgumentParser) -> None:
    event = _command(
        commands,
        common,
        "event",
        "what to do when something happens: list, begin, answer",
        ("events", "event"),
        _EVENTS,
    )
    event.add_argument("what", nargs="?", metavar="PLAYBOOK | done | skip", help="a playbook to begin, or the answer")
    event.add_argument("step", nargs="?", metavar="STEP", help="with done and skip: the step, as listed: 12.flush")
    event.add_argument("--on", metavar="DATE", help="the day it begins, may be to come; the day of the answer (today)")
    event.add_argument("--note", default="", metavar="TEXT")
    event.add_argument("--because", default="", metavar="TEXT", help="with skip: why the step is left out")
    event.add_argument("--show", action="store_true", help="only show the playbook")


def _add_water_use(commands: _Commands, common: argparse.ArgumentParser) -> None:
    guests = _command(commands, common, "guests", "record guests, past or to come", ("water_use", "guests"))
    guests.add_argument(
        "people", metavar="PEOPLE", help="how many more than live there: 2, or 0.5 for half of each day"
    )
    guests.add_argument("first", metavar="FROM")
    guests.add_argument("last", metavar="TO", help="counted too")
    use = _command(
        commands, common, "use", "record a use of water that begins or ends, now or later", ("water_use", "use"), _USES
    )
    use.add_argument("title", metavar="TITLE")
    use.add_argument("amount", nargs="?", metavar="AMOUNT", help="water a week, in the home's own unit unless said")
    use.add_argument("unit", nargs="?", default="", metavar="UNIT", help="L, gal, m3")
    use.add_argument("--at", dest="point", choices=["tap", "ro", "hose"], default="tap", help="where it is drawn (tap)")
    use.add_argument("--months", default="", metavar="5-9", help="the months of the year in which it counts (all)")
    use.add_argument("--from", dest="begins", metavar="DATE", help="the first day on which it counts (today)")
    use.add_argument("--end", action="store_true", help="it ends")
    use.add_argument("--on", metavar="DATE", help="with --end: the first day on which it no longer counts (today)")
    explain = _command(
        commands, common, "explain", "say why the meter counted much more or less", ("water_use", "explain"), _CAUSES
    )
    explain.add_argument("start", metavar="START", help="the day of the meter reading before")
    explain.add_argument("end", metavar="END", help="the day of the meter reading after")
    explain.add_argument("cause", metavar="CAUSE", choices=_CAUSE_NAMES, help=", ".join(_CAUSE_NAMES))
    explain.add_argument("--note", default="", metavar="TEXT")
    over = explain.add_mutually_exclusive_group()
    over.add_argument("--over", action="store_true", default=None, help="it has ended (the usual)")
    over.add_argument("--goes-on", dest="over", action="store_false", help="it goes on (the usual for household)")


def _add_finding(commands: _Commands, common: argparse.ArgumentParser) -> None:
    finding = _command(
        commands, common, "finding", "list what readings show, or answer one", ("findings", "finding"), _ANSWERS
    )
    finding.add_argument("finding", nargs="?", metavar="ID", help="as in `wellward due`: salt_bridge.softener")
    finding.add_argument("answer", nargs="?", choices=["accept", "dismiss", "snooze", "done"])
    finding.add_argument("--reason", default="", metavar="TEXT", help="why; needed to dismiss")
    finding.add_argument("--until", metavar="DATE", help="with snooze: the day on which it is told again")


def _add_valves(commands: _Commands, common: argparse.ArgumentParser) -> None:
    handle = _command(
        commands, common, "handle", "record where a valve handle stands, or list all", ("valves", "handle"), _HANDLES
    )
    handle.add_argument("handle", nargs="?", metavar="HANDLE", help="its id in the list: softener.bypass")
    handle.add_argument("position", nargs="?", metavar="POSITION", help="service, bypass or closed; a blend in percent")
    handle.add_argument("--note", default="", metavar="TEXT", help="why, and until when")
    rule = _command(
        commands, common, "rule", "record what a local rule says, or list the rules", ("valves", "rule"), _RULES
    )
    rule.add_argument("topic", nargs="?", metavar="TOPIC", help="brine, backflow, discharge or another")
    rule.add_argument("text", nargs="?", metavar="TEXT", help="what the rule says")
    rule.add_argument("--by", dest="said_by", metavar="WHO", help="who said so: an office, a code, a trade")
    for dated in (handle, rule):
        dated.add_argument("--on", metavar="DATE", help="the day it was moved or asked (today)")


def _add_contacts(commands: _Commands, common: argparse.ArgumentParser) -> None:
    contact = _command(
        commands, common, "contact", "record whom to call, or list all", ("contacts", "contacts"), _CONTACTS
    )
    contact.add_argument("role", nargs="?", metavar="ROLE", help="contractor, laboratory, neighbour, or your own word")
    contact.add_argument("phone", nargs="?", metavar="PHONE", help="as it is dialled")
    contact.add_argument("name", nargs="*", metavar="NAME", help="who answers there")
    contact.add_argument("--remove", action="store_true", help="nobody any more for this role")


def _add_pages(commands: _Commands, common: argparse.ArgumentParser) -> None:
    calendar = _command(
        commands, common, "calendar", "the days to act as an iCalendar file", ("calendar", "calendar"), _CALENDAR
    )
    _add_to(calendar)
    report = _command(commands, common, "report", "the record of a year as HTML with plots", ("report", "report"))
    report.add_argument("--year", type=_whole, metavar="Y", help="the year (this one so far)")
    _add_to(report)
    sheet = _command(commands, common, "sheet", "a page for a sitter or the next owner", ("sheet", "sheet"), _SHEET)
    if not isinstance(sheet, _NotAsked):
        readers = sheet.add_subparsers(metavar="sitter | owner", dest="reader", required=True)
        for reader, tells in (("sitter", "one sheet for a house-sitter"), ("owner", "all of it, for the next owner")):
            page = readers.add_parser(reader, parents=[common], help=tells, description=f"{tells.capitalize()}.")
            page.add_argument("--html", action="store_true", help="as HTML, to print on A4 or Letter; else Markdown")
            _add_to(page)


def _add_to(page: argparse.ArgumentParser) -> None:
    page.add_argument("to", nargs="?", type=Path, metavar="FILE", help="where to write it (standard output)")


def _add_keeping(commands: _Commands, common: argparse.ArgumentParser) -> None:
    demo = _command(commands, common, "demo", "open a throw-away copy of the sample home", ("screen", "demo"))
    demo.add_argument("--copy", type=Path, metavar="PATH", help="write that copy to PATH and stop")
    _command(commands, common, "check", "read the whole file and list every problem", ("keeping", "check"))
    restore = _command(commands, common, "restore", "list backups, or bring one back", ("keeping", "restore"))
    restore.add_argument("backup", nargs="?", metavar="BACKUP", help="its name in the list")
    complete = _command(
        commands, common, "completion", "print a script that completes words", ("completion", "completion")
    )
    complete.add_argument("shell", choices=["bash", "zsh", "fish"], help="the shell that reads it")
    settings = _command(commands, common, "settings", "print keys, theme and glyphs as set", ("settings", "settings"))
    settings.add_argument("--write", action="store_true", help="make the settings file, with every command in it")
    serve = _command(commands, common, "serve", "show the full screen in a browser", ("serve", "serve"), _SERVE)
    serve.add_argument("--port", type=_port, default=8000, metavar="N", help="(8000)")
    serve.add_argument(
        "--host", default="127.0.0.1", metavar="ADDRESS", help="listen at this address (only this machine)"
    )


class _Version(argparse.Action):
    """Prints the version; looks it up only when asked."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object, **__: object) -> None:
        from importlib.metadata import version

        print(f"wellward {version('wellward')}")
        parser.exit()


def _whole(text: str) -> int:
    """A whole number of nought or more that a list or a calendar can take."""
    if not text.isascii() or not text.isdigit() or len(text) > 5:
        raise argparse.ArgumentTypeError(f"{text!r} is not a whole number from 0 to 99999")
    return int(text)


def _months(text: str) -> int:
    months = _whole(text)
    if not 1 <= months <= 120:
        raise argparse.ArgumentTypeError("months must be from 1 to 120")
    return months


def _days(text: str) -> int:
    days = _whole(text)
    if days > 366:
        raise argparse.ArgumentTypeError("days must be from 0 to 366")
    return days


def _port(text: str) -> int:
    port = _whole(text)
    if not 1 <= port <= 65535:
        raise argparse.ArgumentTypeError("the port must be from 1 to 65535")
    return port


def _quantities(words: list[str]) -> str | None:
    if "read" not in words or not {"-h", "--help"} & set(words):
        return None
    from model.records.quantities import QUANTITIES

    rows = [f"  {one.id:<25} {one.help}" for one in QUANTITIES.values()]
    return "\n".join(["quantities:", *rows])
