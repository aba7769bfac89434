"""The first start and every new watch: three questions, or the demo."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from logbook.caution import CAUTION_LINE
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.watch.welcome import WelcomeRoom
from tests.tui.conftest import TODAY
from tests.tui.helpers import (
    LARGE,
    SMALL,
    messages,
    press_all,
    screen_lines,
    screen_text,
    shows,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    words,
    write,
)


async def welcome(pilot: Pilot[Any]) -> WelcomeRoom:
    """The room as an empty record shows it."""
    await wait_for_room(pilot, "WelcomeRoom")
    await wait_for_text(pilot, "put the first watch on the shelf")
    screen = pilot.app.screen
    assert isinstance(screen, WelcomeRoom)
    return screen


async def answer(pilot: Pilot[Any], screen: WelcomeRoom, **texts: str) -> None:
    """Type into questions; for one that is picked, the keys that pick."""
    for name, text in texts.items():
        screen.question(name).asked.ask()
        await pilot.pause()
        await write(pilot, text)


async def saved(pilot: Pilot[Any]) -> None:
    await pilot.press("ctrl+s")
    await wait_for_room(pilot, "ShelfRoom")


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_an_empty_record_asks_the_three_questions_on_one_screen(
    empty_book: Book, size: tuple[int, int]
) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=size) as pilot:
        await welcome(pilot)
        assert shows(app, "1 What do you call it?", "2 What does it say about water?")
        assert shows(app, "3 When was it last opened, given gaskets or tested?", "made about")
        assert shows(app, "don’t know; or 200m, 20 bar, 3 ATM, diver’s 200m, nothing")
        assert shows(app, "don’t know; or new in 2021, tested may 2025 at 10 bar")
        assert shows(app, "never replaces a pressure test", CAUTION_LINE)
        assert shows(app, "Need not be answered", "used for", "crown", "movement", "pushers", "gas valve")
        assert shows(app, "[no] yes (helium)")
        assert shows(app, "^d look at the demo", "^s save")
        assert app.screen.query_one("#questions").max_scroll_y == 0


async def test_a_nickname_alone_is_enough_and_what_is_not_known_stays_unknown(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await welcome(pilot)
        await write(pilot, "Sunday dress")
        await saved(pilot)
        await wait_for_text(pilot, "Sunday dress", "is on the shelf")
        standing = empty_book.standings()[0]
        watch = standing.record.watch
        assert (watch.mark, watch.use, watch.crown, watch.movement) == (
            "unknown",
            "dry",
            "pushed",
            "mechanical",
        )
        assert not watch.pushers
        assert standing.record.watch.recorded_from == TODAY
        assert {w.seal.material for w in standing.seals} == {"unknown"}
        assert all(w.seal.fitted_earliest < w.seal.fitted_latest == TODAY for w in standing.seals)
        assert standing.record.events == ()
        assert {stop.code for stop in standing.stops} >= {"mark-unknown", "never-tested"}


async def test_the_three_questions_answered_are_on_the_shelf_as_told(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await welcome(pilot)
        await write(pilot, "Blue bezel")
        past = "gaskets 2025-01-10, tested 2025-01-12 at 20 bar"
        await answer(pilot, screen, says="diver's 200m", last=past)
        await wait_for_text(
            pilot, "Taken for: diver’s 200 m.", "new gaskets, 10 Jan 2025; test passed at 20 bar"
        )
        await saved(pilot)
        record = empty_book.standings()[0].record
        assert (record.watch.mark, record.watch.marked_pa) == ("divers", 20e5)
        assert (record.watch.use, record.watch.crown) == ("diving", "screwed")
        assert {(s.fitted_earliest, s.fitted_latest) for s in record.seals} == {(date(2025, 1, 10),) * 2}
        opened, test = record.events
        assert (opened.kind, opened.on, opened.note) == ("opened", date(2025, 1, 10), "given gaskets")
        assert (test.kind, test.on, test.passed, test.test_pa, test.medium) == (
            "pressure-test", date(2025, 1, 12), True, 20e5, "air",
        )  # fmt: skip
        codes = [stop.code for stop in empty_book.standings()[0].stops]
        assert "opened-untested" not in codes
        assert "test-overdue" in codes


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_a_stated_use_beyond_the_mark_is_said_at_once(empty_book: Book, size: tuple[int, int]) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=size, notifications=True) as pilot:
        screen = await welcome(pilot)
        await answer(pilot, screen, name="Three", says="3 bar", use="d")
        await saved(pilot)
        await wait_for_message(
            pilot,
            "Three is on the shelf. z: undo",
            "Its mark allows rain and washing hands by common practice; its stated use is diving: "
            "the check will say keep it dry there.",
        )
        assert empty_book.standings()[0].stops[0].code == "beyond-class"


async def test_a_use_that_the_mark_suggests_needs_no_word(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        screen = await welcome(pilot)
        await answer(pilot, screen, name="Ten", says="10 bar")
        await saved(pilot)
        await wait_for_message(pilot, "Ten is on the shelf. z: undo")
        assert "Its mark allows" not in messages(app)


async def test_gaskets_without_a_test_after_them_leave_it_opened_and_untested(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await welcome(pilot)
        past = "tested 2025-01-01 at 10 bar, gaskets 2025-02-01..2025-03-01"
        await answer(pilot, screen, name="Lido", says="10 bar", last=past)
        await saved(pilot)
        standing = empty_book.standings()[0]
        assert standing.stops[0].code == "opened-untested"
        assert standing.record.events[-1].note == "given gaskets between 1 Feb and 1 Mar 2025"
        assert standing.record.seals[0].fitted_earliest == date(2025, 2, 1)


async def test_the_refinements_are_kept(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await welcome(pilot)
        await answer(
            pilot, screen, name="Chrono", says="50 m", last="new 2025-06-01", use="s", crown="s",
            pushers="y", pushers_wet="y", gas_valve="y", movement="q", material="f",
        )  # fmt: skip
        await saved(pilot)
        watch = empty_book.watches()[0]
        assert (watch.use, watch.crown, watch.pushers, watch.gas_valve) == ("swimming", "screwed", True, True)
        assert (watch.movement, watch.new_on, watch.marked_pa) == ("quartz", date(2025, 6, 1), 5e5)
        seals = empty_book.standings()[0].seals
        assert {w.seal.material for w in seals} == {"FKM"}
        assert {w.seal.fitted_earliest for w in seals} == {date(2025, 6, 1)}


async def test_a_battery_suggests_quartz_until_one_says_otherwise(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await welcome(pilot)
        await answer(pilot, screen, name="Lido", last="battery 2024")
        assert shows(app, "mechanical [quartz]")
        await answer(pilot, screen, movement="m", last="battery 2025")
        assert shows(app, "[mechanical] quartz")


async def test_the_mark_suggests_use_and_crown_until_one_says_otherwise(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await welcome(pilot)
        assert shows(app, "[kept dry]", "[pushed in]")
        await answer(pilot, screen, says="diver's")
        await wait_for_text(pilot, "[diving]", "[screwed down]")
        await answer(pilot, screen, use="s", says="10bar")
        await wait_for_text(pilot, "[swimming]", "[pushed in]")
        await answer(pilot, screen, says="nothing")
        await wait_for_text(pilot, "Taken for: unmarked", "[swimming]")


async def test_a_plain_mark_that_could_be_a_divers_asks_for_the_word(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await welcome(pilot)
        await answer(pilot, screen, says="200m")
        await wait_for_text(pilot, "Taken for: water-resistant 200 m. Does it say diver’s? Write that too.")
        await answer(pilot, screen, says="3 ATM")
        await wait_for_text(pilot, "Taken for: water-resistant 3 bar.")
        assert not shows(app, "Does it say diver’s?")


async def test_the_year_made_is_asked_only_where_the_gaskets_are_not_known(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await welcome(pilot)
        assert shows(app, "made about")
        await answer(pilot, screen, last="gaskets 2024")
        await wait_for(pilot, lambda: not shows(app, "made about"), "the year made is not asked any more")
        await answer(pilot, screen, last="battery 2023")
        await wait_for_text(pilot, "made about")
        await answer(pilot, screen, last="new in 2021")
        await wait_for(pilot, lambda: not shows(app, "made about"), "the year made is not asked any more")


async def test_not_known_gaskets_reach_back_to_the_decade_in_which_the_watch_was_made(
    empty_book: Book,
) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await welcome(pilot)
        await answer(pilot, screen, name="Old", says="water resistant", last="don't know", made="1990s")
        await saved(pilot)
        record = empty_book.standings()[0].record
        assert record.events == ()
        assert {(s.fitted_earliest, s.fitted_latest) for s in record.seals} == {(date(1990, 1, 1), TODAY)}


@pytest.mark.parametrize(
    ("texts", "at", "said"),
    [
        ({}, "name", "The name is empty"),
        ({"name": "Blue: bezel"}, "name", "A name has no colon"),
        ({"name": "x" * 81}, "name", "has 81 characters; at most 80 fit"),
        ({"name": "A", "says": "diver's"}, "says", "A diver's mark has a number"),
        ({"name": "A", "says": "diver's 5 bar"}, "says", "A diver's mark starts at 100 m"),
        ({"name": "A", "says": "200"}, "says", "Is it 200 m or 200 bar?"),
        ({"name": "A", "says": "deep"}, "says", "is not a number with a unit"),
        ({"name": "A", "says": "9000 bar"}, "says", "out of range"),
        ({"name": "A", "last": "opened tomorrow"}, "last", "lies in the future"),
        ({"name": "A", "last": "gaskets 2025-02-01..2024-01-01"}, "last", "runs backwards"),
        ({"name": "A", "last": "gaskets 03/04/2025"}, "last", "can be read day first or month first"),
        ({"name": "A", "last": "battery"}, "last", "When was that?"),
        ({"name": "A", "last": "some time ago"}, "last", "is not understood here"),
        ({"name": "A", "last": "new 2025-06-01, opened 2025-05-01"}, "last", "own first date"),
        ({"name": "A", "made": "long ago"}, "made", "is not a year"),
    ],
)
async def test_a_wrong_answer_is_told_beside_itself_and_nothing_is_made(
    empty_book: Book, texts: dict[str, str], at: str, said: str
) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=LARGE) as pilot:
        screen = await welcome(pilot)
        await answer(pilot, screen, **texts)
        await pilot.press("ctrl+s")
        await wait_for(pilot, lambda: screen.question(at).wrong, f"the answer {at} is refused")
        await wait_for_text(pilot, said)
        assert not empty_book.exists()


async def test_a_name_that_is_taken_is_refused(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("n")
        await wait_for_room(pilot, "WelcomeRoom")
        await write(pilot, "blue BEZEL")
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, "There is already a watch called Blue bezel")
        assert len(book.watches()) == 4


async def test_escape_leads_to_the_empty_shelf_and_n_back(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        await welcome(pilot)
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_text(pilot, "No watch on the shelf yet", CAUTION_LINE)
        assert not empty_book.exists()
        await pilot.press("n")
        await welcome(pilot)


async def test_the_demo_is_one_key_away_and_opens_in_place(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        await welcome(pilot)
        await pilot.press("ctrl+d")
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_text(pilot, "Blue bezel", "last water")
        assert len(app.book.standings()) >= 9
        assert app.book.path != empty_book.path
        assert app.book.today == TODAY
        assert not empty_book.exists()
        there = app.book.path
        assert there.exists()
    assert not there.exists()
    assert not Path(there).parent.exists()


async def test_the_demo_is_not_offered_once_something_is_on_the_shelf(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("n")
        await wait_for_room(pilot, "WelcomeRoom")
        await wait_for_text(pilot, "logbook · New watch")
        assert not shows(app, "demo")
        await pilot.press("ctrl+d")
        await pilot.press("f1")
        await wait_for_room(pilot, "HelpRoom")
        assert "demo" not in screen_text(app)
        assert app.book is book


async def test_letters_and_arrows_pick_and_a_click_does_too(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await welcome(pilot)
        pick = screen.pick("use")
        pick.ask()
        await press_all(pilot, ["right"])
        await wait_for_text(pilot, "[diving]")
        await press_all(pilot, ["right"])
        await wait_for_text(pilot, "[swimming]")
        await pilot.press("left")
        await wait_for_text(pilot, "[diving]")
        await pilot.press("k")
        await wait_for_text(pilot, "[kept dry]")
        await pilot.click(pick.options, offset=(3, 0))
        await wait_for_text(pilot, "[diving]")
        assert pick.text == "diving"


async def test_arrows_and_enter_go_from_question_to_question(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await welcome(pilot)
        assert screen.question("name").has_focus_within
        await press_all(pilot, ["enter", "enter"])
        await wait_for(pilot, lambda: screen.question("last").has_focus_within, "the past has the focus")
        await press_all(pilot, ["up", "up"])
        await wait_for(pilot, lambda: screen.question("name").has_focus_within, "the name has the focus")


async def test_what_the_mark_suggests_is_said_to_be_a_suggestion(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await welcome(pilot)
        await answer(pilot, screen, says="diver's")
        await wait_for_text(pilot, "[diving]", "[screwed down]", "use and crown are as the mark suggests")
        screen.pick("use").ask()
        await pilot.press("k")
        await wait_for_text(pilot, "[kept dry]", "crown is as the mark suggests")
        screen.pick("crown").ask()
        await pilot.press("p")
        await wait_for(pilot, lambda: not shows(app, "suggests"), "nothing is suggested any more")


async def test_a_click_on_a_key_does_what_the_key_does(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await welcome(pilot)
        line = next(line for line in screen_lines(app) if "^s save" in line)
        await pilot.click("#keys", offset=(line.index("^s save") + 1, 0))
        await wait_for(pilot, lambda: screen.question("name").wrong, "an empty name is refused")


async def test_nothing_calls_the_watch_safe(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=LARGE) as pilot:
        await welcome(pilot)
        text = words(screen_text(app)).casefold()
        assert "safe" not in text
        assert "waterproof" not in text
