"""Scale and corrosion indices, a closed sample at another temperature, and the carbonate system from any two of it."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import isfinite, log10

import msgspec

from model.errors import BadInput
from model.water import equilibrium
from model.water.balance import tds_mg_l
from model.water.carbonate import speciate, with_total_carbon
from model.water.constants import (
    CACO3_G_PER_MOL,
    CACO3_MG_PER_MEQ,
    CALCIUM_G_PER_MOL,
    CO2_G_PER_MOL,
    Constants,
    constants_at,
)
from model.water.equilibrium import State, Totals
from model.water.media import calcite_limit_mmol_l
from model.water.roots import rising_root
from model.water.sample import Sample

LANGELIER_A = (
    (0.0, 2.60), (4.444, 2.48), (10.0, 2.34), (15.556, 2.20), (21.111, 2.06), (26.667, 1.95), (32.222, 1.84),
    (37.778, 1.74), (43.333, 1.65), (48.889, 1.57), (54.444, 1.48), (60.0, 1.40), (65.556, 1.32), (71.111, 1.26),
    (76.667, 1.19),
)  # fmt: skip
"""Temperature [degC] and A: every tenth degree Fahrenheit of UFC 3-240-13FN (2005), table B-2, there named B."""

LANGELIER_B = ((0.0, 9.70), (100.0, 9.77), (200.0, 9.83), (400.0, 9.86), (800.0, 9.89), (1000.0, 9.90))
"""Dissolved solids [mg/L] and B: TM 5-813-3 (1985), table 2-5."""

_LEAST_PH, _MOST_PH = 6.5, 9.5
_LEAST_ALKALINITY, _MOST_ALKALINITY = -0.05, 0.2
_KINDS = ("pH", "alkalinity_mg_l_caco3", "co2_mg_l", "total_carbon_mmol_l")


def langelier_a(temperature_c: float) -> float:
    """The constant A of the Langelier index at `temperature_c` [degC], straight between the rows of the table.

    Range: 0 to 76.6 degC; raises BadInput outside. Source: UFC 3-240-13FN (2005), table B-2.
    """
    return _between(LANGELIER_A, temperature_c, "°C")


def langelier_b(dissolved_solids_mg_l: float) -> float:
    """The constant B of the Langelier index at `dissolved_solids_mg_l` [mg/L], straight between the rows of the table.

    Range: 0 to 1,000 mg/L; raises BadInput outside. Source: TM 5-813-3 (1985), table 2-5.
    """
    return _between(LANGELIER_B, dissolved_solids_mg_l, "mg/L of dissolved solids")


def saturation_ph(
    temperature_c: float, dissolved_solids_mg_l: float, calcium_mg_l_caco3: float, alkalinity_mg_l_caco3: float
) -> float:
    """The pH at which a water would be saturated with calcium carbonate, by the tables.

    pHs = A + B - log10(calcium) - log10(alkalinity), both [mg/L as CaCO3]; [degC], [mg/L]. The manual prints calcium in
    mg/L without a basis; the worked example of UFC 3-240-13FN comes out only as CaCO3, and so does theory. Raises
    BadInput for calcium or alkalinity of 0 or less, and outside the tables. Source: TM 5-813-3 (1985), equation 2-1.
    """
    if not (calcium_mg_l_caco3 > 0.0 and alkalinity_mg_l_caco3 > 0.0):
        raise BadInput("A water without calcium or alkalinity has no saturation pH.", "Check the two readings.")
    constants = langelier_a(temperature_c) + langelier_b(dissolved_solids_mg_l)
    return constants - log10(calcium_mg_l_caco3) - log10(alkalinity_mg_l_caco3)


def saturation_ph_by_formula(
    temperature_c: float, dissolved_solids_mg_l: float, calcium_mg_l_caco3: float, alkalinity_mg_l_caco3: float
) -> float:
    """The same by formula: 9.3 + A + B - (C + D).

    A = (log10 TDS - 1) / 10, B = -13.12 log10(T + 273) + 34.55, C = log10(calcium) - 0.4, D = log10(alkalinity), as
    CaCO3 [mg/L]. Raises BadInput for 0 or less. Source: common practice, no source.
    """
    if min(dissolved_solids_mg_l, calcium_mg_l_caco3, alkalinity_mg_l_caco3) <= 0.0:
        raise BadInput("Dissolved solids, calcium and alkalinity must be above 0.", "Check the three readings.")
    a = (log10(dissolved_solids_mg_l) - 1.0) / 10.0
    b = -13.12 * log10(temperature_c + 273.0) + 34.55
    return 9.3 + a + b - (log10(calcium_mg_l_caco3) - 0.4 + log10(alkalinity_mg_l_caco3))


def langelier_index(sample: Sample) -> float:
    """Langelier index of `sample` by the tables: pH less `saturation_ph`. Above 0 forms scale, below 0 dissolves it.

    A direction, not an amount; `speciate` has the exact index, `ccpp_mg_l_caco3` the amount. Range: pH 6.5 to 9.5 and
    the tables; raises BadInput outside. Source: TM 5-813-3 (1985).
    """
    if not _LEAST_PH <= sample.pH <= _MOST_PH:
        raise BadInput(
            f"The Langelier index holds from pH {_LEAST_PH:g} to {_MOST_PH:g}, not at {sample.pH:.1f}.",
            "Use the saturation index of calcite.",
        )
    calcium = sample.calcium_mg_l * CACO3_G_PER_MOL / CALCIUM_G_PER_MOL
    return sample.pH - saturation_ph(sample.temperature_c, tds_mg_l(sample), calcium, sample.alkalinity_mg_l_caco3)


def ccpp_mg_l_caco3(sample: Sample) -> float:
    """Calcium carbonate precipitation potential [mg/L as CaCO3]: above 0 that much forms, below 0 dissolves.

    50,045 (alkalinity - alkalinity at equilibrium) with alkalinity in [eq/L], closed to air, at the sample's
    temperature. Range: as `speciate`. Source: Larson and Buswell's definition as in Public Water Systems (handbook).
    """
    if speciate(sample).calcite_saturation_index <= 0.0:
        return -calcite_limit_mmol_l(sample) * CACO3_G_PER_MOL
    k, totals = constants_at(sample.temperature_c), equilibrium.totals_of(sample)
    raw = equilibrium.at_ph(k, totals, sample.pH)

    def short(formed: float) -> float:
        left = _less_calcite(totals, formed)
        return -equilibrium.saturation_index(k, equilibrium.at_carbon(k, left, raw.total_carbon - formed, raw))

    most = min(totals.calcium, raw.total_carbon) * (1.0 - 1e-9)
    return rising_root(short, 0.0, most) * CACO3_G_PER_MOL * 1e3


def warmed(sample: Sample, temperature_c: float) -> Sample:
    """`sample` in a closed bottle brought to `temperature_c` [degC], 0 to 50: carbon and alkalinity stay, pH moves.

    Raises BadInput outside the range. Source: conservation of carbon and alkalinity, Stumm and Morgan 1996.
    """
    if not 0.0 <= temperature_c <= 50.0:
        raise BadInput(f"The constants hold from 0 to 50 °C, not at {temperature_c:g} °C.", "Check the temperature.")
    carbon = speciate(sample).total_carbon_mmol_l
    return with_total_carbon(msgspec.structs.replace(sample, temperature_c=temperature_c), carbon)


def solved(
    sample: Sample,
    *,
    pH: float | None = None,
    alkalinity_mg_l_caco3: float | None = None,
    co2_mg_l: float | None = None,
    total_carbon_mmol_l: float | None = None,
) -> Sample:
    """The ions and temperature of `sample` with the pH and alkalinity that two of the four things known give.

    pH 0 to 14; alkalinity [mg/L as CaCO3]; dissolved `co2_mg_l` [mg/L]; `total_carbon_mmol_l` [mmol/L]. Raises BadInput
    for fewer or more than two, and where no water has both. Source: as `speciate`.
    """
    values = (pH, alkalinity_mg_l_caco3, co2_mg_l, total_carbon_mmol_l)
    known = {kind: value for kind, value in zip(_KINDS, values, strict=True) if value is not None}
    _check_pair(known)
    k, totals = constants_at(sample.temperature_c), equilibrium.totals_of(sample)
    if alkalinity_mg_l_caco3 is None:
        found = _alkalinity_of(k, totals, known) * CACO3_MG_PER_MEQ * 1e3
    else:
        found = alkalinity_mg_l_caco3
    changed = msgspec.structs.replace(sample, alkalinity_mg_l_caco3=found)
    return msgspec.structs.replace(changed, pH=pH if pH is not None else _ph_of(k, changed, known))


def _check_pair(known: dict[str, float]) -> None:
    if len(known) != 2:
        raise BadInput(
            f"{len(known)} of pH, alkalinity, CO2 and total carbon are given; two settle the rest.", "Give two of them."
        )
    for name, value in known.items():
        if not isfinite(value) or (value < 0.0 and name != "alkalinity_mg_l_caco3") or (name == "pH" and value > 14.0):
            raise BadInput(f"{name} of {value:g} is not possible.", "Check the number and its unit.")


def _ph_of(k: Constants, sample: Sample, known: dict[str, float]) -> float:
    totals = equilibrium.totals_of(sample)
    if "total_carbon_mmol_l" in known:
        return equilibrium.at_carbon(k, totals, known["total_carbon_mmol_l"] * 1e-3).pH
    return equilibrium.at_co2(k, totals, known["co2_mg_l"] / CO2_G_PER_MOL * 1e-3).pH


def _alkalinity_of(k: Constants, totals: Totals, known: dict[str, float]) -> float:
    """Alkalinity [eq/L] where two of pH, CO2 and total carbon are known."""
    excess = _excess(k, totals, known)
    low, high = _LEAST_ALKALINITY, _MOST_ALKALINITY
    if not excess(low) < 0.0 < excess(high):
        raise BadInput("No water has these two together.", "Check both numbers and their units.")
    return rising_root(excess, low, high, 1e-15)


def _excess(k: Constants, totals: Totals, known: dict[str, float]) -> Callable[[float], float]:
    """A function that rises with the alkalinity [eq/L] and is zero where both knowns hold."""
    co2 = known.get("co2_mg_l", 0.0) / CO2_G_PER_MOL * 1e-3
    carbon = known.get("total_carbon_mmol_l", 0.0) * 1e-3

    def at(alkalinity: float) -> State:
        changed = msgspec.structs.replace(totals, alkalinity=alkalinity)
        if "pH" in known:
            return equilibrium.at_ph(k, changed, known["pH"])
        return equilibrium.at_carbon(k, changed, carbon)

    if "pH" not in known:
        return lambda alkalinity: co2 - at(alkalinity).co2
    if "co2_mg_l" in known:
        return lambda alkalinity: at(alkalinity).co2 - co2
    return lambda alkalinity: at(alkalinity).total_carbon - carbon


def _less_calcite(totals: Totals, formed: float) -> Totals:
    left = totals.alkalinity - 2.0 * formed
    return msgspec.structs.replace(totals, calcium=totals.calcium - formed, alkalinity=left)


def _between(table: tuple[tuple[float, float], ...], at: float, unit: str) -> float:
    if not table[0][0] <= at <= table[-1][0]:
        raise BadInput(
            f"The Langelier table runs from {table[0][0]:g} to {table[-1][0]:.0f} {unit}, not to {at:g}.",
            "Use the saturation index of calcite.",
        )
    for (x0, y0), (x1, y1) in pairwise(table):
        if at <= x1:
            return y0 + (y1 - y0) * (at - x0) / (x1 - x0)
    return table[-1][1]
