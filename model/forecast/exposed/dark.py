"""When untreated water may have passed the UV: an alarm, a power cut, a bypass that ended. It counts until a laboratory
finds no coliform at the tap since; after an alarm the lamp must have been seen to as well."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta
from typing import Literal, NamedTuple

from model.equipment.ultraviolet import Ultraviolet
from model.forecast.exposed.house import about_boiling, for_ro, instead, short_name
from model.forecast.exposed.line import INFANTS, Line, Rank, said
from model.forecast.playbooks import running
from model.forecast.situation import Situation
from model.forecast.wanted import Wanted
from model.forecast.words import day_in_words
from model.records.events import HandleMoved, Incident, PlaybookStarted, Service
from model.records.history import History

Why = Literal["alarm", "power", "bypass"]

_BY_PLAYBOOK: dict[str, Why] = {"uv_alarm": "alarm", "power_cut": "power"}
"""Playbooks that are begun because the lamp was dark."""

_LAMP_JOBS = ("glance", "replace_lamp", "replace_sleeve", "clean_sleeve", "broken_lamp")
"""Jobs in which the lamp and its alarm are looked at."""

_LAMP = frozenset({"uv", "ultraviolet", "lamp"})
_OVER = frozenset({"back", "restored", "over", "cleared", "ended"})
_NO_POWER = frozenset({"cut", "out", "outage", "lost", "loss", "failure", "failed", "off", "gone"})


class Dark(NamedTuple):
    """Why untreated water may have passed, on which day, and the event that says so."""

    why: Why
    on: date
    event: int


def why_dark(what: str) -> Why | None:
    """What an incident's words say about the lamp: "UV alarm", "power cut"; None for another, or that it is over."""
    words = set(re.findall(r"[a-z]+", what.casefold()))
    if words & _OVER:
        return None
    if "alarm" in words and words & _LAMP:
        return "alarm"
    return "power" if "blackout" in words or ("power" in words and words & _NO_POWER) else None


def playbook_of(what: str) -> str:
    """The playbook that goes with an incident's words about the lamp; "" where they say nothing of it."""
    why = why_dark(what)
    return next((name for name, about in _BY_PLAYBOOK.items() if about == why), "")


def dark_lines(now: Situation) -> list[Line]:
    """The newest alarm and the newest power cut of each UV unit that were not dealt with, and a bypass that ended."""
    lines = []
    for stage in now.house.stages:
        if isinstance(stage, Ultraviolet):
            last = {one.why: one for one in _darks(now.history)}
            lines += [_line(now, stage, one) for one in last.values() if not _dealt_with(now, stage, one)]
            lines += _was_bypassed(now, stage)
    return lines


def pipes_wanted(now: Situation) -> Iterator[Wanted]:
    """The pipes after a lamp past which untreated water may have gone, to be sanitized from the day after.

    A playbook that was begun has that step on a day of its own.
    """
    begun = {one.id for one in now.history.of(PlaybookStarted)}
    for stage in now.house.stages:
        if isinstance(stage, Ultraviolet):
            for dark in _open(now, stage):
                asked = dark.event not in begun and not _done_since(now, stage, dark, "sanitize_pipes")
                if asked and (dark.why != "power" or _may_have_germs(now.history)):
                    day = day_in_words(dark.on, now.today)
                    why = f"Untreated water may have passed the {short_name(stage)} up to {day}: it counts until then."
                    yield Wanted(dark.on + timedelta(days=1), f"{stage.id}.sanitize_pipes", why)


def _open(now: Situation, stage: Ultraviolet) -> list[Dark]:
    """What has not been dealt with: the newest alarm, the newest power cut, a bypass that ended."""
    last = {one.why: one for one in _darks(now.history)}
    ended = _ended_bypass(now, stage)
    return [one for one in (*last.values(), *([ended] if ended else [])) if not _dealt_with(now, stage, one)]


def _ended_bypass(now: Situation, stage: Ultraviolet) -> Dark | None:
    at = next((one for one in now.positions if one.handle.stage == stage.id), None)
    if at is None or at.away or at.since is None:
        return None
    return _end_of_bypass(now.history, at.handle.id)


