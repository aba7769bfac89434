"""The Guide: its chapters, its search, every constant in force with its source, the owner's own values."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from logbook.caution import CAUTION, CAUTION_LINE
from logbook.model.fitting import UNKNOWN_YEARS
from logbook.model.judge import planrules, rules, stands
from logbook.model.practice import Practice
from logbook.model.practice_check import CLASSES
from logbook.model.values import CHANNELS, MARK_KINDS, HomeWater, Settings
from logbook.physics import tests_behind_marks
from logbook.physics.worked import plain, quantity
from logbook.record.file.practice_file import load_practice
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.guide.chapters import chapters
from logbook.tui.guide.lines import View, found, lay_out
from logbook.tui.guide.parts import Chapter, Entry, sentences
from logbook.tui.guide.room import GuideRoom
from logbook.tui.guide.search import fold, marked, wanted
from logbook.tui.widgets.contents import Contents
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.page import HERE, Page
from tests.tui.helpers import (
    HOSTILE,
    LARGE,
    SMALL,
    paste,
    press_all,
    raw_controls,
    screen_lines,
    screen_text,
    shows,
    text_of,
    wait_for,
    wait_for_room,
    wait_for_text,
    words,
    write,
)

TITLES = {
    "1": "What marks mean, and what they do not",
    "2": "The model in plain words",
    "3": "What is assumed where nothing was said",
    "4": "Every constant in force",
    "5": "The words used here",
}
OWN = """
[constants.worn_c]
value = 30.5
low = 29.5
source = "Measured with a stick-on thermometer \\u001b[2J [/] on my own wrist."

[constants.jump_m]
value = 2.0
low = 2.0
high = 2.0

[materials."my rubber"]
years = 4
low = 3
high = 5
cap_years = 6
storage_class = "B"
alpha_low = 100
alpha_high = 120
kind = "from memory"
source = "The gaskets' maker, by letter."

