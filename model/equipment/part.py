"""Anything else with a life in days, litres, lit or running hours, or regenerations."""

from __future__ import annotations

from model.equipment.base import Job, Stage


class Part(Stage, frozen=True, kw_only=True, tag="part"):
    """A part with a life of its own; the first of the given lives that ends decides.

    `hours_per_day` turns `life_hours` into days. `protects_health` gives it the careful risk limit.
    """

    life_days: float | None = None
    life_l: float | None = None
    life_hours: float | None = None
    hours_per_day: float = 24.0
    life_regenerations: float | None = None
    protects_health: bool = False


JOBS = (Job(id="replace", title="Replace the part", parts={"part": 1}, basis="the life entered by the owner"),)
