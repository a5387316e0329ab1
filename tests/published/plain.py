"""A water with nothing in it but what a published example names."""

from __future__ import annotations

from typing import Any

from model.water.sample import Sample


def plain(**fields: float) -> Sample:
    """A sample with every ion 0 that is not given."""
    base: dict[str, Any] = {"pH": 7.0, "calcium_mg_l": 0.0, "magnesium_mg_l": 0.0, "sodium_mg_l": 0.0}
    return Sample(**(base | fields))
