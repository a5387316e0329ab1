"""Drawings in plain ASCII of where the tape measure goes."""

from __future__ import annotations

DRAWINGS: dict[str, str] = {
    "tank_width": r"""
  .-----------.
  |           |      Measure across the tank,
  |<--------->|      from wall to wall.
  |   width   |      Only the outside within reach?
  '-----------'      Take that; the wall is thin.
""".strip("\n"),
    "salt_depth": r"""
  |           |
  |. . . . . .|--+   Lay a stick on the floor of the
  |: : salt : |  |   tank, beside the salt, and mark
  |: : : : : :|  |   where the salt ends: from the
  |___________|--+   floor up, water or no water.
""".strip("\n"),
    "bed_depth": r"""
  .-----------.
  |   water   |      Shine a lamp through the wall, or
  |-----------|--+   push a clean stick down the fill
  |:: media ::|  |   hole. Depth: from the bottom up
  '-----------'--+   to the top of the media.
""".strip("\n"),
}
"""At most five lines of 54 columns each, so that a page fits on 60x20."""
