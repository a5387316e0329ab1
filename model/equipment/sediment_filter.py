"""The sediment filter: a cartridge that loads up with dirt."""

from __future__ import annotations

from datetime import date

from model.equipment.base import Job, Stage, Stock, with_interval
from model.equipment.bounds import Exponent, Months, NotNegative, Positive, rising
from model.equipment.evidence import Evidence, fitted
from model.equipment.relations.sediment_filter import litres_left, rise_share, share_used
from model.water.sample import Sample


class SedimentFilter(Stage, frozen=True, kw_only=True, tag="sediment_filter"):
    """A cartridge housing. Drops in [bar] at one standard flow; `rated_l`: what a cartridge is good for [L].

    `drop_flow_l_per_min`: that flow [L/min], None for one tap fully open. `drop_exponent`: how much faster the drop
    rises as the cartridge fills, 1 for a straight line; owner's default.
    """

    micron: Positive = 5.0
    size: str = ""
    rated_l: Positive = 100_000.0
    clean_drop_bar: NotNegative = 0.15
    change_drop_bar: Positive = 0.85
    cap_months: Months = 6
    drop_flow_l_per_min: Positive | None = None
    drop_exponent: Exponent = 1.5

    def __post_init__(self) -> None:
        rising("clean_drop_bar and change_drop_bar", self.clean_drop_bar, self.change_drop_bar)


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

LEAST_RISE_SHARE = 0.15
"""A drop that rose less than this share says nothing yet. Owner's default."""

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
        sure="forecast" if known.recorded(stage, "replace_cartridge") else "guess",
        why=(
            fitted("Cartridge", known, stage, "replace_cartridge"),
            f"{known.show(known.litres(since, known.today), 'volume')} since then.",
            f"Good for {known.show(stage.rated_l, 'volume')} of this water (owner's setting).",
        ),
    )
    by_drop = _by_drop(stage, known, since)
    return (by_litres,) if by_drop is None else (by_litres, by_drop)


def _by_drop(stage: SedimentFilter, known: Evidence, since: date) -> Stock | None:
    """The litres that the newest pressure drop leaves, once it has risen enough to say anything."""
    drops = _drops(stage, known)
    if not drops:
        return None
    on, drop_bar = drops[-1]
    risen = rise_share(drop_bar, stage.clean_drop_bar, stage.change_drop_bar)
    passed = known.litres(since, on)
    if risen < LEAST_RISE_SHARE or passed <= 0:
        return None
    used = share_used(drop_bar, stage.clean_drop_bar, stage.change_drop_bar, stage.drop_exponent)
    left = litres_left(passed, used)
    # What the reading may be off, carried through passed (1 / used - 1).
    off = DROP_SD_BAR / (stage.change_drop_bar - stage.clean_drop_bar)
    sd = passed / used * off / (stage.drop_exponent * risen)
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
            f"Change at {known.show(stage.change_drop_bar, 'pressure')}: {risen:.0%} of the rise, and {used:.0%} of "
            f"the water by a drop that steepens, after {known.show(passed, 'volume')}.",
            *_at_flow(stage, known),
        ),
    )


def _at_flow(stage: SedimentFilter, known: Evidence) -> tuple[str, ...]:
    if stage.drop_flow_l_per_min is None:
        return ()
    return (f"Drops hold at {known.show(stage.drop_flow_l_per_min, 'flow')} only: read them at that flow.",)


def _drops(stage: SedimentFilter, known: Evidence) -> list[tuple[date, float]]:
    """Pressure in minus pressure out on days when both were read on this cartridge [bar]."""
    out = {one.on: one.taken.value for one in known.read(stage, "pressure_out", "replace_cartridge")}
    return [
        (one.on, max(one.taken.value - out[one.on], 0.0))
        for one in known.read(stage, "pressure_in", "replace_cartridge")
        if one.on in out
    ]
