"""The commands that look after the file: check and restore."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from model.errors import UnknownName
from model.store.backups import Backup, list_backups
from model.store.backups import restore as bring_back
from tui.cli.home_file import path_of, print_json, repository

if TYPE_CHECKING:
    from tui.cli.parser import Asked


def check(asked: Asked) -> int:
    """List every problem in the file; 1 where there is any."""
    problems = repository(asked).problems()
    if asked.json:
        print_json({"problems": msgspec.to_builtins(problems)})
    elif not problems:
        print(f"{path_of(asked)}: no problem found.")
    for problem in problems if not asked.json else ():
        print(f"{problem.where}: {problem.what} {problem.now}".rstrip())
    return 1 if problems else 0


def restore(asked: Asked) -> int:
    """List the backups, or bring one back and keep what it replaces."""
    path = path_of(asked)
    backups = list_backups(path)
    if asked.backup is None:
        if asked.json:
            print_json({"backups": [_plain(backup) for backup in backups]})
        else:
            print("\n".join(_line(backup) for backup in backups) or f"There are no backups of {path}.")
        return 0
    chosen = next((backup for backup in backups if backup.path.name == asked.backup), None)
    if chosen is None:
        raise UnknownName(f"There is no backup {asked.backup!r} of {path}.", "`wellward restore` lists them.")
    kept = bring_back(path, chosen)
    if asked.json:
        print_json({"restored": chosen.path.name, "kept": str(kept) if kept else None})
    else:
        before = f"What was there before is kept as {kept}." if kept else f"There was nothing at {path} before."
        print(f"Brought back {chosen.path.name}. {before}")
    return 0


def _plain(backup: Backup) -> dict[str, object]:
    plain: dict[str, object] = msgspec.to_builtins(msgspec.structs.replace(backup, path=str(backup.path)))
    return {**plain, "name": backup.path.name}


def _line(backup: Backup) -> str:
    if backup.problem:
        return f"{backup.path.name}: {backup.problem}"
    return f"{backup.path.name}: {backup.events} events, the last of {backup.last_day or 'no day'}"
