"""Waters that the tests of this folder share."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from model.water.sample import Sample


def water(**fields: float) -> Sample:
    """A soft acid well water, with what the test changes."""
    base: dict[str, Any] = {
        "pH": 6.2,
        "temperature_c": 10.0,
        "alkalinity_mg_l_caco3": 30.0,
        "calcium_mg_l": 9.0,
        "magnesium_mg_l": 3.0,
        "sodium_mg_l": 8.0,
        "potassium_mg_l": 1.0,
        "chloride_mg_l": 12.0,
        "sulfate_mg_l": 10.0,
        "nitrate_mg_l_n": 3.0,
    }
    return Sample(**(base | fields))


waters = st.builds(
    water,
    pH=st.floats(4.8, 8.6),
    temperature_c=st.floats(1.0, 30.0),
    alkalinity_mg_l_caco3=st.floats(3.0, 300.0),
    calcium_mg_l=st.floats(0.0, 120.0),
    magnesium_mg_l=st.floats(0.0, 50.0),
    sodium_mg_l=st.floats(0.0, 150.0),
    chloride_mg_l=st.floats(0.0, 150.0),
    sulfate_mg_l=st.floats(0.0, 150.0),
    nitrate_mg_l_n=st.floats(0.0, 30.0),
    iron_mg_l=st.floats(0.0, 3.0),
)
doses = st.floats(0.0, 1.0)
shares = st.floats(0.0, 1.0)
