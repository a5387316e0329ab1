"""For all tests: a slow machine is no fault of the code."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("patient", deadline=None)
settings.load_profile("patient")
