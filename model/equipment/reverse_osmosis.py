"""The reverse-osmosis branch: prefilters, membrane, postfilter and a reservoir."""

from __future__ import annotations

from model.equipment.base import Job, Stage


class ReverseOsmosis(Stage, frozen=True, kw_only=True, tag="reverse_osmosis"):
    """An RO unit under the sink.

    `rated_l_per_day` at 25 degC and `rated_bar` net pressure; `recovery`: product over feed, 0-1.
    `rejection` of dissolved solids and `nitrate_rejection`, 0-1, hold until readings say otherwise.
    `prefilter_l`: feed litres a prefilter set is good for; `replace_below_rejection`: when the membrane is done.
    """

    rated_l_per_day: float = 190.0
    rated_bar: float = 4.1
    recovery: float = 0.22
    rejection: float = 0.93
    nitrate_rejection: float = 0.85
    replace_below_rejection: float = 0.85
    prefilter_l: float = 12_000.0
    prefilter_months: int = 9
    membrane_months: int = 60
    reservoir_l: float = 10.0


JOBS = (
    Job(id="replace_prefilters", title="Change the RO prefilters", months=9, parts={"prefilters": 1}),
    Job(id="performance_check", title="Read RO solids in and out, flow and temperature", months=1),
    Job(id="nitrate_check", title="Read nitrate at the RO tap", months=1, health=True),
    Job(id="replace_postfilter", title="Change the RO postfilter", months=12, parts={"postfilter": 1}),
    Job(id="sanitize", title="Sanitize the RO unit and reservoir", months=12),
    Job(id="reservoir_air", title="Check the reservoir's air charge", months=12),
    Job(id="leak_look", title="Look over RO tubing, clips and drain", months=12, basis="from memory; owner's default"),
    Job(id="replace_membrane", title="Change the RO membrane", months=60, parts={"membrane": 1}),
    Job(id="replace_reservoir", title="Replace the RO reservoir", months=90, parts={"reservoir": 1}),
)
