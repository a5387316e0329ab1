"""Pressure lost across a tank of media, against what it used to lose."""

from __future__ import annotations

from model.equipment.neutralizer import Neutralizer
from model.equipment.registry import AnyStage
from model.equipment.softener import Softener
from model.findings.readings import newest_first, rests
from model.findings.shape import Raised
from model.forecast.situation import Situation
from model.records.history import Dated
from model.records.likeness import median
from model.unit_tables import PSI_BAR

RISEN_BAR = 5.0 * PSI_BAR
"""So much more than usual is told [bar]: 5 psi. Common practice, no source."""

HIGH_BAR = 10.0 * PSI_BAR
"""So much is too much where no usual drop is known [bar]: 10 psi; a clean tank takes 1 to 5. From memory; owner's
default."""

LOWEST = 3

Drop = tuple[Dated, Dated]


def bed_drop(now: Situation, stage: Neutralizer) -> Raised | None:
    """The bed takes more pressure than it used to."""
    return _risen(now, stage, "the bed is packed, or holds fines or iron")


def resin_drop(now: Situation, stage: Softener) -> Raised | None:
    """The resin tank takes more pressure than it used to."""
    return _risen(now, stage, "the resin is packed, or its screens are clogged")


def _risen(now: Situation, stage: AnyStage, meaning: str) -> Raised | None:
    drops = _drops(now, stage)
    if not drops:
        return None
    last, usual = _bar(drops[0]), _usual([_bar(one) for one in drops[1:]])
    if last < HIGH_BAR and (usual is None or last - usual < RISEN_BAR):
        return None
    show = now.known.show
    before = f", {show(max(usual, 0.0), 'pressure')} usually" if usual is not None else ""
    text = f"Pressure drop {show(last, 'pressure')} on {now.known.day(drops[0][0].on)}{before}: {meaning}."
    return Raised("warning", text, rests(now, *drops[0]))


def _usual(earlier: list[float]) -> float | None:
    """What the tank takes while clean: the middle of the three lowest, so that one read without flow spoils nothing."""
    return median(sorted(earlier)[:LOWEST]) if earlier else None


def _bar(drop: Drop) -> float:
    return drop[0].taken.value - drop[1].taken.value


def _drops(now: Situation, stage: AnyStage) -> list[Drop]:
    """The pairs of gauges read together, the newest first."""
    lows = {(one.on, one.taken.moment): one for one in newest_first(now, "pressure_out", (stage.id,))}
    highs = newest_first(now, "pressure_in", (stage.id,)) if lows else ()
    return [(high, low) for high in highs if (low := lows.pop((high.on, high.taken.moment), None)) is not None]
