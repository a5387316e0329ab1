"""The sediment filter: a cartridge that loads up with dirt."""

from __future__ import annotations

from datetime import date

from model.equipment.base import Job, Stage, Stock, with_interval
from model.equipment.evidence import Evidence
from model.equipment.relations.sediment_filter import litres_left, share_used
from model.water.sample import Sample


class SedimentFilter(Stage, frozen=True, kw_only=True, tag="sediment_filter"):
    """A cartridge housing. Drops in [bar] at one standard flow; `rated_l`: what a cartridge is good for [L]."""

    micron: float = 5.0
    size: str = ""
    rated_l: float = 100_000.0
    clean_drop_bar: float = 0.15
    change_drop_bar: float = 0.85
    cap_months: int = 6


JOBS = (
    Job(
        id="replace_cartridge",
        title="Change the sediment cartridge",
        months=6,
        parts={"cartridge": 1},
    ),
    Job(id="read_drop", title="Read the pressure drop at full flow", months=1),
    Job(
        id="replace_o_ring",
        title="Change the housing O-ring",
        months=12,
        parts={"o_ring": 1},
    ),
)

DROP_SD_BAR = 0.07
"""How well a household reads a pressure drop off two gauges [bar]. Common practice, no source."""


def jobs(stage: SedimentFilter, fed: Sample | None) -> tuple[Job, ...]:
    """The jobs of this filter, with the owner's calendar cap."""
    return with_interval(JOBS, "replace_cartridge", months=stage.cap_months)


def stocks(stage: SedimentFilter, known: Evidence) -> tuple[Stock, ...]:
    """Litres left of the cartridge: by the owner's litres, or sooner by the pressure drop read at full flow."""
    since = known.renewed(stage, "replace_cartridge")
    by_litres = Stock(
        job="replace_cartridge",
        driver="volume",
        unit="L",
        since=since,
        left=stage.rated_l,
        left_sd=0.0,
        full=stage.rated_l,
        per_litre=1.0,
        spread=0.25,
        sure="forecast",
        why=(
            f"Cartridge fitted {known.day(since)}; {known.show(known.litres(since, known.today), 'volume')} since.",
            f"Good for {known.show(stage.rated_l, 'volume')} of this water (owner's setting).",
        ),
    )
    by_drop = _by_drop(stage, known, since)
    return (by_litres,) if by_drop is None else (by_litres, by_drop)


def _by_drop(stage: SedimentFilter, known: Evidence, since: date) -> Stock | None:
    """The litres that the newest pressure drop leaves, once it has risen enough to say anything."""
    drops = _drops(stage, known, since)
    if not drops:
        return None
    on, drop_bar = drops[-1]
    used = share_used(drop_bar, stage.clean_drop_bar, stage.change_drop_bar)
    passed = known.litres(since, on)
    if used < 0.15 or passed <= 0:
        return None
    left = litres_left(passed, used)
    sd = left * DROP_SD_BAR / (stage.change_drop_bar - stage.clean_drop_bar) / used
    return Stock(
        job="replace_cartridge",
        driver="condition",
        unit="L",
        since=on,
        left=left,
        left_sd=sd,
        full=stage.rated_l,
        per_litre=1.0,
        spread=0.2,
        sure=known.sure(on),
        why=(
            f"Pressure drop {known.show(drop_bar, 'pressure')} on {known.day(on)}, "
            f"{known.show(stage.clean_drop_bar, 'pressure')} when clean.",
            f"Change at {known.show(stage.change_drop_bar, 'pressure')}: {used:.0%} of the way there after "
            f"{known.show(passed, 'volume')}.",
        ),
    )


def _drops(stage: SedimentFilter, known: Evidence, since: date) -> list[tuple[date, float]]:
    """Pressure in minus pressure out on days when both were read [bar]."""
    out = {one.on: one.taken.value for one in known.read("pressure_out", stage.id, since)}
    return [
        (one.on, max(one.taken.value - out[one.on], 0.0))
        for one in known.read("pressure_in", stage.id, since)
        if one.on in out
    ]
