"""What the house is exposed to: each handle, alarm, late job and hour in words, the worst first."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.equipment.registry import AnyStage
from model.forecast.exposed.dark import why_dark
from model.forecast.exposed.line import lead_of
from model.plan import plan
from model.records.events import (
    AnyEvent,
    Correction,
    HandleMoved,
    Incident,
    LabReport,
    LocalRule,
    Reading,
    Service,
    Setting,
)
from model.records.handles import handles_of
from tests.forecast.homes import STAGES, TODAY, due, home, house, meter, raw_water, reading, taken

D = date(2026, 11, 3)
LIVED: list[AnyEvent] = [raw_water(), *meter(400.0), reading(TODAY, "salt_depth", 50.0, "softener")]
PLAIN = tuple(
    msgspec.structs.replace(one, anion_resin_l=0.0, anion_type="none") if one.id == "softener" else one
    for one in STAGES
)
SECOND = msgspec.structs.replace(STAGES[6], id="reverse_osmosis_2")


def out(handle: str, position: str = "bypass", on: date = D, note: str = "") -> HandleMoved:
    return HandleMoved(on=on, handle=handle, position=position, note=note)


def lines(*events: AnyEvent, stages: tuple[AnyStage, ...] = STAGES, **more: object) -> tuple[str, ...]:
    return plan(home(*events, stages=stages, **more), TODAY).exposure


@pytest.mark.parametrize(
    ("handle", "position", "lead", "also"),
    [
        ("softener.bypass", "bypass", "Softener bypassed since 3 Nov: treat as untreated for nitrate; hard water.",
         ("Infant formula: tested bottled", "RO unit gets all the nitrate", "no water change")),
        ("ultraviolet.bypass", "bypass", "UV bypassed since 3 Nov: treat as unsafe; drink bottled water.",
         ("Boiling would concentrate", "clean test proves little", "no barrier")),
        ("neutralizer.bypass", "bypass", "Neutralizer bypassed since 3 Nov: acid water, copper and lead from pipes.",
         ("run a minute", "fed acid water", "copper kills")),
        ("sediment_filter.bypass", "bypass", "Filter bypassed since 3 Nov: particles reach what comes after it.",
         ("shade germs",)),
        ("reverse_osmosis.feed", "closed", "RO feed closed since 3 Nov: its tap gives stale water, then none.",
         ("no substitute",)),
        ("part.bypass", "bypass", "Part bypassed since 3 Nov: as if it were not there.", ()),
        ("house.shut_off", "closed", "House shut-off closed since 3 Nov: no water.", ("Flush each tap",)),
    ],
)  # fmt: skip
def test_each_handle_says_what_it_means(handle: str, position: str, lead: str, also: tuple[str, ...]) -> None:
    shown = lines(*LIVED, out(handle, position, note="a reason"), fish=True)
    (line,) = [one for one in shown if one.startswith(lead)]
    assert all(words in line for words in (*also, '"a reason"'))
    assert not any(one.startswith(lead.partition(" since")[0]) for one in lines(*LIVED, fish=True))


def test_fish_and_ro_are_named_only_where_they_are() -> None:
    dry = tuple(one for one in STAGES if one.id != "reverse_osmosis")
    for handle in ("softener.bypass", "neutralizer.bypass", "ultraviolet.bypass"):
        said = " ".join(lines(*LIVED, out(handle), stages=dry))
        assert "fish" not in said.casefold()
        assert "RO" not in said


def test_without_nitrate_resin_a_bypass_is_hardness_only() -> None:
    (line,) = [one for one in lines(*LIVED, out("softener.bypass"), stages=PLAIN) if one.startswith("Softener")]
    assert line.startswith("Softener bypassed since 3 Nov: hard water at every tap.")
    assert "nitrate" not in line


def test_boiling_is_advised_only_where_little_nitrate_was_measured() -> None:
    mild = [raw_water(nitrate=2.0), *LIVED[1:]]
    assert any("treat as unsafe; boil what is drunk" in one for one in lines(*mild, out("ultraviolet.bypass")))
    unknown = lines(out("ultraviolet.bypass"))
    assert any("drink bottled water" in one and "never measured here" in one for one in unknown)
    assert not any("boil what is drunk" in one for one in unknown)


def test_the_worst_comes_first_and_an_infant_before_all() -> None:
    found = LabReport(on=D, point="tap", taken=(taken("e_coli", 1.0, "tap"),))
    away = [out(one) for one in ("sediment_filter.bypass", "softener.bypass", "ultraviolet.bypass")]
    shown = lines(*LIVED, *away, found, infant=True)
    starts = ("Infant in the house", "E. coli found at the tap", "UV bypassed", "Softener bypassed", "Filter bypassed")
    places = [next(n for n, one in enumerate(shown) if one.startswith(words)) for words in starts]
    assert places[:2] == [0, 1]
    assert places == sorted(places)
    assert "tested bottled water only" in shown[0]


def test_a_second_ro_unit_is_a_drinking_tap_too() -> None:
    measured = reading(TODAY, "nitrate", 11.0, "reverse_osmosis_2")
    shown = lines(*LIVED, measured, stages=(*STAGES, SECOND))
    assert shown[0].startswith("Nitrate 11.0 mg/L as N at the RO 2 tap on 25 Nov (limit 10): do not drink it.")
    found = LabReport(on=D, point="reverse_osmosis_2", taken=(taken("e_coli", 1.0, "reverse_osmosis_2"),))
    assert lines(*LIVED, found, stages=(*STAGES, SECOND))[0].startswith("E. coli found at the RO 2 tap on 3 Nov: drink")
    closed = lines(*LIVED, out("reverse_osmosis_2.feed", "closed"), stages=(*STAGES, SECOND))
    assert any(one.startswith("RO 2 feed closed since 3 Nov") for one in closed)


@pytest.mark.parametrize(
    ("what", "why"),
    [
        ("UV alarm", "alarm"),
        ("lamp alarm by night", "alarm"),
        ("Power cut", "power"),
        ("lost power overnight", "power"),
        ("power back", None),
        ("UV alarm cleared", None),
        ("backup power tested", None),
        ("smoke alarm", None),
        ("storm", None),
    ],
)
def test_what_an_incident_says_about_the_lamp(what: str, why: str | None) -> None:
    assert why_dark(what) == why


CLEAN = LabReport(on=date(2026, 11, 20), point="tap", taken=(taken("total_coliform", 0.0, "tap"),))
SANITIZED = Service(on=date(2026, 11, 20), task="ultraviolet.sanitize_pipes", handles="service")
LOOKED = Service(on=date(2026, 11, 20), task="ultraviolet.glance")
NO_GERMS = LabReport(on=date(2026, 5, 1), point="source", taken=(taken("total_coliform", 0.0, "source"),))
GERMS = LabReport(on=date(2026, 5, 1), point="source", taken=(taken("total_coliform", 1.0, "source"),))


@pytest.mark.parametrize(
    ("events", "stands"),
    [
        ([Incident(on=D, what="UV alarm")], True),
        ([Incident(on=D, what="UV alarm"), LOOKED], True),
        ([Incident(on=D, what="UV alarm"), SANITIZED], True),
        ([Incident(on=D, what="UV alarm"), CLEAN], True),
        ([Incident(on=D, what="UV alarm"), LOOKED, CLEAN], False),
        ([CLEAN, Incident(on=TODAY, what="UV alarm")], True),
        ([SANITIZED, Incident(on=date(2026, 11, 20), what="UV alarm")], True),
        ([Incident(on=D, what="power cut")], True),
        ([Incident(on=D, what="power cut"), LOOKED], True),
        ([NO_GERMS, Incident(on=D, what="power cut"), LOOKED], False),
        ([GERMS, Incident(on=D, what="power cut"), LOOKED], True),
        ([GERMS, Incident(on=D, what="power cut"), SANITIZED], True),
        ([GERMS, Incident(on=D, what="power cut"), SANITIZED, CLEAN], False),
        ([out("ultraviolet.bypass"), out("ultraviolet.bypass", "service", on=TODAY)], True),
        ([out("ultraviolet.bypass"), Service(on=D, task="ultraviolet.clean_sleeve", handles="service")], True),
        ([out("ultraviolet.bypass"), out("ultraviolet.bypass", "service"), CLEAN], False),
        ([out("ultraviolet.bypass"), out("ultraviolet.bypass", "service"), SANITIZED], True),
    ],
)
def test_a_dark_lamp_counts_until_the_pipes_are_seen_to(events: list[AnyEvent], stands: bool) -> None:
    shown = [lead_of(one) for one in lines(*LIVED, *events)]
    told = ("UV alarm on", "Power cut on", "UV was on bypass until")
    assert any(one.startswith(told) and "drink bottled" in one for one in shown) is stands


def test_late_health_jobs_make_one_line_with_the_gravest_first() -> None:
    (line,) = [one for one in lines(*LIVED) if "overdue since" in one]
    assert line.startswith("Coliform test overdue since 1 Jan 2026: germs may be there unseen.")
    assert "nitrate test" in line
    assert "UV sleeve cleaning" in line


@pytest.mark.parametrize(
    ("hour", "span"), [(2, "From 2:00 to 4:30"), (23, "From 23:00 to 1:30"), (0, "From 0:00 to 2:30"), (None, None)]
)
def test_the_hours_of_regeneration(hour: int | None, span: str | None) -> None:
    stages = tuple(
        msgspec.structs.replace(one, regenerates_at_hour=hour) if one.id == "softener" else one for one in STAGES
    )
    found = [one for one in lines(*LIVED, stages=stages, fish=True) if "may regenerate" in one]
    assert [one.partition(" the softener")[0] for one in found] == ([span] if span else [])
    assert all("No infant's bottle then" in one and "fish tank" in one for one in found)


def test_on_bypass_the_water_at_the_tap_is_the_raw_one_again() -> None:
    soft = reading(date(2026, 10, 1), "nitrate", 1.0, "after_softener")
    before = {one.point: one.sample for one in plan(home(*LIVED, soft), TODAY).points}
    after = {one.point: one for one in plan(home(*LIVED, soft, out("softener.bypass")), TODAY).points}
    assert before["tap"] is not None
    assert before["tap"].nitrate_mg_l_n < 5.0
    for point in ("after_softener", "tap"):
        sample = after[point].sample
        assert sample is not None
        assert sample.nitrate_mg_l_n == 12.0  # as the laboratory found it in the raw water
        assert "past Softener bypass" in after[point].basis


def test_a_nitrate_measured_while_on_bypass_counts() -> None:
    measured = reading(TODAY, "nitrate", 7.0, "tap")
    tap = next(one for one in plan(home(*LIVED, out("softener.bypass"), measured), TODAY).points if one.point == "tap")
    assert tap.sample is not None
    assert tap.sample.nitrate_mg_l_n == 7.0


ALL = tuple(one.id for one in handles_of(house(hose=True)))
moves = st.lists(
    st.tuples(st.sampled_from(ALL), st.integers(0, 20)), min_size=1, max_size=5, unique_by=lambda one: one[0]
)


def _away(moved: list[tuple[str, int]]) -> list[HandleMoved]:
    of = {one.id: one.away for one in handles_of(house(hose=True))}
    return [out(handle, of[handle], on=TODAY - timedelta(days=days + 1)) for handle, days in moved]


@given(moves)
@settings(max_examples=15, deadline=None)
def test_putting_every_handle_back_restores_the_plan(moved: list[tuple[str, int]]) -> None:
    """All but one line and its job: what passed the lamp while it was on bypass is still in the pipes."""
    away = _away(moved)
    back = [out(one.handle, "service", on=TODAY) for one in away]
    before, after = (plan(home(*LIVED, *more, hose=True), TODAY) for more in ([], [*away, *back]))
    told = tuple(one for one in after.exposure if not one.startswith("UV was on bypass"))
    assert len(after.exposure) - len(told) == any(one.handle == "ultraviolet.bypass" for one in away)
    jobs = tuple(one for one in after.due if one.task != "ultraviolet.sanitize_pipes")
    assert len(after.due) - len(jobs) == len(after.exposure) - len(told)
    assert msgspec.structs.replace(after, exposure=told, due=jobs) == before
    first = len(LIVED) + 1
    undone = [Correction(on=TODAY, voids=first + place) for place in range(len(away))]
    assert plan(home(*LIVED, *away, *undone, hose=True), TODAY) == before


@given(moves, st.booleans(), st.booleans())
@settings(max_examples=15, deadline=None)
def test_a_bypass_takes_no_line_away_and_puts_off_nothing(
    moved: list[tuple[str, int]], fish: bool, infant: bool
) -> None:
    found = LabReport(on=D, point="source", taken=(taken("e_coli", 1.0, "source"),))
    events: list[AnyEvent] = [*LIVED, found, Incident(on=D, what="power cut")]
    before, after = (
        plan(home(*events, *more, hose=True, fish=fish, infant=infant), TODAY) for more in ([], _away(moved))
    )
    subjects = [one.partition(":")[0] for one in after.exposure]
    assert all(one.partition(":")[0] in subjects for one in before.exposure)
    assert [(one.task, one.act_on) for one in after.due] == [(one.task, one.act_on) for one in before.due]
    assert all(len(lead_of(one)) <= 78 for one in after.exposure)
    assert not any(" safe" in f" {one.replace('unsafe', '')}" for one in after.exposure)


def test_the_first_sentence_ends_after_the_name_of_the_germ() -> None:
    assert lead_of("E. coli found. Call.") == "E. coli found."
    assert lead_of("Nothing more") == "Nothing more"


RULE = LocalRule(on=D, topic="brine", text="not into the field", said_by="county", checked_on=date(2026, 9, 1))


def test_local_rules_are_asked_about_a_year_after_the_one_asked_longest_ago() -> None:
    other = LocalRule(on=D, topic="discharge", text="to the lawn", said_by="county", checked_on=date(2026, 3, 1))
    newer = LocalRule(on=D, topic="discharge", text="no longer", said_by="county", checked_on=date(2026, 10, 1))

    def asked(*events: AnyEvent) -> date:
        item = due(plan(home(*LIVED, *events), TODAY), "well.local_rules")
        assert not item.health
        return item.act_on

    third = LocalRule(on=D, topic="backflow", text="a valve", said_by="county", checked_on=date(2026, 10, 2))
    assert asked(RULE, other) == asked()
    assert asked(RULE, other, third) == date(2027, 3, 1)
    assert asked(RULE, other, third, newer) == date(2027, 9, 1)
    assert asked(RULE, other, Service(on=date(2026, 11, 10), task="well.local_rules")) == date(2027, 11, 10)


def test_what_goes_to_the_drain_names_the_owners_rule() -> None:
    def basis(*events: AnyEvent) -> str:
        (fact,) = [one for one in plan(home(*LIVED, *events), TODAY).facts if one.stage == "drain"]
        return fact.basis

    assert basis() == "check the local rule for septic fields"
    assert basis(RULE) == "your rule on brine: not into the field (county, asked 2026-09-01)"


def test_a_reading_is_not_needed_for_any_of_it() -> None:
    events: list[AnyEvent] = [out("softener.bypass"), Incident(on=D, what="UV alarm")]
    assert not any(isinstance(one, Reading) for one in events)
    assert len(lines(*events)) >= 4


N = [("after_softener", "after the resin"), ("tap", "at the tap"), ("ro", "at the RO tap")]


@pytest.mark.parametrize(("point", "where"), N)
def test_nitrate_over_the_limit_wherever_the_house_draws_it_is_not_to_be_drunk(point: str, where: str) -> None:
    told = f"Nitrate 12.0 mg/L as N {where} on 3 Nov (limit 10): do not drink it."
    high = reading(D, "nitrate", 12.0, point)
    vague = Reading(on=TODAY, taken=taken("nitrate", 20.0, point, qualifier="<"))
    assert told in [lead_of(one) for one in lines(*LIVED, high)]
    assert told in [lead_of(one) for one in lines(*LIVED, high, vague)], "less than 20 takes nothing back"
    low = reading(TODAY, "nitrate", 3.0, point)
    assert told not in [lead_of(one) for one in lines(*LIVED, high, low)]


def test_the_tap_read_later_speaks_for_the_water_after_the_resin_and_not_the_other_way() -> None:
    resin, tap = (reading(D, "nitrate", 12.0, point) for point in ("after_softener", "tap"))
    later = {point: reading(TODAY, "nitrate", 3.0, point) for point in ("after_softener", "tap")}
    assert not any("after the resin on" in one for one in lines(*LIVED, resin, later["tap"]))
    assert any("at the tap on" in one for one in lines(*LIVED, tap, later["after_softener"]))


@pytest.mark.parametrize(
    ("quantity", "mg_l", "said"),
    [
        ("lead", 0.060, "Lead 60 µg/L, limit 15, at the tap on 3 Nov: do not drink it."),
        ("copper", 4.0, "Copper 4 mg/L, limit 1.3, at the tap on 3 Nov: do not drink it."),
        ("nitrite", 5.0, "Nitrite 5 mg/L as N, limit 1, at the tap on 3 Nov: do not drink it."),
        ("arsenic", 0.090, "Arsenic 90 µg/L, limit 10, at the tap on 3 Nov: do not drink it."),
        ("uranium", 0.090, "Uranium 90 µg/L, limit 30, at the tap on 3 Nov: do not drink it."),
    ],
)
def test_what_a_laboratory_found_over_its_limit_stands_until_it_is_found_below(
    quantity: str, mg_l: float, said: str
) -> None:
    """Limits: Wisconsin NR 809 (lead, copper), federal (Pontius 1993; 40 CFR 141)."""
    high = reading(D, quantity, mg_l, "tap")
    vague = Reading(on=TODAY, taken=taken(quantity, 2.0 * mg_l, "tap", qualifier="<"))
    assert said in [lead_of(one) for one in lines(*LIVED, high)]
    assert said in [lead_of(one) for one in lines(*LIVED, high, vague)]
    assert said not in [lead_of(one) for one in lines(*LIVED, high, reading(TODAY, quantity, mg_l / 100.0, "tap"))]
    below = Reading(on=TODAY, taken=taken(quantity, mg_l / 100.0, "tap", qualifier="<"))
    assert said not in [lead_of(one) for one in lines(*LIVED, high, below)]
    assert said not in [lead_of(one) for one in lines(*LIVED, reading(D, quantity, mg_l, "source"))]


@pytest.mark.parametrize(
    ("percent", "said"),
    [
        (40.0, "UV sensor at 40 % on 3 Nov: treat as unsafe; drink bottled water."),
        (60.0, "UV sensor at 60 % on 3 Nov: do not count on its dose."),
        (90.0, ""),
    ],
)
def test_a_lamp_whose_sensor_reads_little_is_not_counted_on(percent: float, said: str) -> None:
    seen = reading(D, "uv_intensity", percent, "ultraviolet")
    told = [lead_of(one) for one in lines(*LIVED, seen) if "sensor" in one]
    assert told == ([said] if said else [])


def test_a_lamp_whose_sensor_reads_little_does_not_stand_between_germs_and_the_tap() -> None:
    strong = msgspec.structs.replace(STAGES[5], unit_class="A", rated_uvt_percent=1.0)
    stages = (*STAGES[:5], strong, *STAGES[6:])
    germs = LabReport(on=D, point="source", taken=(taken("total_coliform", 1.0, "source"),))
    new = Service(on=D, task="ultraviolet.replace_lamp", handles="service")

    def stands(percent: float) -> bool:
        seen = reading(D, "uv_intensity", percent, "ultraviolet")
        return any("all that stands between" in one for one in lines(*LIVED, germs, new, seen, stages=stages))

    assert not stands(60.0)


@pytest.mark.parametrize(
    ("ph", "said"), [(5.0, "takes lead and copper"), (6.4, ""), (7.5, ""), (9.0, ""), (10.2, "do not drink it")]
)
def test_a_tap_far_from_neutral_is_told(ph: float, said: str) -> None:
    told = [lead_of(one) for one in lines(*LIVED, reading(D, "pH", ph, "tap")) if one.startswith("pH ")]
    assert [said in one for one in told] == ([True] if said else [])


@pytest.mark.parametrize(("share", "told"), [(0.1, False), (0.5, True), (0.9, True)])
def test_a_blend_that_sends_most_round_the_bed_is_told_with_its_day(share: float, told: bool) -> None:
    moved = Setting(on=D, path="stages.neutralizer.bypass_share", value=share, was=0.0)
    found = [lead_of(one) for one in lines(*LIVED, moved) if "round the bed" in one]
    lead = f"Neutralizer: {share:.0%} goes round the bed since 3 Nov: acid water, copper and lead."
    assert found == ([lead] if told else [])
    assert not [one for one in lines(raw_water(pH=7.4), moved) if "round the bed" in one]


def test_a_test_that_shows_less_than_the_limit_itself_is_no_nitrate_at_the_limit() -> None:
    below = Reading(on=TODAY, taken=taken("nitrate", 10.0, "tap", qualifier="<"))
    high = reading(D, "nitrate", 12.0, "tap")
    for events in ([below], [high, below]):
        assert not any("at the tap on" in one for one in lines(*LIVED, *events))


def test_of_one_sample_the_first_draw_is_told_though_the_flushed_water_is_clean() -> None:
    for first, second in ((0.060, 0.001), (0.001, 0.060)):
        both = [reading(D, "lead", value, "tap") for value in (first, second)]
        assert "Lead 60 µg/L, limit 15, at the tap on 3 Nov: do not drink it." in [
            lead_of(one) for one in lines(*LIVED, *both)
        ]
