"""The sheets: what has to stand in them, in which order, and that nothing anybody wrote is more than words."""

from __future__ import annotations

import re
from datetime import date
from html.parser import HTMLParser

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from model.forecast.situation import Situation
from model.home import Home, House
from model.pages.html_page import html
from model.pages.markdown import escape, markdown
from model.pages.owner import owner_page
from model.pages.page import Page, Table
from model.pages.sitter import sitter_page
from model.pages.train_picture import train_picture
from model.plan import plan
from model.records.events import Contact, Correction, HandleMoved, LocalRule, Reading, Taken
from model.store.repository import Repository
from model.visible import visible
from sample_data import SAMPLE

TODAY = date(2026, 4, 1)
HOME = Repository(SAMPLE).load()
NASTY = '<script>alert(1)</script> & "q" \' [a](http://x) `c` *b* | ~~~~'
MAKERS = (sitter_page, owner_page)


def page_of(make: object, home: Home = HOME) -> Page:
    now = Situation(home, TODAY)
    return make(now, plan(home, TODAY))  # type: ignore[operator, no-any-return]


def nasty_home() -> Home:
    stages = tuple(msgspec.structs.replace(stage, title=NASTY) for stage in HOME.house.stages)
    supplies = tuple(msgspec.structs.replace(one, title=NASTY) for one in HOME.house.supplies)
    house = msgspec.structs.replace(HOME.house, name=NASTY, stages=stages, supplies=supplies, fish=True)
    last = HOME.events[-1].id
    rule = LocalRule(id=last + 1, on=TODAY, topic="brine", text=NASTY, said_by=NASTY, checked_on=TODAY)
    taken = Taken(quantity="pH", value=6.2, point="source", entered=NASTY)
    return Home(house, (*HOME.events, rule, Reading(id=last + 2, on=TODAY, taken=taken, note=NASTY)))


