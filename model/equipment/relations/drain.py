"""What regenerations send to the drain in a week. Some places forbid brine in a septic field: local rules decide."""

from __future__ import annotations

from model.equipment.relations.check import at_least, positive

# Molar masses, IUPAC abridged 2013.
_NA, _CL = 22.990, 35.45


def regenerations_per_week(litres_per_day: float, litres_per_regeneration: float) -> float:
    """Regenerations of a metered valve in a week [1/week]: 7 x use [L/day] / run [L].

    Raises BadInput for a use below 0 or a run of 0 or less. Source: mass balance.
    """
    at_least("use", litres_per_day, 0.0)
    positive("run", litres_per_regeneration)
    return 7.0 * litres_per_day / litres_per_regeneration


def salt_kg_per_week(regenerations: float, salt_dose_kg: float) -> float:
    """Salt to the drain [kg/week], for `regenerations` [1/week] of `salt_dose_kg` [kg] each.

    All of it leaves: its chloride whole, its sodium in part by way of the softened water, so this is an upper bound.
    Raises BadInput below 0. Source: mass balance.
    """
    at_least("regenerations", regenerations, 0.0)
    at_least("salt dose", salt_dose_kg, 0.0)
    return regenerations * salt_dose_kg


def water_l_per_week(regenerations: float, water_l: float) -> float:
    """Water to the drain [L/week], for `regenerations` [1/week] of `water_l` [L] each.

    Raises BadInput below 0. Source: mass balance; 150 to 265 L (40 to 70 gal) each is common practice, no source.
    """
    at_least("regenerations", regenerations, 0.0)
    at_least("water", water_l, 0.0)
    return regenerations * water_l


def chloride_kg(salt_kg: float) -> float:
    """Chloride in `salt_kg` [kg] of sodium chloride [kg]: 60.66 %. Septic tanks take none of it out.

    Raises BadInput below 0. Source: atomic weights IUPAC 2013.
    """
    at_least("salt", salt_kg, 0.0)
    return salt_kg * _CL / (_NA + _CL)


def sodium_kg(salt_kg: float) -> float:
    """Sodium in `salt_kg` [kg] of sodium chloride [kg]: 39.34 %.

    Raises BadInput below 0. Source: atomic weights IUPAC 2013.
    """
    at_least("salt", salt_kg, 0.0)
    return salt_kg * _NA / (_NA + _CL)
