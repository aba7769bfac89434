"""Another window changes the record while a room is open: the room says what is on record now."""

from __future__ import annotations

from datetime import date

import pytest
from textual import events

from logbook.model.values import Event, Settings
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from tests.tui.conftest import TODAY
from tests.tui.foretelling import held_up, wait_for_what_is_ahead
from tests.tui.helpers import (
    LARGE,
    SMALL,
    press_all,
    room,
    screen_lines,
    shows,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    words,
)
from tests.tui.watching import IdOf, opened

pytestmark = pytest.mark.looks_ahead

FOG, CLEAR = "keep it dry", "no objection found"


@pytest.fixture
def other(book: Book) -> Book:
    """The same record in another window."""
    return Book(book.path, TODAY)


def fog(book: Book, name: str = "Blue bezel") -> None:
    watch_id = next(watch.id or 0 for watch in book.watches() if watch.name == name)
    book.add_events([Event("fog", date(2026, 11, 24), 60, watch_id=watch_id)])


def row_of(app: LogbookApp, name: str) -> str:
    return next(words(line) for line in screen_lines(app) if line.startswith(f" {name} "))


async def test_a_fault_logged_elsewhere_is_in_the_check_and_on_the_shelf(book: Book, other: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        await wait_for_what_is_ahead(pilot)
        assert " – " in row_of(app, "Blue bezel")
        fog(other)
        await pilot.press("c")
        await wait_for_room(pilot, "CheckRoom")
        await wait_for_text(pilot, FOG.upper())
        assert not shows(app, CLEAR.upper())
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")
        assert f" {FOG} " in row_of(app, "Blue bezel")


@pytest.mark.parametrize(
    ("keys", "clear", "dry"),
    [([], CLEAR.upper(), FOG.upper()), (["ctrl+t"], CLEAR, "Blue bezel keep it dry")],
)
async def test_each_answer_of_an_open_check_is_of_the_record_as_it_is(
    book: Book, other: Book, keys: list[str], clear: str, dry: str
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        await wait_for_what_is_ahead(pilot)
        await pilot.press("c")
        await wait_for_room(pilot, "CheckRoom")
        await press_all(pilot, keys)
        await wait_for_text(pilot, clear)
        fog(other)
        await pilot.press("tab", "2", "5")
        await wait_for_text(pilot, dry)
        assert not shows(app, clear)


async def test_the_shelf_follows_when_the_window_gets_the_focus(book: Book, other: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        await wait_for_what_is_ahead(pilot)
        fog(other)
        other.change_settings(Settings(units="imperial"))
        app.post_message(events.AppFocus())
        await wait_for_message(pilot, "Another window changed the record")
        await wait_for_text(pilot, FOG)
        assert book.units == "imperial"
        assert not app.follow_the_record()


def test_what_was_read_stands_until_the_record_moves(book: Book, other: Book) -> None:
    before = book.standings()
    assert not book.follow()
    assert book.standings() is before
    fog(other)
    assert book.follow()
    assert book.standings()[0].stops[0].verdict == FOG
    assert not book.follow()


def test_a_database_is_asked_for_what_was_written(book: Book) -> None:
    far, near = Book(f"sqlite:///{book.path}", TODAY), book
    assert not far.standings()[0].stops
    assert not far.follow()
    fog(near)
    assert far.follow()
    assert far.standings()[0].stops[0].verdict == FOG


def test_a_record_that_can_no_longer_be_read_leaves_what_was_read(book: Book) -> None:
    from logbook.errors import LogbookError

    before = book.standings()
    book.path.write_bytes(b"no record at all")
    with pytest.raises(LogbookError, match="not a logbook record"):
        book.follow()
    assert book.standings() is before


async def test_a_watch_retired_elsewhere_has_no_forecast(book: Book, other: Book, id_of: IdOf) -> None:
    key = id_of("Blue bezel")
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened(pilot, key)
        await wait_for_what_is_ahead(pilot)
        await wait_for_text(pilot, "forecast: its crown seal")
        other.retire(other.standing(key).record.watch, other.today)
        await pilot.press("question_mark")
        await wait_for_room(pilot, "HelpRoom")
        await pilot.press("escape")
        await wait_for_room(pilot, "WatchRoom")
        await wait_for_text(pilot, "retired 25 Nov 2026")
        assert not shows(app, "forecast: its crown seal")


async def test_the_shelf_says_that_more_may_be_due_until_forecasts_are_there(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = LogbookApp(book)
    with held_up(book, monkeypatch) as go:
        async with app.run_test(size=LARGE) as pilot:
            await wait_for_text(pilot, "4 watches", "at least ", "; more is being worked out")
            assert row_of(app, "Blue bezel").endswith("…")
            go.set()
            await wait_for_what_is_ahead(pilot)
            assert room(app) == "ShelfRoom"
            assert not shows(app, "at least ")
            assert not row_of(app, "Blue bezel").endswith("…")
