"""The units a value may be typed in, by dimension, with their factors to the unit used inside."""

from __future__ import annotations

import msgspec


class Unit(msgspec.Struct, frozen=True):
    """One unit: value inside = (value - `zero`) x `scale`. `also` lists other spellings, plain (see `plain`)."""

    name: str
    scale: float = 1.0
    zero: float = 0.0
    also: tuple[str, ...] = ()


# Source of lengths, volumes, masses, pressures, degrees: NIST SP 811, appendix B.8 (psi from the exact lbf and inch).
GALLON_L = 3.785411784
CUBIC_FOOT_L = 28.316846592
POUND_KG = 0.45359237
PSI_BAR = 0.06894757293168
GRAIN_MG = 64.79891

# Source of molar masses: IUPAC abridged atomic weights 2013 (N 14.007, O 15.999, H 1.008, C 12.011, Ca 40.078).
NITROGEN_G = 14.007
NITRATE_G = 62.004
NITRITE_G = 46.005
AS_NO3 = NITRATE_G / NITROGEN_G
"""Nitrate as NO3 over the same as N, 4.43."""
CACO3_G = 100.09  # as in the hardness tables of the trade; per equivalent 50.045
GPG_MG_L = GRAIN_MG / GALLON_L  # 17.1181; printed as 17.1 nearly everywhere
DH_MG_L = 17.848  # 10 mg CaO/L as CaCO3: common practice, no source
FRENCH_MG_L = 10.0  # from memory
HCO3_TO_CACO3 = 0.8202  # 50.043 / 61.017, from the atomic weights above

_PH = ("ph", "none", "units", "su", "s.u.", "standardunits")
_PER_100_ML = ("per100ml", "/100ml", "p/a", "presence/absence", "cfu", "mpn", "count/100ml")

