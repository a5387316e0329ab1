"""Valve handles: which a house has, where each stands, and what a service does to them."""

from __future__ import annotations

from datetime import date

import msgspec
import pytest

from model.errors import BadInput, UnknownName
from model.home import Home
from model.records.events import Correction, HandleMoved, Service, StageAdded, StageRemoved
from model.records.handles import find_handle, handles_of, left_moved, parse_position
from model.records.history import History
from model.records.positions import Position, positions
from tests.forecast.homes import STAGES, TODAY, home, house

D1, D2, D3 = date(2026, 10, 1), date(2026, 10, 8), date(2026, 11, 1)
OUT = HandleMoved(on=D1, handle="softener.bypass", position="bypass", note="gasket on order")


def at(made: Home, handle: str, today: date = TODAY) -> Position:
    every = positions(made.house, History(made.events, today))
    return next(one for one in every if one.handle.id == handle)


def test_the_handles_follow_from_the_stages() -> None:
    assert [one.id for one in handles_of(house(hose=True))] == [
        "house.shut_off",
        "house.hose",
        "sediment_filter.bypass",
        "neutralizer.bypass",
        "softener.bypass",
        "ultraviolet.bypass",
        "reverse_osmosis.feed",
        "part.bypass",
    ]
    battery = msgspec.structs.replace(STAGES[7], life_l=None, life_days=700.0)
    assert [one.id for one in handles_of(house((battery,)))] == ["house.shut_off"]
    assert handles_of(house(())) == ()


def test_in_service_is_assumed_until_recorded() -> None:
    assert (at(home(), "softener.bypass").away, at(home(), "softener.bypass").since) == (False, None)
    assert not at(home(OUT), "softener.bypass", date(2026, 9, 30)).away


def test_a_handle_stands_where_it_was_put_since_the_first_day_of_it() -> None:
    again = HandleMoved(on=D2, handle="softener.bypass", position="bypass", note="still on order")
    found = at(home(again, OUT), "softener.bypass")  # recorded in the other order
    assert (found.position, found.since, found.words) == ("bypass", D1, "still on order")
    back = at(home(OUT, again, HandleMoved(on=D3, handle="softener.bypass", position="service")), "softener.bypass")
    assert (back.away, back.since) == (False, D3)


@pytest.mark.parametrize(
    ("service", "away"),
    [
        (Service(on=D3, task="softener.clean_injector", handles="service"), False),
        (Service(on=D3, task="neutralizer.top_up", handles="service"), True),
        (Service(on=D3, task="well.shut_off_drill", handles="service"), False),
        (Service(on=D3, task="well.inspection", handles="service"), True),
        (Service(on=D3, task="softener.refill_salt"), True),
    ],
)
def test_a_service_puts_back_the_handles_of_its_own_stage_only(service: Service, away: bool) -> None:
    assert at(home(OUT, service), "softener.bypass").away is away


@pytest.mark.parametrize(
    ("task", "handles", "words", "left"),
    [
        ("ultraviolet.clean_sleeve", "ultraviolet.bypass", "till Friday", "ultraviolet.bypass"),
        ("reverse_osmosis.sanitize", "", "as before this program named handles", "reverse_osmosis.feed"),
        ("well.shut_off_drill", "", "softener.bypass is stuck", "softener.bypass"),
        ("well.replace_pump", "", "closed", "house.shut_off"),
    ],
)
def test_what_is_accepted_stays_moved_until_put_back(task: str, handles: str, words: str, left: str) -> None:
    accepted = Service(on=D2, task=task, handles=handles, accepted=words)
    found = at(home(accepted), left)
    assert (found.away, found.since, found.words) == (True, D2, words)
    assert sum(one.away for one in positions(house(), History(home(accepted).events, TODAY))) == 1
    assert not at(home(accepted, HandleMoved(on=D2, handle=left, position="service")), left).away


def test_what_was_taken_back_or_belonged_to_an_earlier_stage_does_not_count() -> None:
    assert not at(home(OUT, Correction(on=D2, voids=1)), "softener.bypass").away
    added = StageAdded(on=D2, stage=msgspec.to_builtins(STAGES[4]), after="neutralizer")
    assert not at(home(OUT, StageRemoved(on=D2, stage="softener"), added), "softener.bypass").away


def test_a_position_that_cannot_be_counts_nothing() -> None:
    assert not at(home(HandleMoved(on=D1, handle="softener.bypass", position="closed")), "softener.bypass").away


def test_words_for_handles_and_positions() -> None:
    there = house()
    feed, bypass = find_handle(there, "reverse_osmosis"), find_handle(there, "Softener bypass")
    assert (feed.id, bypass.id) == ("reverse_osmosis.feed", "softener.bypass")
    assert [parse_position(feed, one) for one in ("open", "Shut", " off ", "service")] == [
        "service",
        "closed",
        "closed",
        "service",
    ]
    assert parse_position(bypass, "Bypassed") == "bypass"
    for word in ("open", "closed", "half", ""):
        with pytest.raises(BadInput):
            parse_position(bypass, word)
    for word in ("", "well", "toilet"):
        with pytest.raises(UnknownName):
            find_handle(there, word)
    with pytest.raises(BadInput, match=r"softener\.bypass"):
        left_moved(there, "well.shut_off_drill", "one is stuck")
