"""The neutralizer's bed as it dissolves: depth, pH and hardness against time, and the day the pH is too low."""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise

import msgspec

from model.errors import BadInput
from model.water.balance import hardness_mg_l_caco3
from model.water.contactor import Bed
from model.water.media import Dissolved
from model.water.neutralizing import outlet
from model.water.sample import Sample

STEPS = 30
"""Stretches of equal mass that the bed is followed through."""

LEAST_G_PER_M3 = 0.01
"""A water that takes less media than this [g/m3] leaves the bed as it is."""


class BedDay(msgspec.Struct, frozen=True, kw_only=True):
    """The bed on one day: `litres` passed the house since the start; what lies in the tank and what has dissolved
    since, by medium [kg]; the mixed water that day; `hardness_gained_kg` all of the hardness as CaCO3 gained since."""

    days: float
    litres: float
    bed_cm: float
    calcite_kg: float
    magnesia_kg: float
    calcite_dissolved_kg: float
    magnesia_dissolved_kg: float
    hardness_gained_kg: float
    pH: float
    hardness_mg_l_caco3: float


class _Media(msgspec.Struct, frozen=True):
    """Media in the tank and dissolved since the start [kg]."""

    calcite: float
    magnesia: float
    calcite_gone: float = 0.0
    magnesia_gone: float = 0.0
    hardness: float = 0.0
    litres: float = 0.0

    @property
    def both(self) -> float:
        return self.calcite + self.magnesia


@lru_cache(maxsize=16)
def bed_life(
    raw: Sample, bed: Bed, litres_per_day: float, down_to_cm: float = 10.0, backwash_loss_share: float = 0.0
) -> tuple[BedDay, ...]:
    """`bed` from today until `down_to_cm` [cm] is left of it, in steps of a thirtieth of the media.

    Each medium is followed on its own: magnesia dissolves at its own rate, so the mix changes. What dissolves in a step
    is the litres times the dose half way through it, and is exactly the hardness gained. Backwash carries off
    `backwash_loss_share` of what dissolves, 0-1, besides. A water that dissolves nothing gives one row. Raises BadInput
    for a use of 0 or less. Grain size is taken as kept up by topping up. Source: mass balance; `outlet` for the dose.
    """
    if not 0.0 < litres_per_day < 1e9:
        raise BadInput(f"{litres_per_day:g} L a day passes no bed.", "Give the house's use in litres a day.")
    media = _media(bed)
    step_kg, days = media.both / STEPS, [_day(raw, bed, media, litres_per_day)]
    while days[-1].bed_cm > down_to_cm and len(days) < 2 * STEPS:
        later = _stretch(raw, bed, media, step_kg, 1.0 + backwash_loss_share)
        if later is None:
            break
        media = later
        days.append(_day(raw, bed, media, litres_per_day))
    return tuple(days)


def day_below_ph(
    raw: Sample, bed: Bed, litres_per_day: float, floor_pH: float, backwash_loss_share: float = 0.0
) -> float | None:
    """Days until the mixed water of `bed` falls under `floor_pH`; 0 where it is under it now, None where it does not
    while a bed is left. Between the rows of `bed_life` the pH is drawn straight. Source: `bed_life`.
    """
    days = bed_life(raw, bed, litres_per_day, 0.5, backwash_loss_share)
    if days[0].pH < floor_pH:
        return 0.0
    for a, b in pairwise(days):
        if b.pH < floor_pH:
            return a.days + (b.days - a.days) * (a.pH - floor_pH) / (a.pH - b.pH)
    return None


def _media(bed: Bed) -> _Media:
    litres = bed.area_cm2 * bed.bed_cm / 1000.0
    magnesia = litres * bed.magnesia_volume_share * bed.magnesia_kg_per_l
    return _Media(litres * (1.0 - bed.magnesia_volume_share) * bed.calcite_kg_per_l, magnesia)


def _with_media(bed: Bed, media: _Media) -> Bed:
    """`bed` with what is left of its media: depth and mix follow."""
    litres = media.calcite / bed.calcite_kg_per_l + media.magnesia / bed.magnesia_kg_per_l
    share = media.magnesia / media.both if media.both > 0.0 else 0.0
    return msgspec.structs.replace(bed, bed_cm=litres * 1000.0 / bed.area_cm2, magnesia_share=share)


def _stretch(raw: Sample, bed: Bed, media: _Media, step_kg: float, per_kg: float) -> _Media | None:
    """The media once `step_kg` more has gone, by the dose half way; None where the water dissolves nothing."""
    now = outlet(raw, _with_media(bed, media))
    if now.calcite_g_per_m3 + now.magnesia_g_per_m3 < LEAST_G_PER_M3:
        return None
    middle = _used(raw, media, now, _litres_for(now, 0.5 * step_kg / per_kg), per_kg)
    half = outlet(raw, _with_media(bed, middle))
    if half.calcite_g_per_m3 + half.magnesia_g_per_m3 < LEAST_G_PER_M3:
        return None
    return _used(raw, media, half, _litres_for(half, step_kg / per_kg), per_kg)


def _litres_for(dissolved: Dissolved, kg: float) -> float:
    return kg * 1e6 / (dissolved.calcite_g_per_m3 + dissolved.magnesia_g_per_m3)


def _used(raw: Sample, media: _Media, dissolved: Dissolved, litres: float, per_kg: float) -> _Media:
    """The media after `litres` at a dose; no more of either than there is."""
    if litres * dissolved.calcite_g_per_m3 * per_kg > media.calcite * 1e6 > 0.0:
        litres = media.calcite * 1e6 / (dissolved.calcite_g_per_m3 * per_kg)
    if litres * dissolved.magnesia_g_per_m3 * per_kg > media.magnesia * 1e6 > 0.0:
        litres = media.magnesia * 1e6 / (dissolved.magnesia_g_per_m3 * per_kg)
    calcite, magnesia = (1e-6 * litres * g for g in (dissolved.calcite_g_per_m3, dissolved.magnesia_g_per_m3))
    rise = hardness_mg_l_caco3(dissolved.sample) - hardness_mg_l_caco3(raw)
    return _Media(
        max(media.calcite - per_kg * calcite, 0.0),
        max(media.magnesia - per_kg * magnesia, 0.0),
        media.calcite_gone + calcite,
        media.magnesia_gone + magnesia,
        media.hardness + 1e-6 * litres * rise,
        media.litres + litres,
    )


def _day(raw: Sample, bed: Bed, media: _Media, litres_per_day: float) -> BedDay:
    left = _with_media(bed, media)
    water = outlet(raw, left).sample
    return BedDay(
        days=media.litres / litres_per_day,
        litres=media.litres,
        bed_cm=left.bed_cm,
        calcite_kg=media.calcite,
        magnesia_kg=media.magnesia,
        calcite_dissolved_kg=media.calcite_gone,
        magnesia_dissolved_kg=media.magnesia_gone,
        hardness_gained_kg=media.hardness,
        pH=water.pH,
        hardness_mg_l_caco3=hardness_mg_l_caco3(water),
    )
