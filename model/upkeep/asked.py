"""Where and how the readings that a checklist asks for are taken in a home."""

from __future__ import annotations

import msgspec

from model.equipment.registry import AnyStage, kind_of
from model.equipment.softener import Softener
from model.home import House
from model.records.events import Taken
from model.records.points import main_train
from model.records.quantities import QUANTITIES
from model.upkeep.checklist import ReadingAsk


def point_asked(house: House, stage: AnyStage, ask: ReadingAsk) -> str | None:
    """The point or stage that a checklist of a stage means; None for the quantity's usual place."""
    quantity = QUANTITIES[ask.quantity]
    if quantity.points == "house":
        return None
    if quantity.kinds:
        return stage.id if kind_of(stage) in quantity.kinds else None
    if ask.point in ("source", "tap", "ro"):
        return ask.point
    return _beside(house, stage, ask.point)


def as_asked(stage: AnyStage, ask: ReadingAsk, taken: Taken) -> Taken:
    """The reading with what the checklist says of it: whether the water stood, and how far the resin was in its run.

    The part of the run is told as water [L] only where the softener's meter setting is known.
    """
    run_l = stage.regenerate_every_l if isinstance(stage, Softener) and ask.run_percent is not None else None
    if run_l is not None and ask.run_percent is not None:
        taken = msgspec.structs.replace(taken, since_regeneration_l=run_l * ask.run_percent / 100.0)
    return msgspec.structs.replace(taken, state=ask.state) if ask.state else taken


def _beside(house: House, stage: AnyStage, asked: str) -> str | None:
    """The point before or after a stage; a branch takes the tap's water and gives its own."""
    train = [one.id for one in main_train(house)]
    if stage.id not in train:
        return None if kind_of(stage) == "well" else "tap" if asked == "before" else "ro"
    place = train.index(stage.id)
    if asked != "before":
        return f"after_{stage.id}"
    return f"after_{train[place - 1]}" if place else "source"