[intervals.battery]
months = 22
"""


@pytest.fixture
def owned(book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    """The same record, opened by an owner with constants of their own."""
    own = tmp_path / "own.toml"
    own.write_text(OWN, encoding="utf-8")
    monkeypatch.setenv("LOGBOOK_PRACTICE", str(own))
    return Book(book.location, book.today)


async def opened(pilot: Pilot[Any]) -> GuideRoom:
    """The Guide on top of the Shelf."""
    await wait_for_room(pilot, "ShelfRoom")
    pilot.app.push_screen(GuideRoom())
    await wait_for_room(pilot, "GuideRoom")
    await wait_for_text(pilot, TITLES["1"], "What a mark is commonly taken to allow", CAUTION_LINE)
    screen = pilot.app.screen
    assert isinstance(screen, GuideRoom)
    return screen


async def search(pilot: Pilot[Any], text: str) -> None:
    """Open the search and write."""
    await pilot.press("slash")
    await wait_for(pilot, lambda: focused(pilot.app) == "search-entry", "the search takes letters")
    await write(pilot, text)


def focused(app: Any) -> str | None:
    """What the keys go to."""
    return app.focused.id if app.focused else None


def here(app: Any) -> str:
    """The entry under the cursor as it stands on the screen, beside its mark in the margin."""
    return words(" ".join(line.split(HERE, 1)[1] for line in screen_lines(app) if HERE in line))


def guide(practice: Practice, settings: Settings | None = None) -> tuple[Chapter, ...]:
    """The chapters for constants."""
    return chapters(practice, settings or Settings())


def entries(chapter: Chapter) -> list[Entry]:
    """Every entry of a chapter."""
    return [entry for section in chapter.sections for entry in section.entries]


def row_of(chapter: Chapter, section: str, name: str) -> Entry:
    """A row of a table by its first cell."""
    (found_section,) = (s for s in chapter.sections if s.title == section)
    (row,) = (entry for entry in found_section.entries if entry.cells[:1] == (name,))
    return row


def said_under(chapter: Chapter, title: str) -> str:
    """What stands under a title."""
    (entry,) = (e for e in entries(chapter) if e.title == title)
    return " ".join(entry.body)


# ------------------------------------------------------------------ what stands in it


def test_every_constant_stands_there_with_value_unit_range_kind_and_source() -> None:
    practice = load_practice()
    chapter = guide(practice)[3]
    for name, constant in practice.constants.items():
        row = row_of(chapter, "Constants", name)
        assert row.cells[1] == quantity(constant.value, constant.unit)
        if constant.low != constant.high:
            assert row.cells[2] == f"{plain(constant.low)}–{plain(constant.high)}"
        assert row.cells[3] == constant.kind
        assert f"{constant.kind}: {constant.source}" in row.more


@pytest.mark.parametrize(
    ("section", "table"),
    [
        ("Seal factors", "seals"),
        ("Materials", "materials"),
        ("Cases and crystals", "cases"),
        ("Intervals", "intervals"),
        ("Activities", "activities"),
    ],
)
def test_every_row_of_every_other_table_stands_there_with_its_source(section: str, table: str) -> None:
    practice = load_practice()
    for name, values in getattr(practice, table).items():
        row = row_of(guide(practice)[3], section, name)
        for key, value in values._asdict().items():
            if isinstance(value, float):
                assert plain(value) in row.text.replace("–", " "), f"{name}: {key}"
        if hasattr(values, "source"):
            assert f"{values.kind}: {values.source}" in row.more


def test_marks_allow_what_the_table_in_force_says() -> None:
    practice = load_practice()
    for mark in practice.marks:
        row = row_of(guide(practice)[0], "What a mark is commonly taken to allow", mark.name)
        assert row.cells[1:] == tuple(mark.allows[each] for each in CLASSES)


@pytest.mark.parametrize("mark", MARK_KINDS)
def test_every_kind_of_mark_names_the_tests_behind_it(mark: str) -> None:
    chapter = guide(load_practice())[0]
    (kinds,) = (s for s in chapter.sections if s.title == "Each kind of mark")
    entry = kinds.entries[MARK_KINDS.index(mark)]
    for test in tests_behind_marks.behind(mark):
        assert test.name in " ".join(entry.body)
    if not tests_behind_marks.behind(mark):
        assert "No test stands behind it." in entry.body


def test_every_test_behind_a_mark_is_told_with_its_levels_and_its_source() -> None:
    chapter = guide(load_practice())[0]
    told = [" ".join((entry.title, *entry.body)) for entry in entries(chapter)]
    for mark in tests_behind_marks.TESTS:
        for test in tests_behind_marks.behind(mark):
            assert any(test.name in t and test.passes_when in t and test.source in t for t in told)
    assert any("long immersion depth 0.3 m; for 50 h." in t for t in told)
    assert any("water pressure at 125 % of the mark; for 2 h; then at 0.30 bar; for 1 h." in t for t in told)


@pytest.mark.parametrize("channel", CHANNELS)
def test_every_channel_is_explained(channel: str) -> None:
    assert "use up one interval" in said_under(guide(load_practice())[1], channel) or channel == "ageing"


@pytest.mark.parametrize("code", [*rules.STANDING, *planrules.PLAN])
def test_every_stop_rule_has_its_words_its_limit_and_its_verdict(code: str) -> None:
    said = said_under(guide(load_practice())[1], code)
    assert "Limit: " in said
    assert f"Says: {rules.KEEP_DRY}" in said or f"Says: {rules.THINK_TWICE}" in said


def test_the_words_of_a_stop_rule_are_those_of_the_rule_itself() -> None:
    said = said_under(guide(load_practice())[1], "used-up")
    assert said.startswith("The service interval of a seal is used up, at the best estimate. Limit: ")


@pytest.mark.parametrize("way", stands.STANDS)
def test_everything_that_stands_says_what_raises_it_what_lifts_it_and_how_it_speaks(way: str) -> None:
    chapter = guide(load_practice())[1]
    (section,) = (s for s in chapter.sections if s.title == "What stands until proven")
    entry = section.entries[list(stands.STANDS).index(way)]
    assert entry.title.partition(",")[0] == stands.STANDS[way].code
    raised, lifted, until = entry.body
    assert raised.startswith("Raised by ")
    assert lifted.startswith("Lifted by ")
    assert until.startswith((f"Until then: {rules.KEEP_DRY}", f"Until then: {rules.THINK_TWICE}"))


def test_no_row_of_what_stands_and_no_stop_rule_is_told_that_is_none() -> None:
    assert [*sentences()["stands"]] == [*stands.STANDS]
    assert {*sentences()["stop_rules"]} == {*rules.STANDING, *planrules.PLAN}


@pytest.mark.parametrize("word", ["proof", "pass needed", "in force", "knock"])
def test_the_words_of_evidence_are_among_the_words(word: str) -> None:
    assert said_under(guide(load_practice())[4], word)


@pytest.mark.parametrize(
    ("title", "told"),
    [
        # Written out again from docs/method.md, "Evidence".
        ("pass needed", ("1.25 times", "1 bar for “rain, hands”", "3 bar for a swim", "10 bar for diving")),
        ("proof", ("unknown pressure counts as 1 bar", "from 0.5 bar on")),
        ("in force", ("12 months with diving", "36 months kept dry", "12 months, 24 months and 60 months")),
    ],
)
def test_evidence_is_told_with_the_numbers_in_force(title: str, told: tuple[str, ...]) -> None:
    said = said_under(guide(load_practice())[1], title)
    for words_of_it in told:
        assert words_of_it in said


def test_a_fitting_date_that_nobody_knows_reaches_as_far_back_as_the_reckoning_takes_it() -> None:
    said = said_under(guide(load_practice())[2], "fitting date of a gasket")
    assert f"else {UNKNOWN_YEARS} years back" in said
    assert "the year in which the watch was made, else the day it was bought" in said
    marks_told = said_under(guide(load_practice())[2], "mark without a number")
    assert "Reckoned with 2 bar; a mark that is not known with 3 bar" in marks_told


def test_no_sentence_is_left_with_a_name_in_braces() -> None:
    for chapter in guide(load_practice()):
        for entry in entries(chapter):
            assert "{" not in entry.text


@pytest.mark.parametrize("word", ["waterproof", "safe "])
def test_nothing_is_promised(word: str) -> None:
    for chapter in guide(load_practice()):
        for entry in entries(chapter):
            assert word not in entry.text.lower()


def test_the_home_water_is_told_as_the_owner_set_it() -> None:
    home = HomeWater(salinity=38.0, latitude_deg=43.0, monthly_c=(12.5, *(20.0,) * 11))
    said = said_under(guide(load_practice(), Settings(home=home))[2], "your home water")
    assert "Salinity 38, latitude 43°" in said
    assert "Jan 12.5 °C, Feb 20 °C" in said
    assert "not said" in said_under(guide(load_practice())[2], "your home water")


# ------------------------------------------------------------------ the owner's own values


def test_what_the_owner_sets_is_what_every_chapter_says(owned: Book) -> None:
    shipped, own = guide(load_practice_without(owned)), guide(owned.practice)
    row = row_of(own[3], "Constants", "worn_c")
    assert row.cells[1:3] == ("30.5 °C", "29.5–34")
    assert row.yours
    assert "Your own file sets: value, low, source." in row.more
    assert not row_of(own[3], "Constants", "storage_c").yours
    assert row_of(own[3], "Materials", "my rubber").yours
    assert row_of(own[3], "Intervals", "battery").cells[1] == "22 months"
    assert "32 °C on the wrist" in said_under(shipped[1], "ageing")
    assert "30.5 °C on the wrist" in said_under(own[1], "ageing")
    assert "Limit: 3 m." in said_under(shipped[1], "jump")
    assert "Limit: 2 m." in said_under(own[1], "jump")
    assert "my rubber 6 years" in said_under(own[1], "seal-too-old")


def load_practice_without(owned: Book) -> Practice:
    """The constants as they come with the program."""
    with pytest.MonkeyPatch.context() as patch:
        patch.delenv("LOGBOOK_PRACTICE")
        assert owned.practice.overridden
        return load_practice()


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_owners_own_values_are_marked_as_theirs(owned: Book, size: tuple[int, int]) -> None:
    app = LogbookApp(owned)
    async with app.run_test(size=size) as pilot:
        await opened(pilot)
        await pilot.press("4")
        await wait_for_text(pilot, "Your own file sets: constants.worn_c.value, constants.worn_c.low")
        await search(pilot, "worn_c stick-on")
        await wait_for_text(pilot, "1 found", "worn_c 30.5 °C 29.5–34 assumption yours")
        told = here(app)  # without the margin that runs along the lines of it
        assert r"thermometer \x1b[2J [/] on my own wrist." in told
        assert "Your own file sets: value, low, source." in told
        assert raw_controls(app) == []


# ------------------------------------------------------------------ reading


@pytest.mark.parametrize("size", [SMALL, LARGE, (200, 60)])
async def test_every_chapter_opens_by_its_number(book: Book, size: tuple[int, int]) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await opened(pilot)
        assert shows(app, "1 Marks", "2 The model", "3 Assumed", "4 Constants", "5 Words")
        for key in ("2", "3", "4", "5", "1"):
            await pilot.press(key)
            await wait_for_text(pilot, TITLES[key], f"▸{key} ", CAUTION_LINE)


async def test_left_and_right_turn_to_the_chapter_beside(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        for key, title in (("right", "2"), ("right", "3"), ("left", "2"), ("left", "1"), ("left", "1")):
            await pilot.press(key)
            await wait_for_text(pilot, f"logbook · Guide {TITLES[title]}")


@pytest.mark.parametrize(("size", "offset"), [(SMALL, (24, 0)), (LARGE, (4, 3))])
async def test_a_click_on_a_chapter_opens_it(
    book: Book, size: tuple[int, int], offset: tuple[int, int]
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await opened(pilot)
        await pilot.click(Contents, offset=offset)
        await wait_for_text(pilot, "logbook · Guide " + TITLES["3"])


async def test_a_row_opens_to_its_full_source_and_closes_again(book: Book) -> None:
    app = LogbookApp(book)
    source = "Taken for a mark that is not known: the least that is"
    async with app.run_test(size=SMALL) as pilot:
        screen = await opened(pilot)
        await pilot.press("4")
        await wait_for_text(pilot, "Every number that the arithmetic uses")
        while "p_mark_unknown_bar" not in here(app):
            await pilot.press("down")
        assert not shows(app, source)
        await pilot.press("enter")
        await wait_for_text(pilot, source)
        assert here(app).startswith("▾ p_mark_unknown_bar 3 bar – common practice common practice: Taken for")
        await pilot.press("enter")
        await wait_for(pilot, lambda: not shows(app, source), "the row is closed")
        assert here(app).startswith("▸ p_mark_unknown_bar")
        assert screen.opened == set()


@pytest.mark.parametrize(("chapter", "size"), [(c, SMALL) for c in "12345"] + [("1", (50, 16)), ("2", LARGE)])
async def test_arrows_and_pages_reach_every_entry_and_come_back(
    book: Book, chapter: str, size: tuple[int, int]
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        app.push_screen(GuideRoom())
        await wait_for_room(pilot, "GuideRoom")
        await pilot.press(chapter)
        page = app.screen.query_one(Page)
        seen, wanted_keys = {page.here}, set(page_keys(page))
        for _ in range(400):
            await pilot.press("down")
            seen.add(page.here)
            assert HERE in screen_text(app)
            if seen == wanted_keys:
                break
        assert seen == wanted_keys
        await pilot.press("home")
        assert page.scroll_offset.y == 0
        for key, edge in (("pagedown", max(wanted_keys)), ("pageup", min(wanted_keys))):
            for _ in range(200):
                if page.here != edge:
                    await pilot.press(key)
            assert page.here == edge
        await pilot.press("end")
        assert page.here == max(wanted_keys)


def page_keys(page: Page) -> list[Any]:
    """Every entry of the page."""
    return [row.entry for row in page._rows if row.entry is not None]


async def test_the_wheel_scrolls_and_the_arrows_go_on_from_there(book: Book) -> None:
    from textual import events

    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        page = app.screen.query_one(Page)
        for _ in range(20):
            page.post_message(
                events.MouseScrollDown(page, 5, 5, 0, 1, 0, False, False, False, screen_x=5, screen_y=8)
            )
        await wait_for(pilot, lambda: page.scroll_offset.y > 20, "the page has scrolled")
        top = page.scroll_offset.y
        await pilot.press("down")
        assert top - 3 <= page.cursor <= top + page.size.height


async def test_it_follows_the_window_as_it_is_resized_and_stays_where_it_was(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        await search(pilot, "kJ/mol")
        await pilot.press("enter", "down")
        before = here(app)
        assert before
        for size in (LARGE, (50, 15), (200, 60), SMALL):
            await pilot.resize_terminal(*size)
            await wait_for_text(pilot, "2 found")
            assert words(here(app))[:12] == before[:12]
            assert all(len(line) <= size[0] for line in screen_lines(app))


def test_no_line_is_longer_than_the_window_and_nothing_is_lost() -> None:
    from rich.cells import cell_len

    every = guide(load_practice())
    for width in (40, 78, 95, 160):
        for n in range(5):
            laid = lay_out(every, View(n, (), lambda key, entry: True), width)
            text = text_of([row.pieces for row in laid])
            assert width < 78 or all(cell_len(line) <= width for line in text.splitlines())
            for entry in entries(every[n]):
                for paragraph in (*entry.body, *entry.more):
                    assert words(paragraph) in words(text)


# ------------------------------------------------------------------ searching


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_a_constant_is_found_by_its_name(book: Book, size: tuple[int, int]) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await opened(pilot)
        await search(pilot, "h_HOT")
        await wait_for_text(pilot, "1 found", "H_hot_tub 60 h 30–120 assumption")
        assert here(app).startswith("▸ H_hot_tub") or "H_hot_tub" in here(app)


async def test_a_constant_is_found_by_a_word_of_its_source_and_opens_to_it(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        await search(pilot, "nítrile áir")
        await wait_for_text(pilot, "1 found", "▾ Ea", "Papers on nitrile rubber in air")
        await press_all(pilot, ["enter", "enter"])
        await wait_for_text(pilot, "▸ Ea")


async def test_letters_narrow_as_they_are_typed_over_all_chapters(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        screen = await opened(pilot)
        counts = []
        for letter in "sapphire":
            await (search(pilot, letter) if not counts else write(pilot, letter))
            await pilot.pause()
            counts.append(len(screen.found))
        assert counts == sorted(counts, reverse=True)
        assert counts[-1] == 1
        await wait_for_text(pilot, "▸4 Constants 1 found", "1 Marks –", "sapphire 5–6 handbook")


async def test_found_places_are_walked_by_n_and_by_arrows_while_one_writes(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        await search(pilot, "thermal-shock")
        await wait_for_text(pilot, "found")
        first = here(app)
        await pilot.press("down")
        second = here(app)
        assert focused(app) == "search-entry"
        assert second != first
        await pilot.press("up")
        assert here(app) == first
        await pilot.press("enter")
        await pilot.press("right_square_bracket")
        assert here(app) == second
        await pilot.press("left_square_bracket")
        assert here(app) == first


async def test_a_chapter_number_goes_to_what_was_found_there(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await opened(pilot)
        await search(pilot, "salt")
        await pilot.press("enter", "5")
        await wait_for_text(pilot, "▸5 Words")
        assert screen.page.here is not None
        assert screen.page.here.chapter == 4


async def test_escape_clears_the_search_at_what_was_found_and_then_goes_back(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        await search(pilot, "silent_days")
        await wait_for_text(pilot, "1 found")
        await pilot.press("escape")
        await wait_for_text(pilot, "logbook · Guide " + TITLES["4"])
        await wait_for(pilot, lambda: "silent_days 180 days" in here(app), "the cursor is at what was found")
        assert focused(app) == "page"
        assert app.screen.query_one("#search", Field).text == ""
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")


async def test_an_empty_search_shows_the_chapter_as_before(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        before = screen_lines(app)[1:10]
        await press_all(pilot, ["slash", "space", "enter"])
        await wait_for(pilot, lambda: focused(app) == "page", "the text has the keys")
        assert screen_lines(app)[1:10] == before
        await press_all(pilot, ["right_square_bracket", "left_square_bracket"])
        assert screen_lines(app)[1:10] == before


async def test_what_would_do_harm_is_only_text_in_the_search(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await opened(pilot)
        await press_all(pilot, ["slash"])
        for text in HOSTILE:
            await paste(pilot, text)
            await pilot.press("down", "up", "pagedown")
            assert raw_controls(app) == [], repr(text)
            assert shows(app, "logbook · Guide", CAUTION_LINE)
            assert bool(screen.found) or shows(app, "Nothing in the Guide speaks of")
            screen.search.entry.value = ""
            await pilot.pause()
        await pilot.press("escape")
        await wait_for(pilot, lambda: focused(app) == "page", "the search is closed")
        assert shows(app, "/ find", "esc back")


@pytest.mark.parametrize(
    ("query", "text"),
    [
        ("ISO 6425", "iso 6425:2018"),
        ("diver's", "a diver’s mark"),
        ("low-high", "low–high"),
        ("AGEING", "ágeing"),
        ("10-6", "10⁻⁶/K"),
        ("fi", "ﬁt"),
    ],
)
def test_case_accents_and_print_make_no_difference(query: str, text: str) -> None:
    assert all(word in fold(text) for word in wanted(query))


def test_every_word_must_be_found() -> None:
    every = guide(load_practice())
    both = found(every, wanted("crown handling"))
    assert both
    assert len(both) < len(found(every, wanted("crown")))
    assert found(every, wanted("crown zzz")) == []


def test_what_was_found_is_marked_in_the_text_as_it_is_printed() -> None:
    assert marked("a Díver’s mark", "plain", wanted("diver's")) == [
        ("a ", "plain"),
        ("Díver’s", "key"),
        (" mark", "plain"),
    ]
    assert marked("½ m", "plain", wanted("2")) == [("½", "key"), (" m", "plain")]


# ------------------------------------------------------------------ the frame


async def test_while_one_writes_the_keys_say_what_works_there(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        assert shows(app, "/ find", "⏎ open", "1–5 chapter", "esc back")
        await search(pilot, "a")
        await wait_for_text(pilot, "↑↓ found places", "⏎ to the text", "F1 help")
        assert not shows(app, "/ find")
        await pilot.press("enter")
        await wait_for_text(pilot, "/ find", "] next")


async def test_the_model_opens_with_the_caution_in_full(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        await pilot.press("2")
        await wait_for_text(pilot, "It never replaces a pressure test", words(CAUTION)[:60])


async def test_without_any_colour_the_place_is_marked_by_a_sign(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        await search(pilot, "Ea")
        await wait_for_text(pilot, "found", HERE, "▸1 Marks")


async def test_the_guide_opens_on_an_empty_record(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "WelcomeRoom")
        app.push_screen(GuideRoom())
        await wait_for_room(pilot, "GuideRoom")
        await wait_for_text(pilot, TITLES["1"])
