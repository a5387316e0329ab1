"""The set-up on the screen, by keys alone."""

from __future__ import annotations

from pathlib import Path

from model.equipment.softener import Softener
from model.home import Home
from model.records.events import LabReport
from model.store.first import FirstRun
from model.store.repository import Repository
from tests.tui.helpers import TODAY, press, see, shown, until
from tui.app import WellwardApp
from tui.view import Session


def begun(path: Path) -> WellwardApp:
    """The program where there is no file yet."""
    first = FirstRun(Repository(path), TODAY)
    return WellwardApp(Session(first, lambda: TODAY, first=first))


def written(path: Path) -> Home:
    return Repository(path).load()


async def test_knowing_nothing_ends_on_week_and_house_says_what_is_not_known(tmp_path: Path) -> None:
    app = begun(tmp_path / "home.json")
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 of 9")
        await press(pilot, *["enter"] * 2)
        text = await see(pilot, app, "[x] Pressure tank")
        assert "[ ] Softener" in text
        await press(pilot, *["enter"] * 7)
        await see(pilot, app, "1 Week")
        await see(pilot, app, "coliform")
        await press(pilot, "7")
        await see(pilot, app, "2  ?")
    assert [stage.id for stage in written(tmp_path / "home.json").house.stages] == ["well", "pressure_tank"]
    assert not (tmp_path / ".home.json.setup").exists()


async def test_the_whole_set_up_left_half_way(tmp_path: Path) -> None:
    path = tmp_path / "home.json"
    app = begun(path)
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 of 9")
        await press(pilot, "enter", *"3", "enter")
        await see(pilot, app, "[x] Pressure tank")
        await press(pilot, "down", "space", *["down"] * 3, "space", "enter")
        await see(pilot, app, "4 of 15")
        await press(pilot, *["enter"] * 4)
        await see(pilot, app, "How much salt")
        await press(pilot, *"9", "ctrl+g")
        await see(pilot, app, "What starts")
        await press(pilot, "ctrl+n")
        await see(pilot, app, "How much salt")
        await press(pilot, *"pounds", "enter")
        await see(pilot, app, "Not taken.")
        await press(pilot, "ctrl+q")
    assert not path.exists()

    again = begun(path)
    async with again.run_test(size=(80, 24)) as pilot:
        assert "pounds" in await see(pilot, again, "How much salt")
        await press(pilot, "ctrl+u", *"9lb", "enter", *["enter"] * 2)
        text = await see(pilot, again, "How deep is the salt when")
        assert "|: : salt" in text
        assert "taken and marked" in text
        await press(pilot, *"20", "enter", *["enter"] * 2)
        await see(pilot, again, "laboratory report")
        await press(pilot, "home", "enter", *["enter"] * 4)
        await see(pilot, again, "How much iron")
        await press(pilot, "enter", *"12.5", "enter")
        await see(pilot, again, "mg/L as NO3")
        await see(pilot, again, "Down and Up highlight a unit")
        await press(pilot, "enter")
        assert "How much nitrate" in await see(pilot, again, "Down and Up highlight a unit")
        await press(pilot, "down", "enter")
        await see(pilot, again, "water meter")
        await press(pilot, *"184,220", "enter")
        await see(pilot, again, "1 Week")
    home = written(path)
    tank = home.house.stages[-1]
    assert home.house.people == 3.0
    assert isinstance(tank, Softener)
    assert round(tank.salt_dose_kg, 2) == 4.08
    assert round(tank.salt_full_cm, 1) == 50.8
    report = next(one for one in home.events if isinstance(one, LabReport))
    assert [(one.quantity, one.value) for one in report.taken] == [("nitrate", 12.5)]


async def test_every_size_survives_and_program_keys_do_nothing_in_set_up(tmp_path: Path) -> None:
    app = begun(tmp_path / "home.json")
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 of 9")
        await press(pilot, "r", "7", "u")
        assert "1 of 9" in shown(app)
        await press(pilot, "f1")
        await see(pilot, app, "is written before the last answer")
        await press(pilot, "escape")
        for size in ((1, 1), (60, 20), (200, 60), (80, 24)):
            await pilot.resize_terminal(*size)
        await until(pilot, lambda: "1 of 9" in shown(app))


async def test_escape_goes_back_a_page_and_leaves_from_the_first(tmp_path: Path) -> None:
    app = begun(tmp_path / "home.json")
    async with app.run_test(size=(80, 24)) as pilot:
        text = await see(pilot, app, "1 of 9")
        assert "Back one" not in text, "there is none before"
        assert "esc Leave" in text
        await press(pilot, "ctrl+g")
        assert "1 of 9" in shown(app)
        await press(pilot, "enter", *"3")
        text = await see(pilot, app, "2 of 9")
        assert "esc Back one" in text
        await press(pilot, "enter", "escape")
        assert "3" in await see(pilot, app, "How many people")
        await press(pilot, "escape")
        await see(pilot, app, "1 of 9")
        await press(pilot, "escape")
        assert not app.is_running
    again = begun(tmp_path / "home.json")
    async with again.run_test(size=(80, 24)) as pilot:
        await see(pilot, again, "1 of 9")
        await press(pilot, "enter")
        assert "3" in await see(pilot, again, "How many people")


async def test_in_the_smallest_terminal_question_and_answers_are_in_view_together(tmp_path: Path) -> None:
    app = begun(tmp_path / "home.json")
    async with app.run_test(size=(60, 20)) as pilot:
        await see(pilot, app, "1 of 9")
        await press(pilot, "enter", "enter")
        text = await see(pilot, app, "What does the water pass")
        assert "Reverse osmosis" in text
        await press(pilot, *["enter"] * 5)
        text = await see(pilot, app, "laboratory report")
        assert "I don't know (taken: no report; l adds one later)" in text
        await press(pilot, "home", "enter")
        assert "is taken, and the report says so" in await see(pilot, app, "the water sampled")
