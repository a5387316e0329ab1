"""The list of valve handles as it is shown, and the event of one that was moved.

The blend of a neutralizer is its setting: it is listed with the handles and moved by a change of that setting.
"""

from __future__ import annotations

from datetime import date
from math import isfinite

import msgspec

from model.equipment.neutralizer import Neutralizer
from model.equipment.registry import title_of
from model.errors import BadInput
from model.forecast.exposed.out_of_service import blend_since, handle_line
from model.forecast.present import check_fits
from model.forecast.situation import Situation
from model.forecast.words import day_in_words
from model.home import House
from model.records.events import HandleMoved, Setting
from model.records.handles import IN_SERVICE, find_handle, parse_position
from model.records.positions import Position

_BLEND = ".blend"
_MOST_BLEND_PERCENT = 99.0


class HandleRow(msgspec.Struct, frozen=True, kw_only=True):
    """One handle: id, what it is called, where it stands, since when, why, and where it can be put."""

    id: str
    title: str
    position: str
    since: date | None = None
    words: str = ""
    away: bool = False
    choices: tuple[str, ...] = ()

    def in_words(self, today: date) -> str:
        """ "on bypass since 3 Nov: waiting for a gasket"; "in service"."""
        where = {IN_SERVICE: "in service", "bypass": "on bypass"}.get(self.position, self.position)
        since = f" since {day_in_words(self.since, today)}" if self.since else ""
        return f"{where}{since}{f': {self.words}' if self.words else ''}"


def handle_rows(now: Situation) -> tuple[HandleRow, ...]:
    """Every handle, those out of service first, and the blend of each neutralizer last."""
    rows = [_row(one) for one in sorted(now.positions, key=lambda one: not one.away)]
    return (*rows, *(_blend(now, one) for one in now.house.stages if isinstance(one, Neutralizer)))


def _row(at: Position) -> HandleRow:
    return HandleRow(
        id=at.handle.id,
        title=at.handle.title,
        position=at.position,
        since=at.since,
        words=at.words,
        away=at.away,
        choices=(IN_SERVICE, at.handle.away),
    )


def _blend(now: Situation, stage: Neutralizer) -> HandleRow:
    position, since = f"{stage.bypass_share * 100.0:g} % round the bed", blend_since(now, stage)
    return HandleRow(id=f"{stage.id}{_BLEND}", title=f"{title_of(stage)} blend", position=position, since=since)


def moved(now: Situation, handle: str, position: str, on: date, note: str) -> HandleMoved | Setting:
    """The event of a handle that was moved, from what was typed.

    Raises:
        UnknownName: the house has no such handle.
        BadInput: not a position of it.
    """
    stage = _blended(now.house, handle)
    if stage is not None:
        return _blend_set(now, stage, position, on, note)
    found = find_handle(now.house, handle)
    return HandleMoved(on=on, handle=found.id, position=parse_position(found, position), note=" ".join(note.split()))


def _blended(house: House, typed: str) -> Neutralizer | None:
    wanted = typed.strip().casefold()
    return next((s for s in house.stages if isinstance(s, Neutralizer) and wanted == f"{s.id}{_BLEND}"), None)


def _blend_set(now: Situation, stage: Neutralizer, typed: str, on: date, note: str) -> Setting:
    try:
        percent = float(typed.strip().removesuffix("%"))
    except ValueError:
        percent = -1.0
    if not isfinite(percent) or not 0.0 <= percent <= _MOST_BLEND_PERCENT:
        raise BadInput(f"A blend is a percentage, not {typed[:40]!r}.", "Say what part goes round the bed: 10 %.")
    path, share = f"stages.{stage.id}.bypass_share", percent / 100.0
    if share == stage.bypass_share:
        raise BadInput("That is what stands there already.", "Nothing was recorded.")
    changed = Setting(on=on, path=path, value=share, was=stage.bypass_share, note=note)
    check_fits(now.home, now.today, changed)
    return changed


def means(now: Situation, event: HandleMoved | Setting) -> str:
    """What it means for the house where a handle now stands; empty where it is in service or means nothing."""
    if isinstance(event, Setting):
        return ""
    at = next((one for one in now.positions if one.handle.id == event.handle), None)
    if at is None:
        return ""
    line = handle_line(now, msgspec.structs.replace(at, position=event.position, since=event.on, words=""))
    return line.text if line else ""
