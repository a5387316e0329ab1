"""The commands that look after the file: check and restore."""

from __future__ import annotations

from contextlib import suppress
from shlex import quote
from typing import TYPE_CHECKING

import msgspec

from model.errors import StoreError, UnknownName
from model.store.backups import Backup, list_backups
from model.store.backups import restore as bring_back
from model.store.problem import Problem
from model.store.rescue import Found, found_copies
from tui.cli.home_file import path_of, print_json, repository

if TYPE_CHECKING:
    from model.store.repository import Repository
    from tui.cli.parser import Asked


def check(asked: Asked) -> int:
    """List every problem in the file, and copies that hold what it does not; 1 where there is any."""
    store = repository(asked)
    problems, copies = _problems_and_copies(store)
    if asked.json:
        told = [{"path": str(one.path), "events": one.count, "problem": one.problem} for one in copies]
        print_json({"problems": msgspec.to_builtins(problems), "copies": told})
    elif not (problems or copies):
        print(f"{path_of(asked)}: no problem found.")
    for problem in problems if not asked.json else ():
        print(f"{problem.where}: {problem.what} {problem.now}".rstrip())
    for one in copies if not asked.json else ():
        now = one.problem or f"`wellward import {quote(str(one.path))}` takes them in."
        print(f"{one.path}: this copy holds {one.counted} that {path_of(asked)} does not. {now}")
    return 1 if problems or copies else 0


def _problems_and_copies(store: Repository) -> tuple[tuple[Problem, ...], tuple[Found, ...]]:
    home = None
    with suppress(StoreError):
        home = store.load()
    copies = found_copies(store.path, home)
    try:
        return store.problems(), copies
    except StoreError as problem:
        # Where the file is gone the copy is what the owner has.
        if not copies:
            raise
        return (Problem(str(store.path), problem.what, problem.now),), copies


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
