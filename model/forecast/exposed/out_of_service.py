"""What it means that a valve handle is not in service."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from model.equipment.neutralizer import Neutralizer
from model.equipment.part import Part
from model.equipment.registry import AnyStage, kind_of
from model.equipment.softener import Softener, has_anion_resin
from model.forecast.exposed.house import about_boiling, for_fish, for_lamp, for_ro, instead, much_nitrate, short_name
from model.forecast.exposed.line import INFANTS, Line, Rank, said
from model.forecast.situation import Situation
from model.forecast.words import day_in_words
from model.records.events import Setting
from model.records.handles import SHUT_OFF
from model.records.positions import Position
from model.water.limits import PH_LOW

_Told = Callable[[Situation, AnyStage, str], Line]


MUCH_ROUND = 0.5
"""So much of the water round the bed leaves it nearly as acid as it came. From memory; owner's default."""


def handle_lines(now: Situation) -> list[Line]:
    """One line for each handle that is out of service; a closed hose takes nothing from anyone."""
    found = [line for one in now.positions if (line := handle_line(now, one)) is not None]
    return [*found, *(_blend_line(now, one) for one in now.house.stages if _lets_much_round(now, one))]


def blend_since(now: Situation, stage: AnyStage) -> date | None:
    """The day of the last change of a neutralizer's blend, None where it was never changed."""
    path = f"stages.{stage.id}.bypass_share"
    return next((one.on for one in reversed(now.history.of(Setting)) if one.path == path), None)


def _lets_much_round(now: Situation, stage: AnyStage) -> bool:
    acid = now.source is not None and now.source.pH < PH_LOW
    return isinstance(stage, Neutralizer) and acid and stage.bypass_share >= MUCH_ROUND


def _blend_line(now: Situation, stage: AnyStage) -> Line:
    on = blend_since(now, stage)
    since = f" since {day_in_words(on, now.today)}" if on else ""
    share = f"{stage.bypass_share:.0%}" if isinstance(stage, Neutralizer) else ""
    lead = f"{short_name(stage)}: {share} goes round the bed{since}: acid water, copper and lead."
    return Line(Rank.METALS, lead, said("Drink only cold water, after the tap has run a minute.", INFANTS))


def handle_line(now: Situation, at: Position) -> Line | None:
    """What the position of a handle means; None where it means nothing for the house."""
    if not at.away:
        return None
    since = f"since {day_in_words(at.since, now.today)}" if at.since else "since a day not known"
    if at.handle.id == SHUT_OFF:
        line = Line(Rank.NOT_WORKING, f"House shut-off closed {since}: no water.", "Flush each tap when it is opened.")
    else:
        stage = now.house.stage(at.handle.stage)
        told = _OF_KIND.get(kind_of(stage)) if stage is not None else None
        if stage is None or told is None:
            return None
        line = told(now, stage, since)
    return Line(line.rank, line.lead, said(line.more, f'Written down: "{at.words}".' if at.words else ""))


def _filter(now: Situation, stage: AnyStage, since: str) -> Line:
    lead = f"{short_name(stage)} bypassed {since}: particles reach what comes after it."
    more = for_lamp(now, "Particles shade germs from the UV: do not rely on its dose.")
    return Line(Rank.DOSE_UNKNOWN if more else Rank.NOT_WORKING, lead, more)


def _neutralizer(now: Situation, stage: AnyStage, since: str) -> Line:
    lead = f"{short_name(stage)} bypassed {since}: acid water, copper and lead from pipes."
    more = said(
        "Drink only cold water, after the tap has run a minute.",
        INFANTS,
        for_ro(now, "The RO unit is fed acid water."),
        for_fish(now, "Fish: no water change from the tap; it has no buffer, and copper kills."),
    )
    return Line(Rank.METALS, lead, more)


def _softener(now: Situation, stage: AnyStage, since: str) -> Line:
    name, scale = short_name(stage), for_lamp(now, "Scale grows on the UV sleeve.")
    if isinstance(stage, Softener) and has_anion_resin(stage):
        more = said(
            INFANTS,
            "Boiling would concentrate the nitrate.",
            for_ro(now, "The RO unit gets all the nitrate, and hardness that scales it."),
            scale,
            for_fish(now),
        )
        return Line(Rank.NITRATE_PASSES, f"{name} bypassed {since}: treat as untreated for nitrate; hard water.", more)
    more = said(for_ro(now, "The RO membrane scales."), scale, for_fish(now))
    return Line(Rank.NOT_WORKING, f"{name} bypassed {since}: hard water at every tap.", more)


def _ultraviolet(now: Situation, stage: AnyStage, since: str) -> Line:
    more = said(
        "Germs may come with any rain; a clean test proves little.",
        about_boiling(now),
        "The pipes after it are to be sanitized when it is back.",
        for_ro(now, "An RO unit is no barrier to rely on against germs."),
        INFANTS,
    )
    return Line(Rank.GERMS_PASS, f"{short_name(stage)} bypassed {since}: treat as unsafe; {instead(now)}.", more)


def _reverse_osmosis(now: Situation, stage: AnyStage, since: str) -> Line:
    more = said(
        "Other taps are no substitute: raw nitrate has reached the limit." if much_nitrate(now) else "",
        "Throw away the first reservoir when it is opened.",
        INFANTS,
    )
    return Line(
        Rank.NOT_WORKING, f"{short_name(stage)} feed closed {since}: its tap gives stale water, then none.", more
    )


def _part(now: Situation, stage: AnyStage, since: str) -> Line:
    health = isinstance(stage, Part) and stage.protects_health
    lead = f"{short_name(stage)} bypassed {since}: as if it were not there."
    return Line(
        Rank.GERMS_PASS if health else Rank.NOT_WORKING, lead, f"It protects health. {INFANTS}" if health else ""
    )


_OF_KIND: dict[str, _Told] = {
    "sediment_filter": _filter,
    "neutralizer": _neutralizer,
    "softener": _softener,
    "ultraviolet": _ultraviolet,
    "reverse_osmosis": _reverse_osmosis,
    "part": _part,
}
