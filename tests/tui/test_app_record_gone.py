"""A record file that goes away while a room is open: a sentence, no crash."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from logbook.caution import CAUTION_LINE
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from tests.tui.exposing import put
from tests.tui.helpers import SMALL, press_all, room, shows, wait_for_message, wait_for_room, wait_for_text

IdOf = Callable[[str], int]


@pytest.mark.parametrize("keys", [["w"], ["c"], ["enter"], ["down"], ["z"]])
async def test_the_shelf_says_that_the_record_is_gone_and_keeps_its_watches(
    book: Book, keys: list[str]
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        book.path.rename(book.path.with_suffix(".away"))
        await press_all(pilot, keys)
        await wait_for_message(pilot, "There is no record at")
        assert room(app) == "ShelfRoom"
        assert shows(app, "Blue bezel", CAUTION_LINE)
        book.path.with_suffix(".away").rename(book.path)
        await pilot.press("u")
        await wait_for_room(pilot, "DueRoom")


@pytest.mark.parametrize("key", ["w", "c", "e"])
async def test_the_watch_room_says_that_the_record_is_gone(book: Book, key: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        await pilot.press("enter")
        await wait_for_room(pilot, "WatchRoom")
        book.path.rename(book.path.with_suffix(".away"))
        await pilot.press(key)
        await wait_for_message(pilot, "There is no record at")
        assert app.is_running
        assert shows(app, CAUTION_LINE)


@pytest.mark.parametrize("key", ["w", "c"])
async def test_another_activity_can_be_named_while_the_record_is_gone(book: Book, key: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        await pilot.press(key)
        await wait_for_room(pilot, {"w": "ExposureRoom", "c": "CheckRoom"}[key])
        book.path.rename(book.path.with_suffix(".away"))
        await put(pilot, "what", "snorkel")
        await wait_for_message(pilot, "There is no record at")
        assert room(app) != "ShelfRoom"
        assert app.is_running


async def test_the_date_of_an_event_can_be_typed_while_the_record_is_gone(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        await press_all(pilot, ["enter", "e"])
        await wait_for_room(pilot, "EventRoom")
        book.path.rename(book.path.with_suffix(".away"))
        await press_all(pilot, ["tab", "t", "o", "d", "a", "y"])
        await wait_for_message(pilot, "There is no record at")
        await pilot.press("ctrl+s")
        assert room(app) == "EventRoom"
        assert app.is_running


async def test_the_shelf_does_not_say_that_a_watch_had_no_water(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        book.path.rename(book.path.with_suffix(".away"))
        await pilot.press("down")
        await wait_for_text(pilot, "the record cannot be read: There is no record at")
        assert not shows(app, "no water on record")


@pytest.mark.parametrize("key", ["t", "comma"])
async def test_plans_and_settings_are_not_shown_as_if_nothing_had_been_kept(book: Book, key: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        book.path.rename(book.path.with_suffix(".away"))
        await pilot.press(key)
        await wait_for_message(pilot, "There is no record at")
        await wait_for_room(pilot, "ShelfRoom")


async def test_open_plans_say_that_the_record_is_gone(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        await pilot.press("t")
        await wait_for_room(pilot, "PlansRoom")
        book.path.rename(book.path.with_suffix(".away"))
        await press_all(pilot, ["question_mark", "escape"])
        await wait_for_message(pilot, "There is no record at")
        assert app.is_running
