"""How a reading was taken, and the round as a page, from the shell."""

from __future__ import annotations

import pytest

from tests.cli.conftest import Shell


def test_how_it_was_read_is_kept(shell: Shell) -> None:
    words = ("--at", "after_softener", "--method", "strip", "--kit", "A12", "--kit-expires", "2027-03")
    ran = shell("read", "nitrate", "2-5", "mg/L as N", *words, "--since-regeneration", "300 gal", "--json")
    taken = ran.document["event"]["taken"]
    assert (taken["method"], taken["kit"], taken["kit_expires"]) == ("strip", "A12", "2027-03-31")
    assert taken["since_regeneration_l"] == pytest.approx(1135.6, abs=0.1)
    assert "kit" not in ran.err
    stood = shell("read", "pH", "7.4", "--state", "rest", "--json").document["event"]["taken"]
    assert stood["state"] == "at_rest"
    assert not {"method", "kit", "since_regeneration_l"} & set(stood)


def test_an_expired_kit_and_a_pad_as_a_number_are_noted_and_recorded(shell: Shell) -> None:
    words = ("--at", "after_softener", "--method", "strip", "--kit-expires", "2025-06-30")
    ran = shell("read", "nitrate", "5", "mg/L as N", *words)
    assert ran.code == 0
    assert "good until 2025-06-30" in ran.err
    assert "no single number" in ran.err


def test_a_strip_of_copper_is_an_interval_and_its_upper_end_counts(shell: Shell) -> None:
    ran = shell("read", "copper", "1-2 mg/L", "--at", "tap", "--method", "strip", "--json")
    taken = ran.document["event"]["taken"]
    assert (taken["value"], taken["high"], taken["method"]) == (1.0, 2.0, "strip")
    assert "no single number" not in ran.err
    told = [one["text"] for one in shell("due", "--json").document["alerts"] if one["point"] == "tap"]
    assert any(text.startswith("Copper 2") for text in told)  # the action level is 1.3 mg/L


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--kit-expires", "soon"), "not a date"),
        (("--since-regeneration", "-5 gal"), "cannot have run"),
        (("--since-regeneration", "nan"), "not a number"),
        (("--since-regeneration", "5 psi"), "pressure"),
        (("--kit", "x" * 60), "at most 40"),
    ],
)
def test_what_cannot_be_is_refused(shell: Shell, words: tuple[str, str], says: str) -> None:
    ran = shell("read", "pH", "7", *words)
    assert ran.code == 1
    assert says in ran.err
    assert "Traceback" not in ran.err


def test_the_round_is_one_page_with_blanks_units_and_last_values(shell: Shell) -> None:
    lines = shell("round").out.splitlines()
    assert len(lines) <= 60
    assert max(map(len, lines)) <= 80
    assert any(line.startswith("  Salt depth") and "__________ in" in line for line in lines)
    places = [
        next(n for n, line in enumerate(lines) if line.startswith(name)) for name in ("Drilled", "Soft", "Kitchen RO")
    ]
    assert places == sorted(places)
    stops = shell("round", "--json").document["stops"]
    assert {"quantity", "point", "state", "unit", "why", "last"} <= set(stops[0]["rows"][0])
