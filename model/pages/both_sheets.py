"""What stands alike on the sheet for a sitter and on that for the next owner."""

from __future__ import annotations

from model.pages.page import Blanks, Block, Text

INFANTS = (
    "Infants: never from any tap of this house, filtered or not. Tested bottled water only; the doctor or the health "
    "authority has the last word."
)
_SHUT_OFFS = Blanks(("Breaker of the pump", "House shut-off valve", "Breaker of the water heater"))


def shut_offs(told: str) -> tuple[Block, ...]:
    """What to shut off at a leak, in words, and lines for where it is."""
    return Text(told), _SHUT_OFFS
