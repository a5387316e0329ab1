"""What all tests share: fewer pauses to look for garbage, and no deadline that a busy machine could miss."""

from __future__ import annotations

import gc

from hypothesis import settings

gc.set_threshold(100_000, 50, 50)
settings.register_profile("wellward", deadline=None)
settings.load_profile("wellward")
