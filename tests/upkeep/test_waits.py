"""What is left of a wait, by hand."""

from __future__ import annotations

import pytest

from model.records.events import Wait
from model.upkeep.waits import begun, clock_words, is_heard, is_running, left_s, resumed, settled, stopped

START = 1_000_000.0


@pytest.mark.parametrize(
    ("after_s", "left"), [(0.0, 300.0), (28.0, 272.0), (299.5, 0.5), (300.0, 0.0), (86_400.0, 0.0), (-3600.0, 300.0)]
)
def test_what_is_left_of_five_minutes(after_s: float, left: float) -> None:
    wait = begun(2, 5, START)
    assert left_s(wait, START + after_s) == pytest.approx(left)
    assert is_running(wait, START + after_s) == (left > 0.0)


def test_a_stopped_wait_keeps_its_rest_and_runs_on_from_it() -> None:
    held = stopped(begun(2, 5, START), START + 100.0)
    assert held == Wait(step=2, left_s=200.0)
    assert left_s(held, START + 9_999.0) == 200.0
    again = resumed(held, START + 1_000.0)
    assert left_s(again, START + 1_050.0) == 150.0
    assert not is_heard(held)
    assert is_heard(stopped(again, START + 2_000.0))


def test_a_clock_set_back_makes_it_no_longer_than_it_was_at_first() -> None:
    wait = begun(0, 5, START)
    back = settled(wait, START - 3_600.0)
    assert left_s(back, START - 3_600.0) == 300.0
    assert left_s(back, START - 3_500.0) == 200.0, "it runs on, and does not stand until the clock has caught up"
    assert settled(wait, START + 10.0) is wait


@pytest.mark.parametrize(
    ("seconds", "said"),
    [(272.0, "4:32"), (271.2, "4:32"), (59.0, "0:59"), (0.0, "0:00"), (-5.0, "0:00"), (3_872.0, "1:04:32")],
)
def test_seconds_in_words(seconds: float, said: str) -> None:
    assert clock_words(seconds) == said
