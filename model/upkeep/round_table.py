"""What the monthly round reads at each kind of stage. How often, and why: from memory; owner's default."""

from __future__ import annotations

from typing import Literal

import msgspec

from model.records.events import State

AT_REST: State = "at_rest"
FLOWING: State = "flowing"


class Ask(msgspec.Struct, frozen=True, kw_only=True):
    """One value: at the stage itself, in the water after it, or at a point of the train.

    `every_months`: 1 for each round, more where it was not read for so long. `if_ever`: only where it was read before,
    because not every unit shows it. `needs`: only in a home with, or without, a softener.
    """

    quantity: str
    at: Literal["house", "stage", "source", "after", "tap", "ro"] = "stage"
    state: State = ""
    every_months: int = 1
    if_ever: bool = False
    needs: Literal["", "softener", "no softener"] = ""
    why: str


class Walk(msgspec.Struct, frozen=True):
    """One place: its name where no stage gives one, what to have in hand, why, and the values in order."""

    title: str
    takes: str
    why: str
    asks: tuple[Ask, ...]


def _gauges(if_ever: bool) -> tuple[Ask, ...]:
    why = "the two together, at the same flow each time: a drop of 10 psi (0.7 bar) over clean is too much"
    return (
        Ask(quantity="pressure_in", state=FLOWING, if_ever=if_ever, why=why),
        Ask(quantity="pressure_out", state=FLOWING, if_ever=if_ever, why=why),
    )


MORNING = Walk(
    "First thing in the morning",
    "pH meter or kit; before anyone runs water",
    "Water that stood in the tank shows over-correction.",
    (Ask(quantity="pH", at="tap", state=AT_REST, why="above 8.8 after a night the blend wants a look"),),
)
HOUSE = Walk(
    "Water meter",
    "eyes and a light",
    "Use sets nearly every date; a jump may be a leak.",
    (Ask(quantity="meter", at="house", why="every digit, no water running"),),
)
RAW = Walk(
    "Raw water",
    "kits for pH, hardness, nitrate; run the raw tap 3 minutes",
    "The raw water sizes everything behind it.",
    (
        Ask(quantity="pH", at="source", state=FLOWING, why="at once, glass brim-full, not shaken"),
        Ask(quantity="hardness", at="source", state=FLOWING, why="the neutralizer's share is the rise over this"),
        Ask(quantity="nitrate", at="source", why="a strip is a range, as 5-10; say as N or as NO3"),
        Ask(quantity="iron", at="source", state=FLOWING, every_months=3, why="above 0.3 mg/L it fouls resin and lamp"),
    ),
)
TAP = Walk(
    "Kitchen tap, cold",
    "pH meter or kit; run 3 minutes",
    "What the house drinks and its pipes stand in.",
    (
        Ask(quantity="pH", at="tap", state=FLOWING, why="below 6.5 it takes up copper and lead, above 8.8 it scales"),
        Ask(quantity="nitrate", at="tap", needs="no softener", why="nobody can taste it: 10 mg/L as N is the limit"),
    ),
)
BY_KIND: dict[str, Walk] = {
    "pressure_tank": Walk(
        "Pressure tank",
        "watch with seconds, bucket; one pump cycle",
        "Draw-down is the best single sign of its health.",
        (
            Ask(quantity="cut_out", every_months=3, why="the gauge when the pump stops"),
            Ask(quantity="drawdown", every_months=3, why="water drawn until the pump starts: 15 % less is air lost"),
            Ask(quantity="cut_in", every_months=3, why="the gauge when the pump starts"),
            Ask(quantity="run_time", every_months=3, why="from start to stop, taps shut: a minute or more"),
        ),
    ),
    "sediment_filter": Walk(
        "Sediment filter", "one large tap fully open", "Both gauges within 10 seconds.", _gauges(if_ever=False)
    ),
    "neutralizer": Walk(
        "Acid neutralizer",
        "kits for pH and hardness; run 3 minutes",
        "pH and the rise in hardness tell how much media dissolves.",
        (
            *_gauges(if_ever=True),
            Ask(quantity="pH", at="after", state=FLOWING, why="6.8 to 8.2; lower says the bed is low or channelled"),
            Ask(quantity="hardness", at="after", state=FLOWING, why="1 to 6 gpg above raw; less says less dissolves"),
        ),
    ),
    "softener": Walk(
        "Softener",
        "stick, flashlight, kits for hardness and nitrate",
        "One salt, two jobs: hardness shows when it fails, nitrate does not.",
        (
            *_gauges(if_ever=True),
            Ask(quantity="salt_depth", why="from the floor, same spot: it falls in step with the regenerations"),
            Ask(quantity="brine_level", why="water above the salt, or standing high, is a fault"),
            Ask(quantity="regenerations", why="the counter on the valve: fewer than expected means it does not run"),
            Ask(quantity="days_since_regeneration", if_ever=True, why="3 to 10 is usual, above 14 is a fault"),
            Ask(quantity="water_since_regeneration", why="what comes through depends on where in its run the resin is"),
            Ask(quantity="hardness", at="after", state=FLOWING, why="below 1 gpg is good, above 3 act"),
            Ask(quantity="nitrate", at="after", why="at 5 mg/L as N act, at 10 stop drinking it"),
            Ask(quantity="iron", at="after", state=FLOWING, every_months=3, why="above 0.3 mg/L the resin is fouling"),
        ),
    ),
    "ultraviolet": Walk(
        "Ultraviolet",
        "eyes and a flashlight; no alarm, dry, lit",
        "A lamp that is lit may still be too old.",
        (
            Ask(quantity="lamp_hours", why="order a lamp at 8,500"),
            Ask(quantity="uv_intensity", if_ever=True, why="below 70 % clean the sleeve first"),
        ),
    ),
    "reverse_osmosis": Walk(
        "Reverse osmosis",
        "TDS meter, thermometer, cup, watch; run 3 minutes",
        "Cold slows it, a dying membrane lets solids through.",
        (
            Ask(quantity="ro_feed_tds", why="the cold tap that feeds it"),
            Ask(quantity="ro_product_tds", why="a tenth of the feed or less is good; act at 15 %"),
            Ask(quantity="temperature", at="tap", state=FLOWING, why="the feed: cold water makes it slow, not bad"),
            Ask(quantity="feed_pressure", if_ever=True, why="the flow goes with it"),
            Ask(quantity="ro_flow", why="catch a timed minute, reservoir shut; mL/min may be typed"),
            Ask(quantity="nitrate", at="ro", why="solids say nothing about it"),
        ),
    ),
}
"""Kind of stage -> what is read there."""
