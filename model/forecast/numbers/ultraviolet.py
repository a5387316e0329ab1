"""The ultraviolet unit today: an estimate of its dose, never a claim."""

from __future__ import annotations

from typing import NamedTuple

from model.equipment.relations.lamp import (
    HARDNESS_LIMIT_MG_L_CACO3,
    IRON_LIMIT_MG_L,
    MANGANESE_LIMIT_MG_L,
    TURBIDITY_LIMIT_NTU,
    estimated_uvt_percent,
    lamp_output_share,
    output_of_rating,
    sleeve_share,
    transmittance_of_rating,
)
from model.equipment.relations.peak_flow import peak_l_per_min
from model.equipment.relations.ultraviolet import dose_mj_cm2, log_inactivation
from model.equipment.ultraviolet import Ultraviolet
from model.equipment.well import Well
from model.forecast.numbers.common import Numbers, in_water, inlet_of, newest, outlet_of
from model.forecast.situation import Situation
from model.plan_types import Alert, Fact
from model.water.balance import hardness_mg_l_caco3

LIMITS: tuple[tuple[str, str, float, str, str], ...] = (
    ("hardness", "hardness", HARDNESS_LIMIT_MG_L_CACO3, "mg/L as CaCO3", "scale on the sleeve"),
    ("iron", "iron", IRON_LIMIT_MG_L, "mg/L", "stains the sleeve and takes up the light"),
    ("manganese", "manganese", MANGANESE_LIMIT_MG_L, "mg/L", "stains the sleeve"),
    ("turbidity", "turbidity", TURBIDITY_LIMIT_NTU, "NTU", "particles shade germs"),
)
"""Quantity, its name, most a lamp may be fed, unit, and why. Common practice, no source."""


class Light(NamedTuple):
    """Peak flow [L/min]; light left of the lamp, sleeve and water, against the rating [0-1]; transmittance [%] and
    whether it was measured; dose [mJ/cm2]; why the unit is outside its rating (empty: it is not); lit hours [h]."""

    peak_l_per_min: float
    lamp: float
    sleeve: float
    water: float
    uvt_percent: float
    uvt_from: str
    dose_mj_cm2: float
    outside: tuple[str, ...]
    lit_h: float


def light(now: Situation, stage: Ultraviolet) -> Light:
    """What the lamp gives the water at the peak flow of this house."""
    fed, peak = feed(now, stage), house_peak_l_per_min(now)
    lit_h = max(stage.lamp_life_h - now.stocks[stage.id][0].left, 0.0)
    end = stage.lamp_end_output_share
    output = lamp_output_share(lit_h, stage.lamp_life_h, end)
    lamp = output_of_rating(output, end, rated_at_end_of_life=stage.rating_lamp == "end_of_life")
    sleeve = sleeve_share(
        _days_dirty(now, stage),
        fed.get("hardness", 0.0),
        fed.get("iron", 0.0),
        fed.get("manganese", 0.0),
        stage.sleeve_loss_share_per_month,
    )
    uvt, uvt_from = _transmittance(now, stage, fed)
    water = transmittance_of_rating(uvt, stage.rated_uvt_percent)
    dose = dose_mj_cm2(stage.rated_dose_mj_cm2, stage.rated_l_per_min, peak, lamp, sleeve * water)
    outside = _outside(now, stage, peak, uvt, lit_h)
    return Light(peak, lamp, sleeve, water, uvt, uvt_from, dose, outside, lit_h)


MOST_TURBIDITY_NTU = 1.0
"""Turbidity a unit may be fed [NTU]. Common practice, no source."""


def house_peak_l_per_min(now: Situation) -> float:
    """The owner's peak flow, else by people and pump [L/min]."""
    if now.house.peak_l_per_min is not None:
        return now.house.peak_l_per_min
    pump = next((one.pump_l_per_min for one in now.house.stages if isinstance(one, Well)), None)
    return peak_l_per_min(now.house.people, pump)


def feed(now: Situation, stage: Ultraviolet) -> dict[str, float]:
    """Water at the unit's own inlet: measured there, else the raw water carried to it; turbidity only where read."""
    found: dict[str, float] = {}
    sample = now.carried.fed[stage.id]
    if sample is not None:
        found = {
            "hardness": hardness_mg_l_caco3(sample),
            "iron": sample.iron_mg_l,
            "manganese": sample.manganese_mg_l,
            "nitrate": sample.nitrate_mg_l_n,
        }
    for quantity in ("hardness", "iron", "manganese", "turbidity"):
        points = (inlet_of(now, stage), outlet_of(now, stage))
        # Nothing in the train is reckoned to clear cloudy water: what was read of the raw water counts.
        read = newest(now, quantity, (*points, "source") if quantity == "turbidity" else points)
        if read is not None:
            found[quantity] = in_water(read)
    return found


def _days_dirty(now: Situation, stage: Ultraviolet) -> float:
    jobs = ("clean_sleeve", "replace_sleeve", "replace_lamp")
    cleaned = max((now.known.renewed(stage, job) for job in jobs), default=now.today)
    return max((now.today - cleaned).days, 0)


