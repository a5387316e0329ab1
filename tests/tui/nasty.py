"""A home in which every text the owner can give is one that could do harm on a screen."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec

from model.equipment.neutralizer import Neutralizer
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.ultraviolet import Ultraviolet
from model.home import Supply, Use
from model.records.events import (
    Absence,
    AnyEvent,
    Contact,
    Explained,
    FindingAnswered,
    Guests,
    HandleMoved,
    Incident,
    LabReport,
    LocalRule,
    PausedService,
    PlaybookStarted,
    PlaybookStep,
    Purchase,
    Reading,
    Service,
    StageAdded,
    SupplyAdded,
    Taken,
    UseAdded,
)
from tests.tui.helpers import CARTRIDGE, HOUSE, SALT, STAGES, TODAY, MemoryStore, a_store

ROUND = "house.round"
NASTY = "[b]x[/b] [/] [red {x} \u202e\u200b\u200d\ufe0f👩‍👩‍👧 e\u0301 \x1b[31m\x1b]0;t\x07\x9b2J\x00\x7f\r\n\ttail"
LONG = "[b]" + "a b " * 2500


def a_nasty_store(text: str = NASTY) -> MemoryStore:
    """The small home with a neutralizer, a lamp and an RO unit, with the text in every field that holds words."""
    well, cartridge, softener = (msgspec.structs.replace(one, title=text) for one in STAGES)
    stages = (
        well,
        cartridge,
        Neutralizer(id="neutralizer", title=text, supplies={"calcite": "calcite"}),
        softener,
        Ultraviolet(id="ultraviolet", title=text),
        ReverseOsmosis(id="reverse_osmosis", title=text),
    )
    supplies = (*HOUSE.supplies, Supply(id="calcite", title="", unit="kg", price=9.0))
    house = msgspec.structs.replace(
        HOUSE,
        name=text,
        currency=text,
        stages=stages,
        supplies=tuple(msgspec.structs.replace(one, title=text) for one in supplies),
        uses=(Use(title=text, litres_per_week=70.0),),
    )
    store = a_store(*_events(text), house=house)
    started = next(one.id for one in store.home.events if isinstance(one, PlaybookStarted))
    store.each(
        PlaybookStep(on=TODAY, started=started, step="note", outcome="skipped", reason=text),
        FindingAnswered(on=TODAY, finding="hard_water.softener", answer="dismissed", reason=text),
    )
    return store


def _events(text: str) -> tuple[AnyEvent, ...]:
    day = timedelta(days=1)
    hard = Taken(quantity="hardness", value=120.0, point="tap", entered=text, method=text, kit=text)
    nitrate = Taken(quantity="nitrate", value=14.0, point="source", entered=text, method=text)
    return (
        Reading(on=date(2026, 11, 20), taken=hard, note=text, by=text),
        LabReport(on=date(2026, 11, 1), point="source", taken=(nitrate,), note=text),
        Service(on=date(2026, 11, 2), task=CARTRIDGE, handles="bypass", accepted=text, note=text, photo=text),
        PausedService(on=TODAY, task=SALT, ticked=(0,), typed={"note": text, text: text}, note=text),
        PausedService(on=TODAY, task=ROUND, typed={"note": text}),
        Purchase(on=TODAY - day, supply="salt", quantity=18.0, price=9.0, note=text),
        StageAdded(on=TODAY - day, stage={"kind": "part", "id": "part", "title": text}),
        SupplyAdded(on=TODAY - day, supply={"id": "lamp", "title": text}),
        UseAdded(on=TODAY - day, use={"title": f"{text} 2", "litres_per_week": 70.0}),
        Absence(on=TODAY + day, until=TODAY + 3 * day, note=text),
        Guests(on=TODAY, until=TODAY + day, people=2.0, note=text),
        Explained(on=TODAY, start=date(2026, 10, 1), end=date(2026, 11, 1), cause="guests", over=True, note=text),
        Incident(on=TODAY, what=text, note=text),
        HandleMoved(on=TODAY, handle="softener.bypass", position="bypass", note=text),
        LocalRule(on=TODAY, topic="brine", text=text, said_by=text, checked_on=TODAY),
        LocalRule(on=TODAY, topic=text, text=text, said_by=text, checked_on=TODAY),
        Contact(on=TODAY, role="neighbour", name=text, phone=text),
        Contact(on=TODAY, role=text, name=text, phone=text),
        PlaybookStarted(on=TODAY, playbook="power_cut", note=text),
    )
