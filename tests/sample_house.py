"""What stands in the invented house of the sample: its train, uses, supplies and prices, all made up."""

from __future__ import annotations

from datetime import date

START = date(2024, 1, 1)
GREENHOUSE_L, GOATS_L = 60.0, 45.0
RUN_L, DOSE_KG = 4900.0, 5.4
Event = dict[str, object]


def house() -> Event:
    """What stands there."""
    return {
        "name": "Larkspur Hollow",
        "started": START,
        "people": 5.0,
        "units": "us",
        "currency": "USD",
        "elevation_m": 340.0,
        "hose": True,
        "meter_reads": "all",
        "uses": [
            {"title": "Goats' trough", "litres_per_week": GOATS_L * 7, "point": "hose"},
            {"title": "Greenhouse", "litres_per_week": GREENHOUSE_L * 7, "months": [5, 6, 7, 8, 9]},
            {"title": "Drinking, tea and bread", "litres_per_week": 84.0, "point": "ro"},
        ],
        "stages": stages(),
        "supplies": supplies(),
    }


def stages() -> list[Event]:
    new = "2021-06-12"
    return [
        {
            "kind": "well",
            "id": "well",
            "title": "Drilled well",
            "installed_on": "2009-09-01",
            "depth_m": 61.0,
            "farmed_land": True,
            "supplies": {
                name: name
                for name in ("coliform_test", "nitrate_test", "lead_copper_test", "mineral_test", "contractor_visit")
            },
        },
        {
            "kind": "pressure_tank",
            "id": "pressure_tank",
            "installed_on": "2018-04-20",
            "volume_l": 246.0,
            "cut_in_bar": 2.76,
            "cut_out_bar": 4.14,
            "precharge_bar": 2.62,
            "supplies": {"pressure_switch": "pressure_switch", "pressure_tank": "pressure_tank"},
        },
        {
            "kind": "sediment_filter",
            "id": "sediment_filter",
            "title": "Coarse filter",
            "installed_on": new,
            "micron": 20.0,
            "size": "20 x 4.5 in",
            "rated_l": 110_000.0,
            "clean_drop_bar": 0.14,
            "change_drop_bar": 0.76,
            "supplies": {"cartridge": "cartridge_20", "o_ring": "housing_o_ring"},
        },
        {
            "kind": "neutralizer",
            "id": "neutralizer",
            "title": "Calcite tank",
            "installed_on": new,
            "tank_diameter_cm": 25.4,
            "full_bed_cm": 85.0,
            "minimum_bed_cm": 58.0,
            "magnesia_share": 0.0,
            "bypass_share": 0.1,
            "supplies": {"calcite": "calcite"},
        },
        {
            "kind": "softener",
            "id": "softener",
            "title": "Softener with nitrate resin",
            "installed_on": new,
            "cation_resin_l": 28.3,
            "anion_resin_l": 28.3,
            "anion_type": "standard",
            "control": "metered",
            "salt_dose_kg": DOSE_KG,
            "regenerate_every_l": RUN_L,
            "regenerate_every_days": 12.0,
            "salt_full_cm": 50.0,
            "salt_low_cm": 18.0,
            "supplies": {
                "salt": "salt",
                "seal_kit": "seal_kit",
                "anion_resin": "anion_resin",
                "cation_resin": "cation_resin",
            },
        },
        {
            "kind": "sediment_filter",
            "id": "sediment_filter_2",
            "title": "Fine filter before the lamp",
            "installed_on": new,
            "micron": 5.0,
            "size": "10 x 4.5 in",
            "rated_l": 260_000.0,
            "cap_months": 12,
            "supplies": {"cartridge": "cartridge_5", "o_ring": "housing_o_ring"},
        },
        {
            "kind": "ultraviolet",
            "id": "ultraviolet",
            "installed_on": new,
            "unit_class": "A",
            "rated_l_per_min": 38.0,
            "supplies": {"lamp": "lamp", "o_rings": "uv_o_rings", "sleeve": "sleeve", "ballast": "ballast"},
        },
        {
            "kind": "reverse_osmosis",
            "id": "reverse_osmosis",
            "title": "Kitchen RO",
            "installed_on": "2022-08-15",
            "prefilter_l": 18_000.0,
            "prefilter_months": 12,
            "supplies": {
                "prefilters": "ro_prefilters",
                "postfilter": "ro_postfilter",
                "membrane": "membrane",
                "reservoir": "reservoir",
            },
        },
        {
            "kind": "part",
            "id": "part",
            "title": "Battery of the leak valve",
            "installed_on": "2023-11-02",
            "life_days": 730.0,
            "supplies": {"part": "battery"},
        },
    ]


def supplies() -> list[Event]:
    rows: list[tuple[str, str, str, float, float, float, int]] = [
        ("salt", "Softener salt, evaporated pellets", "kg", 18.14, 8.4, 108.84, 1),
        ("calcite", "Calcite, 16 to 40 mesh", "kg", 22.68, 34.0, 22.68, 10),
        ("cartridge_20", "Cartridge 20 micron, 20 x 4.5 in", "each", 1, 13.9, 3, 6),
        ("cartridge_5", "Cartridge 5 micron, 10 x 4.5 in", "each", 1, 15.5, 1, 6),
        ("housing_o_ring", "Housing O-ring", "each", 1, 4.5, 2, 6),
        ("lamp", "UV lamp", "each", 1, 92.0, 0, 14),
        ("uv_o_rings", "UV O-ring pair", "each", 1, 9.0, 1, 14),
        ("sleeve", "Quartz sleeve", "each", 1, 64.0, 0, 14),
        ("ballast", "UV ballast", "each", 1, 190.0, 0, 14),
        ("ro_prefilters", "RO prefilter set", "each", 1, 36.0, 1, 7),
        ("ro_postfilter", "RO postfilter", "each", 1, 15.0, 1, 7),
        ("membrane", "RO membrane 50 gpd", "each", 1, 58.0, 0, 7),
        ("reservoir", "RO reservoir", "each", 1, 75.0, 0, 7),
        ("coliform_test", "Coliform test, county laboratory", "each", 1, 28.0, 0, 7),
        ("nitrate_test", "Nitrate test, county laboratory", "each", 1, 22.0, 0, 7),
        ("lead_copper_test", "Lead and copper test", "each", 1, 46.0, 0, 7),
        ("mineral_test", "Mineral panel", "each", 1, 120.0, 0, 7),
        ("contractor_visit", "Well contractor's visit", "each", 1, 240.0, 0, 30),
        ("pressure_switch", "Pressure switch", "each", 1, 29.0, 1, 5),
        ("pressure_tank", "Pressure tank", "each", 1, 620.0, 0, 10),
        ("seal_kit", "Valve seal kit", "each", 1, 85.0, 0, 14),
        ("anion_resin", "Anion resin", "L", 28.3, 310.0, 0, 21),
        ("cation_resin", "Softening resin", "L", 28.3, 130.0, 0, 14),
        ("battery", "Leak valve battery", "each", 1, 11.0, 0, 3),
    ]
    keys = ("id", "title", "unit", "pack", "price", "on_shelf", "lead_days")
    return [dict(zip(keys, row, strict=True)) for row in rows]
