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
        cause(
            "cracked",
            "The sleeve is cracked or its O-ring leaks: water at the end nut.",
            "Power off, pressure off; dry it, fit new rings, and a new sleeve if it is cracked.",
            "replace_sleeve",
        ),
        cause("ballast", "The ballast is failing.", "Replace it if a new lamp does not help.", "replace_ballast"),
    ),
)

COUNTER_BEHIND = Diagnosis(
    id="counter_behind",
    title="The lamp's counter rises too slowly",
    tasks=("glance",),
    causes=(
        cause(
            "off",
            "The lamp was dark for part of the time: a power cut, a switch, an outlet that trips.",
            "See that it is lit; disinfect the pipes after it. An outlet that trips again is for an electrician.",
            "sanitize_pipes",
        ),
        cause("reset", "The counter was set back, or lost in a power cut.", "Go by the calendar.", "replace_lamp"),
        cause("lit", "It is lit for fewer hours a day than written down.", "Correct the hours in House.", "glance"),
        cause("meter", "The counter is broken or was read wrongly.", "Read it twice, a day apart.", "glance"),
        cause("new", "A new lamp was fitted and not written down.", "Write the change down.", "replace_lamp"),
    ),
)

WARM_WATER = Diagnosis(
    id="warm_uv_water",
    title="Warm water after the UV unit",
    tasks=("glance",),
    causes=(
        cause(
            "still", "The lamp warms water that stands in it: no fault.", "Flush until it runs cold before drinking."
        ),
        cause(
            "hot", "It was read at a hot or mixed tap, or after pipes in a warm room.", "Read a cold tap that has run."
        ),
        cause("thermometer", "The thermometer is off.", "Read raw water and the tap with the same one.", "glance"),
    ),
)
