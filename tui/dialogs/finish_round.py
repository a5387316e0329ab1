"""Recording the monthly round: what is odd is asked about, all is recorded in one go, then what else that covers."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from model.errors import BadInput
from model.records.events import ROUND, Reading, Service, Taken
from model.records.typed import check_date, parse_date
from model.upkeep.covered import Covered, covered
from model.upkeep.monthly_round import taken_in
from tui import jobs
from tui.dialogs.ask import Ask
from tui.dialogs.form import Entry, Form
from tui.key_words import key
from tui.words import day_words

if TYPE_CHECKING:
    from tui.app import WellwardApp
    from tui.screens.monthly_round import RoundScreen
    from tui.view import View

_OPEN, _DONE = "", "done"
_CHOICES = ((_OPEN, "leave it open"), (_DONE, "all of it holds: done"))


async def finish_round(screen: RoundScreen) -> bool:
    """Record what is filled in. False where nothing was recorded."""
    found = _read(screen)
    if found is None:
        return False
    on, taken = found
    odd = _odd(screen, on, taken)
    if odd and not await screen.app.push_screen_wait(
        Ask("Record this all the same?", "\n".join(odd), yes="Record", no="Look again")
    ):
        return False
    if not _record(screen, on, taken):
        return False
    await _offer(screen.app, on, taken)
    return True


def _read(screen: RoundScreen) -> tuple[date, list[Taken]] | None:
    """The day and the readings typed, or None with the first field that cannot be taken in focus."""
    view, typed, field = screen.app.session.view, screen.typed(), "on"
    taken: list[Taken] = []
    try:
        on = parse_date(typed["on"], view.today)
        check_date(on, view.today)
        for row in screen.rows():
            field = row.id
            for one in taken_in(view.house, [row], typed, view.today).values():
                jobs.check_count(view, one, on)
        taken = [*taken_in(view.house, screen.rows(), typed, view.today).values()]
    except BadInput as problem:
        _refuse(screen, field, problem)
        return None
    if not taken:
        screen.notify("Nothing is filled in yet.", markup=False)
    return (on, taken) if taken else None


def _refuse(screen: RoundScreen, field: str, problem: BadInput) -> None:
    line = screen.line(field)
    line.input.focus()
    line.say(str(problem))
    screen.tell(field)
    screen.app.notify(str(problem), title="Not recorded yet", severity="warning", markup=False)


def _odd(screen: RoundScreen, on: date, taken: Sequence[Taken]) -> list[str]:
    view = screen.app.session.view
    return [
        sentence
        for place, one in enumerate(taken)
        for sentence in jobs.doubts_about(view, one, on, [other for other in taken[:place] if other.point == one.point])
    ]


def _record(screen: RoundScreen, on: date, taken: Sequence[Taken]) -> bool:
    """All readings and the end of the round as one group: one undo brings the filled-in round back."""
    count = f"{len(taken)} reading{'' if len(taken) == 1 else 's'}"
    end = Service(on=on, task=ROUND, note=screen.typed()["note"])
    said = (
        f"Recorded: monthly round, {count}, {day_words(on, screen.app.session.view.today)}. {key('undo')} takes it "
        "back."
    )
    return screen.app.record(*(Reading(on=on, taken=one) for one in taken), end, said=said)


async def _offer(app: WellwardApp, on: date, taken: Sequence[Taken]) -> None:
    """Say which jobs of the plan the readings cover, and record those of which the owner says that all of it holds."""
    view = app.session.view
    found = _to_offer(view, covered(view.house, view.history, taken), on)
    if not any(not one.not_met for one in found):
        _tell_refused(app, found)
        return
    chosen = await app.push_screen_wait(offer_form(found))
    if chosen:
        done = [Service(on=on, task=one.task, note="with the monthly round") for one in chosen]
        app.record(*done, said=f"Recorded as done: {'; '.join(one.title for one in chosen)}.")


def _to_offer(view: View, found: Sequence[Covered], on: date) -> list[Covered]:
    """Those not recorded as done on that day or later already."""
    last = {one.task: view.history.last_done(one.task) for one in found}
    return [one for one in found if (day := last[one.task]) is None or day < on]


def _tell_refused(app: WellwardApp, found: Sequence[Covered]) -> None:
    for one in found:
        app.notify(f"{one.title}: stays open, {one.not_met}.", severity="warning", markup=False)


def offer_form(found: Sequence[Covered]) -> Form[list[Covered]]:
    """The question, one line a job; what a job calls done stands below its line."""
    can = [one for one in found if not one.not_met]
    entries = tuple(
        Entry(
            id=f"job_{place}",
            label=f"{one.title}, {one.stage_title}",
            value=_OPEN,
            choices=_CHOICES,
            hint=" ".join(one.criteria),
        )
        for place, one in enumerate(can)
    )
    return Form("Record these as done?", entries, lambda typed: _chosen(can, typed), about=_about(found), save="Record")


def _about(found: Sequence[Covered]) -> str:
    refused = [f"{one.title} stays open: {one.not_met}." for one in found if one.not_met]
    words = "The round also covers these checks of the plan. Each is done only if all that its line says holds."
    return " ".join([words, *refused])


def _chosen(can: Sequence[Covered], typed: dict[str, str]) -> list[Covered]:
    return [one for place, one in enumerate(can) if typed[f"job_{place}"] == _DONE]
