"""Answers for those who keep fish."""

from __future__ import annotations

from model.errors import BadInput
from model.guide.answering import Answerer
from model.guide.own import Own, plain
from model.guide.shape import Missing, Said
from model.plan_types import PointWater
from model.unit_tables import DH_MG_L
from model.water.limits import nitrate_mg_l_n
from model.water.mixes import blend_for_hardness
from model.water.sample import Sample

WANTED_DH = 6.0
"""General hardness that the question asks for [dH]."""

KEEPERS_MG_L_NO3 = 40.0
"""Nitrate in the source that the question starts from [mg/L as NO3]."""

_HARD = 1.0
"""Two waters closer than this in hardness [dH] are no pair to mix. Owner's default."""


def no3(nitrate: float) -> float:
    """Nitrate as fish keepers' kits say it [mg/L as NO3], from mg/L as N. Source: see `nitrate_mg_l_n`."""
    return nitrate / nitrate_mg_l_n(1.0, "NO3")


def named(point: PointWater) -> str:
    """A point inside a sentence: "after Calcite tank", "at Kitchen RO tap"."""
    title = plain(point.title)
    return title[0].lower() + title[1:] if point.point.startswith("after_") else f"at: {title}"


def _dh(point: PointWater) -> float:
    return (point.hardness_mg_l_caco3 or 0.0) / DH_MG_L


def _known(own: Own) -> list[tuple[PointWater, Sample]]:
    """The waters that can be drawn or taken from the train, distinct points with a known sample."""
    return [(one, one.sample) for one in own.plan.points if one.sample is not None and one.point != "hose"]


def softened(own: Own) -> Said:
    """Hardness, alkalinity and sodium before and at the tap."""
    waters = _known(own)
    tap = own.water("tap")
    if tap is None or tap.sample is None or not waters:
        return own.unknown_water()
    hardest = max((point for point, _ in waters), key=_dh)
    soft = f"the tap has {_dh(tap):.1f} dH (GH), KH {tap.sample.alkalinity_mg_l_caco3 / DH_MG_L:.1f}"
    text = f"Unsoftened, or RO with minerals: {soft} and {tap.sample.sodium_mg_l:.0f} mg/L of sodium"
    where = f"; the hardest water here, {named(hardest)}, {_dh(hardest):.1f} dH" if _dh(hardest) > _dh(tap) else ""
    return Said(own.dated(f"{text}{where}."), own.unread("hardness", "tap"))


def nitrate_40(own: Own) -> Said:
    """The sources here as NO3."""
    read = [(name, own.water(point)) for name, point in (("raw", "source"), ("tap", "tap"), ("RO tap", "ro"))]
    told = [f"{name} {no3(one.sample.nitrate_mg_l_n):.0f}" for name, one in read if one and one.sample]
    forty = nitrate_mg_l_n(KEEPERS_MG_L_NO3, "NO3")
    missing = (*own.unread("nitrate", "source"), *own.unread("nitrate", "tap"))
    if not told or own.read("nitrate") is None:
        return Said(f"A change cannot go below its source; 40 as NO3 is {forty:.1f} as N.", missing)
    return Said(f"A change cannot go below its source. Yours, mg/L as NO3: {', '.join(told)}.", missing)


def pH_jumps(own: Own) -> Said:
    """Fresh and aerated pH at the tap."""
    tap = own.water("tap")
    if tap is None or tap.sample is None or tap.aerated_pH is None or tap.co2_mg_l is None:
        return own.unknown_water()
    fresh = f"Your tap water comes with {tap.co2_mg_l:.0f} mg/L of carbon dioxide at pH {tap.sample.pH:.1f}"
    text = f"{fresh}; in air it goes to about {tap.aerated_pH:.1f} in a day."
    return Said(own.dated(text), own.unread("pH", "tap"))


def mix_6_dh(own: Own) -> Said:
    """Parts of the hardest and the softest water here."""
    waters = _known(own)
    if not waters:
        return own.unknown_water()
    hard, soft = (pick((pair for pair in waters), key=lambda pair: _dh(pair[0])) for pick in (max, min))
    if _dh(hard[0]) - _dh(soft[0]) < _HARD:
        what = Missing(what="a second water of another hardness, as from an RO unit")
        return Said(f"Nothing here to mix: every water has about {_dh(hard[0]):.1f} dH.", (what,))
    try:
        mixed = blend_for_hardness({"hard": hard[1], "soft": soft[1]}, WANTED_DH, "dH")
    except BadInput:
        text = (
            f"Not from your waters alone: they have {_dh(soft[0]):.1f} to {_dh(hard[0]):.1f} dH. Add minerals, or thin"
        )
        return Said(f"{text} with water of less.")
    share = mixed.shares.get("hard", 0.0)
    parts = ((share, hard[0]), (1.0 - share, soft[0]))
    told = " and ".join(f"{part:.0%} of the water {named(one)} ({_dh(one):.1f} dH)" for part, one in parts)
    return Said(own.dated(f"{told}; that mix carries nitrate {mixed.nitrate_mg_l_no3:.0f} mg/L as NO3."))


ANSWERS: dict[str, Answerer] = {
    "softened": softened,
    "nitrate_40": nitrate_40,
    "pH_jumps": pH_jumps,
    "mix_6_dh": mix_6_dh,
}
"""Question -> its answer."""
