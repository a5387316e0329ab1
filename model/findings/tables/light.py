"""The ultraviolet unit. Order of causes and remedies: common practice, no source, unless said."""

from __future__ import annotations

from model.findings.shape import Diagnosis, cause

LAMP_SILENT = Diagnosis(
    id="lamp_silent",
    title="Lamp over its hours, and no alarm",
    tasks=("replace_lamp",),
    causes=(
        cause(
            "reset",
            "The counter was reset, or lost in a power cut, without a new lamp.",
            "Change the lamp now.",
            "replace_lamp",
        ),
        cause(
            "unwritten",
            "The lamp was changed and not written down.",
            "Find its date code; write the change down.",
            "replace_lamp",
        ),
        cause(
            "off", "The lamp was off for part of the time.", "Correct the hours a day it is lit, in House.", "glance"
        ),
        cause("counter", "The unit has no counter, or it is broken.", "Go by the calendar.", "replace_lamp"),
    ),
)

LOW_LIGHT = Diagnosis(
    id="low_light",
    title="Too little ultraviolet light: sleeve, lamp or water",
    tasks=("clean_sleeve",),
    causes=(
        cause("sleeve", "The quartz sleeve is dirty.", "Clean it and see whether the sensor jumps up.", "clean_sleeve"),
        cause("lamp", "The lamp is old or weak.", "Order and change it.", "replace_lamp"),
        cause(
            "water",
            "The water takes up light: iron, tannin, cloudiness.",
            "Have transmittance and iron tested.",
            "well.mineral_test",
        ),
        cause("sensor", "A film lies on the sensor's window.", "Clean it as the manual says.", "clean_sleeve"),
        cause("ballast", "The ballast is failing.", "Replace it if a new lamp does not help.", "replace_ballast"),
    ),
)
