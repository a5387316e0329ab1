"""After salt ran out: filling it up renews no resin, so the water counts as untreated until nitrate was read again."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from model.plan import plan
from model.records.events import AnyEvent, Correction, Reading, Service
from tests.forecast.homes import STAGES, TODAY, due, home, meter, raw_water, reading, salt_filled, taken

UNTREATED = "treat as untreated for nitrate"
RECOVER, CHECK = "softener.recover_from_run_out", "softener.nitrate_check"
FULL_CM, LINE_CM = 55.0, 18.0
# 500 L a day and 4 kg each 4000 L: half a kilogram a day. From 55 cm to 18 cm lie 0.0001 * pi/4 * 45.7^2 * 37 m3 at
# 1.1 kg/L = 66.8 kg, and less where brine stands: by hand between 90 and 134 days.
LATE = TODAY - timedelta(days=200)
IN_TIME = TODAY - timedelta(days=60)
CHECKED = Service(on=TODAY - timedelta(days=3), task=CHECK)


def lived(filled: date, *more: AnyEvent) -> list[AnyEvent]:
    """A house whose salt was filled up each 60 days, the last time on a day."""
    days = (filled - timedelta(days=ago) for ago in range(300, -1, -60))
    return [raw_water(), *meter(500.0), *(salt_filled(day, FULL_CM) for day in days), CHECKED, *more]


def refill(on: date = TODAY, *, kg: float = 60.0, **depth_cm: float) -> Service:
    """Salt put in, with the depths read before and after the work."""
    read = tuple(taken("salt_depth", cm, "softener", moment=when) for when, cm in depth_cm.items())
    return Service(on=on, task="softener.refill_salt", used={"salt": kg}, taken=read)


def untreated(events: list[AnyEvent], today: date = TODAY) -> bool:
    """Whether the house is told to count the water as untreated for nitrate because of salt."""
    told = plan(home(*events), today).exposure
    return any(line.startswith("Salt") and UNTREATED in line for line in told)


def asked(events: list[AnyEvent], task: str, today: date = TODAY) -> date | None:
    """The day by which a task is asked for."""
    return next((item.act_on for item in plan(home(*events), today).due if item.task == task), None)


def nitrate(on: date, mg_l_n: float, point: str = "after_softener", **more: str) -> Reading:
    return Reading(on=on, taken=taken("nitrate", mg_l_n, point, **more))


def test_filling_up_after_a_run_out_does_not_make_the_water_treated() -> None:
    assert untreated(lived(LATE))
    assert untreated(lived(LATE, refill()))
    assert asked(lived(LATE, refill()), RECOVER) == TODAY + timedelta(days=1)
    item = due(plan(home(*lived(LATE, refill())), TODAY), RECOVER)
    assert item.health
    assert "no nitrate test has been clear since" in item.why[0]


@pytest.mark.parametrize("kg", [20.0, 60.0, 100.0])
@pytest.mark.parametrize("depth", [{}, {"after": 50.0}])
def test_it_stands_for_weeks_whatever_was_put_in(kg: float, depth: dict[str, float]) -> None:
    events = lived(LATE, refill(TODAY - timedelta(days=30), kg=kg, **depth))
    assert untreated(events)
    assert asked(events, RECOVER) == TODAY - timedelta(days=29)


def test_who_fills_up_in_time_is_told_and_asked_nothing() -> None:
    for events in (lived(IN_TIME, refill()), lived(IN_TIME, refill(before=30.0, after=55.0)), lived(IN_TIME)):
        assert not untreated(events)
        assert asked(events, RECOVER) is None


def test_a_depth_just_under_the_line_is_filled_up_in_time() -> None:
    """A centimetre is 1.8 kg, and a regeneration takes 4: the last one began above the line."""
    assert not untreated(lived(IN_TIME, refill(before=LINE_CM - 1.0, after=55.0)))
    assert untreated(lived(IN_TIME, refill(before=LINE_CM - 6.0, after=55.0)))


def test_a_depth_that_shows_it_empty_counts_whatever_was_reckoned() -> None:
    seen = reading(TODAY - timedelta(days=2), "salt_depth", 0.0, "softener")
    events = lived(IN_TIME, seen, refill())
    assert untreated(events)
    assert any("Salt was under its line until" in line for line in plan(home(*events), TODAY).exposure)


@pytest.mark.parametrize("point", ["after_softener", "tap"])
def test_a_clear_nitrate_after_the_resin_ends_it_after_a_whole_run(point: str) -> None:
    """500 L a day and a regeneration each 4000 L: eight days, within what the meter's days are off."""
    early = lived(LATE, refill(TODAY - timedelta(days=7)))
    assert untreated([*early, nitrate(TODAY, 3.0, point)])
    events = lived(LATE, refill(TODAY - timedelta(days=9)))
    assert not untreated([*events, nitrate(TODAY, 3.0, point)])
    assert asked([*events, nitrate(TODAY, 3.0, point)], RECOVER) is None


