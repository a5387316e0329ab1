"""Writes sample_data/home.json: an invented household, 27 months of it. Run: python -m tests.make_sample

All of it is made up: place, people, water, prices and mishaps. The numbers hang together (salt goes with the
regenerations, regenerations with the meter) so that the forecasts have something true to find. The demo takes the
fourteen months before today out of it (see `sample_data`), so the story has to be good whatever the season.
"""

from __future__ import annotations

import json
from datetime import date, timedelta
from math import cos, pi
from pathlib import Path
from random import Random

from model.store.migrations import SCHEMA
from tests.sample_house import DOSE_KG, GOATS_L, GREENHOUSE_L, RUN_L, START, Event, house

END = date(2026, 3, 31)
PEOPLE_L, SALT_KG_PER_CM = 640.0, 1.80
CALCITE_G_PER_M3, BED_KG_PER_CM = 92.0, 0.73


def taken(quantity: str, value: float, point: str, entered: str, **more: object) -> Event:
    return {"quantity": quantity, "value": round(value, 4), "point": point, "entered": entered, **more}


def reading(on: date, *values: object, **more: object) -> Event:
    return {"kind": "reading", "on": on, "taken": taken(*values, **more)}  # type: ignore[arg-type]


def service(on: date, task: str, used: dict[str, float], *readings: Event, note: str = "") -> Event:
    event: Event = {"kind": "service", "on": on, "task": task}
    if used:
        event["used"] = used
    if readings:
        event["taken"] = list(readings)
    if note:
        event["note"] = note
    return event


def away(day: date) -> bool:
    return day.month == 8 and 9 <= day.day <= 20