class Marks(HTMLParser):
    """All tags with their attributes, and the words."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.words += data


@pytest.mark.parametrize("make", MAKERS)
def test_html_brings_nothing_in_and_runs_nothing(make: object) -> None:
    found = Marks(html(page_of(make, nasty_home())))
    known = (
        "html head meta title style body h1 h2 p section div span i ul li table thead tbody tr th td svg rect text path"
    )
    assert {tag for tag, _ in found.tags} <= set(known.split())
    attributes = {name for _, attrs in found.tags for name in attrs}
    assert not {one for one in attributes if one.startswith("on") or one in ("src", "href", "style")}
    assert "url(" not in html(page_of(make))
    assert "@import" not in html(page_of(make))
    assert found.words.count("<script>alert(1)</script>") > 5


@pytest.mark.parametrize("make", MAKERS)
def test_markdown_holds_only_its_own_marks(make: object) -> None:
    shown = MarkdownIt("commonmark", {"linkify": False}).enable("table").render(markdown(page_of(make, nasty_home())))
    found = Marks(shown)
    known = "h1 h2 p ul li table thead tbody tr th td pre code hr"
    assert {tag for tag, _ in found.tags} <= set(known.split())
    assert found.words.count("<script>alert(1)</script>") > 5
    assert sum(tag == "h1" for tag, _ in found.tags) == 1


@given(st.text(alphabet=st.characters(codec="utf-8"), min_size=1, max_size=60))
def test_escaped_words_come_out_of_markdown_as_they_were(text: str) -> None:
    shown = Marks(MarkdownIt("commonmark").render(f"- {escape(text)}"))
    assert {tag for tag, _ in shown.tags} <= {"ul", "li"}
    assert shown.words.strip() == visible(" ".join(text.split()))


@pytest.mark.parametrize("make", MAKERS)
def test_what_the_house_is_exposed_to_stands_first(make: object) -> None:
    page = page_of(make)
    first = page.sections[0]
    assert first.kind == "danger"
    said = plan(HOME, TODAY).exposure
    text = Marks(html(page)).words
    assert said
    for line in said:
        assert text.index(line) < text.index("The train, from well to tap")


def test_the_sitters_page_says_what_is_asked_of_it() -> None:
    text = markdown(page_of(sitter_page))
    for words in (
        "Infants: never from any tap of this house",
        "Do not boil tap water instead: boiling makes nitrate stronger",
        "Leak: pump breaker off FIRST, then the house valve",
        "| Power cut | Drink nothing from the taps, the RO tap too",
        "| No water |",
        "| Lamp alarm, or its light is not green | Stop drinking from every tap",
        "- Breaker of the pump: ____",
        "- Emergency number here: ____",
        "- Health authority: County health office, 555-0133",
        "Gauge at the tank between 40 psi and 60 psi",
    ):
        assert words in text


def test_a_plain_home_has_no_lamp_no_salt_and_no_membrane_on_its_page() -> None:
    text = markdown(page_of(sitter_page, Home(House(name="Plain", started=date(2026, 1, 1)))))
    assert not re.search(r"(?i)lamp|salt|RO tap|hose", text)
    assert "Taps of the house" in text


def test_a_handle_out_of_service_is_drawn_so() -> None:
    moved = HandleMoved(id=HOME.events[-1].id + 1, on=TODAY, handle="softener.bypass", position="bypass")
    now = Situation(Home(HOME.house, (*HOME.events, moved)), TODAY)
    picture = train_picture(now)
    assert [line for line in picture.plain if "NOW ON BYPASS" in line] == [
        "[Softener with nitrate resin]  NOW ON BYPASS"
    ]
    assert picture.svg.count("NOW ON BYPASS") == 1
    assert 'stroke-width="3"' in picture.svg
    assert picture.plain[-1] == "   +--> [Kitchen RO]"


def test_the_first_page_of_the_next_owner_has_all_that_the_first_day_needs() -> None:
    page = page_of(owner_page)
    assert [one.title for one in page.sections] == [
        "The water today",
        "The train, from well to tap",
        "When something happens",
        "Shut-offs",
        "Who to call",
        "Equipment, with sizes and settings",
    ]
    first = markdown(msgspec.structs.replace(page, more=()))
    for words in ("| Lamp alarm", "Salt per regeneration: 11.9 lb", "- Breaker of the pump: ____", "555-0142"):
        assert words in first
    assert "Space between grains" not in first
    assert "Space between grains: 45 %" in markdown(page)
    assert html(page).count('<div class="more">') == 1


def test_contacts_stand_on_both_sheets_and_what_is_not_known_is_a_line_to_fill_in() -> None:
    calls = [
        Contact(id=len(HOME.events) + n, on=TODAY, role=role, name=NASTY, phone="555-0119")
        for n, role in ((1, "plumber"), (2, "vet"))
    ]
    home = Home(HOME.house, (*HOME.events, *calls, Contact(id=len(HOME.events) + 3, on=TODAY, role="contractor")))
    for make in MAKERS:
        words = Marks(html(page_of(make, home))).words
        assert f"Licensed plumber: {NASTY}, 555-0119" in words
        assert f"Vet: {NASTY}, 555-0119" in words
        assert "Licensed electrician: Voss Electric, 555-0168" in words
        assert "- Well or pump contractor: ____" in markdown(page_of(make, home))


def test_every_event_that_stands_is_in_the_history_and_none_that_was_taken_back() -> None:
    noted = tuple(msgspec.structs.replace(one, note=f"[{one.id}]") for one in HOME.events)
    told = [
        table.rows
        for one in page_of(owner_page, Home(HOME.house, noted)).more
        for table in one.blocks
        if isinstance(table, Table)
    ]
    found = [int(number) for rows in told for row in rows for number in re.findall(r"\[(\d+)\]", row[1])]
    gone = {one.voids for one in HOME.events if isinstance(one, Correction)}
    wanted = {one.id for one in HOME.events if not isinstance(one, Correction)} - gone
    assert gone
    assert sorted(found) == sorted(wanted)


def test_the_next_owner_gets_sizes_rules_prices_tests_and_every_year() -> None:
    text = markdown(page_of(owner_page, nasty_home()))
    assert "Salt per regeneration: 11.9 lb" in text
    assert "Regenerates every: 1,294 gal" in text
    assert [line for line in text.splitlines() if line.startswith("## What happened in ")] == [
        "## What happened in 2026",
        "## What happened in 2025",
        "## What happened in 2024",
    ]
    assert "Not asked yet: may softener brine" not in text
    assert "Not asked yet: which protection against backflow is asked for" in text
    assert text.count("| Laboratory report, the source |") == 3
