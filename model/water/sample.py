"""One water, as the rest of the program sees it: SI units, with the basis in each name."""

from __future__ import annotations

import msgspec


class Sample(msgspec.Struct, frozen=True, kw_only=True):
    """Composition of one water. All ions in [mg/L] of the ion unless the name says otherwise.

    `assumed` names the fields that no laboratory or reading gave.
    """

    pH: float
    temperature_c: float = 11.0
    alkalinity_mg_l_caco3: float
    calcium_mg_l: float
    magnesium_mg_l: float
    sodium_mg_l: float
    potassium_mg_l: float = 0.0
    chloride_mg_l: float = 0.0
    sulfate_mg_l: float = 0.0
    nitrate_mg_l_n: float = 0.0
    iron_mg_l: float = 0.0
    manganese_mg_l: float = 0.0
    assumed: tuple[str, ...] = ()
