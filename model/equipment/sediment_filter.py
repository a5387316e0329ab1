"""The sediment filter: a cartridge that loads up with dirt."""

from __future__ import annotations

from model.equipment.base import Job, Stage, with_interval
from model.equipment.bounds import Exponent, Months, NotNegative, Positive, rising
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
        super().__post_init__()
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


def jobs(stage: SedimentFilter, fed: Sample | None) -> tuple[Job, ...]:
    """The jobs of this filter, with the owner's calendar cap."""
    return with_interval(JOBS, "replace_cartridge", months=stage.cap_months)
