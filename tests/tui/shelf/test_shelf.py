"""The Shelf: every watch on one line, the one under the cursor below, and every key of the room."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from logbook.caution import CAUTION_LINE
from logbook.model.values import Event, Exposure
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.shelf.room import ShelfRoom
from logbook.tui.widgets.lines import Lines
from tests.tui.conftest import TODAY, WATCHES, a_watch, seals_of
from tests.tui.foretelling import wait_for_what_is_ahead
from tests.tui.helpers import (
    LARGE,
    SMALL,
    press_all,
    room,
    screen_lines,
    shows,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    words,
    write,
)

pytestmark = pytest.mark.looks_ahead

IdOf = Callable[[str], int]
Log = Callable[..., Exposure]


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_every_watch_has_a_line_with_its_mark_its_word_and_its_score(
    book: Book, size: tuple[int, int]
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await wait_for_text(pilot, "4 watches", CAUTION_LINE)
        await wait_for_what_is_ahead(pilot)
        rows = {
            s.name: words(line)
            for s in book.standings()
            for line in screen_lines(app)
            if f" {s.name} " in line[:20]
        }
        best = next(s for s in book.standings() if s.name == "Blue bezel")
        band = f"{best.low}–{best.high} " if size == LARGE else ""
        assert rows["Blue bezel"].startswith(f"Blue bezel diver’s 20 bar – 84 {band}▰")
        assert "Gran's chrono 3 bar –" in rows["Gran's chrono"]
        assert "Lido quartz 10 bar" in rows["Lido quartz"]
        assert "Sunday dress unknown think twice" in rows["Sunday dress"]
        for standing in book.standings():
            unknown = "not known" if size == LARGE else "unknown"
            left = unknown if standing.score is None else f"{standing.score}"
            assert f" {left} " in rows[standing.name]


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_no_line_is_wider_than_the_window_and_the_keys_are_in_view(
    book: Book, size: tuple[int, int]
) -> None:
    from rich.cells import cell_len

    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await wait_for_text(pilot, "4 watches")
        lines = screen_lines(app)
        assert len(lines) == size[1]
        assert all(cell_len(line) <= size[0] for line in lines)
        for key in (
            "w log",
            "c check",
            "⏎ open",
            "space pick",
            "e event",
            "o worn",
            ": line",
            ", settings",
            "/ find",
            "n new",
            "u due",
            "i import",
            "b bench",
            "g guide",
            "z undo",
            "q quit",
            "? help",
        ):
            assert shows(app, key)


async def test_the_line_below_follows_the_cursor(book: Book, id_of: IdOf, log: Log) -> None:
    log("Blue bezel", "dive", depth_m=21.0, duration_s=2280, water_c=17.0, rinsed=True)
    book.add_events([Event("fog", date(2026, 11, 1), 60, watch_id=id_of("Gran's chrono"))])
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "Blue bezel: dive 21 m, 38 min, sea 17 °C, rinsed, 3 days ago: took")
        await pilot.press("down")
        await wait_for_text(pilot, "Gran's chrono: no water on record")
        assert shows(app, "fog was seen inside")


@pytest.mark.parametrize(
    ("key", "name"),
    [
        ("w", "ExposureRoom"),
        ("c", "CheckRoom"),
        ("enter", "WatchRoom"),
        ("e", "EventRoom"),
        ("O", "WornRoom"),
        ("n", "WelcomeRoom"),
        ("i", "BringInRoom"),
        ("Z", "ChangesRoom"),
        ("b", "BenchRoom"),
        (":", "EntryLineRoom"),
        ("g", "GuideRoom"),
        ("u", "DueRoom"),
        ("question_mark", "HelpRoom"),
    ],
)
async def test_every_key_leads_to_its_room_and_escape_back(book: Book, key: str, name: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches")
        await pilot.press(key)
        await wait_for_room(pilot, name)
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")


async def test_a_click_on_each_key_does_what_the_key_does(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches")
        for words_, name in (
            ("w log", "ExposureRoom"),
            ("c check", "CheckRoom"),
            ("⏎ open", "WatchRoom"),
            ("e event", "EventRoom"),
            ("n new", "WelcomeRoom"),
            ("i import", "BringInRoom"),
            ("b bench", "BenchRoom"),
            ("t plans", "PlansRoom"),
            ("g guide", "GuideRoom"),
            ("u due", "DueRoom"),
            ("? help", "HelpRoom"),
        ):
            keys = screen_lines(app)[-2:]  # they take two lines at 80 columns
            row = next(n for n, line in enumerate(keys) if words_ in line)
            await pilot.click("#keys", offset=(keys[row].index(words_) + 1, row))
            await wait_for_room(pilot, name)
            await pilot.press("escape")
            await wait_for_room(pilot, "ShelfRoom")


async def test_undo_takes_the_last_change_back_and_says_which(book: Book) -> None:
    watch = a_watch("Newcomer", bar=5)
    book.add_watch(watch, seals_of(watch))
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "5 watches")
        await pilot.press("z")
        await wait_for_text(pilot, "4 watches", "Undone: add Newcomer")


async def test_undo_with_nothing_to_take_back_says_so(empty_book: Book) -> None:
    watch = a_watch("Only one", bar=5)
    empty_book.add_watch(watch, seals_of(watch))
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "1 watch")
        await pilot.press("z")
        await wait_for_text(pilot, "No watch on the shelf yet")
        await pilot.press("z")
        await wait_for_text(pilot, "There is nothing to undo.")


async def test_escape_stays_on_the_shelf_and_q_leaves(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches")
        await press_all(pilot, ["escape", "escape"])
        assert room(app) == "ShelfRoom"
        await pilot.press("q")
        await wait_for(pilot, lambda: not app.is_running or app._exit, "the app ends")


async def test_no_key_fails_on_an_empty_shelf(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_room(pilot, "WelcomeRoom")
        await pilot.press("escape")
        await wait_for_text(pilot, "No watch on the shelf yet")
        await press_all(pilot, ["w", "c", "enter", "down", "up", "pagedown", "end", "home", "z"])
        await wait_for_text(pilot, "There is nothing to undo.")
        assert room(app) == "ShelfRoom"


async def test_a_click_moves_the_cursor_and_a_second_one_opens(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches")
        lines = app.screen.query_one(Lines)
        await pilot.click(lines, offset=(5, 2))
        await wait_for_text(pilot, "Lido quartz: no water on record")
        assert room(app) == "ShelfRoom"
        await pilot.click(lines, offset=(5, 2))
        await wait_for_room(pilot, "WatchRoom")


async def test_a_click_below_the_last_row_does_nothing(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches")
        lines = app.screen.query_one(Lines)
        await pilot.click(lines, offset=(5, 9))
        await pilot.press("down")
        await wait_for_text(pilot, "Gran's chrono: no water on record")
        assert room(app) == "ShelfRoom"


async def test_a_change_elsewhere_is_on_the_shelf_when_one_comes_back(
    book: Book, id_of: IdOf, log: Log
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "Blue bezel: no water on record")
        await pilot.press("question_mark")
        await wait_for_room(pilot, "HelpRoom")
        log("Blue bezel", "pool", duration_s=2700, starts_on=TODAY)
        await pilot.press("escape")
        await wait_for_text(pilot, "Blue bezel: pool 1.5 m, 45 min")


async def test_five_thousand_watches_open_and_only_those_in_view_are_drawn(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches", "likely")
        shelf = app.screen
        assert isinstance(shelf, ShelfRoom)
        shelf.standings = shelf.standings * 1250
        lines = shelf.query_one(Lines)
        drawn: list[int] = []
        draw = lines._draw
        lines._draw = lambda row, width: (drawn.append(row), draw(row, width))[1]
        lines.show(5000)
        await wait_for(
            pilot, lambda: shows(app, "watches") and len(set(drawn)) >= 10, "the first rows are drawn"
        )
        await pilot.press("end")
        await wait_for(pilot, lambda: shows(app, "watches") and 4999 in drawn, "the last row is drawn")
        assert len(set(drawn)) <= 60


async def test_the_scrollbar_takes_no_text_away(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches", "likely")
        shelf = app.screen
        assert isinstance(shelf, ShelfRoom)
        before = next(words(line) for line in screen_lines(app) if line.startswith(" Lido quartz"))
        shelf.standings = shelf.standings * 10
        shelf.query_one(Lines).show(40)
        await wait_for(pilot, lambda: shelf.query_one(Lines).show_vertical_scrollbar, "a scrollbar is there")
        after = next(words(line) for line in screen_lines(app) if line.startswith(" Lido quartz"))
        assert after.startswith(before)
        assert not shelf.query_one(Lines).show_horizontal_scrollbar


async def test_the_cursor_stays_on_its_watch_when_another_comes_before_it(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches")
        await press_all(pilot, ["down", "down"])
        await wait_for_text(pilot, "Lido quartz: no water on record")
        await pilot.press("question_mark")
        await wait_for_room(pilot, "HelpRoom")
        watch = a_watch("Attic", bar=5)
        book.add_watch(watch, seals_of(watch))
        await pilot.press("escape")
        await wait_for_text(pilot, "5 watches", "Lido quartz: no water on record")


async def test_a_new_watch_is_under_the_cursor(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches")
        await pilot.press("n")
        await wait_for_room(pilot, "WelcomeRoom")
        await write(pilot, "Market find")
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, "5 watches", "Market find: no water on record")


async def test_the_banner_follows_the_window(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await wait_for_text(pilot, "4 watches")
        await wait_for(pilot, lambda: "worked out" not in screen_lines(app)[0], "all is worked out")
        banner = screen_lines(app)[0].split("watches")[1].strip()
        await pilot.resize_terminal(*SMALL)
        await wait_for(pilot, lambda: len(screen_lines(app)) == SMALL[1], "the window is small")
        await wait_for(pilot, lambda: screen_lines(app)[0].endswith(banner), "the banner ends the line")


@pytest.mark.parametrize("key", ["w", "c", "enter"])
async def test_a_watch_that_another_window_took_away_is_said_to_be_gone(book: Book, key: str) -> None:
    newest = list(WATCHES)[-1]
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        await pilot.press(*["down"] * sorted(WATCHES).index(newest))
        await wait_for_text(pilot, f"{newest}: no water")
        await wait_for_what_is_ahead(pilot)  # after which the Shelf is not read anew by itself
        Book(book.path, book.today).undo()
        await pilot.press(key)
        await wait_for_message(pilot, "no longer in the record")
        await wait_for_text(pilot, "3 watches")
