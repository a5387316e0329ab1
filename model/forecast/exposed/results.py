"""What was measured: germs anywhere, nitrate at a drinking tap, nitrate in the raw water."""

from __future__ import annotations

from model.equipment.registry import title_of
from model.equipment.ultraviolet import Ultraviolet
from model.forecast.exposed.house import about_boiling, drinking_points, holds_nitrate, instead
from model.forecast.exposed.line import INFANTS, Line, Rank, said
from model.forecast.numbers import ultraviolet
from model.forecast.situation import Situation
from model.forecast.words import day_in_words
from model.plan_types import Due
from model.records.bounds import for_health
from model.records.points import points_of
from model.water.limits import NITRATE_LIMIT_MG_L_N

_ORGANISMS = (("e_coli", "E. coli"), ("total_coliform", "Coliform"))


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
    """Whether a class A unit works within its rating, not bypassed, with a lamp that is not past its date."""
    late = {item.stage for item in due if item.task.endswith(".replace_lamp") and item.state == "overdue"}
    late |= set(now.bypassed)
    return any(
        stage.unit_class == "A" and stage.id not in late and not ultraviolet.numbers(now, stage).get("outside_rating")
        for stage in now.house.stages
        if isinstance(stage, Ultraviolet)
    )


def tap_nitrate_lines(now: Situation) -> list[Line]:
    """A measured nitrate at or over the limit at a drinking tap, that of every RO unit too."""
    lines = []
    for point, where in drinking_points(now).items():
        newest = now.history.newest("nitrate", point)
        if newest is not None and newest.taken.qualifier != "<" and for_health(newest.taken) >= NITRATE_LIMIT_MG_L_N:
            value, day = for_health(newest.taken), day_in_words(newest.on, now.today)
            lead = f"Nitrate {value:.1f} mg/L as N {where} on {day} (limit 10): do not drink it."
            lines.append(Line(Rank.NITRATE_DRUNK, lead, INFANTS))
    return lines


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
