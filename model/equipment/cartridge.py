"""How fast a sediment cartridge loads: its litres by the owner's setting, corrected by every pressure drop read."""

from __future__ import annotations

from datetime import date
from math import exp, log
from typing import NamedTuple

from model.equipment.base import Probe, Stock
from model.equipment.evidence import Evidence, fitted
from model.equipment.relations.sediment_filter import rise_share, share_used
from model.equipment.sediment_filter import SedimentFilter
from model.records.history import Dated

JOB = "replace_cartridge"

HOUSE_SD, EACH_SD = 0.35, 0.2
"""How far the litres of this water, and of one cartridge beside the next, are from the setting, in natural logs. From
memory; owner's default."""

DROP_SD_BAR = 0.07
"""How well a household reads a pressure drop off two gauges [bar]. Common practice, no source."""

STEEP_SD = 0.25
"""How well it is known how steeply the drop rises, in natural logs of the exponent. Owner's default."""

LEAST_RISE_SHARE = 0.15
"""A drop that rose less than this share says nothing of how fast a cartridge loads. Owner's default."""

UNLIKE = 3.0
"""Standard deviations beyond which a drop does not agree with the litres passed. Owner's default."""


class Drop(NamedTuple):
    """A pressure drop [bar] on a day, over the cartridge fitted on another."""

    fitted: date
    on: date
    bar: float


class Loading(NamedTuple):
    """How much faster than set this water loads a cartridge (`house`), and the present one does (`own`), in natural
    logs, with variances and covariance. `drop`: what the present one was last judged by; `odd`: where that does not
    agree."""

    house: float = 0.0
    own: float = 0.0
    house_var: float = HOUSE_SD**2
    own_var: float = HOUSE_SD**2 + EACH_SD**2
    covariance: float = HOUSE_SD**2
    drop: Drop | None = None
    odd: str = ""

    def next_one(self) -> Loading:
        """A new cartridge in the same water."""
        return Loading(self.house, self.house, self.house_var, self.house_var + EACH_SD**2, self.house_var)

    def judged(self, off: float, variance: float) -> Loading:
        """After an observation of `own` that is off by so much, with its variance."""
        total = self.own_var + variance
        house, own = self.covariance / total, self.own_var / total
        return Loading(
            self.house + house * off,
            self.own + own * off,
            self.house_var - house * self.covariance,
            self.own_var - own * self.own_var,
            self.covariance - own * self.covariance,
        )


def stocks(stage: SedimentFilter, known: Evidence) -> tuple[Stock, ...]:
    """Litres left of the cartridge, by its setting and by the pressure drops of this one and those before it."""
    since = known.renewed(stage, JOB)
    loading = followed(stage, known)
    life = stage.rated_l * exp(-loading.own)
    drop = loading.drop
    full = drop is not None and drop.bar >= stage.change_drop_bar
    return (
        Stock(
            job=JOB,
            driver="volume" if drop is None else "condition",
            unit="L",
            since=drop.on if drop is not None and full else since,
            left=0.0 if full else life,
            left_sd=0.0,
            full=life,
            per_litre=1.0,
            spread=float(loading.own_var**0.5),
            sure=known.sure(drop.on) if drop else "forecast" if known.recorded(stage, JOB) else "guess",
            why=_why(stage, known, since, life, drop),
            finding=loading.odd,
            probes=(Probe(do="Read the pressure drop", seen_sd=_seen_sd_l(stage, known, since, life)),),
        ),
    )


def followed(stage: SedimentFilter, known: Evidence) -> Loading:
    """How fast cartridges load here, from the last drop read over each of them; the present one last.

    Formula: Kalman filter of ln(speed), one part of the house and one of each cartridge; an observation is
    ln(share used / share reckoned). Source: random effects by recursive least squares, Gelman et al., Bayesian Data
    Analysis, 3rd ed., ch. 5.
    """
    found = Loading()
    present = known.renewed(stage, JOB)
    last: date | None = None
    for drop in _last_drops(stage, known, present):
        if last is not None and drop.fitted > last:
            found = found.next_one()
        found, last = _taken_in(stage, known, found, drop), drop.fitted
    return found if last is None or last == present else found.next_one()


def _taken_in(stage: SedimentFilter, known: Evidence, loading: Loading, drop: Drop) -> Loading:
    passed = known.litres(drop.fitted, drop.on)
    risen = rise_share(drop.bar, stage.clean_drop_bar, stage.change_drop_bar)
    if passed <= 0.0:
        return loading._replace(drop=drop) if drop.bar >= stage.change_drop_bar else loading
    reckoned = log(passed / stage.rated_l)
    if risen < LEAST_RISE_SHARE:
        return _hardly_loaded(stage, known, loading, drop, reckoned)
    used = share_used(drop.bar, stage.clean_drop_bar, stage.change_drop_bar, stage.drop_exponent)
    off = log(used) - reckoned - loading.own
    variance = _variance(stage, risen)
    deviations = off / (loading.own_var + variance) ** 0.5
    if deviations < -UNLIKE:
        return loading._replace(drop=drop, odd=_odd(known, drop, passed, "less"))
    odd = _odd(known, drop, passed, "more") if deviations > UNLIKE else ""
    return loading.judged(off, variance)._replace(drop=drop, odd=odd)