class Story:
    """The invented house, walked through day by day."""

    def __init__(self) -> None:
        self.dice = Random(8812)
        self.events: list[Event] = []
        self.meter, self.salt_cm, self.run, self.bed_cm = 1_842_300.0, 60.0, 0.0, 82.0
        self.since = {"filter": 0.0, "polish": 0.0, "ro": 0.0}
        self.membrane_days = 500

    def walk(self) -> list[Event]:
        day = START
        self.contacts(day)
        while day <= END:
            self.use(day)
            self.week(day)
            self.month(day)
            self.year(day)
            day += timedelta(days=1)
        return self.events

    def contacts(self, day: date) -> None:
        """Whom to call; all of it invented, with numbers that are kept for fiction."""
        for role, name, phone in (
            ("owner", "Dell, mobile", "555-0100"),
            ("neighbour", "Ottoline, two doors up", "555-0117"),
            ("contractor", "Larkspur Wells", "555-0142"),
            ("electrician", "Voss Electric", "555-0168"),
            ("laboratory", "Quarry Road Water Lab", "555-0125"),
            ("health", "County health office", "555-0133"),
        ):
            self.events.append({"kind": "contact", "on": day, "role": role, "name": name, "phone": phone})

    def use(self, day: date) -> None:
        """A day's water, and what it takes from salt, bed and cartridges."""
        season = 1.0 + 0.07 * cos(2 * pi * (day.timetuple().tm_yday - 200) / 365.25)
        own = PEOPLE_L * season * self.dice.lognormvariate(-0.03, 0.25)
        house = 0.0 if away(day) else own + (GREENHOUSE_L if 5 <= day.month <= 9 else 0.0)
        self.meter += house + (0.0 if away(day) else GOATS_L)
        self.run += house
        if self.run >= RUN_L:
            self.run = 0.0
            self.salt_cm -= DOSE_KG / SALT_KG_PER_CM
        self.bed_cm -= house * CALCITE_G_PER_M3 * 1.07e-6 / BED_KG_PER_CM
        for name in self.since:
            self.since[name] += house
        self.membrane_days += 1

    def week(self, day: date) -> None:
        """Sundays: the meter and a look at the lamp."""
        if day.weekday() != 6:
            return
        if away(day):
            self.events.append(service(day, "ultraviolet.glance", {}, note="the neighbour looked in"))
            return
        gallons = round(self.meter / 3.785411784)
        self.events.append(reading(day, "meter", gallons * 3.785411784, "house", f"{gallons:,} gal"))
        self.events.append(service(day, "ultraviolet.glance", {}))
        if self.salt_cm < 21.0:
            self.fill_salt(day)

    def fill_salt(self, day: date) -> None:
        bags = 3
        before, self.salt_cm = self.salt_cm, self.salt_cm + bags * 18.14 / SALT_KG_PER_CM
        self.events.append(
            service(
                day,
                "softener.refill_salt",
                {"salt": bags * 18.14},
                self.depth("salt_depth", before, "softener", "before"),
                self.depth("salt_depth", self.salt_cm, "softener", "after"),
            )
        )
        if self.dice.random() < 0.6:
            self.buy(day + timedelta(days=5), "salt", 4 * 18.14, 4 * 8.60)

    def depth(self, quantity: str, true_cm: float, stage: str, moment: str = "") -> Event:
        inches = round((true_cm + self.dice.gauss(0, 1.2)) / 2.54 * 2) / 2
        more = {"moment": moment} if moment else {}
        return taken(quantity, inches * 2.54, stage, f"{inches:g} in", **more)

    def month(self, day: date) -> None:
        """Around the fifth: the monthly round, by the one in the house who likes numbers."""
        if day.day != 5:
            return
        winter = cos(2 * pi * (day.timetuple().tm_yday - 20) / 365.25)
        spring = max(0.0, cos(2 * pi * (day.timetuple().tm_yday - 110) / 365.25))
        ph_raw = round(6.25 - 0.08 * spring + self.dice.gauss(0, 0.04), 1)
        ph_out = round(7.15 - 0.012 * (82.0 - self.bed_cm) + self.dice.gauss(0, 0.05), 1)
        celsius = 10.4 - 1.6 * winter
        fahrenheit = round(celsius * 1.8 + 32)
        self.events += [
            service(
                day,
                "neutralizer.ph_check",
                {},
                taken("pH", ph_raw, "source", f"{ph_raw:.1f}"),
                taken("pH", ph_out, "after_neutralizer", f"{ph_out:.1f}"),
            ),
            service(day, "softener.salt_check", {}, self.depth("salt_depth", self.salt_cm, "softener")),
            reading(day, "temperature", (fahrenheit - 32) / 1.8, "source", f"{fahrenheit} F"),
            self.pressure(day, "sediment_filter", self.since["filter"], 130_000.0),
            self.pressure(day, "sediment_filter_2", self.since["polish"], 320_000.0),
        ]
        if day.month != 7:
            self.events.append(self.hardness(day))
        if day.month % 2 == 0:
            self.events.append(self.nitrate_strip(day))
        self.ro(day, celsius)
        if day.month % 3 == 2:
            strip = taken("nitrate", 1.0, "ro", "<1 mg/L as N", qualifier="<")
            self.events.append(service(day, "reverse_osmosis.nitrate_check", {}, strip))
        if day.month % 4 == 1:
            depth = self.depth("bed_depth", self.bed_cm, "neutralizer")
            self.events.append(service(day, "neutralizer.bed_check", {}, depth))
        if day.month % 3 == 1:
            self.events.append(self.cycle(day))

    def cycle(self, day: date) -> Event:
        gallons = round(16.5 + self.dice.gauss(0, 0.4), 1)
        return service(
            day,
            "pressure_tank.cycle_check",
            {},
            taken("cut_in", 2.76, "pressure_tank", "40 psi"),
            taken("cut_out", 4.14, "pressure_tank", "60 psi"),
            taken("drawdown", gallons * 3.785411784, "pressure_tank", f"{gallons} gal"),
        )

    def pressure(self, day: date, stage: str, litres: float, good_for: float) -> Event:
        drop_psi = 2.0 + 9.0 * (litres / good_for) ** 1.3 + self.dice.gauss(0, 0.3)
        high, low = 52.0, round((52.0 - drop_psi) * 2) / 2
        return service(
            day,
            f"{stage}.read_drop",
            {},
            taken("pressure_in", high * 0.0689476, stage, f"{high:g} psi"),
            taken("pressure_out", low * 0.0689476, stage, f"{low:g} psi"),
        )

    def hardness(self, day: date) -> Event:
        return service(day, "softener.hardness_check", {}, taken("hardness", 8.6, "after_softener", "0.5 gpg"))

    def nitrate_strip(self, day: date) -> Event:
        leak = self.dice.choice((1.0, 2.0, 2.0))
        return service(
            day, "softener.nitrate_check", {}, taken("nitrate", leak, "after_softener", f"{leak:g} mg/L as N")
        )

    def ro(self, day: date, celsius: float) -> None:
        feed = round(262 + self.dice.gauss(0, 6))
        rejection = 0.945 - 0.00006 * self.membrane_days + self.dice.gauss(0, 0.004)
        product = round(feed * (1 - rejection))
        self.events.append(
            service(
                day,
                "reverse_osmosis.performance_check",
                {},
                taken("ro_feed_tds", feed, "reverse_osmosis", f"{feed} mg/L"),
                taken("ro_product_tds", product, "reverse_osmosis", f"{product} mg/L"),
            )
        )

    def buy(self, day: date, supply: str, quantity: float, price: float) -> None:
        if day <= END:
            self.events.append(
                {"kind": "purchase", "on": day, "supply": supply, "quantity": quantity, "price": round(price, 2)}
            )

    def year(self, day: date) -> None:
        """What happens on a day of the year, the same each year but for the mishaps."""
        calendar = {
            (1, 2): self.opening,
            (1, 18): self.frost,
            (2, 10): self.cartridges,
            (3, 12): self.lab,
            (4, 20): self.spring,
            (5, 24): self.lamp,
            (6, 21): self.ro_day,
            (7, 9): self.cartridges,
            (8, 9): self.leave,
            (9, 24): self.lab,
            (10, 17): self.bed,
            (11, 14): self.power_cut,
            (12, 6): self.cartridges,
        }
        happens = calendar.get((day.month, day.day))
        if happens is not None:
            happens(day)
        if day == date(2025, 5, 17):
            self.slip(day)

    def opening(self, day: date) -> None:
        """The round of the new year: the yearly looks, and in the first year what is done only every few years."""
        self.events += [
            service(day, "well.shut_off_drill", {}),
            service(day, "pressure_tank.switch_look", {}, note="no ants this time"),
            service(day, "softener.watch_regeneration", {}),
            service(day, "softener.drain_look", {}, note="tied the tube again"),
            service(day, "neutralizer.watch_backwash", {}),
            service(day, "pressure_tank.tank_look", {}),
            service(day, "reverse_osmosis.leak_look", {}),
            service(day, "sediment_filter.replace_o_ring", {"housing_o_ring": 1}),
            service(day, "sediment_filter_2.replace_o_ring", {"housing_o_ring": 1}),
        ]
        if day.year == START.year:
            self.events += [
                service(day, "well.lead_copper_test", {}),
                service(day, "well.mineral_test", {}),
                service(day, "well.replace_pump", {}, note="the old one drew sand"),
                service(day, "pressure_tank.replace_switch", {}),
                service(day, "pressure_tank.gauge_relief", {}),
                service(day, "softener.wash_brine_tank", {}),
                service(day, "ultraviolet.replace_sleeve", {}),
            ]

    def frost(self, day: date) -> None:
        if day.year != 2025:
            note = "drain line thawed with a towel"
            self.events.append({"kind": "incident", "on": day, "what": "frost", "note": note})
            return
        old, new = self.meter, 12.0
        self.events.append(
            {
                "kind": "meter_replaced",
                "on": day,
                "old_reading_l": round(old, 1),
                "new_reading_l": new,
                "note": "the meter's glass split in the frost",
            }
        )
        self.meter = new

    def cartridges(self, day: date) -> None:
        for stage, name, supply in (
            ("sediment_filter", "filter", "cartridge_20"),
            ("sediment_filter_2", "polish", "cartridge_5"),
        ):
            if name == "filter" or day.month == 7:
                self.events.append(service(day, f"{stage}.replace_cartridge", {supply: 1}))
                self.since[name] = 0.0
        if day.month == 7:
            self.buy(day + timedelta(days=3), "cartridge_20", 3, 41.7)

    def lab(self, day: date) -> None:
        """Raw and treated water, sampled on one day."""
        spring = day.month == 3
        nitrate = 13.6 if spring else 11.4
        raw = {
            "pH": (6.2, ""),
            "alkalinity": (38.0 if spring else 41.0, "mg/L as CaCO3"),
            "hardness": (56.0, "mg/L as CaCO3"),
            "calcium": (14.4, "mg/L"),
            "magnesium": (4.9, "mg/L"),
            "sodium": (16.5, "mg/L"),
            "chloride": (21.0, "mg/L"),
            "sulfate": (17.0, "mg/L"),
            "nitrate": (nitrate, "mg/L as N"),
            "iron": (0.09, "mg/L"),
            "manganese": (0.02, "mg/L"),
            "total_coliform": (1.0 if day.year == 2024 and not spring else 0.0, ""),
            "e_coli": (0.0, ""),
        }
        self.report(day, "source", raw)
        clean = {"total_coliform": (0.0, ""), "e_coli": (0.0, "")}
        treated = {"nitrate": (1.6, "mg/L as N"), "sodium": (86.0, "mg/L"), **clean}
        self.report(day, "tap", treated)
        self.events += [
            service(day, "well.coliform_test", {"coliform_test": 1}),
            service(day, "well.nitrate_test", {"nitrate_test": 1}),
        ]
        self.buy(day - timedelta(days=9), "coliform_test", 1, 29.0)
        self.buy(day - timedelta(days=9), "nitrate_test", 1, 23.0)

    def report(self, day: date, point: str, values: dict[str, tuple[float, str]]) -> None:
        rows = []
        for quantity, (value, unit) in values.items():
            said = ("present" if value else "absent") if "coli" in quantity else f"{value:g} {unit}".strip()
            rows.append(taken(quantity, value, point, said))
        self.events.append({"kind": "lab_report", "on": day, "point": point, "taken": rows})

    def spring(self, day: date) -> None:
        self.events += [
            service(day, "well.wellhead_walk", {}, note="moved the compost further from the casing"),
            service(day, "pressure_tank.precharge", {}, taken("precharge", 2.6, "pressure_tank", "37.7 psi")),
            service(day, "softener.clean_injector", {}, note="a little grit on the screen"),
            service(day, "softener.breakthrough_profile", {}, note="first over 5 mg/L as N after 1,450 gal"),
        ]

    def lamp(self, day: date) -> None:
        self.buy(day - timedelta(days=20), "lamp", 1, 94.0)
        self.events.append(
            service(day, "ultraviolet.replace_lamp", {"lamp": 1, "uv_o_rings": 1}, note="hour counter set to nought")
        )
        self.events.append(service(day, "ultraviolet.clean_sleeve", {}, note="vinegar, a soft cloth, rinsed twice"))

    def ro_day(self, day: date) -> None:
        self.events += [
            service(day, "reverse_osmosis.replace_prefilters", {"ro_prefilters": 1}),
            service(day, "reverse_osmosis.sanitize", {}),
            service(day, "reverse_osmosis.reservoir_air", {}),
            service(day, "reverse_osmosis.replace_postfilter", {"ro_postfilter": 1}),
        ]

    def leave(self, day: date) -> None:
        self.events.append({"kind": "absence", "on": day, "until": day + timedelta(days=11), "note": "at the coast"})

    def bed(self, day: date) -> None:
        before = self.depth("bed_depth", self.bed_cm, "neutralizer", "before")
        kg = 22.68
        self.bed_cm += kg / BED_KG_PER_CM
        after = self.depth("bed_depth", self.bed_cm, "neutralizer", "after")
        self.events.append(service(day, "neutralizer.top_up", {"calcite": kg}, before, after))
        self.buy(day - timedelta(days=12), "calcite", kg, 36.5)

    def power_cut(self, day: date) -> None:
        self.events.append(
            {
                "kind": "incident",
                "on": day,
                "what": "power cut",
                "note": "seven hours; the softener's clock lost the time and it regenerated at breakfast",
            }
        )

    def slip(self, day: date) -> None:
        """A reading typed wrongly and taken back the same day."""
        self.events.append(reading(day, "salt_depth", 101.6, "softener", "40 in"))
        self.events.append({"kind": "correction", "on": day, "voids": len(self.events), "note": "meant 14, not 40"})


def document() -> dict[str, dict[str, Event]]:
    events = sorted(Story().walk(), key=lambda event: str(event["on"]))
    rows = {str(number): {"id": number, "at": f"{e['on']}T18:00:00Z", **e} for number, e in enumerate(events, start=1)}
    for number, event in enumerate(events, start=1):
        if event["kind"] == "correction":
            rows[str(number)]["voids"] = number - 1
    return {"meta": {"1": {"schema": SCHEMA, "program": "wellward"}}, "house": {"1": house()}, "events": rows}


if __name__ == "__main__":
    target = Path(__file__).parent.parent / "sample_data" / "home.json"
    target.write_text(json.dumps(document(), default=str, indent=0, ensure_ascii=False) + "\n", encoding="utf-8")
