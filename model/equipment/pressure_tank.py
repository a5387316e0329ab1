"""The pressure tank: holds water under air pressure so that the pump starts less often."""

from __future__ import annotations

from model.equipment.base import Job, Stage
from model.equipment.bounds import NotNegative, Positive, rising
from model.water.sample import Sample


class PressureTank(Stage, frozen=True, kw_only=True, tag="pressure_tank"):
    """A diaphragm tank and its switch. Pressures in [bar] gauge, volume in [L]."""

    volume_l: Positive = 300.0
    cut_in_bar: NotNegative = 2.76
    cut_out_bar: Positive = 4.14
    precharge_bar: NotNegative = 2.62

    def __post_init__(self) -> None:
        super().__post_init__()
        rising("cut_in_bar and cut_out_bar", self.cut_in_bar, self.cut_out_bar)


JOBS = (
    Job(id="cycle_check", title="Watch one pump cycle", months=3, basis="from memory; owner's default"),
    Job(id="precharge", title="Check and set the air charge", months=12),
    Job(id="switch_look", title="Look at the pressure switch", months=12, basis="from memory; owner's default"),
    Job(id="tank_look", title="Look the tank over and tap it", months=12, basis="from memory; owner's default"),
    Job(
        id="gauge_relief",
        title="Compare the gauge, move relief valve and drain cock",
        months=36,
        basis="every few years, from memory; owner's default",
    ),
    Job(
        id="replace_switch",
        title="Replace the pressure switch",
        months=84,
        parts={"pressure_switch": 1},
        basis="5 to 10 years, from memory; owner's default",
        life_years=(5.0, 10.0),
    ),
    Job(
        id="replace_tank",
        title="Replace the pressure tank",
        months=144,
        parts={"pressure_tank": 1},
        life_years=(8.0, 15.0),
    ),
)


def jobs(stage: PressureTank, fed: Sample | None) -> tuple[Job, ...]:
    """The jobs of a pressure tank."""
    return JOBS
