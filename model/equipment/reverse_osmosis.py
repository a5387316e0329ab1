"""The reverse-osmosis branch: prefilters, membrane, postfilter and a reservoir."""

from __future__ import annotations

from datetime import date
from math import sqrt

from model.equipment.base import Job, Stage, Stock, with_interval
from model.equipment.bounds import Months, NotNegative, Positive, Share, SomeShare
from model.equipment.evidence import Evidence, fitted
from model.equipment.relations.membrane import nitrate_passage, permeate
from model.equipment.relations.reverse_osmosis import feed_l, rejection
from model.records.history import History
from model.water.sample import Sample


class ReverseOsmosis(Stage, frozen=True, kw_only=True, tag="reverse_osmosis"):
    """An RO unit under the sink.

    `rated_l_per_day` at 25 degC and `rated_bar` net pressure; `recovery`: product over feed, 0-1.
    `rejection` of dissolved solids and `nitrate_rejection`, 0-1, hold until readings say otherwise.
    `prefilter_l`: feed litres a prefilter set is good for; `replace_below_rejection`: when the membrane is done.
    `feed_bar`: pressure before the membrane where no gauge was read, None for that of the pressure tank;
    `reservoir_precharge_bar`: air charge of the emptied reservoir; both [bar] gauge.
    """

    rated_l_per_day: Positive = 190.0
    rated_bar: Positive = 4.1
    recovery: SomeShare = 0.22
    rejection: Share = 0.93
    nitrate_rejection: Share = 0.85
    replace_below_rejection: Share = 0.85
    prefilter_l: Positive = 12_000.0
    prefilter_months: Months = 9
    membrane_months: Months = 60
    reservoir_l: Positive = 10.0
    feed_bar: Positive | None = None
    reservoir_precharge_bar: NotNegative = 0.5


JOBS = (
    Job(id="replace_prefilters", title="Change the RO prefilters", months=9, parts={"prefilters": 1}),
    Job(id="performance_check", title="Read RO solids in and out, flow and temperature", months=1),
    Job(id="nitrate_check", title="Read nitrate at the RO tap", months=1, health=True),
    Job(id="replace_postfilter", title="Change the RO postfilter", months=12, parts={"postfilter": 1}),
    Job(id="sanitize", title="Sanitize the RO unit and reservoir", months=12),
    Job(id="reservoir_air", title="Check the reservoir's air charge", months=12),
    Job(id="leak_look", title="Look over RO tubing, clips and drain", months=12, basis="from memory; owner's default"),
    Job(
        id="replace_tubing",
        title="Renew the RO tubing",
        months=90,
        basis="5 to 10 years, from memory; owner's default",
    ),
    Job(
        id="replace_membrane",
        title="Change the RO membrane",
        months=60,
        careful=True,
        parts={"membrane": 1},
        life_years=(2.0, 5.0),
    ),
    Job(
        id="replace_reservoir",
        title="Replace the RO reservoir",
        months=90,
        parts={"reservoir": 1},
        life_years=(5.0, 10.0),
    ),
)


def jobs(stage: ReverseOsmosis, fed: Sample | None) -> tuple[Job, ...]:
    """The jobs of this unit, with the owner's calendar caps."""
    capped = with_interval(JOBS, "replace_prefilters", months=stage.prefilter_months)
    return with_interval(capped, "replace_membrane", months=stage.membrane_months)


def treat(stage: ReverseOsmosis, fed: Sample, history: History, outlet: str) -> Sample:
    """The product water: each ion by its own passage, nitrate more than the rest, dissolved carbon dioxide whole.

    Source: see `permeate`. Rejection: newest pair of readings.
    """
    passes = 1.0 - latest_rejection(stage, history)
    return permeate(fed, passes, nitrate_passage(passes, stage.rejection, stage.nitrate_rejection))


def latest_rejection(stage: ReverseOsmosis, history: History) -> float:
    """Rejection of dissolved solids by the newest pair of readings of this membrane, else the owner's setting; 0-1."""
    pairs = rejections(stage, history)
    return pairs[-1][1] if pairs else stage.rejection


def rejections(stage: ReverseOsmosis, history: History) -> list[tuple[date, float]]:
    """Rejection on days when solids were read before and after this membrane, 0-1, oldest first."""
    task, start = f"{stage.id}.replace_membrane", stage.installed_on or date.min
    product = {one.on: one.taken.value for one in history.since_done(task, "ro_product_tds", stage.id, start)}
    return [
        (one.on, min(max(rejection(one.taken.value, product[one.on]), 0.0), 1.0))
        for one in history.since_done(task, "ro_feed_tds", stage.id, start)
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
        sure="forecast" if known.recorded(stage, "replace_prefilters") else "guess",
        why=(
            fitted("Prefilters", known, stage, "replace_prefilters"),
            f"{known.show(known.ro_product_l_per_day(), 'volume')} drawn a day at {stage.recovery:.0%} recovery: "
            f"{known.show(feed, 'volume')} of feed a day, product and reject together.",
            f"Good for {known.show(stage.prefilter_l, 'volume')} of feed (owner's setting).",
        ),
    )


def _membrane(stage: ReverseOsmosis, known: Evidence) -> Stock | None:
    """Rejection above the replacement point, falling by a straight line through the readings; None without a fall."""
    pairs = rejections(stage, known.history)
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