def _hardly_loaded(stage: SedimentFilter, known: Evidence, loading: Loading, drop: Drop, reckoned: float) -> Loading:
    """A drop near the clean one says at most that the cartridge is not as loaded as reckoned."""
    most = log(LEAST_RISE_SHARE) / stage.drop_exponent
    off = most - reckoned - loading.own
    variance = (STEEP_SD * most) ** 2 + 0.04
    if off >= 0.0:
        return loading
    if off < -UNLIKE * (loading.own_var + variance) ** 0.5:
        return loading._replace(odd=_odd(known, drop, known.litres(drop.fitted, drop.on), "less"))
    return loading.judged(off, variance)


def _odd(known: Evidence, drop: Drop, passed: float, how: str) -> str:
    told = f"Pressure drop {known.show(drop.bar, 'pressure')} on {known.day(drop.on)} after "
    told += known.show(passed, "volume")
    if how == "less":
        return f"{told}: far less than the litres say. A torn or bypassed cartridge, or a gauge; the litres stand."
    return f"{told}: far more than the litres say. See what the water brings, and that the gauges agree."


def _last_drops(stage: SedimentFilter, known: Evidence, present: date) -> list[Drop]:
    """The last drop read over each cartridge, oldest first; that read before a change belongs to the old one."""
    changes = [(one.on, one.id) for one in known.history.services(f"{stage.id}.{JOB}")]
    fitted_on = [known.since(stage), *(on for on, _ in changes)]
    out = {(one.on, one.event, one.taken.moment): one.taken.value for one in _at(known, "pressure_out", stage)}
    by_day = {on: value for (on, _, _), value in out.items()}
    last: dict[date, Drop] = {}
    for one in _at(known, "pressure_in", stage):
        after = out.get((one.on, one.event, one.taken.moment), by_day.get(one.on))
        if after is None:
            continue
        done = sum(
            (on, event) < (one.on, one.event) or ((on, event) == (one.on, one.event) and one.taken.moment != "before")
            for on, event in changes
        )
        if one.on >= fitted_on[done]:
            fitted_then, before = fitted_on[done], last.get(fitted_on[done])
            # One that was full stays full until it is changed: a lower drop later may be a tear.
            if before is None or before.bar < stage.change_drop_bar:
                last[fitted_then] = Drop(fitted_then, one.on, max(one.taken.value - after, 0.0))
    return [last[on] for on in sorted(last)]


def _at(known: Evidence, quantity: str, stage: SedimentFilter) -> list[Dated]:
    return known.history.taken(quantity, stage.id)


def _seen_sd_l(stage: SedimentFilter, known: Evidence, since: date, life: float) -> float:
    """How well a drop read today would tell the litres left [L]."""
    share = min(max(known.litres(since, known.today) / life, 0.05), 1.0)
    risen = share**stage.drop_exponent
    return life * float(_variance(stage, risen) ** 0.5)


def _variance(stage: SedimentFilter, risen: float) -> float:
    """How well ln(share used) follows from a drop that rose by this share, 0-1: the gauges, and the steepness."""
    by_gauge = DROP_SD_BAR / (stage.change_drop_bar - stage.clean_drop_bar) / (stage.drop_exponent * risen)
    by_steepness = STEEP_SD * log(risen) / stage.drop_exponent
    return float(by_gauge**2 + by_steepness**2)


def _why(stage: SedimentFilter, known: Evidence, since: date, life: float, drop: Drop | None) -> tuple[str, ...]:
    lines = [fitted("Cartridge", known, stage, JOB)]
    lines.append(f"{known.show(known.litres(since, known.today), 'volume')} since then.")
    if drop is not None and drop.fitted == since:
        risen = rise_share(drop.bar, stage.clean_drop_bar, stage.change_drop_bar)
        lines.append(
            f"Pressure drop {known.show(drop.bar, 'pressure')} on {known.day(drop.on)}: {risen:.0%} of the way from "
            f"{known.show(stage.clean_drop_bar, 'pressure')} clean to {known.show(stage.change_drop_bar, 'pressure')}."
        )
    set_to = f"Good for {known.show(stage.rated_l, 'volume')} of this water (owner's setting)"
    off = abs(life / stage.rated_l - 1.0) >= 0.02
    lines.append(f"{set_to}; your pressure drops say {known.show(life, 'volume')}." if off else f"{set_to}.")
    return (*lines, *_at_flow(stage, known))[:4]


def _at_flow(stage: SedimentFilter, known: Evidence) -> tuple[str, ...]:
    if stage.drop_flow_l_per_min is None:
        return ()
    return (f"Drops hold at {known.show(stage.drop_flow_l_per_min, 'flow')} only: read them at that flow.",)
