"""The sediment filter: a cartridge that loads up with dirt."""

from __future__ import annotations

from model.equipment.base import Job, Stage


class SedimentFilter(Stage, frozen=True, kw_only=True, tag="sediment_filter"):
    """A cartridge housing. Drops in [bar] at the owner's standard flow; `rated_l` is the owner's litres per cartridge."""

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
