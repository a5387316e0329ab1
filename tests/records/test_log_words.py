"""The log in words: names instead of ids, the owner's units, and what a correction is about."""

from __future__ import annotations

from datetime import date

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.equipment.sediment_filter import SedimentFilter
from model.equipment.softener import Softener
from model.equipment.ultraviolet import Ultraviolet
from model.home import Home, House, Supply
from model.records.events import (
    AnyEvent,
    Contact,
    Correction,
    Explained,
    FindingAnswered,
    Guests,
    HandleMoved,
    Incident,
    LabReport,
    LocalRule,
    MeterReplaced,
    PausedService,
    Purchase,
    Reading,
    Service,
    Setting,
    ShelfCount,
    StageAdded,
    StageRemoved,
    SupplyAdded,
    Taken,
    UseAdded,
    UseEnded,
)
from model.records.log import about, correction_of, describe, log_lines, taking_back
from model.units import System
from tests.store.kinds import KINDS

DAY = date(2026, 11, 5)
HOUSE = House(
    name="Made up",
    started=date(2026, 1, 1),
    stages=(
        SedimentFilter(id="sediment_filter", title="Coarse filter"),
        SedimentFilter(id="sediment_filter_2", title="Fine filter"),
        SedimentFilter(id="sediment_filter_3", title="Fine filter"),
        Softener(id="softener", title="The grey tank"),
    ),
    supplies=(Supply(id="salt", title="Pellets", unit="kg", pack=18.14), Supply(id="cartridge", title="Cartridge")),
)


def said(*events: AnyEvent, units: System = "us") -> list[str]:
    """The log of a home with these events, numbered from 1."""
    numbered = tuple(msgspec.structs.replace(event, id=number) for number, event in enumerate(events, 1))
    lines = log_lines(Home(msgspec.structs.replace(HOUSE, units=units), numbered))
    return [": ".join(part for part in (line.what, line.detail) if part) for line in lines]


def reading(quantity: str, entered: str, point: str) -> Reading:
    return Reading(on=DAY, taken=Taken(quantity=quantity, value=1.0, point=point, entered=entered))


@pytest.mark.parametrize(
    ("event", "words"),
    [
        (
            Service(on=DAY, task="sediment_filter.replace_cartridge", used={"cartridge": 1.0}),
            "Service: Change the sediment cartridge, Coarse filter [sediment_filter.replace_cartridge]: 1 Cartridge",
        ),
        (
            Service(on=DAY, task="softener.refill_salt", used={"salt": 54.42}),
            "Service: Refill the salt, The grey tank [softener.refill_salt]: 120 lb Pellets",
        ),
        (Service(on=DAY, task="boiler.light"), "Service boiler.light"),
        (
            Service(on=DAY, task="boiler.light", photo="[b]IMG 1.jpg", note="sooty"),
            "Service boiler.light: photo: [b]IMG 1.jpg; sooty",
        ),
        (
            FindingAnswered(on=DAY, finding="salt_bridge.softener", answer="dismissed", reason="probed: [b]loose"),
            "Finding answered: Salt bridge, The grey tank [salt_bridge.softener]: dismissed (probed: [b]loose)",
        ),
        (
            FindingAnswered(on=DAY, finding="night_leak.house", answer="snoozed", until=date(2026, 12, 1)),
            "Finding answered: Night leak [night_leak.house]: snoozed until 2026-12-01",
        ),
        (Purchase(on=DAY, supply="salt", quantity=18.14, price=8.4), "Bought: 40 lb Pellets for 8.40"),
        (ShelfCount(on=DAY, supply="gone", quantity=2.0), "Shelf counted: 2 gone"),
        (reading("pH", "6.2", "source"), "Reading: pH 6.2 at the source"),
        (reading("hardness", "0.5 gpg", "after_softener"), "Reading: hardness 0.5 gpg after The grey tank"),
        (reading("salt_depth", "16 in", "softener"), "Reading: salt depth 16 in at The grey tank"),
        (reading("meter", "100 gal", "house"), "Reading: water meter 100 gal"),
        (
            reading("pressure_in", "52 psi", "sediment_filter_2"),
            "Reading: pressure before 52 psi at Fine filter (sediment_filter_2)",
        ),
        (
            LabReport(on=DAY, point="tap", taken=(Taken(quantity="iron", value=0.05, point="tap", qualifier="<"),)),
            "Laboratory report, the tap: iron <0.05 mg/L",
        ),
        (
            MeterReplaced(on=DAY, old_reading_l=378_541.1784, new_reading_l=378.5411784),
            "Meter replaced: old 100,000 gal, new 100 gal",
        ),
        (
            Setting(on=DAY, path="stages.softener.salt_dose_kg", value=4.5359237, was=2.72155422),
            "Setting: The grey tank, Salt per regeneration from 6 lb to 10 lb",
        ),
        (Setting(on=DAY, path="people", value=5.0, was=4.0), "Setting: People in the house from 4.0 to 5.0"),
        (Setting(on=DAY, path="hose", value=True, was=False), "Setting: Hose before the train from no to yes"),
        (Setting(on=DAY, path="no.such", value="x"), "Setting: no.such from nothing to x"),
        (StageRemoved(on=DAY, stage="softener"), "Stage removed: The grey tank"),
        (
            Guests(on=DAY, until=date(2026, 11, 8), people=2.5, note="cousins"),
            "Guests: 2.5 guests until 2026-11-08; cousins",
        ),
        (
            UseAdded(on=DAY, use={"title": "Pool", "litres_per_week": 378.5411784, "point": "hose", "months": [12, 1]}),
            "Water use added: Pool, 100 gal a week at the hose, Dec-Jan",
        ),
        (UseAdded(on=DAY, use={"title": 7}), "Water use added: 7"),
        (UseEnded(on=DAY, title="Pool"), "Water use ended: Pool"),
        (
            HandleMoved(on=DAY, handle="softener.bypass", position="bypass", note="gasket"),
            "Valve handle: The grey tank bypass, now on bypass; gasket",
        ),
        (
            HandleMoved(on=DAY, handle="house.shut_off", position="service"),
            "Valve handle: House shut off, now in service",
        ),
        (
            LocalRule(on=DAY, topic="brine", text="no", said_by="county", checked_on=date(2026, 11, 1)),
            "Local rule, brine: no (county, asked 2026-11-01)",
        ),
        (Contact(on=DAY, role="contractor", name="Bo", phone="555-0142"), "Contact, contractor: Bo, 555-0142"),
        (Contact(on=DAY, role="contractor"), "Contact, contractor: nobody any more"),
        (
            Explained(on=DAY, start=date(2026, 10, 1), end=date(2026, 10, 8), cause="watering", over=False),
            "Water use explained: 2026-10-01 to 2026-10-08: watering or filling, which goes on",
        ),
    ],
    ids=lambda value: type(value).__name__ if isinstance(value, msgspec.Struct) else None,
)
def test_names_and_the_owners_units(event: AnyEvent, words: str) -> None:
    assert said(event) == [words]


