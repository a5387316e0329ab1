"""The home: what stands there, and what happened."""

from __future__ import annotations

from datetime import date
from typing import Literal

import msgspec

from model.equipment.registry import AnyStage
from model.records.events import AnyEvent

ALL_MONTHS = (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12)


class Use(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A named use of water beyond what people use: [L] a week, at "tap", "ro" or "hose", in the months given."""

    title: str
    litres_per_week: float
    point: Literal["tap", "ro", "hose"] = "tap"
    months: tuple[int, ...] = ALL_MONTHS


class Supply(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Something bought and kept on the shelf. `pack` is one pack in `unit`; `price` is for one pack.

    `on_shelf` is what lay there when the home was written down, in `unit`.
    """

    id: str
    title: str
    unit: str = "each"
    pack: float = 1.0
    price: float = 0.0
    price_is_default: bool = False
    on_shelf: float = 0.0
    lead_days: int = 7


class House(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What stands there. `stages` in the order the water meets them, an RO unit as a branch off the tap.

    `meter_reads`: whether the water meter sees "all" water or only the "house" (without the hose before the train).
    """

    name: str
    started: date
    people: float = 2.0
    units: Literal["us", "metric"] = "us"
    currency: str = "USD"
    elevation_m: float = 0.0
    hose: bool = False
    meter_reads: Literal["all", "house"] = "all"
    meter_rolls_over_at_l: float | None = None
    risk_health: float = 0.01
    risk_other: float = 0.10
    uses: tuple[Use, ...] = ()
    stages: tuple[AnyStage, ...] = ()
    supplies: tuple[Supply, ...] = ()


class Home(msgspec.Struct, frozen=True):
    """The house as first written down, and everything that happened since, in the order recorded."""

    house: House
    events: tuple[AnyEvent, ...] = ()
