"""Checklists: what to do for each job, as data files beside this module, one per job of each kind of stage.

Every list in a file is either filled or the words "not applicable", so that nothing is left out by accident.
"""

from __future__ import annotations

from collections.abc import Callable
from math import inf
from pathlib import Path
from typing import Annotated, Literal, TypeVar

import msgspec

from model.errors import WellwardError

Read = TypeVar("Read")

FOLDER = Path(__file__).parent / "checklists"
NOT_APPLICABLE = "not applicable"

Quantity = Literal[
    "meter",
    "night_flow",
    "salt_depth",
    "brine_level",
    "days_since_regeneration",
    "water_since_regeneration",
    "brine_draw",
    "drain_runs",
    "bed_depth",
    "freeboard",
    "pressure_in",
    "pressure_out",
    "cut_in",
    "cut_out",
    "precharge",
    "drawdown",
    "run_time",
    "feed_pressure",
    "ro_flow",
    "ro_feed_tds",
    "ro_product_tds",
    "lamp_hours",
    "uv_intensity",
    "regenerations",
    "static_level",
    "pumping_level",
    "well_yield",
    "pump_current",
    "pump_voltage",
    "pH",
    "temperature",
    "hardness",
    "alkalinity",
    "nitrate",
    "nitrite",
    "iron",
    "manganese",
    "tds",
    "conductivity",
    "calcium",
    "magnesium",
    "sodium",
    "potassium",
    "chloride",
    "sulfate",
    "fluoride",
    "silica",
    "arsenic",
    "uranium",
    "lead",
    "copper",
    "turbidity",
    "uv_transmittance",
    "total_coliform",
    "e_coli",
]
"""Every quantity that the program records."""
AskedAt = Literal["source", "before", "after", "stage", "tap", "ro"]
Rest = Literal["", "at_rest", "flowing"]
Visit = Literal["water_off", "running", "look"]
Chemistry = Literal["none", "acid", "bleach"]
Tag = Literal["published", "common practice, no source", "from memory, owner's default"]

Words = Annotated[str, msgspec.Meta(min_length=1)]
Lines = tuple[Words, ...]


