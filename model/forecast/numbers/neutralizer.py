"""The neutralizer today: what dissolves, what standing does, whether the house water keeps to the owner's floor."""

from __future__ import annotations

from model.equipment.neutralizer import Neutralizer, contact_bed, media_g_per_m3
from model.forecast.numbers.common import Numbers, outlet_of
from model.forecast.situation import Situation
from model.plan_types import Alert, Fact
from model.water.neutralizing import standing


def numbers(now: Situation, stage: Neutralizer) -> Numbers:
    """Media dissolved per m3 of house water, and the share that goes round the bed."""
    fed, out = now.carried.fed[stage.id], now.carried.treated[stage.id]
    if fed is None or out is None:
        return {"bypass_share": stage.bypass_share}
    calcite, magnesia = media_g_per_m3(stage, fed, out)
    return {"media_g_per_m3": {"calcite": calcite, "magnesia": magnesia}, "bypass_share": stage.bypass_share}


def facts(now: Situation, stage: Neutralizer, found: Numbers) -> list[Fact]:
    """The same in words."""
    media = found.get("media_g_per_m3")
    if not isinstance(media, dict):
        return []
    text = f"{media['calcite']:.0f} g calcite, {media['magnesia']:.0f} g magnesia per m3"
    return [Fact(stage=stage.id, label="Media dissolved", text=text, basis="mass balance from pH and alkalinity")]


def alerts(now: Situation, stage: Neutralizer) -> list[Alert]:
    """Water under the owner's floor, and water that stood beside magnesia."""
    return [*_under_floor(now, stage), *_stood(now, stage)]


def _under_floor(now: Situation, stage: Neutralizer) -> list[Alert]:
    out = now.carried.treated[stage.id]
    if out is None or out.pH >= stage.floor_pH:
        return []
    text = (
        f"pH {out.pH:.1f} after the neutralizer is under your floor of {stage.floor_pH:.1f}: see the bed and the valve."
    )
    return [Alert(level="warning", point=outlet_of(now, stage), text=text)]


def _stood(now: Situation, stage: Neutralizer) -> list[Alert]:
    """Magnesia goes on dissolving into standing water; how far is uncertain, and the text says so."""
    fed = now.carried.fed[stage.id]
    if fed is None or stage.magnesia_share <= 0:
        return []
    stood = standing(fed, contact_bed(stage, stage.full_bed_cm))
    return [Alert(level="note", point=outlet_of(now, stage), text=stood.text)]