def test_metric_homes_read_metric() -> None:
    assert said(Purchase(on=DAY, supply="salt", quantity=18.14), units="metric") == ["Bought: 18.1 kg Pellets"]
    assert said(reading("hardness", "", "tap"), units="metric") == ["Reading: hardness 1 mg/L as CaCO3 at the tap"]


def test_what_was_added_or_renamed_has_its_name_too() -> None:
    lamp = msgspec.to_builtins(Ultraviolet(id="ultraviolet", title="Lamp in the cellar"))
    bulb: dict[str, object] = {"id": "bulb", "title": "Bulb", "unit": "each"}
    lines = said(
        StageAdded(on=DAY, stage=lamp),
        SupplyAdded(on=DAY, supply=bulb),
        Setting(on=DAY, path="stages.softener.title", value="The white tank", was="The grey tank"),
        Service(on=DAY, task="ultraviolet.replace_lamp", used={"bulb": 1.0}),
        PausedService(on=DAY, task="softener.refill_salt"),
        StageAdded(on=DAY, stage={"kind": "softener", "id": "softener_2"}),
        Setting(on=DAY, path="stages.softener.title", value="", was="The white tank"),
        Setting(on=DAY, path="supplies.bulb.title", value="Light", was="Bulb"),
    )
    assert lines[0] == "Stage added: Lamp in the cellar"
    assert lines[3].startswith("Service: Change the lamp and O-rings, Lamp in the cellar [ultraviolet.replace_lamp]")
    assert lines[3].endswith(": 1 Light")
    assert lines[4].startswith("Left half-way: Refill the salt, Softener [softener.refill_salt]")
    assert lines[5] == "Stage added: Softener 2"


def test_a_correction_says_what_it_is_about() -> None:
    lines = said(Incident(on=DAY, what="storm", note="wet"), *(Correction(on=DAY, voids=n) for n in (1, 2, 3)))
    assert lines[1:] == [
        "Taken back: event 1 of 2026-11-05, Happened: storm; wet",
        "Brought back: event 1 of 2026-11-05, Happened: storm; wet",
        "Taken back: event 1 of 2026-11-05, Happened: storm; wet",
    ]


def test_a_correction_of_nothing_keeps_its_note() -> None:
    assert said(Correction(on=DAY, voids=77, note="Bought: 1 lamp")) == ["Taken back: event 77; Bought: 1 lamp"]
    assert said(Correction(on=DAY, voids=1)) == ["Taken back: event 1"]


def test_a_very_long_chain_of_corrections_is_followed() -> None:
    chain = [Correction(on=DAY, voids=n) for n in range(1, 3001)]
    assert said(Incident(on=DAY, what="storm"), *chain)[-1].startswith("Brought back: event 1 of")


def test_the_way_back_is_the_correction_that_stands() -> None:
    events: tuple[AnyEvent, ...] = (Incident(on=DAY, what="storm", id=1),)
    assert correction_of(Home(HOUSE, events), events[0]) is None
    for number, voids in ((2, 1), (3, 2), (4, 1)):
        events = (*events, Correction(on=DAY, id=number, voids=voids))
    found = correction_of(Home(HOUSE, events), events[0])
    assert found is not None
    assert found.id == 4
    assert about({one.id: one for one in events}, events[2]) == (events[0], False)


def test_a_group_is_brought_back_together() -> None:
    pair: list[AnyEvent] = [Incident(on=DAY, what=what, id=n, group=1) for n, what in ((1, "storm"), (2, "flood"))]
    back = taking_back(Home(HOUSE, tuple(pair)), pair[1], DAY)
    assert [one.voids for one in back] == [1, 2]
    kept = [msgspec.structs.replace(one, id=n, group=3) for n, one in enumerate(back, 3)]
    again = taking_back(Home(HOUSE, (*pair, *kept)), kept[1], DAY)
    assert [one.voids for one in again] == [3, 4]


def test_without_a_home_ids_stand_for_names() -> None:
    assert describe(Service(on=DAY, task="softener.refill_salt", used={"salt": 2.0})) == (
        "Service softener.refill_salt",
        "2 salt",
    )
    assert describe(Correction(on=DAY, voids=3)) == ("Taken back", "event 3")


@settings(deadline=None, max_examples=50)
@given(st.lists(st.one_of(*KINDS.values()), max_size=6))
def test_any_event_has_words(events: list[AnyEvent]) -> None:
    for line in said(*events):
        assert line
