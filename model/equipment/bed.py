"""The media in a neutralizer's bed: how much is left above the depth at which to top up, and how fast it goes."""

from __future__ import annotations

from datetime import date

from model.equipment.base import Probe, Stock
from model.equipment.evidence import Evidence, Pace
from model.equipment.neutralizer import SPENT_PH, Neutralizer, bed, by_contact, least_bed_cm, media_g_per_m3
from model.equipment.wear import Drawn, Errors, Followed, follow

BED_SD_CM = 1.5
"""How well a tape finds the top of the bed [cm]. Common practice, no source."""

DISSOLVED_SD = 0.2
"""How far what dissolves is from what pH and contact say, in natural logs. From memory; owner's default."""

UNMEASURED_FULL_SHARE, MUCH_SHARE = 0.12, 0.4
"""As for salt: how well a top-up that nobody measured fills the bed, and from which share on it was meant to. Owner's
default."""

SPENT_WORDS = "The water after the tank is still acid: bed spent, channelled or bypassed. See to it now."


def stocks(stage: Neutralizer, known: Evidence) -> tuple[Stock, ...]:
    """Media left above the depth at which to top up [kg]; nothing where the raw water is unknown or not acid."""
    fed, out = known.fed(stage), known.treated(stage)
    if fed is None or out is None:
        return ()
    spent = out.pH < max(stage.floor_pH, SPENT_PH)
    if spent:
        # Little dissolves into water that stays acid because the bed is spent, channelled or bypassed: reckon on a
        # sound bed, and have this one seen to now.
        out = by_contact(stage, fed, stage.full_bed_cm, None)
    calcite, magnesia = media_g_per_m3(stage, fed, out)
    per_litre = (calcite + magnesia) * 1e-6 * (1.0 + stage.backwash_loss_share)
    if per_litre <= 0:
        return ()
    least_cm = least_bed_cm(stage, fed, out.pH)
    reserve = bed(stage, stage.full_bed_cm) - bed(stage, least_cm)
    media = bed_followed(stage, known, per_litre, reserve)
    return (
        Stock(
            job="top_up",
            driver="volume",
            unit="kg",
            since=media.on,
            left=0.0 if spent else media.level - bed(stage, least_cm),
            left_sd=media.sd,
            full=reserve,
            per_litre=Pace(per_litre).faster(media.log_rate).per_litre,
            spread=media.log_sd,
            refills={"calcite": reserve * (1.0 - stage.magnesia_share), "magnesia": reserve * stage.magnesia_share},
            sure=known.sure(media.seen),
            why=(
                *_why(stage, known, media, calcite, magnesia),
                SPENT_WORDS if spent else _when(stage, known, least_cm),
            ),
            covariance=media.covariance,
            water_known=media.water_known,
            finding=_finding(known, media),
            unlike=media.unlike(),
            probes=(Probe(do="Measure the bed depth", seen_sd=bed(stage, BED_SD_CM)),),
        ),
    )


def bed_followed(stage: Neutralizer, known: Evidence, per_litre: float, reserve: float) -> Followed:
    """Media in the bed [kg] as last known; `per_litre`: what each litre is reckoned to take [kg/L], `reserve`: what a
    top-up brings at most [kg]."""
    marks = [
        mark if mark.level is None else mark._replace(level=bed(stage, mark.level))
        for mark in known.marks(stage, "bed_depth", ("top_up",), ("calcite", "magnesia"))
    ]
    full = bed(stage, stage.full_bed_cm)
    errors = Errors(
        seen_sd=bed(stage, BED_SD_CM),
        rate_sd=DISSOLVED_SD,
        water_sd=known.water_log_sd(),
        full=full,
        full_sd=UNMEASURED_FULL_SHARE * reserve,
        much=MUCH_SHARE * reserve,
    )

    def drawn(start: date, end: date) -> Drawn:
        return Pace(per_litre).split(known, start, end)

    return follow(marks, (known.since(stage), full, 0.1 * full), full, drawn, errors)


def _finding(known: Evidence, media: Followed) -> str:
    """What the newest depth did against what was reckoned, where the two do not agree."""
    if not media.odd or media.odd_on is None:
        return ""
    seen, reckoned = known.show(media.odd_seen, "mass"), known.show(media.odd_reckoned, "mass")
    told = f"Bed of {seen} on {known.day(media.odd_on)}, {reckoned} reckoned"
    if media.odd == "low":
        return f"{told}: it goes faster than the pH says. Media may be lost in the backwash, or more water passes."
    return f"{told}: too little dissolves. Water may channel through the bed or pass by it; read pH before and after."


def _why(stage: Neutralizer, known: Evidence, media: Followed, calcite: float, magnesia: float) -> tuple[str, ...]:
    last = f"last measured {known.day(media.seen)}" if media.seen else "never measured; taken as full when new"
    gone = f"{calcite:.0f} g of calcite" + (f" and {magnesia:.0f} g of magnesia" if magnesia > 0 else "")
    return (
        f"Bed {known.show(media.level, 'mass')} on {known.day(media.on)} ({last}).",
        f"Each m3 dissolves {gone}, by the pH after the tank{media.in_words()}.",
        f"{stage.bypass_share:.0%} goes round the bed; backwash takes {stage.backwash_loss_share:.0%} more.",
    )


def _when(stage: Neutralizer, known: Evidence, least_cm: float) -> str:
    deep = f"Top up at {known.show(least_cm, 'length')} of bed"
    if least_cm <= stage.minimum_bed_cm:
        return f"{deep}."
    return f"{deep}: below it the house water falls under your floor of pH {stage.floor_pH:.1f}."