class ReadingAsk(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A reading to take with the job.

    `point`: the source, the point before or after this stage, the stage itself, the tap or the RO tap.
    `sane`: lowest and highest value to expect, in the quantity's own unit [L, cm, bar, s, mg/L, degC, h, %, L/day];
    hardness and alkalinity as CaCO3, nitrate as N. `ask` is what to ask the owner. The water meter, which is no
    stage's own, is asked at "stage" as well. `state`: the water stood in the pipes or runs, recorded with the reading;
    "" where it does not matter. `run_percent`: at which part of a softener's set run it is taken [%], recorded as the
    water since the regeneration.
    """

    quantity: Quantity
    point: AskedAt
    sane: tuple[float, float]
    ask: Words
    state: Rest = ""
    run_percent: Annotated[int, msgspec.Meta(ge=1, le=100)] | None = None

    def __post_init__(self) -> None:
        if not -inf < self.sane[0] < self.sane[1] < inf:
            raise ValueError("`sane` must be finite and run from low to high")


class Step(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One thing to do, and how long to wait after it [min], 0 for no wait."""

    text: Words
    wait_minutes: Annotated[int, msgspec.Meta(ge=0, le=1440)] = 0


class FollowUp(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Something that the job brings with it later: after how many days, and which job ("kind.job", or "" for none).

    `only_if`: it hangs on what was found, so the plan gives it no date. Otherwise the plan asks for its job by then.
    `counts_from`: the day after the work from which that job counts as this follow-up; half of `days` where not said.
    """

    text: Words
    days: Annotated[int, msgspec.Meta(ge=0, le=3660)]
    task: str
    only_if: bool = False
    counts_from: Annotated[int, msgspec.Meta(ge=0, le=3660)] | None = None

    def __post_init__(self) -> None:
        if self.counts_from is not None and self.counts_from > self.days:
            raise ValueError("`counts_from` must not be later than `days`")

    @property
    def counts_after_days(self) -> int:
        """Days after the work from which the job counts as this follow-up, 0 or more."""
        return (self.days + 1) // 2 if self.counts_from is None else self.counts_from


class Source(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a checklist rests on. Published ones name the document."""

    text: Words
    tag: Tag


class Checklist(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """How to do one job, cautions first.

    `minutes`: hands-on time [min], 1-600, long waits not counted. `off`: what must be off before starting.
    `moves_handles`: a bypass, blend or service handle is moved, so its position is confirmed at the end. `visit`:
    whether water is off, must run, or neither. `chemistry`: acid and bleach work never share a day.
    `not_applicable`: lists that the file marks so.
    """

    why: Words
    minutes: Annotated[int, msgspec.Meta(ge=1, le=600)]
    visit: Visit
    chemistry: Chemistry
    moves_handles: bool
    cautions: Lines
    tools: Lines
    parts: Lines
    before: Lines
    off: Lines
    before_readings: tuple[ReadingAsk, ...]
    steps: Annotated[tuple[Step, ...], msgspec.Meta(min_length=1)]
    after_readings: tuple[ReadingAsk, ...]
    pass_criteria: Lines
    follow_ups: tuple[FollowUp, ...]
    sources: Annotated[tuple[Source, ...], msgspec.Meta(min_length=1)]
    not_applicable: tuple[str, ...] = ()


MARKABLE = (
    "cautions",
    "tools",
    "parts",
    "before",
    "off",
    "before_readings",
    "after_readings",
    "pass_criteria",
    "follow_ups",
)
"""The lists of a checklist that may be marked as not applicable."""


def checklist_path(kind: str, job: str) -> Path:
    """Where the checklist of a job of a kind of stage is kept, whether or not it exists."""
    return FOLDER / kind / f"{job}.toml"


def all_checklist_ids() -> tuple[tuple[str, str], ...]:
    """Kind and job of every checklist there is, in order of name."""
    return tuple(sorted((path.parent.name, path.stem) for path in FOLDER.glob("*/*.toml")))


def load_checklist(kind: str, job: str) -> Checklist:
    """The checklist of a job of a kind of stage.

    Raises:
        WellwardError: no such file, not TOML, or a field missing, unknown or of the wrong type; names file and field.
    """
    if not (kind.isidentifier() and job.isidentifier()):
        raise _problem(kind, job, "is not a job's name")
    return from_file(checklist_path(kind, job), parse_checklist, lambda what: _problem(kind, job, what))


def from_file(path: Path, parse: Callable[[bytes], Read], problem: Callable[[str], WellwardError]) -> Read:
    """What `parse` makes of a data file; what it raises as ValueError, or that there is no file, as a `problem`."""
    try:
        data = path.read_bytes()
    except OSError:
        raise problem("cannot be read") from None
    try:
        return parse(data)
    except ValueError as error:
        raise problem(str(error).replace("`$.", "`")) from None


def parse_checklist(data: bytes) -> Checklist:
    """A checklist from the bytes of its file.

    Raises:
        ValueError: not TOML, or a field missing, unknown, empty or of the wrong type; names the field.
    """
    import tomllib  # takes longer to import than this whole module, and only this function needs it

    raw = tomllib.loads(data.decode())
    if "not_applicable" in raw:
        raise ValueError("Object contains unknown field `not_applicable`")
    marked = tuple(name for name in MARKABLE if raw.get(name) == NOT_APPLICABLE)
    empty = [name for name in MARKABLE if raw.get(name) == []]
    if empty:
        raise ValueError(f"`{empty[0]}` is empty: fill it, or write {NOT_APPLICABLE!r}")
    return msgspec.convert({**raw, **dict.fromkeys(marked, ()), "not_applicable": marked}, Checklist)


def _problem(kind: str, job: str, what: str) -> WellwardError:
    return WellwardError(
        f"The checklist {kind[:40]}/{job[:40]}.toml: {what}.", "Reinstall wellward, or correct the file."
    )
