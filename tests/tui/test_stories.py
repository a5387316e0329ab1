"""Five stories of one house, by keys alone, read off the screen."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from model.home import Home
from model.plan import plan
from model.records.events import Absence, AnyEvent, LabReport, PlaybookStarted, Reading, Service
from tests.findings.series import ro
from tests.forecast.homes import TODAY, due, home, meter, raw_water, salt_filled, taken
from tests.tui.by_keys import away, begin, do, do_here, on_day, read
from tests.tui.helpers import press, see, shown, until

DAY = timedelta(days=1)
SIZE = (120, 40)
SALT, RECOVER, CHECK = "softener.refill_salt", "softener.recover_from_run_out", "softener.nitrate_check"
MEMBRANE = tuple(f"reverse_osmosis.{job}" for job in ("replace_membrane", "replace_prefilters", "sanitize"))
SALT_OUT = "Salt reckoned under its line since"
UNTREATED = "treat as untreated for nitrate."


def kept(*events: AnyEvent, today: date = TODAY, nitrate: float = 12.0, leave: tuple[str, ...] = ()) -> Home:
    """A house of 500 L a day in which these things happened, and all else was done nine days ago.

    `nitrate`: in the raw water of two months ago [mg/L as N].
    """
    no_germs = LabReport(on=today - 60 * DAY, point="source", taken=(taken("total_coliform", 0.0, "source"),))
    lived = (raw_water(on=today - 60 * DAY, nitrate=nitrate), no_germs, *meter(500.0, end=today), *events)
    jobs = [item.task for item in plan(home(*lived), today).due if item.task not in leave]
    return home(*lived, *(Service(on=today - 9 * DAY, task=job) for job in jobs))


def filled(last: date) -> list[Service]:
    """Salt filled up each 60 days, the last time on a day."""
    return [salt_filled(last - ago * DAY, 55.0) for ago in range(300, -1, -60)]


def salt_day(of: Home, day: date) -> date:
    return due(plan(of, day), SALT).act_on


async def test_salt_forgotten_for_six_weeks() -> None:
    """From 55 cm to the line at 18 are 66.8 kg: pi/4 * 45.7 cm squared * 37 cm * 1.1 kg/L.

    A metered valve takes 4 kg each 4000 L and half a day more, 0.47 kg a day: 142 days. The last refill is 193 days
    ago; those each 60 days before it found more salt than reckoned, from which up to a fifth less a day is learned.

    The line is told, a depth of 0 bears it out, the refill does not clear it, nor does the regeneration without a
    test; nitrate below the owner's level does.
    """
    app = on_day(kept(*filled(TODAY - 193 * DAY), leave=(SALT, "softener.salt_check")), TODAY)
    async with app.run_test(size=SIZE) as pilot:
        text = await see(pilot, app, SALT_OUT)
        line = next(row for row in text.splitlines() if SALT_OUT in row)
        assert any(f"{TODAY - ago * DAY:%-d %b}:" in line for ago in range(28, 52))
        assert UNTREATED in line
        await press(pilot, "w")
        await see(pilot, app, "tested bottled water only")
        await press(pilot, "escape")
        await read(pilot, app, "salt d", "0")
        await see(pilot, app, SALT_OUT)
        await do(pilot, app, SALT, {"before-0": "0", "after-0": "50", "used-salt": "60 kg"})
        await see(pilot, app, f"Salt was under its line until 25 Nov: {UNTREATED}")
        await see(pilot, app, "Recover after the salt ran o")
    app = on_day(app.session.view.home, TODAY + DAY)
    async with app.run_test(size=SIZE) as pilot:
        await see(pilot, app, f"Salt was under its line until 25 Nov: {UNTREATED}")
        await do(pilot, app, RECOVER, {"after-1": "0.3 gpg"})
        await see(pilot, app, f"Salt was under its line until 25 Nov: {UNTREATED}")
        assert due(app.session.view.plan, CHECK).act_on <= TODAY + 3 * DAY
        await read(pilot, app, "nitr", "2.1", where="after so", unit="mg/l as n")
        await until(pilot, lambda: "Salt was under" not in shown(app))
        assert not any(item.task == RECOVER for item in app.session.view.plan.due)


async def test_power_cut_overnight() -> None:
    """The lamp was dark: told as soon as the playbook is begun, until it was looked at and every tap flushed."""
    app = on_day(kept(*filled(TODAY - 20 * DAY)), TODAY)
    async with app.run_test(size=SIZE) as pilot:
        await see(pilot, app, "Overdue")
        assert isinstance(await begin(pilot, app, "Power cut"), PlaybookStarted)
        await see(pilot, app, "! While the power is off draw no water")
        await press(pilot, "escape")
        await see(pilot, app, "Power cut on 25 Nov: the UV was dark; drink bottled water.")
        await press(pilot, "p")
        await see(pilot, app, "9 of 9 open")
        await press(pilot, "enter", "enter")
        await see(pilot, app, "7 of 9 open")
        await press(pilot, "enter")
        await do_here(pilot, app)
        await see(pilot, app, "6 of 9 open")
        await press(pilot, "escape")
        await see(pilot, app, "the UV was dark")
        await press(pilot, "p", "home", "down", "down", "down", "enter", "enter", "enter")
        await see(pilot, app, "3 of 9 open")
        await press(pilot, "escape")
        await until(pilot, lambda: "the UV was dark" not in shown(app))
        await see(pilot, app, "* Power cut, from Wed 25 Nov: 3 of 9 steps open")


async def test_back_from_three_weeks_away() -> None:
    """Days away move the salt later by about as many; on return the first water is not for drinking."""
    before = kept(*filled(TODAY - 20 * DAY))
    app = on_day(before, TODAY)
    async with app.run_test(size=SIZE) as pilot:
        await see(pilot, app, "Overdue")
        left = await away(pilot, app, TODAY, TODAY + 20 * DAY)
        assert isinstance(left, Absence)
        moved = salt_day(app.session.view.home, TODAY) - salt_day(before, TODAY)
        assert 14 * DAY <= moved <= 22 * DAY
    back = TODAY + 21 * DAY
    app = on_day(app.session.view.home, back)
    async with app.run_test(size=SIZE) as pilot:
        await see(pilot, app, "Overdue")
        await begin(pilot, app, "Back after an absence")
        await press(pilot, "escape")
        stale = "Back on 16 Dec, taps not flushed: the first water is not for drinking."
        await see(pilot, app, stale)
        await press(pilot, "p")
        await see(pilot, app, "9 of 9 open")
        await press(pilot, "enter", "enter")
        await do_here(pilot, app)
        await see(pilot, app, "7 of 9 open")
        await press(pilot, "escape")
        await see(pilot, app, stale)
        await press(pilot, "p")
        await press(pilot, *["down"] * 2, "enter")
        await see(pilot, app, "6 of 9 open")
        await press(pilot, "escape")
        await until(pilot, lambda: stale not in shown(app))
        await see(pilot, app, "* Back after an absence, from Wed 16 Dec: 6 of 9 steps open")


async def test_spring_nitrate_rise() -> None:
    """Raw nitrate rises from 8 to 14 mg/L as N in April: told at once, watched weekly, and planned on from then."""
    spring = date(2027, 4, 15)
    low = kept(*filled(spring - 20 * DAY), today=spring, nitrate=8.0, leave=("well.nitrate_watch",))
    app = on_day(low, spring)
    async with app.run_test(size=SIZE) as pilot:
        await see(pilot, app, "Overdue")
        assert "Raw nitrate has reached" not in shown(app)
        event = await read(pilot, app, "nitr", "14", where="sourc", unit="mg/l as n")
        assert isinstance(event, Reading)
        assert event.taken.value == pytest.approx(14.0)
        await see(pilot, app, "Raw nitrate has reached 14.0 mg/L as N (limit 10)")
        watch = due(app.session.view.plan, "well.nitrate_watch")
        assert watch.act_on == spring + 7 * DAY
        assert any("rose from 8.0 to 14.0" in why and "each week" in why for why in watch.why)
    app = on_day(app.session.view.home, spring + 7 * DAY)
    async with app.run_test(size=SIZE) as pilot:
        await see(pilot, app, "Overdue")
        await read(pilot, app, "nitr", "9", where="sourc", unit="mg/l as n")
        await see(pilot, app, "Raw nitrate has reached 14.0 mg/L as N (limit 10)")


async def test_cold_water_ro_that_needs_nothing() -> None:
    """At 8 degrees a membrane gives little: the finding says so, and the day of its change stays."""
    summer = ro(date(2026, 7, 1), 120.0, 20.0)
    new = [Service(on=date(2026, 6, 20), task=f"reverse_osmosis.{job}") for job in ("replace_membrane", "sanitize")]
    before = kept(*filled(TODAY - 20 * DAY), *new, *summer, leave=MEMBRANE)
    membrane = due(plan(before, TODAY), "reverse_osmosis.replace_membrane").act_on
    assert membrane > TODAY + 60 * DAY
    app = on_day(before, TODAY)
    async with app.run_test(size=SIZE) as pilot:
        await see(pilot, app, "Overdue")
        await read(pilot, app, "water t", "8", where="sourc")
        await read(pilot, app, "ro fl", "84")
        await press(pilot, "w")
        text = await see(pilot, app, "Slow RO: the water is cold, the membrane")
        assert "is past its date" not in text
        assert due(app.session.view.plan, "reverse_osmosis.replace_membrane").act_on == membrane
