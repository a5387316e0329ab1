"""The commands for valve handles and local rules, and what `done` does to handles."""

from __future__ import annotations

from typing import Any

import pytest

from tests.cli.conftest import Shell


def position(shell: Shell, handle: str) -> dict[str, Any]:
    (row,) = [one for one in shell("handle", "--json").document["handles"] if one["handle"] == handle]
    return dict(row)


def test_a_handle_moved_is_listed_and_told_until_it_is_back(shell: Shell) -> None:
    ran = shell("handle", "softener.bypass", "bypass", "--on", "2026-11-03", "--note", "gasket")
    assert ran.code == 0
    assert "untreated for nitrate" in ran.out
    row = position(shell, "softener.bypass")
    assert (row["position"], row["since"], row["note"]) == ("bypass", "2026-11-03", "gasket")
    assert "on bypass since 3 Nov: gasket" in shell("handle").out
    assert shell("due", "--json").document["exposure"][0].startswith("Softener bypassed since 3 Nov")
    assert "Valve handle: Softener with nitrate resin bypass, now on bypass; gasket" in shell("log", "--last", "1").out
    assert shell("handle", "softener", "service").code == 0
    assert position(shell, "softener.bypass")["position"] == "service"
    assert not any("bypassed" in one for one in shell("due", "--json").document["exposure"])
    assert shell("undo").code == 0
    assert position(shell, "softener.bypass")["position"] == "bypass"
    assert shell("check").code == 0


def test_done_says_where_the_handles_are(shell: Shell) -> None:
    task = "ultraviolet.clean_sleeve"
    assert shell("done", task, "--accept", "dark until Friday").code == 0
    assert position(shell, "ultraviolet.bypass")["note"] == "dark until Friday"
    assert '"dark until Friday"' in shell("due").out
    assert shell("done", task, "--handles", "service").code == 0
    assert position(shell, "ultraviolet.bypass")["position"] == "service"
    assert "exclude" in shell("done", task, "--handles", "service", "--accept", "x").err


def test_the_blend_is_the_neutralizers_setting(shell: Shell) -> None:
    event = shell("handle", "neutralizer.blend", "25 %", "--json").document["event"]
    assert (event["kind"], event["path"], event["value"]) == ("setting", "stages.neutralizer.bypass_share", 0.25)
    assert position(shell, "neutralizer.blend")["position"].startswith("25 %")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("handle", "bath", "bypass"), "no handle"),
        (("handle", "softener.bypass"), "Where does"),
        (("handle", "softener.bypass", "open"), "Say service or bypass"),
        (("handle", "neutralizer.blend", "nan"), "percentage"),
        (("handle", "neutralizer.blend", "100"), "percentage"),
        (("handle", "softener.bypass", "bypass", "--on", "2026-11-26"), "future"),
        (("rule", "brine"), "What does the rule say?"),
        (("rule", "brine", "no"), "Who said so?"),
        (("rule", " ", "no", "--by", "x"), "about"),
        (("rule", "brine", "no", "--by", "x", "--on", "2026-11-26"), "future"),
        (("done", "well.shut_off_drill", "--accept", "stuck"), "Which handle"),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(shell: Shell, words: tuple[str, ...], said: str) -> None:
    before = shell("log", "--json").out
    ran = shell(*words)
    assert ran.code == 1
    assert said in ran.err
    assert len(ran.err.splitlines()) == 1
    assert shell("log", "--json").out == before


def test_a_rule_is_kept_with_who_said_so_and_when(shell: Shell) -> None:
    assert "brine: not written down" in shell("rule").out
    first = ("rule", "Brine", "not into the field", "--by", "county office", "--on", "2026-03-01")
    assert shell(*first).code == 0
    assert shell("rule", "car wash", "on gravel only", "--by", "town").code == 0
    rules = shell("rule", "--json").document["rules"]
    assert [(one["topic"], one["said_by"], one["checked_on"]) for one in rules] == [
        ("brine", "county office", "2026-03-01"),
        ("car wash", "town", "2026-11-25"),
    ]
    assert "your rule on brine: not into the field" in shell("water").out
    assert "Local rule, car wash: on gravel only (town, asked 2026-11-25)" in shell("log", "--last", "1").out
