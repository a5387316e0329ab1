"""What all tests share: few pauses to look for garbage, no settings of the machine, no deadlines it could miss."""

from __future__ import annotations

import gc
import os

from hypothesis import settings

gc.set_threshold(100_000, 50, 50)
settings.register_profile("wellward", deadline=None, max_examples=20)
settings.register_profile("long", deadline=None, max_examples=500)
settings.load_profile("wellward")

# No folder can be there: programs that tests start read no settings of whoever runs them, and keep none.
os.environ["XDG_CONFIG_HOME"] = os.environ["XDG_STATE_HOME"] = "/dev/null/wellward"
