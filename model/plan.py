"""From a home and a day to the plan: a pure function. Same home, same day, same plan."""

from __future__ import annotations

from datetime import date

import msgspec

from model.clock import add_months
from model.findings.find import findings
from model.findings.tasks import with_accepted
from model.forecast.alerts import alerts
from model.forecast.asked import questions
from model.forecast.due import due_items
from model.forecast.exposure import exposure
from model.forecast.playbooks import open_steps
from model.forecast.points import point_waters
from model.forecast.reports import facts, reports
from model.forecast.situation import Situation
from model.home import Home
from model.plan_types import Plan, Shelf

SHELF_MONTHS = 13


def plan(home: Home, today: date) -> Plan:
    """What is due and why, the water at each point, the shelf, and what the house is exposed to, on one day."""
    return plan_of(Situation(home, today))


def plan_of(now: Situation, *, with_numbers: bool = True, with_shelf: bool = True) -> Plan:
    """As `plan`, for a situation already worked out.

    Without the numbers of the stages (`reports` and `facts` are then empty) it takes half the time, and less without
    the shelf.
    """
    due = due_items(now)
    points = point_waters(now)
    told = alerts(now, points)
    seen = findings(now)
    found = Plan(
        today=now.today,
        home_name=now.house.name,
        exposure=exposure(now, due, told, seen),
        due=with_accepted(now, due, seen),
        alerts=told,
        points=points,
        shelf=_shelf(now) if with_shelf else (),
        facts=(),
        litres_per_day=now.demand.per_day(),
        litres_per_day_basis=now.demand.basis(),
        reports={},
        questions=questions(now),
        findings=seen,
        steps=open_steps(now),
    )
    return with_stage_numbers(found, now) if with_numbers else found


def _shelf(now: Situation) -> tuple[Shelf, ...]:
    # Here and not above: who only asks what is due must not wait for it.
    from model.forecast.shelf import shelf

    return shelf(now, add_months(now.today, SHELF_MONTHS))


def with_stage_numbers(found: Plan, now: Situation) -> Plan:
    """The plan of a situation with the numbers of its stages."""
    numbers = reports(now)
    return msgspec.structs.replace(found, reports=numbers, facts=facts(now, numbers))
