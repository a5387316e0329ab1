"""How far a sediment cartridge is loaded, by its pressure drop."""

from __future__ import annotations

from model.equipment.relations.check import at_least, positive, share
from model.errors import BadInput


def share_used(drop_bar: float, clean_drop_bar: float, change_drop_bar: float, exponent: float = 1.0) -> float:
    """Share of its litres that a cartridge has had, 0-1, by its drop [bar] between the clean and the change drop [bar].

    ((drop - clean) / (change - clean))^(1/exponent), the inverse of `drop_after_bar`; all drops at one flow. With the
    exponent 1, a straight line. Raises BadInput where the change drop is not above the clean one, or for an exponent
    below 1. Source: as `drop_after_bar`.
    """
    return float(rise_share(drop_bar, clean_drop_bar, change_drop_bar) ** (1.0 / _steep(exponent)))


def rise_share(drop_bar: float, clean_drop_bar: float, change_drop_bar: float) -> float:
    """How far a drop [bar] is from the clean drop [bar] to the one at which to change [bar], 0-1.

    All at one flow. Raises BadInput where the change drop is not above the clean one. Source: definition.
    """
    at_least("clean drop", clean_drop_bar, 0.0)
    positive("change drop above the clean one", change_drop_bar - clean_drop_bar)
    return min(max((drop_bar - clean_drop_bar) / (change_drop_bar - clean_drop_bar), 0.0), 1.0)


def drop_after_bar(share_of_litres: float, clean_drop_bar: float, change_drop_bar: float, exponent: float) -> float:
    """Pressure drop [bar] at a fixed flow after a share [0-1] of the litres that a cartridge is good for.

    clean + (change - clean) x share^exponent, drops [bar], exponent 1 or more: with 1 a straight line, above 1 the
    drop rises the faster the fuller the cartridge, so that the last third of the rise comes in fewer litres than the
    first. Raises BadInput for another share or exponent.
    Source: that it steepens is common practice, no source; the exponent is an owner's default.
    """
    share("share of the litres", share_of_litres)
    positive("change drop above the clean one", change_drop_bar - clean_drop_bar)
    return float(clean_drop_bar + (change_drop_bar - clean_drop_bar) * share_of_litres ** _steep(exponent))


def drop_at_flow_bar(drop_bar: float, flow_l_per_min: float, stated_l_per_min: float) -> float:
    """A drop [bar] read at one flow [L/min], as it would be at the stated flow [L/min]: in proportion.

    Slow flow through a fine cartridge; the housing's own share grows faster than that, so read near the stated flow.
    Raises BadInput for a drop below 0 or a flow of 0 or less. Source: Darcy's law.
    """
    at_least("pressure drop", drop_bar, 0.0)
    positive("flow", flow_l_per_min)
    positive("stated flow", stated_l_per_min)
    return drop_bar * stated_l_per_min / flow_l_per_min


def litres_left(litres_so_far: float, share_used: float) -> float:
    """Litres [L] still to pass, if so many litres [L] used this share [0-1] of the cartridge and the rest goes alike.

    Raises BadInput for a share not above 0 or above 1. Source: proportion.
    """
    at_least("litres so far", litres_so_far, 0.0)
    if not 0.0 < share_used <= 1.0:
        raise BadInput(f"The share used must be above 0 and at most 1, not {share_used:g}.")
    return litres_so_far * (1.0 - share_used) / share_used


def _steep(exponent: float) -> float:
    at_least("exponent", exponent, 1.0)
    return exponent
