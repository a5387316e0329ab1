"""The record of a year: its numbers by hand, its plots by their places, and nothing in it but words and drawings."""

from __future__ import annotations

import re
from datetime import date, timedelta

import msgspec
import pytest

from model.equipment.softener import Softener
from model.errors import BadInput
from model.home import Home, House, Supply
from model.pages.html_page import html
from model.pages.page import Page, Picture, Table
from model.pages.plot import Series, share_of_year, year_plot
from model.pages.year import year_page
from model.pages.year_exposed import exposed
from model.plan import plan
from model.records.events import HandleMoved, LabReport, Purchase, Reading, Service, Taken
from tests.pages.test_sheets import NASTY, Marks, nasty_home

TODAY = date(2027, 3, 20)
HOUSE = House(
    name="Fern",
    started=date(2025, 11, 3),
    units="metric",
    stages=(Softener(id="softener", title="Resin", cation_resin_l=28.0, supplies={"salt": "salt"}),),
    supplies=(Supply(id="salt", title="Salt", unit="kg", pack=20.0, price=9.0),),
)


def read(number: int, on: str, quantity: str, value: float, point: str, high: float | None = None) -> Reading:
    taken = Taken(quantity=quantity, value=value, point=point, high=high)
    return Reading(id=number, on=date.fromisoformat(on), taken=taken)


EVENTS = (
    read(1, "2026-01-01", "meter", 100_000.0, "house"),
    read(2, "2026-02-01", "meter", 106_200.0, "house"),
    read(3, "2026-03-01", "meter", 117_400.0, "house"),
    read(4, "2026-03-05", "nitrate", 12.0, "source"),
    read(5, "2026-03-05", "nitrate", 2.0, "tap", high=5.0),
    read(6, "2026-04-01", "salt_depth", 5.0, "softener"),
    Purchase(id=7, on=date(2026, 4, 2), supply="salt", quantity=40.0, price=17.5),
    Purchase(id=8, on=date(2026, 4, 9), supply="salt", quantity=20.0),
    Service(id=9, on=date(2026, 4, 2), task="softener.refill_salt", used={"salt": 40.0}, note="before lunch"),
    Service(id=10, on=date(2027, 1, 2), task="softener.salt_check", note="of another year"),
    LabReport(
        id=11,
        on=date(2026, 5, 5),
        point="tap",
        taken=(Taken(quantity="total_coliform", value=0.0, point="tap", method="lab"),),
    ),
)
PAGE = year_page(Home(HOUSE, EVENTS), 2026, TODAY)
NASTY_PAGE = year_page(nasty_home(), 2026, date(2026, 4, 1))


def tables(title: str, page: Page = PAGE) -> list[tuple[tuple[str, ...], ...]]:
    (section,) = (one for one in page.sections if one.title == title)
    return [block.rows for block in section.blocks if isinstance(block, Table)]


def test_the_water_used_is_the_mean_between_readings() -> None:
    assert tables("Water used") == [
        (("2026-01-01", "2026-02-01", "200 L/day"), ("2026-02-01", "2026-03-01", "400 L/day"))
    ]


def test_nitrate_raw_and_treated_stand_beside_each_other() -> None:
    assert tables("Nitrate, raw and treated") == [
        (("2026-03-05", "raw", "12 mg/L as N"), ("2026-03-05", "after treatment", "2-5 mg/L as N"))
    ]


def test_costs_stand_by_month_against_the_forecast_and_add_up() -> None:
    (rows,) = tables("Costs against the forecast")
    assert [row[0] for row in rows] == [*(f"2026-{month:02d}" for month in range(1, 13)), "sum"]
    assert [row[-1] for row in rows if row[-1] != "$0.00"] == ["$17.50", "$17.50"]
    assert "none" not in {row[1] for row in rows}
    assert "Purchases without a price, counted as nothing in the costs: 1." in html(PAGE)


def test_a_forecast_knows_nothing_of_what_came_later() -> None:
    began = (read(1, "2026-03-10", "meter", 0.0, "house"), *EVENTS[5:])
    page = year_page(Home(House(name="New", started=date(2026, 3, 10)), began), 2026, TODAY)
    (rows,) = tables("Costs against the forecast", page)
    assert [row[1] == "none" for row in rows[:12]] == [True] * 3 + [False] * 9
    dear = (*EVENTS, Purchase(id=12, on=date(2026, 6, 1), supply="salt", quantity=20.0, price=999.0))
    (after,) = tables("Costs against the forecast", year_page(Home(HOUSE, dear), 2026, TODAY))
    (before,) = tables("Costs against the forecast")
    assert [row[:4] for row in after] == [row[:4] for row in before]
    assert after[5][-1] == "$999.00"


def test_what_ran_low_was_done_and_was_tested() -> None:
    (low,) = tables("Run out or under its line")
    assert ("2026-04-01", "Resin", "salt read at 5 cm, under its line") in low
    assert tables("Jobs done") == [
        (("2026-04-02", "Refill the salt, Resin [softener.refill_salt]", "40 kg Salt; before lunch"),)
    ]
    assert tables("Laboratory tests") == [(("2026-05-05", "the tap", "total coliform", "absent"),)]
    assert "of another year" not in html(PAGE)


def test_readings_are_gathered_by_what_and_where() -> None:
    (rows,) = tables("Readings")
    assert ("meter", "3", "100,000 L", "117,400 L", "100,000 L", "117,400 L") in {
        (row[0].split(" at")[0].replace("water ", ""), *row[1:]) for row in rows
    }


