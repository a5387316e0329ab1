"""Where the readings that a checklist asks for are taken in a home."""

from __future__ import annotations

from model.equipment.registry import AnyStage, kind_of
from model.home import House
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


def _beside(house: House, stage: AnyStage, asked: str) -> str | None:
    """The point before or after a stage; a branch takes the tap's water and gives its own."""
    train = [one.id for one in main_train(house)]
    if stage.id not in train:
        return None if kind_of(stage) == "well" else "tap" if asked == "before" else "ro"
    place = train.index(stage.id)
    if asked != "before":
        return f"after_{stage.id}"
    return f"after_{train[place - 1]}" if place else "source"
