"""What an RO unit uses up: its prefilters by the water fed to it, its membrane by the salt it lets by."""

from __future__ import annotations

from model.equipment import membrane_wear
from model.equipment.base import Stock
from model.equipment.evidence import Evidence, fitted
from model.equipment.relations.reverse_osmosis import feed_l
from model.equipment.reverse_osmosis import ReverseOsmosis


def stocks(stage: ReverseOsmosis, known: Evidence) -> tuple[Stock, ...]:
    """Feed litres left of the prefilters, and what the membrane has left of its rejection."""
    membrane = membrane_wear.stock(stage, known)
    return (_prefilters(stage, known),) if membrane is None else (_prefilters(stage, known), membrane)


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