def test_an_exposure_of_three_days_between_two_firsts_of_a_month_is_on_record() -> None:
    """Salt under its line from the 10th until it is filled up, with a recovery, and nitrate read clear on the 13th; and
    a bypass that was open for three days."""
    anion = msgspec.structs.replace(HOUSE.stages[0], anion_type="standard", anion_resin_l=28.0)
    low, full = (Taken(quantity="salt_depth", value=cm, point="softener") for cm in (0.0, 50.0))
    clear = Taken(quantity="nitrate", value=1.0, point="tap")
    happened = (
        read(1, "2026-06-01", "salt_depth", 50.0, "softener"),
        read(2, "2026-06-10", "salt_depth", 0.0, "softener"),
        Service(id=3, on=date(2026, 6, 12), task="softener.refill_salt", used={"salt": 60.0}, taken=(low, full)),
        Service(id=4, on=date(2026, 6, 12), task="softener.recover_from_run_out"),
        Reading(id=5, on=date(2026, 6, 13), taken=clear),
        HandleMoved(id=6, on=date(2026, 6, 20), handle="softener.bypass", position="bypass"),
        HandleMoved(id=7, on=date(2026, 6, 23), handle="softener.bypass", position="service"),
    )
    house = msgspec.structs.replace(HOUSE, stages=(anion,), started=date(2026, 6, 1))
    found = exposed(Home(house, happened), date(2026, 6, 1), date(2026, 7, 10))
    salt = [one for one in found if one.line.startswith("Salt ")]
    assert (salt[0].first, salt[-1].last) == (date(2026, 6, 10), date(2026, 6, 12))
    bypassed = [(one.first, one.last) for one in found if " bypassed since 20 Jun" in one.line]
    assert bypassed == [(date(2026, 6, 20), date(2026, 6, 22))]
    for day in (date(2026, 6, 1) + timedelta(days=n) for n in range(40)):
        stood = plan(Home(house, happened), day).exposure
        assert sorted(one.line for one in found if one.first <= day <= one.last) == sorted(stood), day


def test_what_came_with_time_alone_and_went_with_the_next_record_is_told_too() -> None:
    """A reading that was due and was taken a few days late; before and after it the lines are the same."""
    anion = msgspec.structs.replace(HOUSE.stages[0], anion_type="standard", anion_resin_l=28.0)
    house = msgspec.structs.replace(HOUSE, stages=(anion,), started=date(2026, 6, 1))
    clear = Taken(quantity="nitrate", value=1.0, point="tap")
    read_on = [date(2026, 6, 1), date(2026, 6, 15)]
    done = [Service(id=n, on=on, task="softener.nitrate_check", taken=(clear,)) for n, on in enumerate(read_on, 1)]
    profile = Service(id=3, on=date(2026, 6, 1), task="softener.breakthrough_profile")
    found = exposed(Home(house, (*done, profile)), date(2026, 6, 1), date(2026, 6, 20))
    late = [(one.first, one.last) for one in found if one.line.startswith("Nitrate reading overdue since 11 Jun")]
    assert late == [(date(2026, 6, 12), date(2026, 6, 14))]


def test_boiling_is_never_told_without_nitrate() -> None:
    for line in re.split(r"</?(?:td|p|li)[^>]*>", html(NASTY_PAGE)):
        assert "boil" not in line.casefold() or "nitrate" in line.casefold(), line


def test_a_year_that_the_record_does_not_reach_is_refused() -> None:
    for year in (2024, 2028, 99999):
        with pytest.raises(BadInput, match=f"Nothing is on record for {year}"):
            year_page(Home(HOUSE, EVENTS), year, TODAY)


def test_the_page_brings_nothing_in_and_all_words_are_words() -> None:
    text = html(NASTY_PAGE)
    found = Marks(text)
    known = "html head meta title style body h1 h2 p section ul li table thead tbody tr th td svg rect text path circle"
    assert {tag for tag, _ in found.tags} <= set(known.split())
    assert not {
        name for _, attrs in found.tags for name in attrs if name in ("src", "href", "style") or name[:2] == "on"
    }
    assert " ".join(NASTY.split()) in found.words
    assert "url(" not in text


def test_every_plot_has_its_numbers_in_a_table() -> None:
    drawn = [one for one in PAGE.sections if any(isinstance(block, Picture) for block in one.blocks)]
    assert len(drawn) == 4
    assert all(any(isinstance(block, Table) for block in one.blocks) for one in drawn)


def test_places_in_a_plot_are_true_to_the_numbers() -> None:
    assert share_of_year(date(2026, 1, 1)) == 0.0
    assert share_of_year(date(2024, 12, 31)) == pytest.approx(365 / 366)
    svg = year_plot("T", "u", [Series(name="a", form="disc", points=((0.0, 0.0), (0.5, 10.0), (1.0, 20.0)))]).svg
    places = [(float(x), float(y)) for x, y in re.findall(r'cx="([\d.]+)" cy="([\d.]+)"', svg)]
    assert places[1:] == [(62.0, 186.0), (407.0, 105.0), (752.0, 24.0)]
    assert 'font-weight="bold">T [u]</text>' in svg


def test_a_plot_of_nothing_and_of_tiny_numbers_can_be_drawn() -> None:
    for top in (0.0, 1e-9, 3.0, 1e9):
        svg = year_plot("T", "u", [Series(name="a", form="line", points=((0.0, top),))]).svg
        assert "nan" not in svg
        assert svg.count("<path") < 30
