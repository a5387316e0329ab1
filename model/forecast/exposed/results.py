"""What was measured: germs anywhere, nitrate at a drinking tap, nitrate in the raw water."""

from __future__ import annotations

from collections.abc import Iterator

from model.equipment.registry import title_of
from model.equipment.softener import Softener, has_anion_resin
from model.equipment.ultraviolet import Ultraviolet
from model.forecast.exposed.house import about_boiling, drinking_points, holds_nitrate, instead
from model.forecast.exposed.line import INFANTS, Line, Rank, said
from model.forecast.exposed.measured import over, told_on
from model.forecast.exposed.sensor import low_sensor
from model.forecast.numbers import ultraviolet
from model.forecast.situation import Situation
from model.forecast.words import day_in_words
from model.plan_types import Due
from model.records.bounds import for_health
from model.records.points import main_train, points_of
from model.water.limits import NITRATE_LIMIT_MG_L_N

_ORGANISMS = (("e_coli", "E. coli"), ("total_coliform", "Coliform"))


_AFTER_RESIN = "after the resin"


def germ_lines(now: Situation, due: tuple[Due, ...]) -> list[Line]:
    """Each organism at each point on its own: a positive counts until that organism is not found there."""
    drunk, lines = drinking_points(now), []
    for point, title in points_of(now.house):
        for organism, name in _ORGANISMS:
            newest = now.history.newest(organism, point)
            if newest is not None and newest.taken.value > 0:
                day = day_in_words(newest.on, now.today)
                where = drunk.get(point, "in the raw water" if point == "source" else f"at: {title}")
                lines.append(_germs(now, f"{name} found {where} on {day}", point in drunk, due))
                break
    return lines


def _germs(now: Situation, found: str, drunk: bool, due: tuple[Due, ...]) -> Line:
    if not drunk and _lamp_stands(now, due):
        return Line(Rank.GERMS_BEFORE, f"{found}: the UV unit is all that stands between.")
    rank = Rank.GERMS_DRUNK
    return Line(rank, f"{found}: {instead(now)}.", said("Call the health authority.", about_boiling(now)))


def _lamp_stands(now: Situation, due: tuple[Due, ...]) -> bool:
    """Whether a class A unit works within its rating, not bypassed, its lamp not past its date, its sensor not low."""
    late = {item.stage for item in due if item.task.endswith(".replace_lamp") and item.state == "overdue"}
    late |= set(now.bypassed)
    return any(
        stage.unit_class == "A"
        and stage.id not in late
        and low_sensor(now, stage) is None
        and not ultraviolet.numbers(now, stage).get("outside_rating")
        for stage in now.house.stages
        if isinstance(stage, Ultraviolet)
    )


def tap_nitrate_lines(now: Situation) -> list[Line]:
    """A measured nitrate at or over the limit at the tap, after the resin and not at the tap since, or at an RO tap."""
    lines, tap_on = [], told_on(now, "nitrate", ("tap",), NITRATE_LIMIT_MG_L_N)
    for points, where in _nitrate_drunk(now):
        worst = over(now, "nitrate", points, NITRATE_LIMIT_MG_L_N)
        if worst is not None and where == _AFTER_RESIN and tap_on is not None and tap_on > worst.on:
            continue  # the same water, read later and further on
        if worst is not None:
            value, day = for_health(worst.taken), day_in_words(worst.on, now.today)
            lead = f"Nitrate {value:.1f} mg/L as N {where} on {day} (limit 10): do not drink it."
            more = said(INFANTS, "Boiling would concentrate it.")
            lines.append(Line(Rank.NITRATE_DRUNK, lead, more))
    return lines


def _nitrate_drunk(now: Situation) -> Iterator[tuple[tuple[str, ...], str]]:
    """The waters people drink, each with the points at which it is read: what has passed the last resin or, without
    one, the train, comes out of the taps."""
    yield ("tap",), "at the tap"
    train = [stage.id for stage in main_train(now.house)]
    resins = [one.id for one in now.house.stages if isinstance(one, Softener) and has_anion_resin(one)]
    if resins:
        yield tuple(f"after_{stage}" for stage in train[train.index(resins[-1]) :]), _AFTER_RESIN
    for point, where in drinking_points(now).items():
        if point != "tap":
            yield (point,), where


def raw_nitrate_lines(now: Situation) -> list[Line]:
    """Raw nitrate at or over the limit, or never measured."""
    nitrate = now.planned_nitrate_mg_l_n
    if nitrate is None:
        lead = "Raw nitrate has never been measured: no infant drinks this water untested."
        return [Line(Rank.RAW_NITRATE, lead, "Have it tested.")]
    if nitrate < NITRATE_LIMIT_MG_L_N:
        return []
    reached = f"Raw nitrate has reached {nitrate:.1f} mg/L as N (limit 10)"
    away = {one.handle.stage for one in now.positions if one.away}
    every = [stage for stage in now.house.stages if holds_nitrate(stage)]
    removing = [title_of(stage) for stage in every if stage.id not in away]
    if not removing:
        return [
            Line(
                Rank.NITRATE_PASSES,
                f"{reached}: nothing {'removes it now' if every else 'here removes it'}.",
                f"Do not drink the tap water. {INFANTS}",
            )
        ]
    more = f"Only that shows that {' and '.join(removing)} hold{'s' if len(removing) == 1 else ''} it back. {INFANTS}"
    return [Line(Rank.RAW_NITRATE, f"{reached}: test the treated water.", more)]
