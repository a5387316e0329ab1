"""How far a sediment cartridge is loaded, by its pressure drop."""

from __future__ import annotations

from model.equipment.relations.check import at_least, positive
from model.errors import BadInput


def share_used(drop_bar: float, clean_drop_bar: float, change_drop_bar: float) -> float:
    """How far a drop [bar] is from the clean drop [bar] to the one at which to change [bar], 0-1, by a straight line.

    All at one flow. Raises BadInput where the change drop is not above the clean one.
    Source: common practice, no source; the rise is faster towards the end, so this is late rather than early at first.
    """
    at_least("clean drop", clean_drop_bar, 0.0)
    positive("change drop above the clean one", change_drop_bar - clean_drop_bar)
    return min(max((drop_bar - clean_drop_bar) / (change_drop_bar - clean_drop_bar), 0.0), 1.0)


def litres_left(litres_so_far: float, share_used: float) -> float:
    """Litres [L] still to pass, if so many litres [L] used this share [0-1] of the cartridge and the rest goes alike.

    Raises BadInput for a share not above 0 or above 1. Source: proportion.
    """
    at_least("litres so far", litres_so_far, 0.0)
    if not 0.0 < share_used <= 1.0:
        raise BadInput(f"The share used must be above 0 and at most 1, not {share_used:g}.")
    return litres_so_far * (1.0 - share_used) / share_used
