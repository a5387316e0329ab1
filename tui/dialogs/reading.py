"""Writing down a reading: quantity, where, value, unit, day. What cannot be is refused, what is odd is asked about."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import msgspec
from rich.text import Text
from textual import on
from textual.content import Content
from textual.widgets import Select, Static

from model.equipment.registry import kind_of, title_of
from model.home import House
from model.records.events import Reading, Taken
from model.records.how import with_how
from model.records.intake import take
from model.records.points import points_of
from model.records.quantities import QUANTITIES, Quantity, show_taken
from model.records.typed import check_date, parse_date
from model.units import UNITS
from tui import jobs
from tui.dialogs.ask import Ask
from tui.dialogs.dialog_help import quantity_words
from tui.dialogs.form import Entry, Form
from tui.dialogs.how import HOW_LINES, how_asked, how_entries, how_typed
from tui.words import day_words

if TYPE_CHECKING:
    from tui.recording_app import RecordingApp
    from tui.view import View

_OF_SOURCE = frozenset({"pH", "alkalinity", "hardness", "nitrate", "tds", "conductivity"})
"""What the composition of the raw water is worked out from."""

Choices = tuple[tuple[str, str], ...]


class Answer(msgspec.Struct, frozen=True):
    """A reading that can be, the day, a note, and what was typed, to begin again from."""

    taken: Taken
    on: date
    note: str
    typed: dict[str, str]


class ReadingForm(Form[Answer]):
    """The form. Places and units follow the quantity."""

    def __init__(
        self,
        view: View,
        typed: dict[str, str] | None = None,
        last_point: str = "",
        *,
        quantity: str = "",
        left: dict[str, str] | None = None,
    ) -> None:
        """`quantity`: the one that is asked for, "" for the first there is. `left`: what was left in this form before,
        for the places and units to choose from."""
        self._view = view
        quantities = quantity_choices(view.house)
        before = typed or left or {}
        first = before.get("quantity", quantity or quantities[0][0])
        self._fresh = self._start(quantity or quantities[0][0], last_point)
        self._followed = first
        self._point = before.get("point", last_point)
        start = self._start(first, self._point) | before
        known = QUANTITIES[first]
        entries = (
            Entry(id="quantity", label="What was read", value=first, choices=quantities, hint="Enter, type to find"),
            Entry(id="point", label="Where", value=start["point"], choices=place_choices(view.house, known)),
            Entry(id="value", label="Value", value=start.get("value", "")),
            Entry(id="unit", label="Unit", value=start["unit"], choices=unit_choices(known)),
            *how_entries(start),
            Entry(id="on", label="Read on", value=start["on"], hint="or today, yesterday"),
            Entry(id="note", label="Note", value=start.get("note", "")),
        )
        super().__init__(
            "Write down a reading",
            entries,
            self._answer,
            about=known.help,
            save="Record",
            typed=typed,
            key=draft_key(quantity),
        )

    def _start(self, quantity: str, point: str) -> dict[str, str]:
        known = QUANTITIES[quantity]
        return {
            "quantity": quantity,
            "point": self._start_point(known, point),
            "unit": default_unit(self._view.house, known),
            "on": self._view.today.isoformat(),
        }

    def fresh(self) -> dict[str, str]:
        """What stands here for the quantity asked for where nothing was typed."""
        return {entry.id: "" for entry in self._entries} | self._fresh

    def field_help(self, entry: Entry) -> str:
        """What a field means; of the value what the quantity chosen is, and its range."""
        known = QUANTITIES[self._followed]
        if entry.id == "value":
            return quantity_words(known, self._view.house)
        return "The unit stands on the kit or the report." if entry.id == "unit" else super().field_help(entry)

    def left(self) -> dict[str, str]:
        """All that stands here, where anything is otherwise: places and units follow the quantity."""
        return self.values() if super().left() else {}

    def put(self, values: dict[str, str]) -> None:
        """The quantity first: places and units follow it."""
        self.query_one("#entry_quantity", Select).value = values["quantity"]
        self._turn_to(values["quantity"])
        super().put(values)

    @on(Select.Changed, "#entry_quantity")
    def _follow(self, event: Select.Changed) -> None:
        """Offer the places and units of the quantity chosen."""
        if str(event.value) != self._followed:
            self._turn_to(str(event.value))

    def _turn_to(self, quantity: str) -> None:
        self._followed = quantity
        known, house = QUANTITIES[quantity], self._view.house
        self._offer("#entry_point", place_choices(house, known), self._start_point(known, self._point))
        self._offer("#entry_unit", unit_choices(known), default_unit(house, known))
        self.query_one("#form_about", Static).update(Content(known.help))
        self._show_lines()

    def on_mount(self) -> None:
        """Show only the lines that the quantity needs."""
        self._show_lines()

    @on(Select.Changed, "#entry_method")
    @on(Select.Changed, "#entry_point")
    def _show_lines(self) -> None:
        """Ask for kit, state and regeneration only where they say something."""
        wanted = how_asked(self._view.house, self.values())
        for name in HOW_LINES:
            line = self.query_one(f"#entry_{name}").parent
            if line is not None:
                line.display = name in wanted

    @on(Select.Changed, "#entry_point")
    def _remember(self, event: Select.Changed) -> None:
        """Keep a point of the water that was chosen, for the next quantity."""
        if QUANTITIES[self._followed].points == "water" and event.select.has_focus_within:
            self._point = str(event.value)

    def _start_point(self, known: Quantity, chosen: str) -> str:
        """The point chosen last where this quantity can be read there, else the usual one."""
        offered = [value for value, _ in place_choices(self._view.house, known)]
        can_be = known.points == "water" and chosen in offered
        return chosen if can_be else default_point(self._view, known)

    def _offer(self, selector: str, choices: Choices, chosen: str) -> None:
        select: Select[str] = self.query_one(selector, Select)
        select.set_options([(Text(words), value) for value, words in choices])
        select.value = chosen

    def _answer(self, typed: dict[str, str]) -> Answer:
        """The reading, or BadInput saying why it cannot be."""
        on_day = parse_date(typed["on"], self._view.today)
        check_date(on_day, self._view.today)
        taken = take(self._view.house, typed["quantity"], typed["value"], typed["unit"], typed["point"])
        taken = with_how(taken, how_typed(self._view, typed))
        jobs.check_count(self._view, taken, on_day)
        return Answer(taken, on_day, typed["note"].strip(), typed)

    def settle(self, answer: Answer) -> None:
        """Record what is not odd at once, before the form is closed, so that the screen is drawn once; stay where it
        could not be recorded. What is odd is asked about by who opened the form."""
        if self._doubts(answer):
            self.dismiss(answer)
        elif _record(self.app, answer):  # type: ignore[arg-type]
            self.dismiss(None)

    def _doubts(self, answer: Answer) -> tuple[str, ...]:
        return jobs.doubts_about(self._view, answer.taken, answer.on)


def draft_key(quantity: str) -> str:
    """The name under which the form for a quantity, "" for any, keeps what was left in it."""
    return f"reading {quantity}"


async def record_reading(app: RecordingApp, quantity: str = "") -> None:
    """Ask for a reading and record it; ask again where it is odd and the user wants another look."""
    typed: dict[str, str] | None = None
    while True:
        left = app.session.drafts.of(draft_key(quantity))
        form = ReadingForm(app.session.view, typed, app.session.last_point, quantity=quantity, left=left)
        answer = await app.push_screen_wait(form)
        if answer is None:
            return
        odd = jobs.doubts_about(app.session.view, answer.taken, answer.on)
        if await app.push_screen_wait(
            Ask("Record it all the same?", "\n".join(odd), yes="Record", no="Look again")
        ) and _record(app, answer):
            return
        typed = answer.typed


def _record(app: RecordingApp, answer: Answer) -> bool:
    if QUANTITIES[answer.taken.quantity].points == "water":
        app.session.last_point = answer.taken.point
    view = app.session.view
    said = f"{QUANTITIES[answer.taken.quantity].title} {show_taken(answer.taken, view.house.units)}"
    event = Reading(on=answer.on, taken=answer.taken, note=answer.note)
    return app.record(event, said=f"Recorded: {said}, {day_words(answer.on, view.today)}.")


def quantity_choices(house: House) -> Choices:
    """The quantities that can be read in this house: the meter, then from the well to the tap, then the water's."""
    order = [kind_of(stage) for stage in house.stages]
    there = [one for one in QUANTITIES.values() if not one.kinds or set(order) & set(one.kinds)]
    return tuple((one.id, one.title) for one in sorted(there, key=lambda one: _walked(one, order)))


