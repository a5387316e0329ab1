"""The home: what stands there, and what happened."""

from __future__ import annotations

from datetime import date
from typing import Literal

import msgspec

from model.equipment.bounds import Days, Elevation, MonthNumber, NotNegative, People, Positive, Risk
from model.equipment.registry import AnyStage
from model.records.events import AnyEvent

ALL_MONTHS = (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12)


class Use(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A named use of water beyond what people use: [L] a week, at "tap", "ro" or "hose", in the months given."""

    title: str
    litres_per_week: NotNegative
    point: Literal["tap", "ro", "hose"] = "tap"
    months: tuple[MonthNumber, ...] = ALL_MONTHS


class Supply(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Something bought and kept on the shelf. `pack` is one pack in `unit`; `price` is for one pack.

    `on_shelf` is what lay there when the home was written down, in `unit`.
    """

    id: str
    title: str
    unit: str = "each"
    pack: Positive = 1.0
    price: NotNegative = 0.0
    price_is_default: bool = False
    on_shelf: NotNegative = 0.0
    lead_days: Days = 7


class House(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What stands there. `stages` in the order the water meets them, an RO unit as a branch off the tap.

    `peak_l_per_min`: the largest flow drawn, timed with a bucket; None to work it out from people and pump.
    `meter_reads`: whether the water meter sees "all" water or only the "house" (without the hose before the train).
    `fish`, `infant`: who else lives on this water, so that is said what a fault means for them.
    `plan_nitrate`: whether the plan stands on the "worst" raw nitrate of two years or on the "newest".
    """

    name: str
    started: date
    people: People = 2.0
    units: Literal["us", "metric"] = "us"
    currency: str = "USD"
    elevation_m: Elevation = 0.0
    hose: bool = False
    meter_reads: Literal["all", "house"] = "all"
    meter_rolls_over_at_l: Positive | None = None
    peak_l_per_min: Positive | None = None
    risk_health: Risk = 0.01
    risk_other: Risk = 0.10
    plan_nitrate: Literal["worst", "newest"] = "worst"
    fish: bool = False
    infant: bool = False
    uses: tuple[Use, ...] = ()
    stages: tuple[AnyStage, ...] = ()
    supplies: tuple[Supply, ...] = ()

    def __post_init__(self) -> None:
        if not 1900 <= self.started.year <= 2200:
            raise ValueError(f"started: {self.started} is no day on which this record can begin")

    def stage(self, stage_id: str) -> AnyStage | None:
        """What stands there under an id, None where nothing does."""
        return next((one for one in self.stages if one.id == stage_id), None)


class Home(msgspec.Struct, frozen=True):
    """The house as first written down, and everything that happened since, in the order recorded."""

    house: House
    events: tuple[AnyEvent, ...] = ()
