"""One line from anywhere: `:` opens it, its meaning stands below, enter writes it."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from logbook.model.values import Exposure
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from tests.tui.helpers import (
    HOSTILE,
    LARGE,
    SMALL,
    paste,
    raw_controls,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    write,
)

Newest = Callable[[str], Exposure | None]


async def test_a_line_is_logged_for_the_watch_under_the_cursor(book: Book, newest: Newest) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press(":")
        await wait_for_room(pilot, "EntryLineRoom")
        await write(pilot, "dive 21m 38min 17C rinsed on yesterday")
        await wait_for_text(pilot, "Blue bezel, 24 Nov 2026: dive 21 m, 38 min, sea 17 °C, rinsed")
        await pilot.press("enter")
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_message(pilot, "Blue bezel: Logged", "z: undo")
        logged = newest("Blue bezel")
        assert logged is not None
        assert (logged.depth_m, logged.rinsed) == (21.0, True)
        await pilot.press("z")
        await wait_for_message(pilot, "Undone: log dive of 24 Nov 2026 for Blue bezel")
    assert newest("Blue bezel") is None


async def test_another_watch_may_be_named_by_the_start_of_its_nickname(book: Book, newest: Newest) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("u")
        await wait_for_room(pilot, "DueRoom")
        await pilot.press(":")
        await wait_for_room(pilot, "EntryLineRoom")
        await write(pilot, "lido: pool 60min")
        await pilot.press("enter")
        await wait_for_room(pilot, "DueRoom")
    assert newest("Lido quartz") is not None


async def test_a_few_letters_are_offered_as_a_nickname_which_enter_takes(book: Book, newest: Newest) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("u", ":")
        await wait_for_room(pilot, "EntryLineRoom")
        await write(pilot, "ldq")
        await wait_for_text(pilot, "enter takes Lido quartz")
        await pilot.press("enter")
        await write(pilot, "pool 60min")
        await wait_for_text(pilot, "Lido quartz, 25 Nov 2026: pool")
        await pilot.press("enter")
        await wait_for_room(pilot, "DueRoom")
    assert newest("Lido quartz") is not None


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("lido: pool 60min blau", "^"),
        ("lido: dive 38min", "How deep was it?"),
        ("nobody: rain", "There is no watch 'nobody'"),
        ("lido: dive 1800m 38min", "1800"),
        ("rain", "An entry begins with the watch and a colon"),
    ],
)
async def test_a_line_that_is_not_understood_stays_and_says_why(
    book: Book, newest: Newest, line: str, said: str
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        app.screen.query_one("#watches").cursor = 2  # type: ignore[attr-defined]
        await pilot.press("u", ":")
        await wait_for_room(pilot, "EntryLineRoom")
        await write(pilot, line)
        await wait_for_text(pilot, said)
        await pilot.press("enter")
        await wait_for_text(pilot, said)
        await wait_for_room(pilot, "EntryLineRoom")
    assert newest("Lido quartz") is None


async def test_whatever_is_pasted_there_is_text(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("u", ":")
        await wait_for_room(pilot, "EntryLineRoom")
        for text in HOSTILE:
            await pilot.press("ctrl+u")
            await paste(pilot, text)
            assert raw_controls(app) == []
        await wait_for_room(pilot, "EntryLineRoom")
