"""The reverse-osmosis branch: prefilters, membrane, postfilter and a reservoir."""

from __future__ import annotations

from datetime import date
from math import sqrt

import msgspec

from model.equipment.base import Job, Stage, Stock, with_interval
from model.equipment.evidence import Evidence
from model.equipment.relations.reverse_osmosis import feed_l, rejection
from model.records.history import History
from model.water.carbonate import speciate, with_alkalinity
from model.water.sample import Sample


class ReverseOsmosis(Stage, frozen=True, kw_only=True, tag="reverse_osmosis"):
    """An RO unit under the sink.

    `rated_l_per_day` at 25 degC and `rated_bar` net pressure; `recovery`: product over feed, 0-1.
    `rejection` of dissolved solids and `nitrate_rejection`, 0-1, hold until readings say otherwise.
    `prefilter_l`: feed litres a prefilter set is good for; `replace_below_rejection`: when the membrane is done.
    """

    rated_l_per_day: float = 190.0
    rated_bar: float = 4.1
    recovery: float = 0.22
    rejection: float = 0.93
    nitrate_rejection: float = 0.85
    replace_below_rejection: float = 0.85
    prefilter_l: float = 12_000.0
    prefilter_months: int = 9
    membrane_months: int = 60
    reservoir_l: float = 10.0


JOBS = (
    Job(id="replace_prefilters", title="Change the RO prefilters", months=9, parts={"prefilters": 1}),
    Job(id="performance_check", title="Read RO solids in and out, flow and temperature", months=1),
    Job(id="nitrate_check", title="Read nitrate at the RO tap", months=1, health=True),
    Job(id="replace_postfilter", title="Change the RO postfilter", months=12, parts={"postfilter": 1}),
    Job(id="sanitize", title="Sanitize the RO unit and reservoir", months=12),
    Job(id="reservoir_air", title="Check the reservoir's air charge", months=12),
    Job(id="leak_look", title="Look over RO tubing, clips and drain", months=12, basis="from memory; owner's default"),
    Job(id="replace_membrane", title="Change the RO membrane", months=60, parts={"membrane": 1}),
    Job(id="replace_reservoir", title="Replace the RO reservoir", months=90, parts={"reservoir": 1}),
)


def jobs(stage: ReverseOsmosis, fed: Sample | None) -> tuple[Job, ...]:
    """The jobs of this unit, with the owner's calendar caps."""
    capped = with_interval(JOBS, "replace_prefilters", months=stage.prefilter_months)
    return with_interval(capped, "replace_membrane", months=stage.membrane_months)


def treat(stage: ReverseOsmosis, fed: Sample, history: History, outlet: str) -> Sample:
    """The product water: each ion passes by one minus the rejection, dissolved carbon dioxide passes whole.

    Source: carbon dioxide passes a membrane, Nebraska Extension NebGuide G1490. Rejection: newest pair of readings.
    """
    passes = 1.0 - latest_rejection(stage, history)
    thinner = msgspec.structs.replace(
        fed,
        calcium_mg_l=fed.calcium_mg_l * passes,
        magnesium_mg_l=fed.magnesium_mg_l * passes,
        sodium_mg_l=fed.sodium_mg_l * passes,
        potassium_mg_l=fed.potassium_mg_l * passes,
        chloride_mg_l=fed.chloride_mg_l * passes,
        sulfate_mg_l=fed.sulfate_mg_l * passes,
        nitrate_mg_l_n=fed.nitrate_mg_l_n * (1.0 - min(stage.nitrate_rejection, 1.0 - passes)),
        iron_mg_l=fed.iron_mg_l * passes,
        manganese_mg_l=fed.manganese_mg_l * passes,
    )
    return with_alkalinity(thinner, fed.alkalinity_mg_l_caco3 * passes, speciate(fed).co2_mg_l)


def latest_rejection(stage: ReverseOsmosis, history: History) -> float:
    """Rejection of dissolved solids by the newest pair of readings, else the owner's setting; 0-1."""
    since = history.last_done(f"{stage.id}.replace_membrane") or stage.installed_on
    pairs = [pair for pair in _pairs(stage, history) if since is None or pair[0] >= since]
    return pairs[-1][1] if pairs else stage.rejection


