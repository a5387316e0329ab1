"""The next owner's page: the water first, then what stands there and how it is set, what it takes, and all history."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

import msgspec

from model.equipment.labels import CHOICES, STAGE_LABELS
from model.equipment.registry import AnyStage, title_of
from model.forecast.costs import costs_of
from model.forecast.handle_list import handle_rows
from model.forecast.situation import Situation
from model.forecast.slow_parts import ten_years
from model.pages.calendar_text import LAST_WORD
from model.pages.page import Blanks, Block, Items, Page, Section, Table, Text
from model.pages.results import result_rows
from model.pages.train_picture import train_picture
from model.plan_types import Plan
from model.records.events import Correction
from model.records.log import log_lines
from model.records.names import Names, amount_of, names_of
from model.records.rules import TOPICS, current_rules
from model.records.uses import use_in_words
from model.setup.assumed import assumed_paths
from model.units import money

_FIRST = (
    "Before anybody drinks: flush each tap, and have a certified laboratory test the raw and the treated water for "
    "coliform and nitrate. What was true for us may not be true for you.",
    "Infants: never from any tap of this house, filtered or not. Tested bottled water only; the doctor or the health "
    "authority has the last word.",
    "Boiling does not remove nitrate, it makes it stronger.",
    "An empty house loses its treatment within days, whatever this page says.",
)
_RECKONED = (
    "The newest report of the raw water carried through the train by reckoning: only a laboratory tells what it is."
)
_UNSET = frozenset({"id", "title", "supplies", "kind"})
_DUE_DAYS = 366


def owner_page(now: Situation, plan: Plan) -> Page:
    """All that the record holds, for the one who takes over."""
    names = names_of(now.home)
    return Page(
        title=f"For the next owner: {now.house.name}",
        under=f"As the record stood on {now.today}; it began on {now.house.started}.",
        sections=(
            Section("The water today", (Items((*_FIRST, *plan.exposure, *_alerts(plan))),), "danger"),
            Section("The train, from well to tap", (train_picture(now), _waters(plan), Text(_RECKONED))),
            Section("Shut-offs and valve handles", _handles(now)),
            Section("Equipment, with sizes and settings", tuple(_equipment(now, names))),
            Section("Local rules as we were told them", _rules(now)),
            Section("Supplies and prices", _supplies(now, plan)),
            Section("What it costs", (Items(tuple(_costs(now))),)),
            Section("Due within a year", (_due(plan),)),
            Section("Tests", (Table(("day", "where", "what", "result"), result_rows(now, names)),)),
            *_history(now),
        ),
        foot=LAST_WORD,
    )


def _alerts(plan: Plan) -> Iterator[str]:
    titles = {point.point: point.title for point in plan.points}
    for alert in plan.alerts:
        yield f"{titles.get(alert.point, alert.point)}: {alert.text}"


def _waters(plan: Plan) -> Table:
    heads = ("point", "pH", "hardness mg/L as CaCO3", "nitrate mg/L as N", "sodium mg/L")
    rows = [
        (
            point.title,
            f"{point.sample.pH:.1f}",
            f"{point.hardness_mg_l_caco3 or 0.0:.0f}",
            f"{point.sample.nitrate_mg_l_n:.1f}",
            f"{point.sample.sodium_mg_l:.0f}",
        )
        for point in plan.points
        if point.sample is not None
    ]
    return Table(heads, tuple(rows) or (("no report of the raw water yet", "", "", "", ""),), numbers=1)


def _handles(now: Situation) -> tuple[Block, ...]:
    rows = tuple((row.title, row.in_words(now.today)) for row in handle_rows(now))
    told = Text("Leak: pump breaker off first, then the house valve. Ask to be shown each of these.")
    return told, Blanks(("Breaker of the pump", "House shut-off valve")), Table(("handle", "where it stands"), rows)


def _equipment(now: Situation, names: Names) -> Iterator[Block]:
    guessed = assumed_paths(now.home.events)
    rows = tuple((title_of(stage), "; ".join(_settings(stage, names, guessed))) for stage in now.house.stages)
    yield Table(("stage", "sizes and settings"), rows)
    if now.house.uses:
        lines = (f"{use.title}: {use_in_words(use, now.house.units)}" for use in now.house.uses)
        yield Items(tuple(lines))


def _settings(stage: AnyStage, names: Names, guessed: frozenset[str]) -> Iterator[str]:
    for field in msgspec.structs.fields(stage):
        value = getattr(stage, field.name)
        if field.name in _UNSET or value is None or value == "":
            continue
        path = f"stages.{stage.id}.{field.name}"
        said = CHOICES.get(value, value) if isinstance(value, str) else names.value(path, value)
        label = STAGE_LABELS[field.name].label if field.name in STAGE_LABELS else field.name.replace("_", " ")
        yield f"{label}: {said}{' (not known: a usual value)' if path in guessed else ''}"


def _rules(now: Situation) -> tuple[Block, ...]:
    rules = current_rules(now.history)
    rows = tuple((one.topic, one.text, one.said_by, str(one.checked_on)) for one in rules.values())
    missing = [f"Not asked yet: {question}." for topic, question in TOPICS.items() if topic not in rules]
    told = Text("Rules change. Ask again before you rely on them.")
    table = (Table(("topic", "rule", "said by", "asked on"), rows),) if rows else ()
    return (told, *table, *((Items(tuple(missing)),) if missing else ()))


def _supplies(now: Situation, plan: Plan) -> tuple[Block, ...]:
    rows = tuple(
        (
            row.title,
            amount_of(row.pack, row.unit, now.house.units),
            money(row.price, now.house.currency) if row.price > 0.0 else "no price",
            row.price_basis,
            amount_of(round(row.on_shelf, 1), row.unit, now.house.units),
            amount_of(round(row.per_year, 1), row.unit, now.house.units),
        )
        for row in plan.shelf
    )
    return (Table(("supply", "a pack", "price", "from", "on the shelf", "a year takes"), rows),)


def _costs(now: Situation) -> Iterator[str]:
    year, decade, unit = costs_of(now, 12), ten_years(now), now.house.currency
    for what, cash in (("The next twelve months", year.total), ("Ten years, slow parts too", decade.total)):
        low, middle, high = (money(round(one), unit) for one in (cash.low, cash.expected, cash.high))
        yield f"{what}: {middle} expected, 8 times in 10 between {low} and {high}."


def _due(plan: Plan) -> Table:
    soon = [item for item in plan.due if (item.act_on - plan.today).days <= _DUE_DAYS]
    rows = tuple((str(item.act_on), item.title, item.stage_title, item.why[0] if item.why else "") for item in soon)
    return Table(("act by", "job", "stage", "why"), rows)


def _history(now: Situation) -> Iterator[Section]:
    """Every year, the newest first; what was taken back is left out."""
    corrections = {event.id for event in now.home.events if isinstance(event, Correction)}
    lines = [one for one in log_lines(now.home) if not (one.voided or one.obsolete or one.id in corrections)]
    lines.sort(key=lambda one: (one.on, one.id))
    years = [(year, list(rows)) for year, rows in groupby(lines, key=lambda one: one.on.year)]
    for year, found in reversed(years):
        rows = tuple((str(one.on), one.what, one.detail) for one in found)
        yield Section(f"What happened in {year}", (Table(("day", "what", "particulars"), rows),))
