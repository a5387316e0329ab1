"""Brine: how much salt water holds, and what potassium chloride changes."""

from __future__ import annotations

from bisect import bisect_right

from model.equipment.relations.check import at_least
from model.errors import BadInput

SODIUM_CHLORIDE, POTASSIUM_CHLORIDE = "sodium_chloride", "potassium_chloride"

# Molar masses, IUPAC abridged 2013.
_NA, _K, _CL, _CACO3 = 22.990, 39.098, 35.45, 100.087

_MASS_PERCENT: dict[str, tuple[tuple[float, ...], tuple[float, ...]]] = {
    # Fahrenheit 32.2, 40, 50, 60, 70, 80, 100 as printed.
    SODIUM_CHLORIDE: (
        (0.1, 4.44, 10.0, 15.56, 21.11, 26.67, 37.78),
        (26.31, 26.33, 26.36, 26.395, 26.45, 26.52, 26.68),
    ),
    POTASSIUM_CHLORIDE: ((0.0, 10.0, 20.0, 25.0, 30.0, 40.0), (21.74, 23.61, 25.39, 26.22, 27.04, 28.59)),
}
_CATION = {SODIUM_CHLORIDE: _NA, POTASSIUM_CHLORIDE: _K}


def saturated_mass_percent(regenerant: str, temperature_c: float) -> float:
    """Salt in saturated brine [% by mass] at a temperature [degC], 0 to 37 (the end values outside).

    Straight lines through a table, for "sodium_chloride" or "potassium_chloride". Cold hardly weakens brine of sodium
    chloride; brine of potassium chloride loses a fifth from 25 degC to freezing. Raises BadInput for another salt.
    Source: Salt Institute, solubility of salt; potassium chloride CRC Handbook, from memory.
    """
    at, percents = _MASS_PERCENT[_known(regenerant)]
    if temperature_c <= at[0]:
        return percents[0]
    if temperature_c >= at[-1]:
        return percents[-1]
    k = bisect_right(at, temperature_c) - 1
    return percents[k] + (percents[k + 1] - percents[k]) * (temperature_c - at[k]) / (at[k + 1] - at[k])


def dissolved_kg(water_l: float, regenerant: str, temperature_c: float) -> float:
    """Salt that saturates `water_l` [L] of fill water [kg] at a temperature [degC]: 1 kg a litre x w / (100 - w).

    About 0.36 kg of sodium chloride a litre (3 lb a gallon). Raises BadInput below 0 or for another salt.
    Source: `saturated_mass_percent`, water of 1 kg/L.
    """
    at_least("fill water", water_l, 0.0)
    percent = saturated_mass_percent(regenerant, temperature_c)
    return water_l * percent / (100.0 - percent)


def fill_water_l(salt_kg: float, regenerant: str, temperature_c: float) -> float:
    """Fill water that dissolves `salt_kg` [kg] by the time of the next regeneration [L], at a temperature [degC].

    The inverse of `dissolved_kg`. Raises BadInput below 0 or for another salt. Source: as that.
    """
    at_least("salt", salt_kg, 0.0)
    return salt_kg / dissolved_kg(1.0, regenerant, temperature_c)


def sodium_chloride_equal_kg(salt_kg: float, regenerant: str) -> float:
    """Sodium chloride [kg] that holds as many equivalents as `salt_kg` [kg] of the regenerant.

    Potassium chloride: 0.784 of its mass, so 1.276 kg stand in for 1 kg. Raises BadInput below 0 or for another salt.
    Source: atomic weights IUPAC 2013; 5,994 and 4,699 grains as CaCO3 a pound, common practice, no source.
    """
    at_least("salt", salt_kg, 0.0)
    return salt_kg * (_NA + _CL) / (_CATION[_known(regenerant)] + _CL)


def cation_added_mg_l(hardness_removed_mg_l_caco3: float, regenerant: str) -> float:
    """Sodium or potassium that softening puts in [mg/L] for the hardness it takes out [mg/L as CaCO3].

    Two for each calcium or magnesium: 0.4594 mg of sodium or 0.7813 mg of potassium for each mg. Raises BadInput below
    0 or for another salt. Source: charge balance, atomic weights IUPAC 2013; sodium 46 per 100 in Connecticut DPH
    publication 29, whose 76 per 100 for potassium is a misprint of 78.
    """
    at_least("hardness removed", hardness_removed_mg_l_caco3, 0.0)
    return hardness_removed_mg_l_caco3 * 2.0 * _CATION[_known(regenerant)] / _CACO3


def cation_kg(salt_kg: float, regenerant: str) -> float:
    """Sodium or potassium in `salt_kg` [kg] of the regenerant [kg]: 39.34 % or 52.45 %.

    Raises BadInput below 0 or for another salt. Source: atomic weights IUPAC 2013.
    """
    at_least("salt", salt_kg, 0.0)
    cation = _CATION[_known(regenerant)]
    return salt_kg * cation / (cation + _CL)


def _known(regenerant: str) -> str:
    if regenerant not in _CATION:
        raise BadInput(f"There is no regenerant {regenerant!r}.", "Say sodium_chloride or potassium_chloride.")
    return regenerant