def _pairs(stage: ReverseOsmosis, history: History) -> list[tuple[date, float]]:
    """Rejection on days when solids were read before and after the membrane."""
    product = {one.on: one.taken.value for one in history.taken("ro_product_tds", stage.id)}
    return [
        (one.on, min(max(rejection(one.taken.value, product[one.on]), 0.0), 1.0))
        for one in history.taken("ro_feed_tds", stage.id)
        if one.on in product and one.taken.value > 0
    ]


def stocks(stage: ReverseOsmosis, known: Evidence) -> tuple[Stock, ...]:
    """Feed litres left of the prefilters, and rejection left of the membrane once its trend can be seen."""
    prefilters = _prefilters(stage, known)
    membrane = _membrane(stage, known)
    return (prefilters,) if membrane is None else (prefilters, membrane)


def _prefilters(stage: ReverseOsmosis, known: Evidence) -> Stock:
    since = known.renewed(stage, "replace_prefilters")
    feed = feed_l(known.ro_product_l_per_day(), stage.recovery)
    return Stock(
        job="replace_prefilters",
        driver="volume",
        unit="L",
        since=since,
        left=stage.prefilter_l,
        left_sd=0.0,
        full=stage.prefilter_l,
        per_day=feed,
        spread=0.3,
        sure="forecast",
        why=(
            f"Prefilters fitted {known.day(since)}.",
            f"{known.show(known.ro_product_l_per_day(), 'volume')} drawn a day at {stage.recovery:.0%} recovery: "
            f"{known.show(feed, 'volume')} of feed a day, product and reject together.",
            f"Good for {known.show(stage.prefilter_l, 'volume')} of feed (owner's setting).",
        ),
    )


def _membrane(stage: ReverseOsmosis, known: Evidence) -> Stock | None:
    """Rejection above the replacement point, falling by a straight line through the readings; None without a fall."""
    since = known.renewed(stage, "replace_membrane")
    product = {one.on: one.taken.value for one in known.read("ro_product_tds", stage.id, since)}
    pairs = [
        (one.on, rejection(one.taken.value, product[one.on]))
        for one in known.read("ro_feed_tds", stage.id, since)
        if one.on in product and one.taken.value > 0
    ]
    if len(pairs) < 4 or (pairs[-1][0] - pairs[0][0]).days < 120:
        return None
    slope, slope_sd, scatter, now = _line(pairs)
    if slope >= 0 or -slope < 1.5 * slope_sd:
        return None
    return Stock(
        job="replace_membrane",
        driver="condition",
        unit="%",
        since=pairs[-1][0],
        left=100.0 * (now - stage.replace_below_rejection),
        left_sd=100.0 * scatter,
        full=100.0 * (stage.rejection - stage.replace_below_rejection),
        per_day=-100.0 * slope,
        spread=min(slope_sd / -slope, 0.8),
        sure=known.sure(pairs[-1][0]),
        why=(
            f"Rejection {pairs[-1][1]:.0%} on {known.day(pairs[-1][0])}, "
            f"{pairs[0][1]:.0%} on {known.day(pairs[0][0])}.",
            f"Falling {-slope * 36525:.1f} points a year over {len(pairs)} readings.",
            f"Change below {stage.replace_below_rejection:.0%} (owner's setting).",
        ),
    )


def _line(pairs: list[tuple[date, float]]) -> tuple[float, float, float, float]:
    """Least squares through dated values: slope [1/day], its standard error, scatter, value on the last day."""
    days = [float((on - pairs[0][0]).days) for on, _ in pairs]
    values = [value for _, value in pairs]
    mid_day, mid_value = sum(days) / len(days), sum(values) / len(values)
    spread = sum((day - mid_day) ** 2 for day in days)
    slope = sum((day - mid_day) * (value - mid_value) for day, value in zip(days, values, strict=True)) / spread
    rest = sum((v - mid_value - slope * (d - mid_day)) ** 2 for d, v in zip(days, values, strict=True))
    scatter = sqrt(rest / (len(days) - 2))
    return slope, scatter / sqrt(spread), scatter, mid_value + slope * (days[-1] - mid_day)
