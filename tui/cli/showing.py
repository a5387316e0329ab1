"""The commands that show: due, water, costs, log."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model.equipment.registry import title_of
from model.forecast.situation import Situation
from model.forecast.words import amount_in_words
from model.plan import plan_of
from model.records.names import amount_of
from model.units import display_unit, show
from tui.cli import as_json
from tui.cli.findings import due_lines
from tui.cli.home_file import print_json, repository

if TYPE_CHECKING:
    from model.home import House
    from model.plan_types import CostItem, Costs, Due, EventStep, Level, Plan, PointWater, Range, SlowPart, TenYears
    from model.units import System
    from tui.cli.parser import Asked

_HEADINGS = {"overdue": "OVERDUE", "this_week": "THIS WEEK", "soon": "NEXT 30 DAYS", "later": "LATER"}

_FAR_REASONS = 3
"""Reasons shown for a job that is neither overdue nor due this week."""


def due(asked: Asked) -> int:
    """Overdue and the days ahead; with --check, 3 where something is overdue."""
    now = Situation(repository(asked).load(), asked.today)
    plan = plan_of(now, with_numbers=False, with_shelf=False)
    shown = [item for item in plan.due if item.state == "overdue" or (item.act_on - plan.today).days < asked.days]
    steps = [step for step in plan.steps if (step.on - plan.today).days < asked.days]
    if asked.json:
        print_json(as_json.due(plan, shown, steps))
    else:
        print("\n".join(_due_lines(plan, shown, steps, asked.days, now.house)))
    states = {item.state for item in plan.due} | {step.state for step in plan.steps}
    return 3 if asked.check and "overdue" in states else 0


def _due_lines(plan: Plan, shown: list[Due], steps: list[EventStep], days: int, house: House) -> list[str]:
    lines = [f"{plan.home_name}, {plan.today:%a} {plan.today}", *(f"! {line}" for line in plan.exposure)]
    lines += [f"! {line}" for line in _alerts(plan, house, "danger", "warning")]
    lines += [f"? {one.text} Say `wellward explain {one.start} {one.end} CAUSE`." for one in plan.questions]
    for event in dict.fromkeys(step.event for step in steps):
        own = [step for step in steps if step.event == event]
        title = f"EVENT {event}: {own[0].playbook_title}, from {own[0].started_on}"
        lines += ["", title, f"! {own[0].caution}", *(step_line(step) for step in own)]
    if not shown and not steps:
        lines.append(f"Nothing is due in the next {days} days.")
    for state, heading in _HEADINGS.items():
        items = [item for item in shown if item.state == state]
        if items:
            lines += ["", heading, *(line for item in items for line in _due_item(item, house.units))]
    return [*lines, *due_lines(plan.findings)]


def step_line(step: EventStep) -> str:
    """An open step of a playbook: its day, what to do, its key, and the task whose checklist says how."""
    late = " OVERDUE" if step.state == "overdue" else ""
    how = f", by `done {step.task}`" if step.task else ""
    return f"  {step.on}{late}  {step.text} [{step.key}{how}]"


def _left_words(item: Due, units: System) -> str:
    """What is left; of what is weighed only what lies above the line at which to act is counted."""
    if item.remaining is None or not item.left_known:
        return ""
    above = " above its line" if item.remaining.unit == "kg" else " left"
    return f", {amount_in_words(item.remaining.value, item.remaining.unit, units)}{above}"


def _due_item(item: Due, units: System) -> list[str]:
    left = _left_words(item, units)
    window = f", runs out {item.earliest or '?'} to {item.latest or 'later'}" if item.earliest or item.latest else ""
    near = item.state in ("overdue", "this_week")
    why = item.why if near else item.why[:_FAR_REASONS]
    return [
        f"  {item.act_on}  {item.title} [{item.task}]",
        f"      {item.stage_title}{left}{window} ({item.sure})",
        *(f"      - {reason}" for reason in why),
    ]


def _alerts(plan: Plan, house: House, *levels: Level) -> list[str]:
    """The alerts of these levels, the worst first, at the points by their titles."""
    titles = {point.point: point.title for point in plan.points} | {one.id: title_of(one) for one in house.stages}
    return [
        f"{alert.level}: {titles.get(alert.point, alert.point)}: {alert.text}"
        for level in levels
        for alert in plan.alerts
        if alert.level == level
    ]


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
    wide = max([len(point.title) for point in plan.points], default=0)
    hardness, alkalinity = (display_unit(one, house.units).split()[0] for one in ("hardness", "alkalinity"))
    use = show(plan.litres_per_day, "daily_flow", house.units).replace("/", " a ")
    stages = {stage.id: title_of(stage) for stage in house.stages}
    return [
        f"{house.name}, {plan.today}: {use} ({plan.litres_per_day_basis})",
        *(f"! {line}" for line in plan.exposure),
        f"{'':<{wide}} {'pH':>5} {'hardness':>9} {'alkal.':>7} {'nitrate':>8} {'sodium':>7} {'TDS':>5}",
        f"{'':<{wide}} {'':>5} {hardness:>9} {alkalinity:>7} {'mg/L N':>8} {'mg/L':>7} {'mg/L':>5}",
        *(_water_row(point, wide, house.units) for point in plan.points),
        *_alerts(plan, house, "danger", "warning", "note"),
        *(
            f"{stages.get(fact.stage, fact.stage.capitalize())}: {fact.label}: {fact.text} ({fact.basis})"
            for fact in plan.facts
        ),
    ]


def _water_row(point: PointWater, wide: int, units: System) -> str:
    water = point.sample
    if water is None:
        return f"{point.title:<{wide}} not known: no report of the raw water yet"
    hardness = show(point.hardness_mg_l_caco3 or 0.0, "hardness", units).split()[0]
    return (
        f"{point.title:<{wide}} {water.pH:>5.1f} {hardness:>9} {water.alkalinity_mg_l_caco3:>7.0f} "
        f"{water.nitrate_mg_l_n:>8.1f} {water.sodium_mg_l:>7.0f} {point.tds_mg_l or 0.0:>5.0f}"
    )


def costs(asked: Asked) -> int:
    """The cost of the coming months."""
    from model.forecast.costs import costs_of
    from model.forecast.slow_parts import ten_years

    now = Situation(repository(asked).load(), asked.today)
    forecast, years = costs_of(now, asked.months), ten_years(now)
    if asked.json:
        print_json(as_json.costs(forecast, years))
    else:
        print("\n".join([*_cost_lines(forecast, now.house.units), "", *_ten_year_lines(years)]))
    return 0


def _cost_lines(forecast: Costs, units: System) -> list[str]:
    total, unit = forecast.total, forecast.currency
    lines = [
        f"{forecast.start} to {forecast.end}: {total.expected:,.2f} {unit} expected "
        f"({total.low:,.2f} to {total.high:,.2f}); long run {forecast.long_run_per_year:,.2f} a year",
        "",
        f"{'supply':<36} {'quantity':>12} {'cash':>9} {'low':>9} {'high':>9} {'a year':>9}",
    ]
    lines += [
        f"{item.title:<36.36} {_quantity(item, units):>12} {item.cash.expected:>9.2f} {item.cash.low:>9.2f} "
        f"{item.cash.high:>9.2f} {item.long_run_per_year:>9.2f}"
        for item in forecast.items
    ]
    lines += ["", f"{'month':<10} {'expected':>9} {'low':>9} {'high':>9}"]
    lines += [f"{m.month:<10} {m.cash.expected:>9.2f} {m.cash.low:>9.2f} {m.cash.high:>9.2f}" for m in forecast.months]
    if len(forecast.months) > 1:
        lines.append("Low and high are 10 and 90 % of each sum by itself; those of months and items do not add up.")
    return lines + [f"note: {note}" for note in forecast.notes]


def _quantity(item: CostItem, units: System) -> str:
    """The mean quantity; of pieces with one decimal, as half a lamp may be expected."""
    if item.unit == "each":
        return f"{round(item.quantity, 1):g} each"
    return amount_of(item.quantity, item.unit, units)


def _ten_year_lines(years: TenYears) -> list[str]:
    total, slow, unit = years.total, years.slow, years.currency
    lines = [
        f"Ten years to {years.end}: {total.expected:,.0f} {unit} expected ({total.low:,.0f} to {total.high:,.0f}), "
        f"of that {slow.expected:,.0f} ({slow.low:,.0f} to {slow.high:,.0f}) for the slow parts:",
        f"{'slow part':<34} {'age':>5} {'next':>16} {'chance':>7} {'cash':>9} {'low':>9} {'high':>9}",
        *(_slow_line(part) for part in years.parts),
    ]
    lines += [f"  {part.stage_title}: {part.title}: {part.basis}." for part in years.parts]
    told = (
        "Next: the months of the 10 and 90 % dates. Age in years, ? where not known. Chance: replaced within ten years."
    )
    return [*lines, told, *(f"note: {note}" for note in years.notes)]


def _slow_line(part: SlowPart) -> str:
    age = f"{part.age_years:.1f}{'' if part.age_known else '?'}"
    span = f"{part.earliest:%Y-%m} {part.latest:%Y-%m}"
    cash = ("no price", "", "") if part.cash is None else tuple(f"{one:,.2f}" for one in _three(part.cash))
    return (
        f"{part.title:<34.34} {age:>5} {span:>16} {part.chance:>7.0%} {cash[0]:>9} {cash[1]:>9} {cash[2]:>9}".rstrip()
    )


def _three(cash: Range) -> tuple[float, float, float]:
    return cash.expected, cash.low, cash.high


def log(asked: Asked) -> int:
    """What happened, oldest first."""
    from model.records.log import log_lines, recorded_in_words

    home = repository(asked).load()
    who = {one.id: f" [{recorded_in_words(one)}]" for one in home.events if recorded_in_words(one)} if asked.who else {}
    lines = log_lines(home)
    shown = lines if asked.last is None else lines[max(len(lines) - asked.last, 0) :]
    if asked.json:
        print_json(as_json.log(home, shown))
    else:
        for line in shown:
            what = ": ".join(part for part in (line.what, line.detail) if part)
            print(f"{line.id:>6} {line.on} {'(taken back) ' if line.voided else ''}{what}{who.get(line.id, '')}")
    return 0
