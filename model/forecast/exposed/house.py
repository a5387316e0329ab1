"""What the lines ask of the house: short names of its stages, who drinks there, what to drink instead."""

from __future__ import annotations

from model.equipment.registry import AnyStage, kind_of, title_of
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.softener import Softener, has_anion_resin
from model.equipment.ultraviolet import Ultraviolet
from model.forecast.exposed.line import FISH
from model.forecast.situation import Situation
from model.records.points import ro_point
from model.water.limits import NITRATE_LIMIT_MG_L_N

_SHORT = {
    "ultraviolet": "UV",
    "softener": "Softener",
    "neutralizer": "Neutralizer",
    "sediment_filter": "Filter",
    "reverse_osmosis": "RO",
}


def short_name(stage: AnyStage) -> str:
    """A stage in a word or two, with its number from the second on: "Softener", "RO 2"; a part by its title."""
    kind = kind_of(stage)
    number = stage.id.removeprefix(f"{kind}_")
    return f"{_SHORT[kind]} {number}" if number.isdigit() and kind in _SHORT else _SHORT.get(kind, title_of(stage)[:30])


def drinking_points(now: Situation) -> dict[str, str]:
    """The points where people drink, each with its words: "at the tap", "at the RO tap", "at the RO 2 tap"."""
    units = [one for one in now.house.stages if isinstance(one, ReverseOsmosis)]
    return {"tap": "at the tap", "ro": "at the RO tap"} | {
        ro_point(one): f"at the {short_name(one)} tap" for one in units
    }


def much_nitrate(now: Situation) -> bool:
    """Whether the raw nitrate that is planned on reaches the limit."""
    return (now.planned_nitrate_mg_l_n or 0.0) >= NITRATE_LIMIT_MG_L_N


def little_nitrate(now: Situation) -> bool:
    """Whether raw nitrate was measured and stays under the owner's action level, so that water may be boiled."""
    planned = now.planned_nitrate_mg_l_n
    return planned is not None and planned < min(now.nitrate_action_mg_l_n(), NITRATE_LIMIT_MG_L_N)


def instead(now: Situation) -> str:
    """What to drink where germs may be in the water: boiled only where raw nitrate is known to be low."""
    return "boil what is drunk" if little_nitrate(now) else "drink bottled water"


def about_boiling(now: Situation) -> str:
    """What boiling does to the nitrate, and whether that was ever measured."""
    if now.planned_nitrate_mg_l_n is None:
        return "Boiling does not remove nitrate, which was never measured here."
    if little_nitrate(now):
        return "Boiling does not remove nitrate."
    return "Boiling would concentrate the nitrate."


def meanwhile(now: Situation) -> str:
    """What to drink until germs are gone and why, in one sentence."""
    why = about_boiling(now).removesuffix(".")
    return f"Meanwhile {instead(now)} ({why[0].lower()}{why[1:]})."


def for_fish(now: Situation, words: str = FISH) -> str:
    """The words where fish live here."""
    return words if now.house.fish else ""


def for_ro(now: Situation, words: str) -> str:
    """The words where there is an RO unit."""
    return words if any(isinstance(one, ReverseOsmosis) for one in now.house.stages) else ""


def for_lamp(now: Situation, words: str) -> str:
    """The words where there is a UV unit."""
    return words if any(isinstance(one, Ultraviolet) for one in now.house.stages) else ""


def holds_nitrate(stage: AnyStage) -> bool:
    """Whether a stage takes nitrate out while it works."""
    return isinstance(stage, ReverseOsmosis) or (isinstance(stage, Softener) and has_anion_resin(stage))
