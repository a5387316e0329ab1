"""Amounts of a supply as the commands take them, in its unit or in packs, and which amounts are unlikely."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from model.errors import BadInput
from model.records.names import amount_of
from model.records.typed import MOST, PACK_WORDS, parse_amount, split_unit
from model.units import echo

if TYPE_CHECKING:
    from model.forecast.situation import Situation
    from model.home import Supply
    from model.units import System


# Both from memory; owner's default.
_MANY_TIMES = 3.0
"""More than this many times what the job takes, and more than the shelf holds, is strange."""
_MANY_YEARS, _MANY_PACKS = 10.0, 20.0
"""More than these years take, and more than these packs, is strange to buy at once."""


def parse_supply_amount(text: str, supply: Supply, *, zero_ok: bool = False) -> float:
    """An amount in the supply's unit: a bare number is in that unit already, "3 packs" or "3 bags" are whole packs.

    Raises:
        BadInput: as for `parse_amount`.
    """
    number, unit = split_unit(text)
    if unit.casefold() not in PACK_WORDS:
        return parse_amount(text, supply.unit, zero_ok=zero_ok)
    amount = parse_amount(number, zero_ok=zero_ok) * supply.pack
    if not amount < MOST:
        raise BadInput(f"The amount {echo(text)} is too large.", "It must be below 1,000,000 in all.")
    return amount


def understood(supply: Supply, amount: float, system: System) -> str:
    """What an amount was taken for, in a sentence: "Understood as 54.42 kg (120 lb), 3 packs of 40 lb."."""
    kept, shown = f"{amount:.6g} {supply.unit}", amount_of(amount, supply.unit, system)
    pieces = supply.unit == "each"
    also = f" ({shown})" if not pieces and shown.partition(" ")[2] != supply.unit else ""
    said = f"{amount:g} piece{'' if amount == 1 else 's'}" if pieces else kept + also
    if pieces and supply.pack == 1:
        return f"Understood as {said}."
    packs = amount / supply.pack
    pack = amount_of(supply.pack, supply.unit, system)
    return f"Understood as {said}, {packs:.3g} pack{'' if abs(packs - 1) < 1e-9 else 's'} of {pack}."


def doubts_of_used(now: Situation, used: dict[str, float], usual: dict[str, float]) -> Iterator[str]:
    """Amounts used that neither the shelf can have held nor the job can have taken.

    Args:
        now: the home before the service.
        used: by supply id, in the supply's unit.
        usual: what the job is likely to take, likewise.
    """
    from model.forecast.shelf import on_shelf

    there = on_shelf(now)
    for supply in now.house.supplies:
        amount, held, takes = used.get(supply.id, 0.0), there[supply.id], usual.get(supply.id, 0.0)
        if amount > held and amount > _MANY_TIMES * takes:
            said, on, job = (amount_of(one, supply.unit, now.house.units) for one in (amount, held, takes))
            yield (
                f"{supply.title}: {said} used is far more than the shelf held ({on}) and than this job "
                f"takes ({job}): check number and unit."
            )


def doubts_of_bought(now: Situation, supply: Supply, amount: float, typed: str) -> Iterator[str]:
    """What is strange about an amount bought: more than many years take, or a bare number below one pack."""
    from model.forecast.needs import yearly

    units = now.house.units
    a_year = sum(need.per_year for need in yearly(now) if need.supply == supply.id)
    if amount > max(_MANY_YEARS * a_year, _MANY_PACKS * supply.pack):
        said, takes = (amount_of(one, supply.unit, units) for one in (amount, round(a_year, 1)))
        yield f"{supply.title}: {said} is far more than a year takes ({takes}): check number and unit."
    if supply.unit != "each" and amount < supply.pack and not split_unit(typed)[1]:
        pack = amount_of(supply.pack, supply.unit, units)
        yield f'That is less than a pack of {pack}: a bare number is in {supply.unit}; for packs write "{typed} packs".'
