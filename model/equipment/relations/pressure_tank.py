"""Boyle's law in a pressure tank."""

from __future__ import annotations

from model.equipment.relations.check import at_least, positive

PSI_BAR = 0.0689476
"""One pound per square inch [bar]. Source: NIST SP 811."""


def atmospheric_bar(elevation_m: float) -> float:
    """Pressure of the air at a height above the sea [m], -500 to 5,000, as [bar].

    Formula: 1.01325 (1 - 2.25577e-5 h)^5.25588. Source: ICAO standard atmosphere, doc. 7488 (from memory).
    """
    height = min(max(elevation_m, -500.0), 5000.0)
    return float(1.01325 * (1.0 - 2.25577e-5 * height) ** 5.25588)


def acceptance_share(precharge_bar: float, cut_in_bar: float, cut_out_bar: float, elevation_m: float = 0.0) -> float:
    """Water between cut-out and cut-in as a share of the tank's volume [0-1]; pressures [bar] gauge, elevation [m].

    Formula: P1 (1/P2 - 1/P3), absolute pressures of air charge, cut-in and cut-out. A charge above the cut-in counts
    from the charge on, because the tank is empty below it. Raises BadInput where cut-out is not above cut-in.
    Source: Boyle's law, as worked by Pelikan, National Driller, for 28/30/50 psi.
    """
    at_least("precharge", precharge_bar, 0.0)
    at_least("cut-in", cut_in_bar, 0.0)
    positive("cut-out above cut-in", cut_out_bar - cut_in_bar)
    air = atmospheric_bar(elevation_m)
    charge, high = precharge_bar + air, cut_out_bar + air
    low = max(cut_in_bar, precharge_bar) + air
    return max(charge * (1.0 / low - 1.0 / high), 0.0)


def drawdown_l(
    volume_l: float, precharge_bar: float, cut_in_bar: float, cut_out_bar: float, elevation_m: float = 0.0
) -> float:
    """Water that a tank of `volume_l` [L] gives between cut-out and cut-in [L]; pressures [bar] gauge, elevation [m].

    Raises BadInput as `acceptance_share`, and for a volume not above 0. Source: Boyle's law, see `acceptance_share`.
    """
    positive("tank volume", volume_l)
    return volume_l * acceptance_share(precharge_bar, cut_in_bar, cut_out_bar, elevation_m)


def starts_per_day(litres_per_day: float, drawdown_l: float) -> float:
    """Pump starts a day [1/day] at a use [L/day], were every draw to empty the tank [L]; 0 for no draw-down.

    An upper bound: a long draw keeps the pump running. Source: identity.
    """
    at_least("use", litres_per_day, 0.0)
    return litres_per_day / drawdown_l if drawdown_l > 0 else 0.0


def recommended_precharge_bar(cut_in_bar: float) -> float:
    """Air charge of the empty tank [bar]: 2 psi under the cut-in [bar], never below 0. Common practice, no source."""
    at_least("cut-in", cut_in_bar, 0.0)
    return max(cut_in_bar - 2.0 * PSI_BAR, 0.0)


def shortest_run_s(drawdown_l: float, pump_l_per_min: float) -> float:
    """Shortest run of the pump [s]: the time to fill the draw-down [L] at `pump_l_per_min` [L/min], no tap open.

    60 draw-down / pump flow; an open tap only makes the run longer. Raises BadInput for a draw-down below 0 or a pump
    of 0 or less. Source: mass balance. To compare with: a minute for pumps below 1 hp, two above, from memory.
    """
    at_least("draw-down", drawdown_l, 0.0)
    positive("pump flow", pump_l_per_min)
    return 60.0 * drawdown_l / pump_l_per_min


def shortfall_share(measured_l: float, expected_l: float) -> float:
    """How far a measured draw-down [L] falls short of the one expected [L], 0-1; 0 where it does not.

    Raises BadInput for a measurement below 0 or an expectation of 0 or less. Source: definition. Within a tenth is
    sound, from memory.
    """
    at_least("measured draw-down", measured_l, 0.0)
    positive("expected draw-down", expected_l)
    return max(1.0 - measured_l / expected_l, 0.0)
