"""A record that is damaged while a room is open, or before one is: a sentence that names the way back."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from textual.pilot import Pilot

from logbook.errors import LogbookError
from logbook.record.record import Book
from logbook.tui.app import LogbookApp, run
from logbook.tui.shelf.room import ShelfRoom
from tests.record.damage import NOT_UTF8, spoil
from tests.tui.helpers import SMALL, press_all, wait_for, wait_for_message, wait_for_text

DAMAGE = {
    "a schema": "UPDATE sqlite_schema SET sql = 'CREATE TABLE exposure (id' WHERE name = 'exposure'",
    "a table": "DELETE FROM sqlite_schema WHERE name = 'seal'",
    "a text": f"UPDATE watch SET note = {NOT_UTF8}",
    "a word": "UPDATE watch SET crown = 'welded'",
    "a date": "UPDATE seal SET fitted_latest = '2026-99-99'",
}


@pytest.mark.parametrize("what", DAMAGE)
async def test_a_record_that_is_damaged_meanwhile_ends_nothing_in_a_traceback(book: Book, what: str) -> None:
    app = LogbookApp(book)
    said: list[str] = []
    app.refuse = lambda error: said.append(error.message)  # type: ignore[method-assign]
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        spoil(book.path, DAMAGE[what])
        app.follow_the_record()
        await press_all(pilot, ["enter"])
        await wait_for(pilot, lambda: bool(said or app.trouble), "what is wrong is said")
    told = [*said, *([str(app.trouble)] if app.trouble else [])]
    assert all("`logbook restore` brings a backup back" in sentence for sentence in told), told


@pytest.mark.parametrize("what", DAMAGE)
def test_a_damaged_record_is_refused_before_the_terminal_changes(
    book: Book, what: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def paint(_: LogbookApp) -> None:
        raise AssertionError("it was painted")

    monkeypatch.setattr(LogbookApp, "run", paint)
    spoil(book.path, DAMAGE[what])
    with pytest.raises(LogbookError, match="logbook restore"):
        run(Path(book.path), today=date(2026, 11, 25))


async def test_what_a_room_did_not_foresee_of_a_damaged_record_is_a_sentence(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stand(*_: object, **__: object) -> None:
        raise KeyError("welded")

    app = LogbookApp(book)

    async def meet(pilot: Pilot[int]) -> None:
        await wait_for_text(pilot, "4 watches")
        spoil(book.path, DAMAGE["a word"])
        monkeypatch.setattr(LogbookApp, "action_other_theme", stand)
        app.call_later(app.action_other_theme)

    await app.run_async(headless=True, size=SMALL, auto_pilot=meet)
    assert "is damaged" in str(app.trouble)


async def test_what_a_key_meets_of_a_damaged_record_is_said_in_the_room(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stand(*_: object) -> None:
        raise KeyError("welded")

    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        spoil(book.path, DAMAGE["a word"])
        monkeypatch.setattr(ShelfRoom, "action_quit", stand, raising=False)
        await app.run_action("quit", app.screen)
        await wait_for_message(pilot, "is damaged")
        app.changes.begin(stand, stand)
        await wait_for(pilot, lambda: not app.changes.busy, "it has failed")
        assert app.is_running
        assert app.trouble is None
