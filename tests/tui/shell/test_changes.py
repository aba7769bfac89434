"""The Changes room: what was done, what undo and redo would take next, and walking through it."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from logbook.model.values import Exposure
from logbook.record.record import Book
from logbook.record.writing.habits import confirm
from logbook.tui.app import LogbookApp
from tests.tui.helpers import LARGE, SMALL, screen_lines, wait_for_message, wait_for_room, wait_for_text
from tests.tui.rooms import opened


def marked(app: LogbookApp) -> dict[str, str]:
    """What a key would do next -> the change it would do it to."""
    found = {}
    for line in screen_lines(app):
        for mark in ("undo next", "redo next"):
            if line.strip().startswith(mark):
                found[mark] = line.split("  ")[-1].strip()
    return found


async def test_every_change_stands_there_and_the_newest_is_marked(
    book: Book, log: Callable[..., Exposure]
) -> None:
    log("Blue bezel", "dive", depth_m=21, duration_s=2280)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("Z")
        await wait_for_room(pilot, "ChangesRoom")
        await wait_for_text(pilot, "5 to undo, 0 to redo", "add Gran's chrono")
        assert marked(app) == {"undo next": "log dive of 22 Nov 2026 for Blue bezel"}


async def test_undo_and_redo_walk_through_the_list(book: Book, log: Callable[..., Exposure]) -> None:
    log("Blue bezel", "dive", depth_m=21, duration_s=2280)
    log("Lido quartz", "pool")
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("Z")
        await wait_for_room(pilot, "ChangesRoom")
        await pilot.press("z")
        await wait_for_message(pilot, "Undone: log pool of 22 Nov 2026 for Lido quartz. y: do it again")
        await wait_for_text(pilot, "5 to undo, 1 to redo")
        assert marked(app) == {
            "redo next": "log pool of 22 Nov 2026 for Lido quartz",
            "undo next": "log dive of 22 Nov 2026 for Blue bezel",
        }
        await pilot.press("y")
        await wait_for_message(pilot, "Done again: log pool of 22 Nov 2026 for Lido quartz. z: undo")
        await wait_for_text(pilot, "6 to undo, 0 to redo")
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")


@pytest.mark.parametrize("name", ["ShelfRoom", "WatchRoom", "DueRoom", "VisitsRoom", "ChangesRoom"])
async def test_undo_and_redo_work_in_every_room_that_shows_the_record(book: Book, name: str) -> None:
    book.do(confirm, [book.watches()[0].id or 0], book.today)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot, book, name)
        await pilot.press("z")
        await wait_for_message(pilot, "Undone: nothing else for")
        await pilot.press("y")
        await wait_for_message(pilot, "Done again: nothing else for")
        if name != "ChangesRoom":
            await pilot.press("Z")
            await wait_for_room(pilot, "ChangesRoom")


def gravity(app: LogbookApp) -> set[str]:
    """How grave the messages over the room are."""
    return {note.severity for note in app._notifications}


@pytest.mark.parametrize("name", ["ShelfRoom", "WatchRoom", "DueRoom", "VisitsRoom", "ChangesRoom"])
async def test_nothing_to_redo_is_said_and_is_no_error(book: Book, name: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot, book, name)
        await pilot.press("y")
        await wait_for_message(pilot, "There is nothing to redo.")
        assert gravity(app) == {"information"}


@pytest.mark.parametrize(("key", "what"), [("z", "undo"), ("y", "redo")])
async def test_without_a_record_there_is_nothing_to_undo_or_redo(
    empty_book: Book, key: str, what: str
) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "WelcomeRoom")
        await pilot.press("escape")
        await wait_for_text(pilot, "No watch on the shelf yet")
        await pilot.press(key)
        await wait_for_message(pilot, f"There is nothing to {what}.")
        assert gravity(app) == {"information"}


async def test_several_entries_of_one_change_are_counted(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("Z")
        await wait_for_room(pilot, "ChangesRoom")
        await wait_for_text(pilot, "add Blue bezel (1 watch, 1 event and 3 seals)")


async def test_a_record_without_a_change_says_so(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "WelcomeRoom")
        app.screen.action_changes()  # type: ignore[attr-defined]
        await wait_for_room(pilot, "ChangesRoom")
        await wait_for_text(pilot, "Nothing was changed yet.")