@pytest.mark.parametrize(
    "read",
    [
        pytest.param(nitrate(TODAY, 5.0), id="at the owner's action level"),
        pytest.param(nitrate(TODAY, 11.0), id="over the limit"),
        pytest.param(nitrate(TODAY, 1.0, "ro"), id="after the membrane"),
        pytest.param(nitrate(TODAY, 1.0, "source"), id="before the resin"),
        pytest.param(nitrate(TODAY - timedelta(days=10), 1.0), id="before the refill"),
        pytest.param(nitrate(TODAY, 2.0, qualifier=">"), id="more than"),
        pytest.param(nitrate(TODAY, 10.0, qualifier="<"), id="less than ten"),
        pytest.param(
            Reading(on=TODAY, taken=msgspec.structs.replace(taken("nitrate", 2.0, "tap"), high=5.0)), id="a strip's pad"
        ),
    ],
)
def test_what_says_nothing_of_the_resin_or_is_not_below_the_level_ends_nothing(read: Reading) -> None:
    events = lived(LATE, refill(TODAY - timedelta(days=9)))
    assert untreated([*events, read])
    assert asked([*events, read], RECOVER) == TODAY - timedelta(days=8)


def test_of_one_day_only_what_was_read_after_the_refill_counts() -> None:
    again, read = Service(on=TODAY, task=RECOVER), nitrate(TODAY, 2.0)
    assert untreated([*lived(LATE), read, refill(), again])
    assert untreated([*lived(LATE), refill(), read, again])
    assert not untreated([*lived(LATE), refill(), again, read])


def recovered(on: date, before: float, *after: float) -> Service:
    read = [taken("nitrate", before, "after_softener", moment="before")]
    read += [taken("nitrate", value, "after_softener", moment="after") for value in after]
    return Service(on=on, task=RECOVER, taken=tuple(read))


def test_the_recovery_counts_by_its_last_test_alone() -> None:
    events = lived(LATE, refill(TODAY - timedelta(days=3)))
    assert not untreated([*events, recovered(TODAY, 9.0, 2.0)])
    undone = [*events, recovered(TODAY, 2.0)]
    assert untreated(undone)
    assert asked(undone, RECOVER) is None
    assert asked(undone, CHECK) == TODAY + timedelta(days=2)
    still = [*events, recovered(TODAY, 9.0, 8.0)]
    assert untreated(still)
    assert asked(still, CHECK) == TODAY + timedelta(days=2)


def test_salt_put_in_with_the_recovery_is_salt() -> None:
    whole = Service(
        on=TODAY,
        task=RECOVER,
        taken=(
            taken("salt_depth", 0.0, "softener", moment="before"),
            taken("salt_depth", 50.0, "softener", moment="after"),
        ),
    )
    plain = plan(home(*lived(LATE, whole)), TODAY)
    filled = plan(home(*lived(LATE, refill(before=0.0, after=50.0))), TODAY)
    left, other = (due(one, "softener.refill_salt").remaining for one in (plain, filled))
    assert left is not None
    assert other is not None
    assert left.value == pytest.approx(other.value, rel=0.05)
    assert untreated(lived(LATE, whole))


