"""Watches that are off the shelf: what is on record of them is read, and one key brings them back."""

from __future__ import annotations

from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from tests.tui.helpers import SMALL, wait_for_message, wait_for_room, wait_for_text


async def test_a_retired_watch_is_found_opened_and_brought_back(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches")
        await pilot.press("R")
        await wait_for_text(pilot, "Retired watches: none", "No watch is retired")
        await pilot.press("B", "enter", "escape")
        await wait_for_room(pilot, "ShelfRoom")
        book.retire(next(watch for watch in book.watches() if watch.name == "Lido quartz"), book.today)
        await pilot.press("R")
        await wait_for_text(pilot, "Retired watches: 1", "Lido quartz", "25 Nov 2026", "10 bar")
        await pilot.press("enter")
        await wait_for_room(pilot, "WatchRoom")
        await wait_for_text(pilot, "Watch: Lido quartz", "retired 25 Nov 2026")
        await pilot.press("escape")
        await wait_for_room(pilot, "RetiredRoom")
        await pilot.press("B")
        await wait_for_message(pilot, "Lido quartz is back on the shelf. z: undo")
        await wait_for_text(pilot, "Retired watches: none")
        await pilot.press("z")
        await wait_for_text(pilot, "Retired watches: 1")
        await pilot.press("y", "escape")
        await wait_for_text(pilot, "4 watches")
