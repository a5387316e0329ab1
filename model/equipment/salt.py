"""The salt in a softener's brine tank: how much is left, and how fast it really goes."""

from __future__ import annotations

from datetime import date

from model.equipment.base import Draw, Probe, Stock
from model.equipment.evidence import Evidence, Pace
from model.equipment.levels import Mark
from model.equipment.softener import Softener, pace, resin_years, run_length, salt_kg
from model.equipment.wear import MOST_MARKS, Drawn, Errors, Followed, follow

DEPTH_SD_CM = 2.0
"""How well a stick finds the top of the salt, which is never level [cm]. Common practice, no source."""

DOSE_SD = 0.10
"""How far a regeneration's salt is from its setting, in natural logs. Common practice, no source."""

TIMED_SD, SET_SD, WORKED_OUT_SD = 0.02, 0.10, 0.25
"""How far the number of regenerations is from what timer, meter setting or hardness say, in natural logs. From memory;
owner's default."""

UNMEASURED_FULL_SHARE = 0.12
"""How well a refill that nobody measured reaches the mark, as a share of a refill. Owner's default."""

MUCH_SHARE = 0.4
"""Share of a refill from which one that nobody measured was meant to fill up. Owner's default."""

FILLS = ("refill_salt", "recover_from_run_out", "wash_brine_tank")
"""Jobs in which salt is put in: a depth read after one of them is of what then lies there."""


def stocks(stage: Softener, known: Evidence) -> tuple[Stock, ...]:
    """Salt left above the refill line [kg]; nothing where neither valve setting nor water say how often it is used."""
    salt = salt_followed(stage, known)
    rate = salt_pace(stage, known, salt.on)
    if rate.per_litre + rate.per_day <= 0:
        return ()
    line, full = salt_kg(stage, stage.salt_low_cm), salt_kg(stage, stage.salt_full_cm)
    goes = rate.faster(salt.log_rate)
    return (
        Stock(
            job="refill_salt",
            driver="regenerations",
            unit="kg",
            since=salt.on,
            left=salt.level - line,
            left_sd=salt.sd,
            full=full - line,
            per_litre=goes.per_litre,
            per_day=goes.per_day,
            least_l_per_day=goes.least_l_per_day,
            spread=salt.log_sd,
            refills={"salt": full - line},
            sure=known.sure(salt.seen),
            why=_why(stage, known, salt, rate),
            covariance=salt.covariance,
            step=stage.salt_dose_kg,
            water_known=salt.water_known,
            later=_later(stage, known, salt),
            finding=_finding(stage, known, salt),
            unlike=salt.unlike(),
            short_on=salt.short_on,
            under_since=salt.under_since,
            probes=(Probe(do="Measure the salt depth", seen_sd=seen_sd_kg(stage)),),
        ),
    )


def salt_pace(stage: Softener, known: Evidence, since: date) -> Pace:
    """How salt goes, in kg, by settings and water alone, in a house that uses as much as since a day."""
    days = (known.today - since).days
    litres_per_day = known.litres(since, known.today) / days if days > 0 else known.per_day()
    return _at_night(_by_settings(stage, known), litres_per_day).of_each(stage.salt_dose_kg)


def _by_settings(stage: Softener, known: Evidence) -> Pace:
    return pace(stage, known.fed(stage), resin_years(stage, known))


def _at_night(times: Pace, litres_per_day: float) -> Pace:
    """A metered valve waits for the night: half a day's water more passes between two regenerations.

    But no longer than until the day of its override, in a house that uses little.
    """
    if litres_per_day <= times.least_l_per_day:
        return times
    waits = 1.0 + 0.5 * litres_per_day * times.per_litre
    # The least of a day is left as it is: litres are summed once for each least.
    return times._replace(per_litre=times.per_litre * max(1.0 / waits, times.least_l_per_day / litres_per_day))


def seen_sd_kg(stage: Softener) -> float:
    """How well a stick tells the salt [kg]."""
    return salt_kg(stage, stage.salt_full_cm) - salt_kg(stage, max(stage.salt_full_cm - DEPTH_SD_CM, 0.0))


