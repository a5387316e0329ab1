"""What if a setting were another from today on: the home as it would be, beside the home as it is. Nothing is kept."""

from __future__ import annotations

from datetime import date

import msgspec

from model.forecast.present import Change as Recorded
from model.forecast.situation import Situation
from model.forecast.what_if_figures import Figure, Picture, pictured
from model.forecast.what_if_home import Change, Trial, trial
from model.home import Home


class Row(msgspec.Struct, frozen=True, kw_only=True):
    """One figure today and then, in the unit used inside (`Figure.dimension`); None where it cannot be known."""

    id: str
    label: str
    dimension: str
    today: float | date | None
    then: float | date | None

    @property
    def difference(self) -> float | None:
        """Then less today, in the same unit, of dates in days; None where one of the two is not known."""
        if isinstance(self.today, date) and isinstance(self.then, date):
            return float((self.then - self.today).days)
        if isinstance(self.today, float) and isinstance(self.then, float):
            return self.then - self.today
        return None


class Comparison(msgspec.Struct, frozen=True, kw_only=True):
    """Two homes side by side.

    `rows`: the figures. `months`: the first day of each month, expected cash today and then. `cautions`: what would
    then have to be known about the water and need not now. `notes`: what the figures rest on. `events`: what keeping
    the changes records, and `not_kept`: what cannot be written down that way.
    """

    currency: str
    rows: tuple[Row, ...]
    months: tuple[tuple[date, float, float], ...]
    cautions: tuple[str, ...]
    notes: tuple[str, ...]
    events: tuple[Recorded, ...]
    not_kept: tuple[str, ...]


def compare(home: Home, today: date, changes: tuple[Change, ...]) -> Comparison:
    """The home as it is beside the home with the changes made today.

    Raises:
        BadInput: a change does not fit the house, or its water is not known where a target pH is asked for.
    """
    now = Situation(home, today)
    return compare_with(now, pictured(now), changes)


def compare_with(now: Situation, as_is: Picture, changes: tuple[Change, ...]) -> Comparison:
    """As `compare`, where the home as it is has been worked out already. Raises BadInput as it does."""
    tried = trial(now, changes)
    then = pictured(Situation(tried.home, now.today)) if changes else as_is
    return side_by_side(as_is, then, tried)


def side_by_side(as_is: Picture, then: Picture, tried: Trial) -> Comparison:
    """Two pictures of one house, figure by figure; one that only one of them has stands there as not known.

    What is due today stays due: another setting fills no tank.
    """
    before, after = ({one.id: one for one in picture.figures} for picture in (as_is, then))
    return Comparison(
        currency=then.currency,
        rows=tuple(_row(before.get(name), after.get(name), then.today) for name in dict.fromkeys([*before, *after])),
        months=tuple((day, old, new) for (day, old), (_, new) in zip(as_is.months, then.months, strict=True)),
        cautions=tuple(text for text in then.warnings if text not in as_is.warnings),
        notes=tried.notes,
        events=tried.events,
        not_kept=tried.not_kept,
    )


def _row(before: Figure | None, after: Figure | None, today: date) -> Row:
    named = after or before
    assert named is not None
    is_due = after is not None and before is not None and before.value == today
    return Row(
        id=named.id,
        label=named.label,
        dimension=named.dimension,
        today=before.value if before else None,
        then=today if is_due else after.value if after else None,
    )