def _walked(quantity: Quantity, order: list[str]) -> int:
    """Where on the walk from the well to the tap a quantity is read, the water itself last."""
    if quantity.points == "house":
        return -1
    return min((order.index(kind) for kind in quantity.kinds if kind in order), default=len(order))


def place_choices(house: House, quantity: Quantity) -> Choices:
    """Where a quantity can be read in this house."""
    if quantity.points == "house":
        return (("house", "the whole house"),)
    if quantity.kinds:
        return tuple((stage.id, title_of(stage)) for stage in house.stages if kind_of(stage) in quantity.kinds)
    return points_of(house)


def default_point(view: View, quantity: Quantity) -> str:
    """The usual place, or the first there is; the source while the plan lacks a quantity that it needs there."""
    if quantity.id in _OF_SOURCE and not view.history.taken(quantity.id, "source"):
        return "source"
    places = [value for value, _ in place_choices(view.house, quantity)]
    return quantity.default_point if quantity.default_point in places else places[0]


def unit_choices(quantity: Quantity) -> Choices:
    """The proper units. Where a unit is never assumed, the choice begins empty."""
    names = [one.name for one in UNITS[quantity.dimension]]
    offered = tuple((name, name or "(none)") for name in names)
    return (("", "choose the unit"), *offered) if quantity.needs_unit else offered


def default_unit(house: House, quantity: Quantity) -> str:
    """The unit of the owner's system, or none where it has to be said."""
    if quantity.needs_unit:
        return ""
    return quantity.us_unit if house.units == "us" else quantity.metric_unit
