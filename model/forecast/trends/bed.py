"""The neutralizer's media bed, and the pH after it."""

from __future__ import annotations

from datetime import date, timedelta

from model.equipment.neutralizer import Neutralizer
from model.equipment.registry import title_of
from model.forecast.numbers.common import outlet_of
from model.forecast.situation import Situation
from model.forecast.trends.shape import TODAY, Level, Point, Row, Span, Trend, Upright, at, past
from model.forecast.trends.ways import joined
from model.forecast.trends.windows import typed, window_of, window_words
from model.records.history import Dated

AHEAD_DAYS = 60
_ROWS = 8
_WHEN = {"before": "read before the top-up", "after": "read after the top-up"}


def bed_depth(now: Situation, stage: Neutralizer) -> Trend:
    """Depth of the media bed [cm] over 18 months, full and at the line, with the top-ups."""
    read = [one for one in now.history.taken("bed_depth", stage.id) if one.on >= past(now.today)]
    topped_up = _topped_up(now, stage)
    window = window_of(now, stage, "top_up")
    end = max([now.today + timedelta(days=AHEAD_DAYS), *(window or ())])
    words: tuple[str, ...] = (window_words(now, stage, "top_up", "the bed is at its line"),)
    if read:
        last = f"{now.known.show(read[-1].taken.value, 'length')} on {now.known.day(read[-1].on)}"
        words = (f"{last}; top up at {now.known.show(stage.minimum_bed_cm, 'length')}.", *words)
    return Trend(
        id=f"bed.{stage.id}",
        name="Bed",
        title=f"Depth of the media bed, {title_of(stage)}",
        dimension="length",
        start=at(past(now.today)),
        end=at(end),
        stage=stage.id,
        jobs=("top_up", "bed_check"),
        points=_points(read),
        paths=joined(read, topped_up, lambda value: value),
        seen="between readings",
        levels=(Level(stage.minimum_bed_cm, "top up"), Level(stage.full_bed_cm, "full")),
        uprights=_uprights(now, topped_up),
        spans=(Span(at(window[0]), at(window[1]), "window of the top-up"),) if window else (),
        words=words,
        rows=tuple(
            Row(
                now.known.day(one.on),
                _WHEN.get(one.taken.moment, "read"),
                now.known.show(one.taken.value, "length"),
            )
            for one in reversed(read[-_ROWS:])
        ),
        empty="" if read else f"No bed depth yet: {typed(now, 'bed_depth 30 in', 'bed_depth 76 cm')} --at {stage.id}",
    )


def ph_after(now: Situation, stage: Neutralizer) -> Trend:
    """pH of the water that leaves the neutralizer over 18 months, with the owner's floor where one is set."""
    point = outlet_of(now, stage)
    read = [one for one in now.history.taken("pH", point) if one.on >= past(now.today)]
    topped_up = _topped_up(now, stage)
    words: tuple[str, ...] = ()
    if read:
        low, high = (pick(one.taken.value for one in read) for pick in (min, max))
        words = (f"{read[-1].taken.value:.1f} on {now.known.day(read[-1].on)}; from {low:.1f} to {high:.1f} in all.",)
    return Trend(
        id=f"ph.{stage.id}",
        name="pH",
        title=f"pH after {title_of(stage)}",
        dimension="pH",
        start=at(past(now.today)),
        end=at(now.today + timedelta(days=AHEAD_DAYS)),
        stage=stage.id,
        jobs=("ph_check", "set_blend"),
        points=_points(read),
        paths=joined(read, [], lambda value: value),
        seen="read",
        levels=(Level(stage.floor_pH, "your floor"),) if stage.floor_pH > 0.0 else (),
        uprights=_uprights(now, topped_up),
        words=words,
        rows=tuple(Row(now.known.day(one.on), "read", f"{one.taken.value:.1f}") for one in reversed(read[-_ROWS:])),
        empty="" if read else f"No pH after the tank yet: wellward read pH 6.8 --at {point}",
    )


def _points(read: list[Dated]) -> tuple[Point, ...]:
    return tuple(Point(x=at(one.on), y=one.taken.value, qualifier=one.taken.qualifier) for one in read)


def _topped_up(now: Situation, stage: Neutralizer) -> list[date]:
    return [one.on for one in now.history.services(f"{stage.id}.top_up") if one.on >= past(now.today)]


def _uprights(now: Situation, topped_up: list[date]) -> tuple[Upright, ...]:
    return (*(Upright(at(on), "topped up") for on in topped_up), Upright(at(now.today), TODAY))