def _transmittance(now: Situation, stage: Ultraviolet, fed: dict[str, float]) -> tuple[float, str]:
    read = newest(now, "uv_transmittance", (inlet_of(now, stage), outlet_of(now, stage), stage.id))
    if read is not None:
        return read.taken.value, f"measured {now.known.day(read.on)}"
    estimate = estimated_uvt_percent(fed.get("iron", 0.0), fed.get("nitrate", 0.0))
    raw = now.history.newest("uv_transmittance", "source")
    if raw is not None and raw.taken.value < estimate:
        return raw.taken.value, f"of the raw water, {now.known.day(raw.on)}: nothing here is reckoned to raise it"
    return estimate, "estimated from iron and nitrate" if fed else "a guess: the water is not known"


def _outside(now: Situation, stage: Ultraviolet, peak: float, uvt: float, lit_h: float) -> tuple[str, ...]:
    show = now.known.show
    found = []
    if peak > stage.rated_l_per_min:
        found.append(f"peak flow {show(peak, 'flow')} over the rated {show(stage.rated_l_per_min, 'flow')}")
    if uvt < stage.rated_uvt_percent:
        found.append(f"transmittance {uvt:.0f} % under the rated {stage.rated_uvt_percent:.0f} %")
    turbidity = feed(now, stage).get("turbidity", 0.0)
    if turbidity > MOST_TURBIDITY_NTU:
        found.append(f"turbidity {turbidity:g} NTU over {MOST_TURBIDITY_NTU:g}: particles shield germs")
    if lit_h > stage.lamp_life_h:
        found.append(f"lamp {lit_h:,.0f} h lit, past its life of {stage.lamp_life_h:,.0f} h")
    return tuple(found)


def numbers(now: Situation, stage: Ultraviolet) -> Numbers:
    """`outside_rating` (the reasons, first of all), the estimated dose, and log figures only where they may stand.

    Logs are given for class A within its rating: the credit belongs to the range that was tested.
    """
    seen = light(now, stage)
    found: Numbers = {"outside_rating": list(seen.outside)} if seen.outside else {}
    found["dose_mj_cm2"] = seen.dose_mj_cm2
    if stage.unit_class == "A" and not seen.outside:
        found["log_inactivation"] = log_inactivation(seen.dose_mj_cm2)
    return found


def facts(now: Situation, stage: Ultraviolet, found: Numbers) -> list[Fact]:
    """Dose, what it inactivates, and what the dose rests on."""
    seen, show = light(now, stage), now.known.show
    outside = f"outside its rating ({'; '.join(seen.outside)}): no proof of anything, perhaps " if seen.outside else ""
    aged = "ageing is counted" if stage.rating_lamp == "new" else "ageing is in the rating"
    rated = f"an estimate, not a test; rated for {'a new' if stage.rating_lamp == 'new' else 'an old'} lamp, so {aged}"
    text = f"{outside}{'' if outside else 'about '}{seen.dose_mj_cm2:.0f} mJ/cm² at {show(seen.peak_l_per_min, 'flow')}"
    measured = now.house.peak_l_per_min is not None
    peak = "entered by the owner" if measured else "from people and pump, from memory; owner's default"
    left = f"lamp {seen.lamp:.0%} after {seen.lit_h:,.0f} h, sleeve {seen.sleeve:.0%}, water {seen.water:.0%}"
    water = f"transmittance {seen.uvt_percent:.0f} %, {seen.uvt_from}; sleeve from memory, owner's default"
    return [
        Fact(stage=stage.id, label="Dose", text=text, basis=rated),
        Fact(stage=stage.id, label="Inactivation", text=_logs(stage, found), basis="US EPA 2006, last step reached"),
        Fact(stage=stage.id, label="Light left", text=left, basis=water),
        Fact(stage=stage.id, label="Peak flow", text=show(seen.peak_l_per_min, "flow"), basis=peak),
    ]


def _logs(stage: Ultraviolet, found: Numbers) -> str:
    logs = found.get("log_inactivation")
    if isinstance(logs, dict):
        shown = ", ".join(f"{organism.capitalize()} {value:g}" for organism, value in logs.items())
        return f"{shown} log, if all is as reckoned"
    if stage.unit_class == "A":
        return "no log figures outside the rating"
    if stage.unit_class == "B":
        return "class B only supplements water already safe: no log figures"
    return "class not known: no log figures; look on the plate"


def alerts(now: Situation, stage: Ultraviolet) -> list[Alert]:
    """Outside its rating, and water at its own inlet that a lamp should not be fed."""
    found, fed = [], feed(now, stage)
    outside = light(now, stage).outside
    if outside:
        text = f"Ultraviolet outside its rating: {'; '.join(outside)}. Do not count on it; its maker's plate decides."
        found.append(Alert(level="warning", point=outlet_of(now, stage), text=text))
    for quantity, name, most, unit, why in LIMITS:
        if fed.get(quantity, 0.0) > most:
            text = (
                f"Water to the ultraviolet unit: {name} {fed[quantity]:.3g} {unit}, over {most:g} (common practice, no "
                f"source): {why}. Treat it before the lamp, or ask the unit's maker."
            )
            found.append(Alert(level="warning", point=inlet_of(now, stage), text=text))
    return found
