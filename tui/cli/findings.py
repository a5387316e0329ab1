"""What readings show, as text; and the command that lists findings and answers one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from model.errors import BadInput, UnknownName
from model.findings.answers import answer_to
from model.findings.find import findings
from model.findings.words import aim, hidden_words, next_words, place_of
from model.forecast.asked import questions
from model.forecast.situation import Situation
from model.records.points import points_of
from model.records.typed import parse_date
from model.units import echo
from tui.cli import as_json
from tui.cli.home_file import print_json, repository

if TYPE_CHECKING:
    from model.plan_types import Finding
    from model.records.events import Answer
    from tui.cli.parser import Asked

ANSWERS: dict[str, Answer] = {"accept": "accepted", "dismiss": "dismissed", "snooze": "snoozed", "done": "done"}

_CAUSES = 3
"""Likeliest causes shown by `wellward due`; `wellward finding ID` shows all."""


def finding(asked: Asked) -> int:
    """List the findings, show one in full, or record what is said to it."""
    store = repository(asked)
    now = Situation(store.load(), asked.today)
    found = findings(now)
    chosen = found if asked.finding is None else (_named(found, asked.finding),)
    if asked.answer is None:
        return _show(asked, chosen, now)
    from tui.cli.recording import record_event

    until = parse_date(asked.until, asked.today) if asked.until else None
    event = answer_to(chosen[0], ANSWERS[asked.answer], asked.today, asked.reason, until)
    said = f"Next: {aim(chosen[0])}." if event.answer == "accepted" else ""
    return record_event(asked, store, event, said=said)


def _named(found: tuple[Finding, ...], named: str) -> Finding:
    one = next((one for one in found if one.id == named), None)
    if one is None:
        known = ", ".join(one.id for one in found)
        raise UnknownName(f"There is no finding {echo(named)}.", f"There are: {known}." if known else "There is none.")
    return one


def _show(asked: Asked, shown: tuple[Finding, ...], now: Situation) -> int:
    if asked.reason or asked.until:
        raise BadInput("A reason or a day goes with an answer.", "Say accept, dismiss, snooze or done.")
    if asked.json:
        print_json({"findings": as_json.findings(shown)})
    else:
        lines = [line for one in shown for line in (*_whole(one, dict(points_of(now.house))), "")]
        asked_too = [f"{one.text} Say so with `wellward explain`." for one in questions(now)]
        print("\n".join([*asked_too, *lines[:-1]]) or "The readings show nothing that calls for anything.")
    return 0


def due_lines(found: tuple[Finding, ...]) -> list[str]:
    """The findings below what is due: those that are told, and how many were put away."""
    told = [one for one in found if not one.hidden]
    lines = [line for one in told for line in _short(one)]
    hidden = hidden_words(found)
    if not lines and not hidden:
        return []
    more = ["", f"{hidden}: `wellward finding` lists them."] if hidden else []
    return ["", *(["FINDINGS", *lines] if lines else []), *(more if lines else more[1:])]


def _short(one: Finding) -> Iterator[str]:
    yield f"  {_head(one)}"
    yield f"      {one.text}"
    for cause in one.causes[:_CAUSES]:
        yield f"      - {cause.text} {cause.do}"
    yield f"      {next_words(one)}"


def _whole(one: Finding, points: dict[str, str]) -> Iterable[str]:
    yield _head(one)
    yield f"    {one.text}"
    for seen in one.rests_on:
        yield f"    {seen.on}  {seen.what} {seen.value}, {place_of(one, seen, points)}"
    for number, cause in enumerate(one.causes, 1):
        yield f"    {number}. {cause.text} {cause.do}{f' [{cause.task}]' if cause.task else ''}"
    yield f"    {next_words(one)}"


def _head(one: Finding) -> str:
    return f"{one.level}: {one.stage_title}: {one.title} [{one.id}]"
