"""A record that is ahead of the clock: Shelf and Due say so before any date."""

from __future__ import annotations

from datetime import timedelta

from logbook.model.values import Event
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from tests.tui.conftest import TODAY
from tests.tui.helpers import SMALL, screen_lines, shows, told, wait_for, wait_for_room, wait_for_text
from tests.tui.watching import IdOf

SAID = "the clock is behind: 28 Nov 2026 is on record already"
WHOLE = f"{SAID}; set the clock, or say `logbook doctor --clock-is-right`"


async def test_the_banner_of_the_shelf_says_that_the_clock_is_behind(book: Book, id_of: IdOf) -> None:
    book.add_events([Event("battery", TODAY + timedelta(days=3), 10, watch_id=id_of("Lido quartz"))])
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_text(pilot, "4 watches")
        assert screen_lines(app)[0].endswith(SAID)


async def test_due_says_so_and_what_ends_it(book: Book, id_of: IdOf) -> None:
    book.add_events([Event("battery", TODAY + timedelta(days=3), 10, watch_id=id_of("Lido quartz"))])
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("u")
        await wait_for_room(pilot, "DueRoom")
        await wait_for(pilot, lambda: told(app, "#clock") == WHOLE, "Due says it")
        await wait_for_text(pilot, WHOLE, "logbook · Due")


async def test_while_the_clock_is_right_nothing_is_said_of_it(book: Book, id_of: IdOf) -> None:
    book.add_events([Event("battery", TODAY + timedelta(days=1), 10, watch_id=id_of("Lido quartz"))])
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_text(pilot, "4 watches", "overdue")
        assert not shows(app, "the clock is")
        await pilot.press("u")
        await wait_for_room(pilot, "DueRoom")
        await wait_for_text(pilot, "logbook · Due")
        assert not app.screen.query_one("#clock").display
