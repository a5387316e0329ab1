"""One test over all checklists: thousands of small tests cost more to gather than to run."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from model.upkeep.checklist import all_checklist_ids, load_checklist

ALL = {f"{kind}.{job}": load_checklist(kind, job) for kind, job in all_checklist_ids()}


def for_each(tasks: Iterable[str]) -> Callable[[Callable[[str], None]], Callable[[], None]]:
    """Runs the test with every task and names all at fault, not only the first."""
    every = tuple(tasks)
    assert every

    def over_all(check: Callable[[str], None]) -> Callable[[], None]:
        def test() -> None:
            wrong = {task: said for task in every if (said := _fault(check, task))}
            assert not wrong, "\n".join(f"{task}: {said}" for task, said in wrong.items())

        test.__name__, test.__doc__ = check.__name__, check.__doc__
        return test

    return over_all


def _fault(check: Callable[[str], None], task: str) -> str:
    try:
        check(task)
    except AssertionError as fault:
        return str(fault) or "does not hold"
    return ""


each = for_each(sorted(ALL))
