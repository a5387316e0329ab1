"""The next owner's sheets: one page with what has to be known on the first day, then the rest, then all history."""

from __future__ import annotations

from collections.abc import Iterator

from model.equipment.registry import kind_of
from model.forecast.situation import Situation
from model.pages.both_sheets import INFANTS, shut_offs
from model.pages.calendar_text import LAST_WORD
from model.pages.calls import calls
from model.pages.owner_details import detail_sections
from model.pages.owner_history import history_sections
from model.pages.owner_settings import essential_settings
from model.pages.page import Items, Page, Section, Table
from model.pages.train_picture import train_picture
from model.plan_types import Plan
from model.records.contacts import ROLES
from model.records.names import names_of

_FIRST = (
    "Before anybody drinks: flush each tap, and have a certified laboratory test the raw and the treated water for "
    "coliform and nitrate. What was true for us may not be true for you.",
    INFANTS,
    "Boiling does not remove nitrate, it makes it stronger.",
    "An empty house loses its treatment within days, whatever this page says.",
)
_LEAK = "Leak: pump breaker off first, then the house valve. Ask to be shown each of these."
_CALLS = ("owner", "contractor", "plumber", "electrician", "laboratory", "health")
_TITLES = {**ROLES, "owner": "Who lived here before"}


def owner_page(now: Situation, plan: Plan) -> Page:
    """All that the record holds, for the one who takes over."""
    names = names_of(now.home)
    return Page(
        title=f"For the next owner: {now.house.name}",
        under=f"As the record stood on {now.today}; it began on {now.house.started}.",
        sections=(
            Section("The water today", (Items((*_FIRST, *plan.exposure, *_alerts(plan))),), "danger"),
            Section("The train, from well to tap", (train_picture(now),), "wide"),
            Section("When something happens", (Table(("what", "what to do"), tuple(_happenings(now))),), "wide"),
            Section("Shut-offs", shut_offs(_LEAK)),
            Section("Who to call", calls(now, _CALLS, _TITLES)),
            Section("Equipment, with sizes and settings", (essential_settings(now, names),), "last"),
        ),
        more=(*detail_sections(now, plan, names), *history_sections(now, names)),
        foot=LAST_WORD,
        dense=True,
    )


def _alerts(plan: Plan) -> Iterator[str]:
    titles = {point.point: point.title for point in plan.points}
    for alert in plan.alerts:
        yield f"{titles.get(alert.point, alert.point)}: {alert.text}"


def _happenings(now: Situation) -> Iterator[tuple[str, str]]:
    """What to do first; the playbooks have the rest."""
    kinds = {kind_of(one) for one in now.house.stages}
    ro = ", the RO tap too," if "reverse_osmosis" in kinds else ""
    if "ultraviolet" in kinds:
        yield (
            "Lamp alarm, or its light is not green",
            f"Drink from no tap{ro} until the alarm is clear, the pipes after the lamp were sanitized and a laboratory "
            "found no coliform: bottled water. Its manual says what the alarm means; it has mains voltage inside.",
        )
    yield "Power cut", _after_a_cut(kinds, ro)
    yield "Leak", "Pump breaker off, then the house valve. Wet floor near anything electric: stay out, and call."
    yield "No water", "Close the taps. A breaker that tripped stays off, the tank's switch has mains voltage: call."
    if "softener" in kinds:
        yield "No salt, or water above it", "Count the taps as untreated, nitrate too: bottled water until a test."
    told = "Stop drinking: bottled water until a laboratory's test. If ill, a doctor."
    yield "Odd taste, smell or colour; a flood; somebody ill", told


def _after_a_cut(kinds: set[str], ro: str) -> str:
    lamp = "until the lamp is green and " if "ultraviolet" in kinds else "until "
    empty = " and the RO reservoir was emptied once" if ro else ""
    clocks = " Set the clocks of the valves." if kinds & {"softener", "neutralizer"} else ""
    return (
        f"Drink nothing from the taps{ro} while it is off, and then {lamp}each tap was flushed 2 to 3 minutes{empty}."
        f"{clocks} If germs were ever found in the raw water: bottled water until a laboratory cleared the taps."
    )
