"""What leaves a column against bed volumes, and when it passes a level."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

_DUMPING = 1.005
_RISE = 0.01


class Curve(msgspec.Struct, frozen=True):
    """Equivalent fractions leaving at `bed_volumes` [L of water per L of bed], a row for each, in order of the ions."""

    bed_volumes: tuple[float, ...]
    rows: tuple[tuple[float, ...], ...]

    def of(self, ion: int) -> list[float]:
        """One ion's fraction at each of the bed volumes."""
        return [row[ion] for row in self.rows]


class Passage(msgspec.Struct, frozen=True, kw_only=True):
    """How one ion comes through: bed volumes [L of water per L of bed] and levels over that of the feed.

    `plateau_over_feed` is the level it first rises to, `half_plateau_bv` where it first reaches half of that;
    `peak_over_feed` the highest level, `peak_ends_bv` where it has fallen half-way back from it to the feed, None
    where it never rises above the feed.
    """

    tenth_of_feed_bv: float | None
    half_of_feed_bv: float | None
    half_plateau_bv: float | None
    plateau_over_feed: float
    peak_over_feed: float
    peak_ends_bv: float | None

    @property
    def dumps(self) -> bool:
        """Whether more comes out than goes in, for a while."""
        return self.peak_over_feed > _DUMPING


def first_above(curve: Curve, ion: int, fraction: float) -> float | None:
    """Bed volumes at which an ion first reaches a fraction, by straight lines between points; None if it never does."""
    values = curve.of(ion)
    if values[0] >= fraction:
        return curve.bed_volumes[0]
    for k in range(1, len(values)):
        if values[k] >= fraction:
            return _between(curve.bed_volumes, values, k, fraction)
    return None


def passage(curve: Curve, ion: int, feed: float, plateau: float) -> Passage:
    """The passage of an ion with this fraction in the feed, above 0, that first rises to `plateau` [fraction].

    A plateau that blur keeps the water from reaching gives way to the highest level there is.
    """
    values = curve.of(ion)
    peak = max(*values, feed)  # a constant feed comes through in the end
    plateau = min(plateau, peak)
    return Passage(
        tenth_of_feed_bv=first_above(curve, ion, 0.1 * feed),
        half_of_feed_bv=first_above(curve, ion, 0.5 * feed),
        half_plateau_bv=first_above(curve, ion, 0.5 * plateau),
        plateau_over_feed=plateau / feed,
        peak_over_feed=peak / feed,
        peak_ends_bv=_peak_end(curve, values, feed) if peak > _DUMPING * feed else None,
    )


def first_plateau(values: Sequence[float]) -> float:
    """The level after the first rise, from the levels between waves (first the water that leaves at the start)."""
    most = max(values)
    for level in values[1:]:
        if level - values[0] > _RISE * most:
            return level
    return most


def _peak_end(curve: Curve, values: Sequence[float], feed: float) -> float | None:
    top = max(range(len(values)), key=values.__getitem__)
    level = 0.5 * (values[top] + feed)
    for k in range(top + 1, len(values)):
        if values[k] <= level:
            return _between(curve.bed_volumes, values, k, level)
    return None


def _between(at: Sequence[float], values: Sequence[float], k: int, level: float) -> float:
    share = (level - values[k - 1]) / (values[k] - values[k - 1])
    return at[k - 1] + share * (at[k] - at[k - 1])
