"""How a membrane wears: the salt it lets by grows by the same share each month, learned from pairs of readings."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from math import exp, log
from typing import NamedTuple

from model.equipment.base import Probe, Stock
from model.equipment.evidence import Evidence
from model.equipment.relations.membrane import SALT_PASSAGE_PER_DEGREE
from model.equipment.reverse_osmosis import ReverseOsmosis, rejections_of

JOB = "replace_membrane"

LIFE_YEARS, LIFE_SD = 3.2, 0.36
"""Years until a household's membrane lets too much by, and how far membranes differ in that, in natural logs: 2 to 5
years for 8 in 10. From memory; owner's default."""

NEW_SD = 0.25
"""How far the passage of a new membrane is from its rating, in natural logs. From memory; owner's default."""

NEXT_SD = 0.25
"""How far the next membrane in the same water wears otherwise, in natural logs. From memory; owner's default."""

PAIR_SD = 0.08
"""How well two looks with a pen and the day's pressure tell the passage, in natural logs. Common practice, no
source."""

TOGETHER_DAYS = 20
"""A temperature or pressure read within so many days of a pair belongs to it. Owner's default."""

_STEPS, _LEAST_PASSAGE = 8, 1e-3


class Worn(NamedTuple):
    """ln of the passage when new, and ln of its growth a day, with their variances and covariance."""

    new: float
    growth: float
    new_var: float
    growth_var: float
    covariance: float = 0.0


def stock(stage: ReverseOsmosis, known: Evidence) -> Stock | None:
    """How far the passage is from that at which the membrane is changed, in natural logs; None where the settings leave
    nothing to wear."""
    least, most = log(max(1.0 - stage.rejection, _LEAST_PASSAGE)), log(max(1.0 - stage.replace_below_rejection, 2e-3))
    if most <= least:
        return None
    since = known.renewed(stage, JOB)
    read = _passages(stage, known, since)
    worn = _of_all(stage, known, least, most)
    on = read[-1][0] if read else since
    days = float((on - since).days)
    growth = exp(worn.growth)
    now = worn.new + growth * days
    late = growth * days
    variance = worn.new_var + late**2 * worn.growth_var + 2.0 * late * worn.covariance
    if read and log(max(read[-1][1], _LEAST_PASSAGE)) >= most:
        now = most  # the newest pair is beyond the limit: whatever the curve says, it is done
    today = now + growth * (known.today - on).days
    return Stock(
        job=JOB,
        driver="condition",
        unit="%",
        since=on,
        left=most - now,
        left_sd=float(max(variance, 1e-6) ** 0.5),
        full=most - least,
        per_day=growth,
        spread=float(worn.growth_var**0.5),
        sure=known.sure(on if read else None),
        why=_why(stage, known, read, growth),
        covariance=-(worn.covariance + late * worn.growth_var),
        shown_left=100.0 * max(exp(most) - exp(today), 0.0),
        probes=(Probe(do="Read the dissolved solids before and after the RO", seen_sd=PAIR_SD),),
    )


def _of_all(stage: ReverseOsmosis, known: Evidence, least: float, most: float) -> Worn:
    """What is known of the present membrane, with what those before it taught of this water."""
    growth = log((most - least) / (LIFE_YEARS * 365.25))
    prior = Worn(least, growth, NEW_SD**2, LIFE_SD**2)
    starts = [known.since(stage), *(one.on for one in known.history.services(f"{stage.id}.{JOB}"))]
    starts = sorted({*starts, known.renewed(stage, JOB)})
    for start in starts[:-1]:
        read = _passages(stage, known, start)
        if read:
            before = fit(prior, [((on - start).days, value) for on, value in read])
            prior = prior._replace(growth=before.growth, growth_var=before.growth_var + NEXT_SD**2)
    read = _passages(stage, known, starts[-1])
    return fit(prior, [((on - starts[-1]).days, value) for on, value in read])


def fit(prior: Worn, read: Sequence[tuple[int, float]]) -> Worn:
    """The most likely wear given pairs of days since new and passages [0-1].

    ln(passage) = ln(new) + growth x days, errors of PAIR_SD; Gauss-Newton steps of ln(new) and ln(growth) from a normal
    prior. Source: nonlinear least squares with a prior, e.g. Bates and Watts, Nonlinear Regression Analysis, 1988; that
    passage grows by a share is from memory.
    """
    new, growth = prior.new, prior.growth
    a = b = c = 0.0
    for _ in range(_STEPS):
        rate = exp(growth)
        a, b, c = 1.0 / prior.new_var, 0.0, 1.0 / prior.growth_var
        x, y = (prior.new - new) * a, (prior.growth - growth) * c
        for days, passage in read:
            lean = rate * days
            off = (log(max(passage, _LEAST_PASSAGE)) - new - lean) / PAIR_SD**2
            a, b, c = a + PAIR_SD**-2, b + lean * PAIR_SD**-2, c + (lean / PAIR_SD) ** 2
            x, y = x + off, y + off * lean
        whole = a * c - b * b
        new += (c * x - b * y) / whole
        growth += min(max((a * y - b * x) / whole, -1.0), 1.0)
    whole = a * c - b * b
    return Worn(new, growth, c / whole, a / whole, -b / whole)


def _passages(stage: ReverseOsmosis, known: Evidence, since: date) -> list[tuple[date, float]]:
    """Passage on the days on which solids were read before and after the membrane fitted on a day [0-1], as it would be
    at the mean temperature and feed pressure of those readings: cold water and a high pressure flatter a membrane."""
    pairs = rejections_of(stage, known.history, since)
    warm = [_near(known, "temperature", (stage.id, "ro", "tap"), on) for on, _ in pairs]
    pressed = [_near(known, "feed_pressure", (stage.id,), on) for on, _ in pairs]
    mean_warm, mean_pressed = _mean(warm), _mean(pressed)
    found = []
    for (on, kept), celsius, bar in zip(pairs, warm, pressed, strict=True):
        passage = 1.0 - kept
        if celsius is not None:
            passage *= float((1.0 + SALT_PASSAGE_PER_DEGREE) ** (mean_warm - celsius))
        if bar is not None and mean_pressed > 0.0:
            passage *= bar / mean_pressed
        found.append((on, passage))
    return found


def _mean(values: Sequence[float | None]) -> float:
    known = [one for one in values if one is not None]
    return sum(known) / len(known) if known else 0.0


def _near(known: Evidence, quantity: str, points: tuple[str, ...], on: date) -> float | None:
    """A reading of about the same days, at one of the points."""
    near = [one for one in known.history.taken(quantity) if abs((one.on - on).days) <= TOGETHER_DAYS]
    near = [one for one in near if one.taken.point in points]
    return min(near, key=lambda one: abs((one.on - on).days)).taken.value if near else None


def _why(stage: ReverseOsmosis, known: Evidence, read: list[tuple[date, float]], growth: float) -> tuple[str, ...]:
    limit = f"Change below {stage.replace_below_rejection:.0%} (owner's setting)."
    yearly = exp(365.25 * growth) - 1.0
    if not read:
        return (
            f"Never measured since it was fitted: rejection taken as {stage.rejection:.0%} when new, and "
            f"{LIFE_YEARS:g} years until it is done (from memory).",
            limit,
        )
    (first, before), (last, now) = read[0], read[-1]
    seen = f"Rejection {1.0 - now:.0%} on {known.day(last)}"
    seen += f", {1.0 - before:.0%} on {known.day(first)}." if last > first else "."
    return (seen, f"The salt it lets by grows by {yearly:.0%} a year, by {len(read)} readings.", limit)
