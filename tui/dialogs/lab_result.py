"""Typing in what a laboratory found: raw and treated side by side, as the sample was taken."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from model.errors import BadInput
from model.records.imported import missing_from, reports_of
from model.records.intake import take
from model.records.lab_csv import Result
from model.records.points import points_of
from model.records.quantities import QUANTITIES
from model.records.typed import check_date, parse_date
from tui import jobs
from tui.dialogs.ask import Ask
from tui.dialogs.form import Entry, Form
from tui.dialogs.pick import Pick
from tui.dialogs.reading import place_choices, unit_choices
from tui.words import day_words

if TYPE_CHECKING:
    from tui.recording_app import RecordingApp
    from tui.view import View

KINDS = (
    ("germs", "Coliform and E. coli, raw and treated"),
    ("nitrate", "Nitrate, raw and treated"),
    ("metals", "Lead and copper, first draw"),
    ("other", "One other result"),
    ("file", "A file: a laboratory's whole report, or a water meter's counts"),
)

_FOUND = (("", "not tested"), ("absent", "absent"), ("present", "present"))
_ABOUT = {
    "germs": "As the laboratory writes it. Leave what was not tested; raw and treated belong to one day.",
    "nitrate": "Raw and treated of one day, each with the basis of the report: as N or as NO3. Empty: not tested.",
    "metals": "The first water of the morning at the tap. Empty: not tested.",
    "other": "One result of the report at one point; a whole report comes in faster as a file.",
}


class LabAnswer(msgspec.Struct, frozen=True):
    """The results typed, a note, and what was typed, to begin again from."""

    results: tuple[Result, ...]
    note: str
    typed: dict[str, str]


def lab_form(view: View, kind: str, typed: dict[str, str] | None = None) -> Form[LabAnswer]:
    """The form for one kind of test. It answers with at least one result, all of one day."""
    entries = (
        Entry(id="on", label="Sampled on", value=view.today.isoformat(), hint="the day of the sample, YYYY-MM-DD"),
        *_entries(view, kind),
        Entry(id="note", label="Note", hint="laboratory, report number"),
    )
    return Form(dict(KINDS)[kind], entries, lambda now: _answer(view, kind, now), about=_ABOUT[kind], typed=typed)


def _entries(view: View, kind: str) -> tuple[Entry, ...]:
    if kind == "germs":
        return tuple(
            Entry(id=f"{quantity}__{point}", label=f"{where}: {QUANTITIES[quantity].title}", choices=_FOUND)
            for point, where in _pair(view)[:2]
            for quantity in ("total_coliform", "e_coli")
        )
    if kind == "other":
        water = tuple((one.id, one.title) for one in QUANTITIES.values() if one.points == "water")
        return (
            Entry(id="quantity", label="What was tested", value="hardness", choices=water),
            Entry(id="point", label="Where", value="source", choices=place_choices(view.house, QUANTITIES["hardness"])),
            Entry(id="value", label="Value", hint="with its unit, like 12 mg/L or <0.05 mg/L"),
        )
    if kind == "metals":
        return tuple(
            Entry(id=f"{metal}__tap", label=QUANTITIES[metal].title, hint="with its unit: mg/L or ug/L")
            for metal in ("lead", "copper")
        )
    unit = Entry(id="unit", label="Unit and basis", choices=unit_choices(QUANTITIES["nitrate"]))
    return (unit, *(Entry(id=f"nitrate__{point}", label=where) for point, where in _pair(view)))


def _pair(view: View) -> tuple[tuple[str, str], ...]:
    """The points of a paired sample: raw, treated, and the RO tap where there is one."""
    pair = (("source", "Raw"), ("tap", "Treated"))
    return (*pair, ("ro", "RO tap")) if "ro" in dict(points_of(view.house)) else pair


def _answer(view: View, kind: str, typed: dict[str, str]) -> LabAnswer:
    """The results, or BadInput saying what cannot be."""
    on = parse_date(typed["on"], view.today)
    check_date(on, view.today)
    values = {name: text for name, text in typed.items() if "__" in name and text.strip()}
    if kind == "other" and typed["value"].strip():
        values = {f"{typed['quantity']}__{typed['point']}": typed["value"]}
    if not values:
        raise BadInput("No result stands here.", "Enter at least one, or go back with Escape.")
    found = [
        Result(line, on, take(view.house, name.partition("__")[0], text, typed.get("unit"), name.partition("__")[2]))
        for line, (name, text) in enumerate(values.items(), start=1)
    ]
    if not missing_from(view.home.events, found).results:
        raise BadInput("This result is written down already.", "Change it, or go back with Escape.")
    return LabAnswer(missing_from(view.home.events, found).results, typed["note"].strip(), typed)


async def record_lab_result(app: RecordingApp) -> None:
    """Ask which test, then for its results; ask again where one is odd and the user wants another look."""
    kind = await app.push_screen_wait(Pick("What did the laboratory test?", KINDS))
    if kind == "file":
        from tui.dialogs.import_file import import_a_file

        await import_a_file(app)
        return
    typed: dict[str, str] | None = None
    while kind is not None:
        view = app.session.view
        answer = await app.push_screen_wait(lab_form(view, kind, typed))
        if answer is None:
            return
        odd = [text for one in answer.results for text in jobs.doubts_about(view, one.taken, one.on)]
        if not odd or await app.push_screen_wait(
            Ask("Record it all the same?", "\n".join(odd), yes="Record", no="Look again")
        ):
            said = f"Laboratory result of {day_words(answer.results[0].on, view.today)} recorded."
            app.record(*reports_of(answer.results, answer.note), said=said)
            return
        typed = answer.typed