def _darks(history: History) -> list[Dark]:
    told = [(why_dark(one.what), one.on, one.id) for one in history.of(Incident)]
    begun = [one for one in history.of(PlaybookStarted) if one.on <= history.today]
    told += [(_BY_PLAYBOOK.get(one.playbook), one.on, one.id) for one in begun]
    return [Dark(why, on, event) for why, on, event in sorted(told, key=lambda one: one[1:]) if why is not None]


def _line(now: Situation, stage: Ultraviolet, dark: Dark) -> Line:
    day, name = day_in_words(dark.on, now.today), short_name(stage)
    if dark.why == "alarm":
        lead = f"{name} alarm on {day}: treat as unsafe; {instead(now)}."
    else:
        lead = f"Power cut on {day}: the {name} was dark; {instead(now)}."
    return Line(Rank.GERMS_PASS, lead, _until(now, dark))


def _until(now: Situation, dark: Dark) -> str:
    return said(
        _ends(now, dark),
        about_boiling(now),
        for_ro(now, "An RO unit is no barrier to rely on against germs."),
        INFANTS,
    )


def _ends(now: Situation, dark: Dark) -> str:
    if dark.why == "power" and not _may_have_germs(now.history):
        return "Flush every tap, then look at the lamp and write that down; it counts until then."
    first = "the lamp was seen to and " if dark.why == "alarm" else ""
    lab = "a later laboratory test of the tap finds no coliform; sanitize the pipes after it first"
    return f"It counts until {first}{lab}."


def _was_bypassed(now: Situation, stage: Ultraviolet) -> list[Line]:
    """A unit that was put back: the pipes after it had untreated water in them."""
    ended = _ended_bypass(now, stage)
    if ended is None or _dealt_with(now, stage, ended):
        return []
    lead = f"{short_name(stage)} was on bypass until {day_in_words(ended.on, now.today)}: {instead(now)}."
    return [Line(Rank.GERMS_PASS, lead, _until(now, ended))]


def _end_of_bypass(history: History, handle: str) -> Dark | None:
    """The last time that the handle came back into service, by itself or with a job; None if it never left."""
    stage = handle.partition(".")[0]
    moves = [(one.on, one.id, one.position) for one in history.of(HandleMoved) if one.handle == handle]
    for done in history.of(Service):
        if done.handles == handle or (done.accepted and not done.handles and done.task.startswith(f"{stage}.")):
            moves.append((done.on, done.id, "bypass"))
        elif done.handles == "service" and done.task.startswith(f"{stage}."):
            moves.append((done.on, done.id, "service"))
    out, ended = False, None
    for on, event, position in sorted(moves):
        if position == "service" and out:
            ended = Dark("bypass", on, event)
        out = position != "service"
    return ended


def _dealt_with(now: Situation, stage: Ultraviolet, dark: Dark) -> bool:
    """Whether a laboratory found no coliform at the tap on a later day, and after an alarm the lamp was seen to.

    Where a playbook asks for it the taps were flushed. After a power cut in a house that was tested and never had
    germs, a look at the lamp is enough.
    """
    if _flush_open(now, dark):
        return False
    if dark.why == "power" and not _may_have_germs(now.history):
        return _done_since(now, stage, dark, *_LAMP_JOBS) or _clean_since(now, dark)
    return _clean_since(now, dark) and (dark.why != "alarm" or _done_since(now, stage, dark, *_LAMP_JOBS))


def _done_since(now: Situation, stage: Ultraviolet, dark: Dark, *jobs: str) -> bool:
    since = (dark.on, dark.event)
    return any((one.on, one.id) > since for job in jobs for one in now.history.services(f"{stage.id}.{job}"))


def _clean_since(now: Situation, dark: Dark) -> bool:
    newest = now.history.newest("total_coliform", "tap")
    return newest is not None and newest.on > dark.on and newest.taken.value <= 0


def _flush_open(now: Situation, dark: Dark) -> bool:
    """Whether the playbook that was begun then still asks for the taps to be flushed: the lamp alone clears nothing."""
    begun = (one for one in running(now) if one.event == dark.event)
    return any(step.step.startswith("flush") for one in begun for step in one.open)


def _may_have_germs(history: History) -> bool:
    """Whether coliform or E. coli was ever found anywhere, or nobody ever looked."""
    results = [one.taken.value for name in ("total_coliform", "e_coli") for one in history.taken(name)]
    return not results or max(results) > 0