def test_a_refill_that_nobody_wrote_down_renews_no_resin_either() -> None:
    seen = [reading(TODAY - timedelta(days=ago), "salt_depth", cm, "softener") for ago, cm in ((20, 50.0), (0, 44.0))]
    assert untreated(lived(LATE, *seen))
    assert asked(lived(LATE, *seen), RECOVER) == TODAY - timedelta(days=19)


def test_without_anion_resin_nothing_is_asked() -> None:
    plain = tuple(
        msgspec.structs.replace(one, anion_type="none", anion_resin_l=0.0) if one.id == "softener" else one
        for one in STAGES
    )
    told = plan(home(*lived(LATE, refill()), stages=plain), TODAY)
    assert not any(UNTREATED in line for line in told.exposure)
    assert not any(item.task == RECOVER for item in told.due)


levels = st.floats(0.0, 40.0, allow_nan=False)


@given(levels, st.sampled_from(["after_softener", "tap", "ro", "source"]), st.integers(0, 40))
@settings(max_examples=15, deadline=None)
def test_it_ends_by_a_test_below_the_level_alone_and_comes_back_when_that_is_taken_back(
    mg_l_n: float, point: str, ago: int
) -> None:
    events = lived(LATE, refill(TODAY - timedelta(days=20)))
    read = nitrate(TODAY - timedelta(days=ago), round(mg_l_n, 2), point)
    clear = point in ("after_softener", "tap") and round(mg_l_n, 2) < 5.0 and ago <= 12
    assert untreated([*events, read]) is not clear
    assert untreated([*events, read, Correction(on=TODAY, voids=len(events) + 1)])


@given(st.lists(st.tuples(st.integers(0, 39), st.floats(0.0, 84.0)), max_size=6), st.booleans())
@example([(0, 5e-324)], False)
@settings(max_examples=15, deadline=None)
def test_no_depth_read_or_bag_put_in_ends_it(depths: list[tuple[int, float]], filled: bool) -> None:
    events = lived(LATE, refill(TODAY - timedelta(days=40)))
    events += [reading(TODAY - timedelta(days=ago), "salt_depth", cm, "softener") for ago, cm in depths]
    assert untreated([*events, refill()] if filled else events)
    assert asked(events, RECOVER) == TODAY - timedelta(days=39)


def test_a_refill_taken_back_leaves_no_trace() -> None:
    events = lived(LATE)
    after = plan(home(*events, refill(), Correction(on=TODAY, voids=len(events) + 1)), TODAY)
    assert after == plan(home(*events), TODAY)


def test_since_when_it_is_under_its_line_is_kept_through_later_marks() -> None:
    """Each 60 days found more than reckoned, so the day is not 142 days on but somewhat later; a change of the valve
    or a count of regenerations in between moves it by no more than they tell."""
    told = [line for line in plan(home(*lived(LATE)), TODAY).exposure if line.startswith("Salt reckoned")]
    later: list[AnyEvent] = [reading(TODAY - timedelta(days=5), "salt_depth", 2.0, "softener"), washed_unmeasured()]
    again = [line for line in plan(home(*lived(LATE, *later)), TODAY).exposure if line.startswith("Salt reckoned")]
    assert told
    assert again == told


def washed_unmeasured() -> Service:
    """A wash of the tank of which nothing was written down."""
    return Service(on=TODAY - timedelta(days=2), task="softener.wash_brine_tank")


def test_the_wash_of_the_tank_without_a_depth_moves_no_date() -> None:
    plain, washed = (plan(home(*lived(IN_TIME, *more)), TODAY) for more in ((), (washed_unmeasured(),)))
    assert due(washed, "softener.refill_salt") == due(plain, "softener.refill_salt")


def test_salt_seen_at_nothing_is_late_since_it_was_under_its_line_and_not_since_it_was_seen() -> None:
    seen = reading(TODAY, "salt_depth", 0.0, "softener")
    before, after = (due(plan(home(*lived(LATE, *more)), TODAY), "softener.refill_salt") for more in ((), (seen,)))
    assert after.state == before.state == "overdue"
    assert after.act_on == after.middle == before.middle
    assert before.act_on < after.act_on <= TODAY - timedelta(days=30)
