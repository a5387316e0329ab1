"""The commands that show: due, water, costs, log."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from model.forecast.situation import Situation
from model.forecast.words import amount_in_words
from model.plan import plan_of
from tui.cli import as_json
from tui.cli.home_file import print_json, repository

if TYPE_CHECKING:
    from model.home import House
    from model.plan_types import Costs, Due, Plan, PointWater
    from model.units import System
    from tui.cli.parser import Asked

_HEADINGS = {"overdue": "OVERDUE", "this_week": "THIS WEEK", "soon": "NEXT 30 DAYS", "later": "LATER"}


def due(asked: Asked) -> int:
    """Overdue and the days ahead; with --check, 3 where something is overdue."""
    now = Situation(repository(asked).load(), asked.today)
    plan = plan_of(now)
    shown = [item for item in plan.due if item.state == "overdue" or (item.act_on - plan.today).days < asked.days]
    if asked.json:
        print_json(as_json.due(plan, shown))
    else:
        print("\n".join(_due_lines(plan, shown, asked.days, now.house.units)))
    return 3 if asked.check and any(item.state == "overdue" for item in plan.due) else 0


def _due_lines(plan: Plan, shown: list[Due], days: int, units: System) -> list[str]:
    lines = [f"{plan.home_name}, {plan.today:%a} {plan.today}", *(f"! {line}" for line in plan.exposure)]
    if not shown:
        lines.append(f"Nothing is due in the next {days} days.")
    for state, heading in _HEADINGS.items():
        items = [item for item in shown if item.state == state]
        if items:
            lines += ["", heading, *(line for item in items for line in _due_item(item, units))]
    return lines


def _due_item(item: Due, units: System) -> list[str]:
    left = f", {amount_in_words(item.remaining.value, item.remaining.unit, units)} left" if item.remaining else ""
    window = f", runs out {item.earliest or '?'} to {item.latest or 'later'}" if item.earliest or item.latest else ""
    return [f"  {item.act_on}  {item.title} [{item.task}]", f"      {item.stage_title}{left}{window} ({item.sure})"]


def water(asked: Asked) -> int:
    """The water at each point."""
    now = Situation(repository(asked).load(), asked.today)
    plan = plan_of(now)
    if asked.json:
        print_json(as_json.water(plan))
    else:
        print("\n".join(_water_lines(plan, now.house)))
    return 0


def _water_lines(plan: Plan, house: House) -> list[str]:
    head = f"{'':<30} {'pH':>5} {'hardness':>9} {'alkal.':>7} {'nitrate':>8} {'sodium':>7} {'TDS':>5}"
    units = f"{'':<30} {'':>5} {'mg/L':>9} {'mg/L':>7} {'mg/L N':>8} {'mg/L':>7} {'mg/L':>5}"
    lines = [
        f"{house.name}, {plan.today}: {plan.litres_per_day:,.0f} L a day ({plan.litres_per_day_basis})",
        head,
        units,
    ]
    lines += [_water_row(point) for point in plan.points]
    lines += [f"{alert.level}: {alert.point}: {alert.text}" for alert in plan.alerts]
    return lines + [f"{fact.stage}: {fact.label}: {fact.text} ({fact.basis})" for fact in plan.facts]


def _water_row(point: PointWater) -> str:
    water = point.sample
    if water is None:
        return f"{point.title:<30.30} not known: no report of the raw water yet"
    hardness, tds = point.hardness_mg_l_caco3 or 0.0, point.tds_mg_l or 0.0
    return (
        f"{point.title:<30.30} {water.pH:>5.1f} {hardness:>9.0f} "
        f"{water.alkalinity_mg_l_caco3:>7.0f} {water.nitrate_mg_l_n:>8.1f} {water.sodium_mg_l:>7.0f} {tds:>5.0f}"
    )


def costs(asked: Asked) -> int:
    """The cost of the coming months."""
    from model.forecast.costs import costs_of

    forecast = costs_of(Situation(repository(asked).load(), asked.today), asked.months)
    if asked.json:
        print_json(as_json.costs(forecast))
    else:
        print("\n".join(_cost_lines(forecast)))
    return 0


def _cost_lines(forecast: Costs) -> list[str]:
    total, unit = forecast.total, forecast.currency
    lines = [
        f"{forecast.start} to {forecast.end}: {total.expected:,.2f} {unit} expected "
        f"({total.low:,.2f} to {total.high:,.2f}); long run {forecast.long_run_per_year:,.2f} a year",
        "",
        f"{'supply':<36} {'quantity':>12} {'cash':>9} {'low':>9} {'high':>9} {'a year':>9}",
    ]
    lines += [
        f"{item.title:<36.36} {item.quantity:>7.1f} {item.unit:<4} {item.cash.expected:>9.2f} {item.cash.low:>9.2f} "
        f"{item.cash.high:>9.2f} {item.long_run_per_year:>9.2f}"
        for item in forecast.items
    ]
    lines += ["", f"{'month':<10} {'expected':>9} {'low':>9} {'high':>9}"]
    lines += [f"{m.month:<10} {m.cash.expected:>9.2f} {m.cash.low:>9.2f} {m.cash.high:>9.2f}" for m in forecast.months]
    return lines + [f"note: {note}" for note in forecast.notes]


def log(asked: Asked) -> int:
    """What happened, oldest first."""
    from model.records.log import log_lines

    home = repository(asked).load()
    lines = log_lines(home)
    shown = lines if asked.last is None else lines[max(len(lines) - asked.last, 0) :]
    if asked.json:
        print_json(as_json.log(home, shown))
    else:
        for line in shown:
            print(f"{line.id:>6} {_day(line.on)} {'(taken back) ' if line.voided else ''}{line.what}: {line.detail}")
    return 0


def _day(on: date) -> str:
    return on.isoformat()