def salt_marks(stage: Softener, known: Evidence) -> list[Mark]:
    """Salt seen and put in [kg], regenerations counted, changes of the settings; oldest first."""
    newest = known.marks(stage, "salt_depth", FILLS, ("salt",), counter="regenerations", most=4 * MOST_MARKS)
    return [mark if mark.level is None else mark._replace(level=salt_kg(stage, mark.level)) for mark in newest]


def salt_followed(stage: Softener, known: Evidence) -> Followed:
    """Salt in the tank [kg] as last known, each change of the valve's settings drawn at the settings of its time."""
    rates = [
        (on, _by_settings(one, known), one.salt_dose_kg)
        for on, one in known.versions(stage)
        if isinstance(one, Softener)
    ]

    def drawn(start: date, end: date) -> Drawn:
        _, times, dose_kg = [rate for rate in rates if rate[0] <= start][-1]
        then = known.litres(start, end) / max((end - start).days, 1)
        return _at_night(times, then).of_each(dose_kg).split(known, start, end)

    line, full = salt_kg(stage, stage.salt_low_cm), salt_kg(stage, stage.salt_full_cm)
    errors = Errors(
        seen_sd=seen_sd_kg(stage),
        rate_sd=_rate_sd(stage),
        dose_sd=DOSE_SD,
        water_sd=known.water_log_sd(),
        each=stage.salt_dose_kg,
        full=full,
        full_sd=UNMEASURED_FULL_SHARE * (full - line),
        much=MUCH_SHARE * (full - line),
        least=line,
    )
    holds = salt_kg(stage, stage.brine_tank_height_cm)
    return follow(salt_marks(stage, known), (known.since(stage), full, 0.1 * full), holds, drawn, errors)


def _rate_sd(stage: Softener) -> float:
    if stage.control == "timed":
        return TIMED_SD
    return SET_SD if stage.regenerate_every_l else WORKED_OUT_SD


def _later(stage: Softener, known: Evidence, salt: Followed) -> tuple[Draw, ...]:
    """Changes of the valve already written down for days to come."""
    found = []
    for on, one in known.scheduled(stage):
        if isinstance(one, Softener):
            goes = salt_pace(one, known, salt.on).faster(salt.log_rate)
            found.append(
                Draw(on=on, per_litre=goes.per_litre, per_day=goes.per_day, least_l_per_day=goes.least_l_per_day)
            )
    return tuple(found)


def _finding(stage: Softener, known: Evidence, salt: Followed) -> str:
    """What the newest depth did against what was reckoned, where the two do not agree."""
    if not salt.odd or salt.odd_on is None:
        return ""
    seen, reckoned = known.show(salt.odd_seen, "mass"), known.show(salt.odd_reckoned, "mass")
    told = f"Salt of {seen} on {known.day(salt.odd_on)}, {reckoned} reckoned"
    if salt.odd == "low":
        return f"{told}: it goes faster than the valve's settings say. Look for a stuck float or a leak of brine."
    more = "it has not fallen though the valve should have run" if salt.odd == "stuck" else "it falls too slowly"
    return f"{told}: {more}. Probe for a bridge, see that brine is drawn; the earlier date stands until then."


def _why(stage: Softener, known: Evidence, salt: Followed, rate: Pace) -> tuple[str, ...]:
    run = run_length(stage, known.fed(stage), resin_years(stage, known))
    seen = f"last measured {known.day(salt.seen)}" if salt.seen else "never measured; taken as full when new"
    every = (
        f"each {stage.regenerate_every_days:g} days"
        if rate.per_day > 0
        else f"each {known.show(run.planned_l or 0.0, 'volume')} ({'valve setting' if run.set_l else 'worked out'})"
    )
    lines = [
        f"Salt {known.show(salt.level, 'mass')} on {known.day(salt.on)} ({seen}).",
        f"{known.show(stage.salt_dose_kg, 'mass')} a regeneration, {every}{salt.in_words()}.",
        f"Refill at {known.show(stage.salt_low_cm, 'length')} of depth; below it the brine may be weak.",
    ]
    if run.by_nitrate_l is not None and run.by_hardness_l is not None:
        lines.append(
            f"Hardness would allow {known.show(run.by_hardness_l, 'volume')}, "
            f"nitrate {known.show(run.by_nitrate_l, 'volume')} between regenerations."
        )
    return tuple(lines)