UNITS: dict[str, tuple[Unit, ...]] = {
    "volume": (
        Unit("L", also=("litre", "litres", "liter", "liters", "ltr")),
        Unit("gal", GALLON_L, also=("gallon", "gallons", "gals", "usgal", "usgallon", "usgallons")),
        Unit("m3", 1000.0, also=("cubicmetre", "cubicmetres", "cubicmeter", "cubicmeters", "cum")),
        Unit("ft3", CUBIC_FOOT_L, also=("cf", "cuft", "cubicfoot", "cubicfeet")),
        Unit("mL", 0.001, also=("millilitre", "millilitres", "milliliter", "milliliters")),
    ),
    "length": (
        Unit("cm", also=("centimetre", "centimetres", "centimeter", "centimeters")),
        Unit("in", 2.54, also=("inch", "inches", '"')),
        Unit("mm", 0.1, also=("millimetre", "millimetres", "millimeter", "millimeters")),
        Unit("m", 100.0, also=("metre", "metres", "meter", "meters")),
        Unit("ft", 30.48, also=("foot", "feet", "'")),
    ),
    "water_level": (
        Unit("m", also=("metre", "metres", "meter", "meters")),
        Unit("ft", 0.3048, also=("foot", "feet", "'")),
        Unit("cm", 0.01, also=("centimetre", "centimetres", "centimeter", "centimeters")),
        Unit("in", 0.0254, also=("inch", "inches", '"')),
    ),
    "pressure": (
        Unit("bar", also=("bars",)),
        Unit("psi", PSI_BAR, also=("psig", "lb/in2", "lbs/in2")),
        Unit("kPa", 0.01, also=("kilopascal", "kilopascals")),
    ),
    "mass": (
        Unit("kg", also=("kilo", "kilos", "kilogram", "kilograms", "kgs")),
        Unit("lb", POUND_KG, also=("lbs", "pound", "pounds")),
        Unit("g", 0.001, also=("gram", "grams")),
    ),
    "temperature": (
        Unit("C", also=("degc", "celsius", "centigrade")),
        Unit("F", 5.0 / 9.0, 32.0, also=("degf", "fahrenheit")),
    ),
    "flow": (
        Unit("L/min", also=("lpm", "l/minute", "litres/min")),
        Unit("gpm", GALLON_L, also=("gal/min", "gallons/min", "gallons/minute")),
        Unit("L/s", 60.0),
        Unit("m3/h", 1000.0 / 60.0, also=("m3/hr", "m3/hour")),
    ),
    "daily_flow": (
        Unit("L/day", also=("l/d", "lpd", "litres/day")),
        Unit("gal/day", GALLON_L, also=("gpd", "gal/d", "gallons/day")),
        Unit("m3/day", 1000.0, also=("m3/d",)),
        Unit("mL/min", 1.44, also=("ml/minute",)),
    ),
    "hourly_flow": (
        Unit("L/h", also=("l/hr", "l/hour", "lph", "litres/hour")),
        Unit("gal/h", GALLON_L, also=("gal/hr", "gal/hour", "gph", "gallons/hour")),
    ),
    "concentration": (
        Unit("mg/L", also=("ppm", "mgl", "g/m3")),
        Unit("ug/L", 0.001, also=("ppb", "mcg/l")),
        Unit("g/L", 1000.0),
    ),
    "hardness": (
        Unit("mg/L as CaCO3", also=("ppmascaco3", "mgcaco3/l", "mg/lcaco3", "ppmcaco3")),
        Unit("gpg", GPG_MG_L, also=("grain", "grains", "gr/gal", "grains/gal", "grains/gallon")),
        Unit("dH", DH_MG_L, also=("dgh", "gh", "degdh")),
        Unit("mmol/L", CACO3_G),
        Unit("meq/L", CACO3_G / 2.0),
        Unit("fH", FRENCH_MG_L, also=("degfh", "tf")),
    ),
    "alkalinity": (
        Unit("mg/L as CaCO3", also=("ppmascaco3", "mgcaco3/l", "mg/lcaco3", "ppmcaco3")),
        Unit("mg/L as HCO3", HCO3_TO_CACO3, also=("ppmashco3", "mghco3/l", "mg/lhco3")),
        Unit("dH", DH_MG_L, also=("dkh", "kh", "degdh")),
        Unit("meq/L", CACO3_G / 2.0),
        Unit("gpg", GPG_MG_L, also=("grains/gal", "grains/gallon")),
    ),
    "nitrate": (
        Unit("mg/L as N", also=("ppmasn", "mg/lasnitrogen", "mg/l-n", "mgn/l", "mg/lasno3-n", "mg/lno3-n")),
        Unit("mg/L as NO3", NITROGEN_G / NITRATE_G, also=("ppmasno3", "mg/lasnitrate", "mgno3/l")),
        Unit("mg/L as CaCO3", NITROGEN_G / (CACO3_G / 2.0), also=("ppmascaco3",)),
        Unit("ug/L as N", 0.001, also=("ppbasn",)),
    ),
    "nitrite": (
        Unit("mg/L as N", also=("ppmasn", "mg/lasnitrogen", "mg/l-n", "mgn/l", "mg/lasno2-n", "mg/lno2-n")),
        Unit("mg/L as NO2", NITROGEN_G / NITRITE_G, also=("ppmasno2", "mg/lasnitrite", "mgno2/l")),
        Unit("ug/L as N", 0.001, also=("ppbasn",)),
    ),
    "time": (
        Unit("s", also=("sec", "secs", "second", "seconds")),
        Unit("min", 60.0, also=("mins", "minute", "minutes")),
        Unit("h", 3600.0, also=("hr", "hrs", "hour", "hours")),
    ),
    "lit_time": (
        Unit("h", also=("hr", "hrs", "hour", "hours")),
        Unit("min", 1.0 / 60.0, also=("mins", "minute", "minutes")),
        Unit("days", 24.0, also=("d", "day")),
    ),
    "days": (
        Unit("days", also=("d", "day")),
        Unit("h", 1.0 / 24.0, also=("hr", "hrs", "hour", "hours")),
        Unit("weeks", 7.0, also=("week", "wk", "wks")),
    ),
    "current": (Unit("A", also=("amp", "amps", "ampere", "amperes")),),
    "voltage": (Unit("V", also=("volt", "volts")),),
    "percent": (Unit("%", also=("percent", "pct")),),
    "conductivity": (
        Unit("uS/cm", also=("umho/cm", "umhos/cm", "us")),
        Unit("mS/cm", 1000.0),
        Unit("mS/m", 10.0),
    ),
    "turbidity": (Unit("NTU", also=("fnu", "ntus")),),
    "organisms": (Unit("CFU/100 mL", also=_PER_100_ML), Unit("MPN/100 mL")),
    "count": (Unit("times", also=("", "count", "time", "regenerations", "regens", "x")),),
    "pH": (Unit("", also=_PH),),
}
"""Dimension -> its units, the one used inside first."""
