"""The list of valve handles, and the form for one that was moved."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model.forecast.handle_list import HandleRow, handle_rows, means, moved
from model.records.events import HandleMoved, Setting
from model.records.typed import check_date, parse_date
from tui.dialogs.edit_setting import date_entry
from tui.dialogs.form import Entry, Form
from tui.dialogs.pick import Pick
from tui.key_words import keyed

if TYPE_CHECKING:
    from tui.recording_app import RecordingApp
    from tui.view import View

_WORDS = {"service": "in service", "bypass": "on bypass", "closed": "closed"}


async def move_handle(app: RecordingApp, handle: str = "") -> None:
    """Ask which handle was moved and where it stands now, and record it."""
    view = app.session.view
    rows = {row.id: row for row in handle_rows(view.situation)}
    if not rows:
        app.notify(keyed("No handles yet: press {go.house} for House, then {house.add} to add a stage."), markup=False)
        return
    chosen: str | None = handle
    if not chosen:
        chosen = await app.push_screen_wait(_list(view, tuple(rows.values())))
    if not chosen:
        return
    event = await app.push_screen_wait(_form(rows[chosen], view))
    if event is None:
        return
    told = means(view.situation, event)
    app.record(event, said=told or f"{rows[chosen].title}: written down.")


def _list(view: View, rows: tuple[HandleRow, ...]) -> Pick:
    choices = tuple((row.id, f"{row.title}: {row.in_words(view.today)}") for row in rows)
    return Pick("Valve handles", choices, about="Which handle was moved?")


def _form(row: HandleRow, view: View) -> Form[HandleMoved | Setting]:
    position = (
        Entry(
            id="position",
            label="Stands now",
            value=_other(row),
            choices=tuple((one, _WORDS[one]) for one in row.choices),
        )
        if row.choices
        else Entry(id="position", label="Round the bed", hint="percent, 0 to 99")
    )
    entries = (position, date_entry(view.today, "Moved on"), Entry(id="note", label="Why, until when"))

    def take(typed: dict[str, str]) -> HandleMoved | Setting:
        on = parse_date(typed["on"], view.today)
        check_date(on, view.today)
        return moved(view.situation, row.id, typed["position"], on, typed["note"])

    about = f"Now {row.in_words(view.today)}. While it is out of service, Week says what that means."
    about = about if row.choices else f"Now {row.position}."
    return Form(row.title, entries, take, about=about, key=f"handle {row.id}")


def _other(row: HandleRow) -> str:
    """Where it does not stand now: a form is opened to say that it moved."""
    return next((one for one in row.choices if one != row.position), row.position)
