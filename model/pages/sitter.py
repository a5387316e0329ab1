"""The house-sitter's page: one sheet for somebody who does not know the train and shall not work on it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from model.equipment.pressure_tank import PressureTank
from model.equipment.registry import kind_of
from model.equipment.softener import Softener
from model.forecast.situation import Situation
from model.pages.both_sheets import INFANTS, shut_offs
from model.pages.calendar_text import LAST_WORD
from model.pages.calls import calls
from model.pages.page import Blanks, Block, Items, Page, Section, Table, Text
from model.pages.train_picture import train_picture
from model.plan_types import Plan
from model.records.events import Absence

NEAR_DAYS = 14
"""So far ahead is said what comes due where no absence is recorded. Owner's default."""
_MOST_DUE = 5

_JUG = (
    "In any doubt: the jug, for drinking, cooking, ice and teeth. Do not boil tap water instead: boiling makes nitrate "
    "stronger, and whether this water has it only a laboratory can tell."
)
_LEAK = "Leak: pump breaker off FIRST, then the house valve. Wet floor near anything electric: stay out, and call."
_CALLS = ("owner", "neighbour", "contractor", "plumber", "electrician", "health", "emergency")


def sitter_page(now: Situation, plan: Plan) -> Page:
    """The page, for one sheet of paper."""
    return Page(
        title=f"House-sitter's page: {now.house.name}",
        under=_under(now),
        sections=(
            Section("What may be drunk", _drinking(now, plan), "danger"),
            Section("The train, from well to tap", (train_picture(now), Text(_HANDS_OFF)), "wide"),
            Section("Shut-offs: find both before you need them", shut_offs(_LEAK)),
            Section("When something happens", (Table(("what", "what to do"), tuple(_happenings(now))),)),
            Section("Who to call", calls(now, _CALLS)),
            Section("Do not touch", (Items(tuple(_untouched(now))),)),
            Section("How it looks when all is well", (Items(tuple(_normal(now))),)),
            *_fish(now),
            *_due(now, plan),
        ),
        foot=LAST_WORD,
        dense=True,
    )


_HANDS_OFF = "Every handle stays as drawn. Bold means that it is out of service now: it stays so too."


def _under(now: Situation) -> str:
    away = _absence(now)
    gone = f", for {away.on} to {away.until}" if away else ""
    return f"Printed {now.today}{gone}. Hang it where the water is."


def _absence(now: Situation) -> Absence | None:
    return next((one for one in now.history.of(Absence) if one.until >= now.today), None)


def _drinking(now: Situation, plan: Plan) -> tuple[Block, ...]:
    hose = ("The hose gives untreated water: nobody drinks it.",) if now.house.hose else ()
    lines = (*plan.exposure, *hose, INFANTS, _JUG)
    return Items(lines), Blanks(("The owner says: drink and cook from", "Jug for 3 days, bottled water, stands"))


def _happenings(now: Situation) -> Iterator[tuple[str, str]]:
    kinds = {kind_of(one) for one in now.house.stages}
    ro = ", the RO tap too" if "reverse_osmosis" in kinds else ""
    if "ultraviolet" in kinds:
        yield (
            "Lamp alarm, or its light is not green",
            f"Stop drinking from every tap{ro}. Jug. Note the time. Call the owner. Open and unplug nothing.",
        )
    yield (
        "Power cut",
        f"Drink nothing from the taps{ro}, also after it is back: the tank still gives water, untreated. Jug. "
        "Write down when it went and came back, and call before anybody drinks again.",
    )
    yield "Leak", "Pump breaker off, then the house valve. Then call. Do not mend anything."
    yield (
        "No water",
        "Close the taps. Look whether the breaker is on. One that tripped stays off: call. The switch at the tank has "
        "mains voltage. When water comes back: jug until the owner says otherwise.",
    )
    if "softener" in kinds:
        yield (
            "Water stands above the salt",
            "Tell the owner today. Count the taps as untreated: jug. Add salt only if asked to.",
        )
    yield "Odd taste, smell or colour; a flood; somebody ill", "Stop drinking. Jug. Call the owner; if ill, a doctor."


def _untouched(now: Situation) -> Iterator[str]:
    yield "Valve handles, bypasses, and the buttons and clocks of valves."
    yield "The pressure switch and its cover: mains voltage."
    kinds = {kind_of(one) for one in now.house.stages}
    if "ultraviolet" in kinds:
        yield "The lamp: its light harms eyes and skin, and it has mains voltage."
    if kinds & {"sediment_filter", "neutralizer", "reverse_osmosis"}:
        yield "Filter housings and tanks: they are under pressure."
    if "softener" in kinds:
        yield "The salt tank: nothing goes into it but softener salt, and that only if the owner asks."


def _normal(now: Situation) -> Iterator[str]:
    for tank in now.house.stages:
        if isinstance(tank, PressureTank):
            low, high = (now.known.show(one, "pressure") for one in (tank.cut_in_bar, tank.cut_out_bar))
            yield f"Gauge at the tank between {low} and {high}; it rises and falls slowly. Clicking on and off: call."
    if any(kind_of(one) == "ultraviolet" for one in now.house.stages):
        yield "Lamp: green light, no beep."
    if any(isinstance(one, Softener) for one in now.house.stages):
        yield "Salt: dry on top. At night water may run to the drain for an hour or two: that is the softener."
    yield "No drip, no hiss, no water on the floor."


def _fish(now: Situation) -> tuple[Section, ...]:
    if not now.house.fish:
        return ()
    told = Text("Never straight from the tap after an alarm, a power cut or in the hours above: wait and ask.")
    return (Section("Fish", (told, Blanks(("Water from", "How much, how often", "Temperature", "Food")))),)


def _due(now: Situation, plan: Plan) -> tuple[Section, ...]:
    away = _absence(now)
    until = away.until if away else now.today + timedelta(days=NEAR_DAYS)
    soon = [item for item in plan.due if item.act_on <= until]
    soon.sort(key=lambda item: not item.health)
    if not soon:
        return ()
    rows = [f"{item.title} ({'overdue' if item.state == 'overdue' else item.act_on})" for item in soon[:_MOST_DUE]]
    more = [f"and {len(soon) - _MOST_DUE} more"] if len(soon) > _MOST_DUE else []
    told = f"For the owner to do before, or after; not for you. Until {until}: {'; '.join([*rows, *more])}."
    return (Section("What comes due meanwhile", (Text(told),), "last"),)
