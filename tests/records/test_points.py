"""Points of the train and the one name under which a water is filed."""

from __future__ import annotations

import pytest

from model.equipment.part import Part
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.softener import Softener
from model.equipment.well import Well
from model.records.points import canonical_point, points_of
from tests.records.houses import house, two_softeners


def test_points_in_the_order_of_the_water() -> None:
    assert [point for point, _ in points_of(house(hose=True))] == [
        "source",
        "after_pressure_tank",
        "after_sediment_filter",
        "after_neutralizer",
        "after_softener",
        "after_ultraviolet",
        "tap",
        "ro",
        "hose",
    ]


def test_titles_say_what_the_tap_is() -> None:
    titles = dict(points_of(house(stages=(Softener(id="softener", title="Resin tank"),))))
    assert titles["after_softener"] == "After Resin tank"
    assert titles["tap"] == "Tap, the last of the main train (after Resin tank)"


def test_the_second_of_a_kind_has_its_own_point() -> None:
    assert [point for point, _ in points_of(two_softeners())] == ["source", "after_softener", "after_softener_2", "tap"]


def test_no_ro_and_no_hose_where_there_is_none() -> None:
    bare = house(stages=(Well(id="well"), Part(id="part")))
    assert points_of(bare) == (("source", "Source, before the train"), ("tap", "Tap, the last of the main train"))


@pytest.mark.parametrize(
    ("point", "filed"),
    [
        ("after_ultraviolet", "tap"),
        ("tap", "tap"),
        ("after_softener", "after_softener"),
        ("source", "source"),
        ("ro", "ro"),
        ("softener", "softener"),
    ],
)
def test_the_last_stage_gives_the_tap(point: str, filed: str) -> None:
    assert canonical_point(house(), point) == filed


def test_without_a_train_nothing_is_renamed() -> None:
    assert canonical_point(house(stages=()), "tap") == "tap"


def test_a_second_ro_unit_has_its_own_point() -> None:
    two = house(stages=(ReverseOsmosis(id="reverse_osmosis"), ReverseOsmosis(id="reverse_osmosis_2", title="Shed RO")))
    assert points_of(two)[2:] == (("ro", "Reverse osmosis tap"), ("reverse_osmosis_2", "Shed RO tap"))
