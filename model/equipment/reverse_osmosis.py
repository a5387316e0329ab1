"""The reverse-osmosis branch: prefilters, membrane, postfilter and a reservoir."""

from __future__ import annotations

from datetime import date

from model.equipment.base import Job, Stage, with_interval
from model.equipment.bounds import Months, NotNegative, Positive, Share, SomeShare
from model.equipment.relations.membrane import nitrate_passage, permeate
from model.equipment.relations.reverse_osmosis import rejection
from model.records.history import Dated, History
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
    done = history.last_done(f"{stage.id}.replace_membrane")
    return rejections_of(stage, history, done or stage.installed_on or date.min)


def rejections_of(stage: ReverseOsmosis, history: History, fitted: date) -> list[tuple[date, float]]:
    """As `rejections`, of the membrane that was fitted on a day."""
    changes = [(one.on, one.id) for one in history.services(f"{stage.id}.replace_membrane")]
    first = max((one for one in changes if one[0] <= fitted), default=(fitted, 0))
    end = min((one for one in changes if one > first), default=None)

    def own(quantity: str) -> list[Dated]:
        return [one for one in history.taken(quantity, stage.id) if _of_this(one, fitted, first, end)]

    product = {one.on: one.taken.value for one in own("ro_product_tds")}
    return [
        (one.on, min(max(rejection(one.taken.value, product[one.on]), 0.0), 1.0))
        for one in own("ro_feed_tds")
        if one.on in product and one.taken.value > 0
    ]


def _of_this(one: Dated, fitted: date, first: tuple[date, int], end: tuple[date, int] | None) -> bool:
    """Whether a reading is of the membrane fitted by one service and taken out by another: what was read before the
    work belongs to the old one."""
    place = (one.on, one.event)
    after = place > first or (place == first and one.taken.moment != "before") or first[1] == 0
    until = end is None or place < end or (place == end and one.taken.moment == "before")
    return one.on >= fitted and after and until
