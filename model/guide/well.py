"""Answers about the well, its pump and the pressure tank."""

from __future__ import annotations

from model.equipment.pressure_tank import PressureTank
from model.equipment.relations.pressure_tank import recommended_precharge_bar, shortfall_share
from model.equipment.sediment_filter import SedimentFilter
from model.equipment.well import Well
from model.forecast.numbers.common import number
from model.forecast.numbers.pressure_tank import SHORT_SHARE, measured
from model.forecast.trends.drop import drops
from model.guide.answering import Answerer, of
from model.guide.own import Own, plain
from model.guide.shape import Missing, Said
from model.records.history import Dated

DOUBTED_DEPTH_M = 15.24
"""A flooded well that is shallower is presumed contaminated [m]: 50 ft. Source: US EPA Region VII, flooded wells."""

DOUBTED_YEARS = 10.0
"""A flooded well that is older is presumed contaminated [year]. Source: US EPA Region VII, flooded wells."""


@of(PressureTank)
def short_cycles(own: Own, stage: PressureTank) -> Said:
    """The draw-down measured against the one reckoned."""
    drawn = number(own.numbers(stage), "drawdown_l")
    if drawn <= 0.0:
        return Said("By the settings written down the tank gives no water between start and stop: check them in House.")
    seen = measured(own.now, stage)
    if seen is None:
        text = f"Your tank should give {own.show(drawn, 'volume')} from stop to start; what it gives was never measured"
        return Said(f"{text} since its air was last set.", (own.ask("drawdown", stage.id),))
    gave, should = own.seen(seen.read), own.show(seen.expected_l, "volume")
    short = shortfall_share(seen.read.taken.value, seen.expected_l)
    if short >= SHORT_SHARE:
        return Said(f"Most likely the tank lost air: it gave {gave}, {short:.0%} short of the {should} reckoned.")
    return Said(f"By your reading it is not the air: the tank gave {gave}, and {should} was to be expected.")


@of(PressureTank)
def air_charge(own: Own, stage: PressureTank) -> Said:
    """2 psi under the cut-in, read or set."""
    read = own.read("cut_in", stage.id)
    starts = read.taken.value if read else stage.cut_in_bar
    basis = own.seen(read) if read else f"{own.show(starts, 'pressure')} by your settings"
    text = f"{own.show(recommended_precharge_bar(starts), 'pressure')}, with the tank empty of water; never check it"
    charge = own.read("precharge", stage.id)
    last = f" Last read: {own.seen(charge)}." if charge else ""
    missing = (*own.unread("precharge", stage.id), *own.unread("cut_in", stage.id))
    return Said(f"{text} full. The pump's start: {basis}.{last}", missing)


@of(SedimentFilter)
def weak_evenings(own: Own, stage: SedimentFilter) -> Said:
    """What each filter takes of the pressure."""
    told, missing = [], []
    for one in own.all(SedimentFilter):
        read = drops(own.now, one)
        if not read:
            missing += [own.ask("pressure_in", one.id), own.ask("pressure_out", one.id)]
            continue
        took, at = own.show(read[-1].bar, "pressure"), own.show(one.change_drop_bar, "pressure")
        told.append(f"{own.name(one)} took {took} on {own.day(read[-1].on)} (change at {at})")
    text = f"First see the filters: {'; '.join(told)}." if told else "First see the filters: no drop was read yet."
    return Said(text, tuple(missing))


@of(Well)
def contractor(own: Own, stage: Well) -> Said:
    """When the contractor's look is due."""
    return Said(
        f"Once a year says one body, every ten years say others. Here: {own.last(stage, 'inspection')}, "
        f"{own.when(stage, 'inspection')}."
    )


def tastes_fine(own: Own) -> Said:
    """What the tests say that taste cannot."""
    told = [f"{name} {own.seen(one)}" for name, one in _raw_tests(own) if one is not None]
    missing = (*own.unread("nitrate", "source"), *own.unread("total_coliform", "source", "coliform, present or absent"))
    have = f"Newest of the raw water: {', '.join(told)}." if told else "No test of the raw water is on record."
    well = own.first(Well)
    tests = (("nitrate", "nitrate_test"), ("coliform", "coliform_test"))
    dates = f" Next: {', '.join(f'{name} {own.when(well, job)}' for name, job in tests)}." if well else ""
    return Said(f"Yes: neither nitrate nor germs can be tasted. {have}{dates}", missing)


def _raw_tests(own: Own) -> list[tuple[str, Dated | None]]:
    return [("nitrate", own.read("nitrate", "source")), ("coliform", own.read("total_coliform", "source"))]


@of(Well)
def flooded(own: Own, stage: Well) -> Said:
    """Whether this well is one of those presumed contaminated by a flood."""
    why = []
    if stage.depth_m is not None and stage.depth_m < DOUBTED_DEPTH_M:
        why.append(f"{stage.depth_m:.0f} m deep, under 15 m (50 ft)")
    if stage.installed_on and (own.today - stage.installed_on).days > 365.25 * DOUBTED_YEARS:
        why.append(f"from {stage.installed_on.year}, over ten years old")
    doubt = f"Yours ({' and '.join(why)}) is presumed contaminated by a flood." if why else ""
    settings = (("depth", stage.depth_m), ("year", stage.installed_on))
    missing = tuple(Missing(what=f"the well's {name}: House (7)") for name, value in settings if value is None)
    return Said(f"Leave the pump off and drink bottled water until the well was tested. {doubt}".strip(), missing)


def pump_off(own: Own) -> Said:
    """What still needs water while nobody is there."""
    hose = [plain(use.title) for use in own.house.uses if use.point == "hose" and own.today.month in use.months]
    needs = f", unless {' and '.join(hose)} must go on" if hose else ""
    away = own.absence
    if away is None:
        return Said(f"Yes{needs}. No absence is written down.", (_AWAY,))
    return Said(f"Yes{needs}. Next absence written down: {own.day(away.on)} to {own.day(away.until)}.")


_AWAY = Missing(what="days away, with the dates", command="wellward away FROM TO")


@of(SedimentFilter)
def sand(own: Own, stage: SedimentFilter) -> Said:
    """When the cartridge was last seen."""
    well = own.first(Well)
    check = f" The contractor's check: {own.last(well, 'inspection')}." if well else ""
    change = own.last(stage, "replace_cartridge")
    return Said(f"Sand comes from the well, not from the filter: call a contractor. Cartridge: {change}.{check}")


ANSWERS: dict[str, Answerer] = {
    "short_cycles": short_cycles,
    "air_charge": air_charge,
    "weak_evenings": weak_evenings,
    "contractor": contractor,
    "tastes_fine": tastes_fine,
    "flooded": flooded,
    "pump_off": pump_off,
    "sand": sand,
}
"""Question -> its answer."""
