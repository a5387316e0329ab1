"""Where a quantity was read: the point of the train, or the stage, that a person means."""

from __future__ import annotations

from model.equipment.registry import KINDS, AnyStage, kind_of
from model.errors import BadInput, UnknownName
from model.home import House
from model.records.points import canonical_point, points_of
from model.records.quantities import Quantity
from model.units import echo, one_of


def place_of(house: House, quantity: Quantity, point: str | None) -> str:
    """The point, stage id or "house" under which a reading is filed.

    Args:
        house: the house as it stands.
        quantity: what was read.
        point: as typed; None or empty for the quantity's usual place.

    Raises:
        UnknownName: the house has no such point or stage.
        BadInput: the quantity is not read there, or several stages could be meant.
    """
    wanted = "_".join((point or "").casefold().replace("-", " ").replace("_", " ").split())
    if quantity.points == "house":
        return _whole_house(house, quantity, wanted)
    if quantity.kinds:
        return _stage(house, quantity, wanted).id
    return _water(house, quantity, wanted or quantity.default_point)


def _whole_house(house: House, quantity: Quantity, wanted: str) -> str:
    """A reading of the whole house taken while working on a stage is still one of the house."""
    if wanted not in {"", "house", *(stage.id.casefold() for stage in house.stages)}:
        raise BadInput(f"{quantity.title} is read for the whole house, not at {echo(wanted)}.", "Leave the point out.")
    return "house"


def _water(house: House, quantity: Quantity, wanted: str) -> str:
    ids = {point.casefold(): point for point, _ in points_of(house)}
    found = ids.get("ro" if wanted == "reverse_osmosis" else wanted)
    if found is not None:
        return canonical_point(house, found)
    now = f"Say --at {one_of([point for point, _ in points_of(house)])}."
    if any(stage.id.casefold() == wanted for stage in house.stages):
        raise BadInput(f"{quantity.title} is read in the water before or after {wanted}, not on it.", now)
    raise UnknownName(f"This home has no point {echo(wanted)}.", now)


def _stage(house: House, quantity: Quantity, wanted: str) -> AnyStage:
    fitting = [stage for stage in house.stages if kind_of(stage) in quantity.kinds]
    if not fitting:
        kinds = one_of([KINDS[kind].title.lower() for kind in quantity.kinds])
        raise UnknownName(f"This home has no {kinds} on which to read {quantity.name}.", "See House.")
    if not wanted:
        return _only(quantity, fitting)
    return _named(house, quantity, "reverse_osmosis" if wanted == "ro" else wanted, fitting)


def _only(quantity: Quantity, fitting: list[AnyStage]) -> AnyStage:
    usual = [stage for stage in fitting if kind_of(stage) == quantity.default_point] or fitting
    if len(usual) == 1:
        return usual[0]
    ids = " or ".join(f"--at {stage.id}" for stage in usual)
    raise BadInput(f"{quantity.title} can be read on {len(usual)} stages of this home.", f"Say which: {ids}.")


def _named(house: House, quantity: Quantity, wanted: str, fitting: list[AnyStage]) -> AnyStage:
    for stage in fitting:
        if stage.id.casefold() == wanted:
            return stage
    now = f"Say {' or '.join(f'--at {stage.id}' for stage in fitting)}."
    known = {stage.id.casefold() for stage in house.stages} | {point.casefold() for point, _ in points_of(house)}
    if wanted in known:
        raise BadInput(f"{quantity.title} is not read at {wanted}.", now)
    raise UnknownName(f"This home has no stage {echo(wanted)}.", now)
