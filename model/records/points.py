"""The points of a train where its water can be tested, in the order the water passes them."""

from __future__ import annotations

from model.equipment.registry import KINDS, AnyStage, kind_of, title_of
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.softener import Softener
from model.home import House


def main_train(house: House) -> tuple[AnyStage, ...]:
    """The stages that the house water passes, in order: without the well, the RO branch and loose parts."""
    return tuple(one for one in house.stages if kind_of(one) != "well" and not KINDS[kind_of(one)].branch)


def points_of(house: House) -> tuple[tuple[str, str], ...]:
    """Id and title of every point: source, after each stage, tap, then RO and hose where there is one."""
    train = main_train(house)
    points = [("source", "Source, before the train")]
    points += [(f"after_{stage.id}", f"After {title_of(stage)}") for stage in train]
    points.append(("tap", f"Tap, the last of the main train{f' (after {title_of(train[-1])})' if train else ''}"))
    points += [(ro_point(one), f"{title_of(one)} tap") for one in house.stages if isinstance(one, ReverseOsmosis)]
    if house.hose:
        points.append(("hose", "Hose, before the train"))
    return tuple(points)


def ro_point(stage: ReverseOsmosis) -> str:
    """The point after an RO unit: "ro", and the stage's own id for a second unit."""
    return "ro" if stage.id == "reverse_osmosis" else stage.id


def canonical_point(house: House, point: str) -> str:
    """The one id under which a water is filed: the point after the last stage of the main train is the tap."""
    train = main_train(house)
    return "tap" if train and point == f"after_{train[-1].id}" else point


def passed_softener(house: House, point: str) -> bool:
    """Whether the water at a point of the main train has passed a softener."""
    train = main_train(house)
    resin = next((place for place, one in enumerate(train) if isinstance(one, Softener)), len(train))
    after = {canonical_point(house, f"after_{one.id}") for one in train[resin:]}
    return canonical_point(house, point) in after
