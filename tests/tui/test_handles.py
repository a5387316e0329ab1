"""Valve handles and local rules on the screens, and the exposure on Week."""

from __future__ import annotations

from datetime import date

import pytest
from textual.widgets import Input

from model.records.events import Contact, HandleMoved, LocalRule, Service
from model.store.numbering import login
from tests.tui.helpers import CARTRIDGE, TODAY, a_store, an_app, events, press, see, shown, until
from tui.widgets.exposure_words import exposure_words


async def test_a_handle_is_moved_on_water_and_stands_on_week_until_it_is_back() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "3")
        await see(pilot, app, "v Valve")
        await press(pilot, "h")
        await see(pilot, app, "Softener bypass: in service")
        await press(pilot, "end", "enter")
        await see(pilot, app, "Stands now")
        app.screen.query_one("#entry_note").focus()
        await press(pilot, *"gasket", "enter")
        await until(pilot, lambda: isinstance(events(app)[-1], HandleMoved))
        assert events(app)[-1] == HandleMoved(
            on=TODAY, id=6, at="2026-11-25T12:00:00Z", by=login() or "somebody", token=events(app)[-1].token,
            handle="softener.bypass", position="bypass", note="gasket",
        )  # fmt: skip
        await press(pilot, "1")
        await see(pilot, app, "Softener bypassed since 25 Nov: hard water at every tap.")
        await press(pilot, "3", "h")
        await see(pilot, app, "on bypass since 25 Nov: gasket")
        await press(pilot, "enter")
        await see(pilot, app, "Stands now")
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: len(events(app)) == 7)
        assert not any("bypassed" in one for one in app.session.view.plan.exposure)


async def test_house_lists_handles_and_rules_and_enter_writes_them_down() -> None:
    left = Service(on=TODAY, task=CARTRIDGE, handles="sediment_filter.bypass", accepted="ring on order [b]")
    app = an_app(a_store(left))
    async with app.run_test(size=(120, 40)) as pilot:
        await press(pilot, "7")
        await see(pilot, app, "Handles, rules, contacts")
        await press(pilot, "end", "up", "up")
        await see(pilot, app, "on bypass since 25 Nov: ring on order [b]")
        await press(pilot, "down", "enter", "down", "enter")
        await see(pilot, app, "The rule")
        app.screen.query_one("#entry_text").focus()
        await press(pilot, *"dual check", "tab", *"code office", "enter")
        await until(pilot, lambda: isinstance(events(app)[-1], LocalRule))
        rule = events(app)[-1]
        assert isinstance(rule, LocalRule)
        assert (rule.topic, rule.text, rule.said_by, rule.checked_on) == (
            "backflow",
            "dual check",
            "code office",
            TODAY,
        )
        await see(pilot, app, "dual check (code office, asked 2026-11-25)")


@pytest.mark.parametrize(("width", "rows"), [(120, 3), (80, 3), (60, 2)])
def test_week_shows_first_sentences_and_how_many_lines_there_are_more(width: int, rows: int) -> None:
    told = [f"E. coli {n}: do not drink. More of it. And more." for n in range(5)]
    shown = exposure_words(told, width).plain.splitlines()
    assert len(shown) == rows
    assert shown[0] == "E. coli 0: do not drink."
    assert shown[-1] == f"and {5 - (rows - 1)} more: press w"
    assert exposure_words([], width).plain == ""
    away = exposure_words(told, width, ["UV bypass", "RO feed valve"]).plain
    assert away.endswith("press w; out of service: UV bypass, RO feed valve")


async def test_w_reads_every_line_in_full() -> None:
    moved = [
        HandleMoved(on=date(2026, 11, 3), handle=handle, position=where)
        for handle, where in (
            ("softener.bypass", "bypass"),
            ("sediment_filter.bypass", "bypass"),
            ("house.shut_off", "closed"),
        )
    ]
    app = an_app(a_store(*moved))
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "more: press w")
        await press(pilot, "w")
        text = " ".join((await see(pilot, app, "The water today")).split())
        told = app.session.view.plan.exposure
        assert len(told) > 3
        assert all(one[:30] in text for one in told[:3])


async def test_house_lists_contacts_and_enter_writes_one_down_or_takes_it_off() -> None:
    app = an_app(a_store(Contact(on=TODAY, role="owner", name="Dell [b]", phone="555-0100")))
    async with app.run_test(size=(120, 40)) as pilot:
        await press(pilot, "7")
        await see(pilot, app, "Handles, rules, contacts")
        await press(pilot, "end")
        await see(pilot, app, "555-0100, Dell [b]")
        await press(pilot, "enter", "down", "down", "enter")
        await see(pilot, app, "Telephone")
        app.screen.query_one("#entry_name").focus()
        await press(pilot, *"Bo", "tab", *"555-0142", "enter")
        await see(pilot, app, "Well or pump contractor: Bo, 555-0142.")
        assert isinstance(events(app)[-1], Contact)
        await press(pilot, "k")
        await see(pilot, app, "Telephone")
        await press(pilot, *"owner", "ctrl+s")
        await see(pilot, app, "is no telephone number")
        await press(pilot, "escape", "up", "up", "enter")
        await see(pilot, app, "Now: Dell [b], 555-0100.")
        for entry in ("name", "phone"):
            app.screen.query_one(f"#entry_{entry}", Input).value = ""
        await press(pilot, "ctrl+s")
        await see(pilot, app, "Owner: nobody any more.")
        assert "Dell" not in shown(app)
