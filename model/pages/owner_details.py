"""What the next owner needs beyond the first page: waters, handles, rules, supplies, costs, what is due, tests."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from model.forecast.costs import costs_of
from model.forecast.handle_list import handle_rows
from model.forecast.situation import Situation
from model.forecast.slow_parts import ten_years
from model.pages.owner_settings import other_settings
from model.pages.page import Block, Items, Section, Table, Text
from model.pages.results import result_rows
from model.plan_types import Plan
from model.records.names import Names, amount_of
from model.records.rules import TOPICS, current_rules
from model.records.uses import use_in_words
from model.units import money

_RECKONED = (
    "The newest report of the raw water carried through the train by reckoning: only a laboratory tells what it is."
)
_DUE_DAYS = 366


def detail_sections(now: Situation, plan: Plan, names: Names) -> tuple[Section, ...]:
    """Everything that is so today, but what stands on the first page."""
    return (
        Section("The water at each point", (_waters(plan), Text(_RECKONED)), "half"),
        Section("Valve handles", (_handles(now),), "half"),
        Section("Local rules as we were told them", _rules(now), "half"),
        Section("What else the dates are reckoned with", (other_settings(now, names), *_uses(now))),
        Section("Supplies and prices", _supplies(now, plan)),
        Section("What it costs", (Items(tuple(_costs(now))),), "half"),
        Section("Due within a year", (_due(plan),)),
        Section("Tests", (_tests(now, names),)),
    )


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


def _handles(now: Situation) -> Table:
    rows = tuple((row.title, row.in_words(now.today)) for row in handle_rows(now))
    return Table(("handle", "where it stands"), rows)


def _uses(now: Situation) -> tuple[Block, ...]:
    lines = tuple(f"{use.title}: {use_in_words(use, now.house.units)}" for use in now.house.uses)
    return (Items(lines),) if lines else ()


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
    rows = tuple(
        (str(item.act_on), f"{item.title}, {item.stage_title}", item.why[0] if item.why else "") for item in soon
    )
    return Table(("act by", "job", "why"), rows)


def _tests(now: Situation, names: Names) -> Table:
    """A row for each sample, with all that was found in it."""
    samples = groupby(result_rows(now, names), key=lambda row: row[:2])
    rows = tuple((*taken, "; ".join(f"{what} {found}" for _, _, what, found in rows)) for taken, rows in samples)
    return Table(("day", "where", "found"), rows)
