"""The pressure tank: holds water under air pressure so that the pump starts less often."""

from __future__ import annotations

from model.equipment.base import Job, Stage
from model.water.sample import Sample


class PressureTank(Stage, frozen=True, kw_only=True, tag="pressure_tank"):
    """A diaphragm tank and its switch. Pressures in [bar] gauge, volume in [L]."""

    volume_l: float = 300.0
    cut_in_bar: float = 2.76
    cut_out_bar: float = 4.14
    precharge_bar: float = 2.62


JOBS = (
    Job(id="cycle_check", title="Watch one pump cycle", months=3, basis="from memory; owner's default"),
    Job(id="precharge", title="Check and set the air charge", months=12),
    Job(id="switch_look", title="Look at the pressure switch", months=12, basis="from memory; owner's default"),
    Job(
        id="replace_switch",
        title="Replace the pressure switch",
        months=84,
        parts={"pressure_switch": 1},
        basis="5 to 10 years, from memory; owner's default",
    ),
    Job(id="replace_tank", title="Replace the pressure tank", months=144, parts={"pressure_tank": 1}),
)


def jobs(stage: PressureTank, fed: Sample | None) -> tuple[Job, ...]:
    """The jobs of a pressure tank."""
    return JOBS
