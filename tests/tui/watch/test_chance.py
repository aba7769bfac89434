"""The chance in the rooms: painted once the libraries for it are there, gone while a fault stands."""

from __future__ import annotations

from datetime import date
from typing import Any

from logbook.caution import CAUTION_LINE
from logbook.model.values import Event
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from tests.tui.helpers import SMALL, all_done, screen_text, wait_for_room, wait_for_text


async def test_the_watch_room_shows_the_chance_with_the_tests_behind_it(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches")
        await pilot.press("enter")
        await wait_for_room(pilot, "WatchRoom")
        await wait_for_text(pilot, "would pass a test to 10 bar today:")
        await wait_for_text(pilot, "after 1 test of yours")
        assert CAUTION_LINE in screen_text(app)


async def test_the_check_shows_it_and_a_fault_takes_it_away(book: Book, id_of: Any) -> None:
    book.add_events([Event("fog", date(2026, 11, 1), 60, watch_id=id_of("Blue bezel"))])
    app = LogbookApp(book)
    async with app.run_test(size=(120, 40)) as pilot:
        await wait_for_text(pilot, "4 watches")
        await pilot.press("c")
        await wait_for_room(pilot, "CheckRoom")
        await wait_for_text(pilot, "no chance of passing a test while something stands: water-inside")


async def test_the_check_of_a_tested_watch_says_its_chance(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=(120, 40)) as pilot:
        await wait_for_text(pilot, "4 watches")
        await pilot.press("c")
        await wait_for_room(pilot, "CheckRoom")
        await wait_for_text(pilot, "would pass a pressure test to 10 bar on that day:")


async def test_the_shelf_is_painted_first_and_speaks_of_the_chance_then(book: Book) -> None:
    assert book.foresight() is None
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches")
        await all_done(pilot)
        assert book.foresight() is not None
        assert all(s.chance is not None or s.stops for s in book.standings())
