"""The short lines on what the house is exposed to today."""

from __future__ import annotations

from model.forecast.exposed.begun import begun_lines
from model.forecast.exposed.dark import dark_lines
from model.forecast.exposed.late import lamp_lines, late_lines
from model.forecast.exposed.line import Line, Rank
from model.forecast.exposed.night import night_lines
from model.forecast.exposed.out_of_service import handle_lines
from model.forecast.exposed.ph import ph_lines
from model.forecast.exposed.results import germ_lines, raw_nitrate_lines, tap_nitrate_lines
from model.forecast.exposed.salt import salt_lines
from model.forecast.exposed.sensor import sensor_lines
from model.forecast.exposed.traces import trace_lines
from model.forecast.playbooks import conditions
from model.forecast.situation import Situation
from model.plan_types import Alert, Due, Finding

_INFANT = Line(
    Rank.INFANT,
    "Infant in the house: bottles from tested bottled water only.",
    "Never from this tap or from RO alone, and never boiled: boiling concentrates nitrate. "
    "Ask the doctor or the health authority.",
)


_TOLD = frozenset({"nitrate_not_held", "germs_after_uv", "germs_at_ro", "metal_at_tap", "low_light"})
"""Findings whose readings have lines of their own."""


def exposure(
    now: Situation, due: tuple[Due, ...], alerts: tuple[Alert, ...], findings: tuple[Finding, ...] = ()
) -> tuple[str, ...]:
    """Short lines, the worst first: what is not protecting the house now, and what that means.

    With an infant in the house, that comes before all. The first sentence of each makes sense alone.
    """
    if not now.house.stages:
        return ("No equipment is written down yet, so nothing can be said about the water.",)
    infant = [_INFANT.text] if "infant" in conditions(now) else []
    today = [line.text for line in _today(now, due, findings)] or [_nothing_found(alerts)]
    return (*infant, *today, *(line.text for line in night_lines(now)))


def _today(now: Situation, due: tuple[Due, ...], findings: tuple[Finding, ...]) -> list[Line]:
    found = [
        *germ_lines(now, due),
        *tap_nitrate_lines(now),
        *trace_lines(now),
        *ph_lines(now),
        *handle_lines(now),
        *dark_lines(now),
        *begun_lines(now),
        *salt_lines(now),
        *_found_lines(findings),
        *lamp_lines(now, due),
        *sensor_lines(now),
        *raw_nitrate_lines(now),
        *late_lines(now, due),
    ]
    return sorted(found, key=lambda line: line.rank)


def _found_lines(findings: tuple[Finding, ...]) -> list[Line]:
    """Dangers that readings show: taken on, put off or ticked, they stand until a reading clears them or the owner says
    why they do not hold."""
    dangers = [
        one
        for one in findings
        if one.level == "danger" and one.stands and one.answer != "dismissed" and one.id.partition(".")[0] not in _TOLD
    ]
    return [Line(Rank.NITRATE_PASSES, f"{one.title}, {one.stage_title}.", one.text) for one in dangers]


def _nothing_found(alerts: tuple[Alert, ...]) -> str:
    if any(alert.level != "note" for alert in alerts):
        return "No stage is reckoned to be out of work, but the warnings below count."
    return "Nothing recorded or reckoned says that a stage is not working."
