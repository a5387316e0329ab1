"""What the things in a home's log are called by its owner, with amounts in the owner's units."""

from __future__ import annotations

from math import isfinite
from typing import TYPE_CHECKING

import msgspec

from model.equipment.registry import KINDS, kind_of, title_of
from model.home import Home
from model.records.events import ROUND, AnyEvent, Setting, StageAdded, SupplyAdded, Taken
from model.records.history import voided
from model.records.quantities import QUANTITIES, show_taken
from model.units import System, from_si, show

_MEASURED = {"kg": "mass", "L": "volume"}

if TYPE_CHECKING:
    from model.equipment.labels import Label


class Named(msgspec.Struct, frozen=True):
    """Something with a title: `kind` is the kind of a stage, or the unit of a supply."""

    title: str
    kind: str


class Names(msgspec.Struct, frozen=True):
    """The names in one home, by id; also of what was taken out of it since. Empty, it leaves ids as they are."""

    units: System = "metric"
    stages: dict[str, Named] = {}
    supplies: dict[str, Named] = {}
    events: dict[int, AnyEvent] = {}

    def task(self, task: str) -> str:
        """What follows the word for what was done: ": Refill the salt, Softener [softener.refill_salt]"."""
        if task == ROUND:
            return ": Monthly round"
        stage_id, _, job_id = task.partition(".")
        stage = self.stages.get(stage_id)
        jobs = KINDS[stage.kind].all_jobs if stage and stage.kind in KINDS else ()
        title = next((job.title for job in jobs if job.id == job_id), "")
        return f": {title}, {stage.title} [{task}]" if stage and title else f" {task}"

    def stage(self, stage: str) -> str:
        """A stage by its title."""
        return self.stages[stage].title if stage in self.stages else stage.replace("_", " ")

    def handle(self, handle: str) -> str:
        """A valve handle by its stage and what it is: "Softener bypass"; "House shut off"."""
        stage, _, what = handle.partition(".")
        return f"{self.stage(stage) if stage != 'house' else 'House'} {what.replace('_', ' ')}".strip()

    def place(self, point: str) -> str:
        """A point or stage in a sentence: " at the source", " after Softener"; nothing for the house's meter."""
        if not self.stages:
            return f" at {point.replace('_', ' ')}"
        if point == "house":
            return ""
        if point in ("source", "tap", "hose"):
            return f" at the {point}"
        if point == "ro":
            return f" at {self.stage('reverse_osmosis')} tap"
        if point.startswith("after_"):
            return f" after {self.stage(point.removeprefix('after_'))}"
        return f" at {self.stage(point)}"

    def amount(self, supply: str, amount: float) -> str:
        """An amount of a supply: "3 Cartridge 20 micron", "120 lb Softener salt"."""
        named = self.supplies.get(supply, Named(supply, "each"))
        return f"{amount_of(amount, named.kind, self.units)} {named.title}"

    def measured(self, taken: Taken) -> str:
        """A quantity and its value as entered: a bound with its sign, a pad as an interval."""
        known = QUANTITIES.get(taken.quantity) if self.stages else None
        title = known.name if known else taken.quantity.replace("_", " ")
        bare = f"{taken.value:g}" + ("" if taken.high is None else f"-{taken.high:g}")
        said = taken.entered or (show_taken(taken, self.units) if known else bare)
        mark = taken.qualifier if taken.qualifier != "=" and not said.startswith(taken.qualifier) else ""
        return f"{title} {mark}{said}"

    def setting(self, path: str) -> str:
        """A setting by what it belongs to and its name: "Softener, Salt per regeneration"."""
        label, owner = _label(path), self._owner(path)
        return f"{owner}{label.label}" if label else path

    def _owner(self, path: str) -> str:
        table, *rest = path.split(".")
        if len(rest) != 2:
            return ""
        named = self.supplies if table == "supplies" else self.stages
        return f"{named[rest[0]].title if rest[0] in named else rest[0]}, "

    def value(self, path: str, value: object) -> str:
        """A setting's value in the owner's units."""
        if value is None or value == "":
            return "nothing"
        if isinstance(value, bool):
            return "yes" if value else "no"
        label = _label(path)
        if label is None or not label.dimension or isinstance(value, str):
            return str(value)
        return _in_units(float(str(value)), label, self.units)


def _label(path: str) -> Label | None:
    # Here and not above: only a changed setting needs the labels.
    from model.equipment.labels import HOUSE_LABELS, STAGE_LABELS, SUPPLY_LABELS

    labels = {"stages": STAGE_LABELS, "supplies": SUPPLY_LABELS}
    table, *rest = path.split(".")
    return labels.get(table, {}).get(rest[-1]) if len(rest) == 2 else HOUSE_LABELS.get(path)


def _in_units(value: float, label: Label, system: System) -> str:
    unit, inside = label.us if system == "us" else label.metric, value * label.inside
    if not unit or not isfinite(inside):
        return show(inside, label.dimension, system)
    return f"{from_si(inside, unit, label.dimension):.3g} {unit}"


def amount_of(amount: float, unit: str, system: System) -> str:
    """An amount of a supply in the owner's units, without its name: "120 lb", "3" for what is counted in pieces."""
    if unit in _MEASURED:
        return show(amount, _MEASURED[unit], system)
    return f"{amount:g}" if unit == "each" else f"{amount:g} {unit}"


def names_of(home: Home) -> Names:
    """Every name in a home: as first written down, as added since, as renamed since."""
    stages = {stage.id: Named(title_of(stage), kind_of(stage)) for stage in home.house.stages}
    supplies = {supply.id: Named(supply.title, supply.unit) for supply in home.house.supplies}
    units = home.house.units
    gone = voided(home.events)
    for event in home.events:
        if type(event) is StageAdded:
            name, kind, title = (str(event.stage.get(field, "")) for field in ("id", "kind", "title"))
            stages[name] = Named(title or _kind_title(kind, name), kind)
        elif type(event) is SupplyAdded:
            unit = str(event.supply.get("unit", "each"))
            supplies[str(event.supply.get("id", ""))] = Named(str(event.supply.get("title", "")), unit)
        elif type(event) is Setting and event.id not in gone:
            _rename(event, stages, supplies)
            units = event.value if event.path == "units" and event.value in ("us", "metric") else units  # type: ignore[assignment]
    return Names(units, _distinct(stages), supplies, {event.id: event for event in home.events})


def _rename(event: Setting, stages: dict[str, Named], supplies: dict[str, Named]) -> None:
    table, *rest = event.path.split(".")
    if len(rest) != 2 or rest[1] != "title" or not isinstance(event.value, str):
        return
    here, name = {"stages": stages, "supplies": supplies}.get(table, {}), rest[0]
    if name in here:
        kind = here[name].kind
        unnamed = _kind_title(kind, name) if table == "stages" else name
        here[name] = Named(event.value or unnamed, kind)


def _kind_title(kind: str, name: str) -> str:
    """The name of a kind of stage, with the stage's number from the second on."""
    number = name.removeprefix(f"{kind}_")
    title = KINDS[kind].title if kind in KINDS else kind.replace("_", " ")
    return f"{title} {number}" if number.isdigit() else title


def _distinct(stages: dict[str, Named]) -> dict[str, Named]:
    """The stages, with the id beside a title that two of them share."""
    titles = [stage.title for stage in stages.values()]
    return {
        name: Named(f"{stage.title} ({name})", stage.kind) if titles.count(stage.title) > 1 else stage
        for name, stage in stages.items()
    }
