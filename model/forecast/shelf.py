"""What lies on the shelf, what it cost last, and when to order more."""

from __future__ import annotations

from datetime import date, timedelta
from operator import attrgetter

from model.forecast.needs import Need, needs
from model.forecast.shortfall import shortfall
from model.forecast.situation import Situation
from model.home import Supply
from model.plan_types import Shelf
from model.records.events import AnyEvent, Purchase, Service, ShelfCount


def on_shelf(now: Situation) -> dict[str, float]:
    """What should lie there today, by supply [in its unit]: first count, purchases, parts used; never below zero."""
    amounts = {supply.id: supply.on_shelf for supply in now.house.supplies}
    events: list[AnyEvent] = [*now.history.of(Purchase), *now.history.of(Service), *now.history.of(ShelfCount)]
    for event in sorted((one for one in events if type(one) is not Service or one.used), key=attrgetter("on", "id")):
        if isinstance(event, Service):
            for supply, used in event.used.items():
                amounts[supply] = max(amounts.get(supply, 0.0) - used, 0.0)
        elif isinstance(event, Purchase):
            amounts[event.supply] = amounts.get(event.supply, 0.0) + event.quantity
        elif isinstance(event, ShelfCount):
            amounts[event.supply] = event.quantity
    return amounts


def price_of(now: Situation, supply: Supply) -> tuple[float, str]:
    """The price of one pack and where it comes from: the newest receipt with a total, else the price entered.

    What was had for nothing is no price: the next pack will cost what the last one paid for did.
    """
    paid = now.receipts.get(supply.id)
    if paid is not None and paid.price:
        return paid.price / paid.quantity * supply.pack, f"receipt of {paid.on}"
    return supply.price, "invented default, not yet a receipt" if supply.price_is_default else "as entered"


def shelf(now: Situation, until: date) -> tuple[Shelf, ...]:
    """Every supply with its stock, its next need beyond the stock before `until`, and the day by which to order."""
    amounts = on_shelf(now)
    year = needs(now, now.today + timedelta(days=365))
    return tuple(
        _row(now, supply, amounts[supply.id], [need for need in year if need.supply == supply.id], until)
        for supply in now.house.supplies
    )


def _row(now: Situation, supply: Supply, stock: float, year: list[Need], until: date) -> Shelf:
    needed_on, needed = shortfall(now, supply.id, stock, until)
    price, basis = price_of(now, supply)
    return Shelf(
        supply=supply.id,
        title=supply.title,
        unit=supply.unit,
        pack=supply.pack,
        price=price,
        price_basis=basis,
        on_shelf=stock,
        needed_on=needed_on,
        needed=needed,
        order_by=needed_on - timedelta(days=supply.lead_days) if needed_on else None,
        per_year=sum(need.quantity for need in year),
    )
