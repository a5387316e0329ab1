"""What to say about the analyses themselves, before anything is reckoned from them."""

from __future__ import annotations

from model.forecast.situation import Situation
from model.forecast.source import Merged, merged, merged_everywhere, older_in_words, worst_of_two_years
from model.forecast.tested import lab_alerts
from model.plan_types import Alert
from model.records.bounds import for_health, is_pad
from model.records.history import Dated
from model.records.points import points_of
from model.records.quantities import show_taken
from model.water.sample_report import charge_check, charge_in_words, findings


def sample_alerts(now: Situation) -> list[Alert]:
    """Compositions that cannot be, values of different times, nitrate known from a strip only, a milder plan."""
    found: list[Alert] = []
    tested = merged_everywhere(now.history)
    for point, water in ((one, tested[one]) for one, _ in points_of(now.house) if one in tested):
        known = _with_solids(now, point, water)
        found += [Alert(level=one.level, point=point, text=one.text) for one in findings(known)]
        found += _pad(now, point, water.newest.get("nitrate"))
    return found + lab_alerts(now.history) + _older(tested.get("source")) + _milder_plan(now) + _impossible(now)


def charge_words(now: Situation, point: str) -> str:
    """The charge balance of the water tested at a point, in words with its criterion; empty where it cannot be told."""
    check = charge_check(merged(now.history, point).known(together=True))
    return "" if check is None else charge_in_words(check)


def _with_solids(now: Situation, point: str, water: Merged) -> dict[str, float]:
    """What is known of one time, with the solids that a laboratory weighed; meters only guess them."""
    known = water.known(together=True)
    solids = [one for one in now.history.taken("tds", point) if one.from_lab and one.on == water.last_on]
    return known | {"tds_mg_l": solids[-1].taken.value} if solids else known


def _pad(now: Situation, point: str, nitrate: Dated | None) -> list[Alert]:
    if nitrate is None or nitrate.from_lab or not is_pad(nitrate.taken):
        return []
    text = (
        f"Nitrate {show_taken(nitrate.taken, now.house.units)} on {nitrate.on} is a strip's colour: planned on the "
        "upper end. In a study of 102 homes the laboratory was higher than the strip in 81 % of samples with nitrate: "
        "have a certified laboratory confirm it before anyone relies on it."
    )
    return [Alert(level="note", point=point, text=text)]


def _older(water: Merged | None) -> list[Alert]:
    if water is None or not water.older:
        return []
    text = (
        f"More than 12 months older than the newest result ({water.last_on}), and reckoned with for want of newer: "
        f"{older_in_words(water)}. Have them tested again."
    )
    return [Alert(level="note", point="source", text=text)]


def _milder_plan(now: Situation) -> list[Alert]:
    """The owner plans on the newest nitrate although it has been worse: say so, whatever the season."""
    every = now.history.taken("nitrate", "source")
    worst = worst_of_two_years(every, now.today)
    if now.house.plan_nitrate == "worst" or worst is None or worst <= for_health(every[-1].taken):
        return []
    text = (
        f"By your setting the plan stands on the newest raw nitrate, {for_health(every[-1].taken):.1f} mg/L as N; "
        f"within two years it has been {worst:.1f}, and it may be again in its season."
    )
    return [Alert(level="warning", point="source", text=text)]


def _impossible(now: Situation) -> list[Alert]:
    return [
        Alert(
            level="warning",
            point=one.taken.point,
            text=f"{one.taken.quantity} of {one.taken.value:g} on {one.on} cannot be and is left out: take event "
            f"{one.event} back and record it anew.",
        )
        for one in now.history.impossible
    ]
