"""What happened, as the owner wrote it: kept as typed, without marks that move a cursor, and bounded."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import BadInput
from model.forecast.exposed.dark import playbook_of
from model.records.incidents import LONGEST, incident

DAY = date(2026, 11, 20)


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("Manure on the north field", "Manure on the north field"),
        ("  hay \t cut\nand  baled ", "hay cut and baled"),
        ("[b]rain[/b] 5 % {x}", "[b]rain[/b] 5 % {x}"),
        ("bell\x07 \x1b[2J end", "bell [2J end"),
        ("Gülle, 2 Fässer", "Gülle, 2 Fässer"),
        ("a" * 600, "a" * 600),
    ],
)
def test_the_words_are_kept(typed: str, kept: str) -> None:
    assert (incident(typed, DAY).what, incident(typed, DAY).on) == (kept, DAY)


@pytest.mark.parametrize("typed", ["", "   ", "\x00\x1b\n", "a" * 601])
def test_nothing_and_too_much_are_refused(typed: str) -> None:
    with pytest.raises(BadInput) as caught:
        incident(typed, DAY)
    assert caught.value.now


@given(st.text(max_size=700))
def test_whatever_is_typed_is_kept_printable_or_refused(typed: str) -> None:
    try:
        kept = incident(typed, DAY).what
    except BadInput:
        return
    assert kept.isprintable()
    assert 0 < len(kept) <= LONGEST


@pytest.mark.parametrize(
    ("what", "playbook"),
    [
        ("Power cut from 2 to 5", "power_cut"),
        ("the UV alarm beeped", "uv_alarm"),
        ("power is back", ""),
        ("hay cut on the west field", ""),
        ("heavy rain", ""),
    ],
)
def test_a_power_cut_and_an_alarm_have_their_playbook(what: str, playbook: str) -> None:
    assert playbook_of(what) == playbook
