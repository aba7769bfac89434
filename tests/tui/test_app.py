"""What holds in every room: the palette, help, light and dark, no colour, hostile text, the caution."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest
from textual import events
from textual.command import CommandPalette
from textual.widgets import OptionList

from logbook.caution import CAUTION_LINE
from logbook.errors import LogbookError
from logbook.model.values import Event
from logbook.record.file.places import looks_path
from logbook.record.record import Book
from logbook.tui.app import LogbookApp, run
from tests.tui.conftest import TODAY
from tests.tui.helpers import (
    LARGE,
    SMALL,
    messages,
    room,
    shows,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    write,
)
from tests.tui.rooms import opened

IdOf = Callable[[str], int]


async def test_states_are_words_without_any_colour(
    book: Book, id_of: IdOf, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    book.add_events([Event("fog", TODAY, 60, watch_id=id_of("Lido quartz"))])
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot, book, "ShelfRoom")
        assert shows(app, "keep it dry", "think twice", "–", "overdue")


def palette_offers(app: LogbookApp, title: str) -> bool:
    """True once the search is over and the first thing that it found is `title`."""
    found = app.screen.query_one(OptionList)
    return (
        found.option_count > 0 and found.highlighted == 0 and str(found.options[0].prompt).startswith(title)
    )


@pytest.mark.parametrize(
    ("query", "name"),
    [
        ("log", "ExposureRoom"),
        ("check", "CheckRoom"),
        ("open", "WatchRoom"),
        ("new", "WelcomeRoom"),
        ("due", "DueRoom"),
        ("help", "HelpRoom"),
    ],
)
async def test_a_palette_entry_does_what_its_key_does(book: Book, query: str, name: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened(pilot, book, "ShelfRoom")
        await pilot.press("ctrl+p")
        await wait_for(pilot, lambda: isinstance(app.screen, CommandPalette), "the palette is open")
        await write(pilot, query.replace(" ", ""))
        await wait_for(pilot, lambda: palette_offers(app, query.capitalize()), f"the palette offers {query}")
        await pilot.press("enter")
        await wait_for_room(pilot, name)


@pytest.mark.parametrize(
    ("name", "words_", "then"),
    [
        ("WatchRoom", "event", "EventRoom"),
        ("WatchRoom", "check", "CheckRoom"),
        ("DueRoom", "snooze", "SnoozeRoom"),
        ("DueRoom", "done", "ServiceDoneRoom"),
        ("DueRoom", "open watch", "WatchRoom"),
    ],
)
async def test_palette_entries_of_other_rooms_work_too(book: Book, name: str, words_: str, then: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        screen = await opened(pilot, book, name)
        command = next(c for c in app.get_system_commands(screen) if c.title == words_.capitalize())
        command.callback()
        await wait_for_room(pilot, then)


async def test_the_palettes_follow_one_another_and_the_last_one_is_kept(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, book, "ShelfRoom")
        assert app.theme == "deep"
        for name in ("sand", "terminal", "deep", "sand"):
            app.action_other_theme()
            await wait_for(pilot, lambda name=name: app.theme == name, f"{name} is worn")
            assert shows(app, "4 watches", CAUTION_LINE)
        await wait_for_message(pilot, "Colours: sand. Kept in", "looks.toml")
    again = LogbookApp(book)
    async with again.run_test(size=SMALL) as pilot:
        await opened(pilot, book, "ShelfRoom")
        assert again.theme == "sand"


async def test_a_broken_file_of_looks_is_told_and_the_usual_palette_is_worn(book: Book) -> None:
    path = looks_path()
    path.parent.mkdir(parents=True)
    path.write_text('theme = "sant"\n', encoding="utf-8")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, book, "ShelfRoom")
        await wait_for_message(pilot, "looks.toml, line 1, theme:", "Did you mean sand?")
        assert app.theme == "deep"


async def test_a_choice_that_cannot_be_kept_is_told_and_worn_all_the_same(book: Book) -> None:
    path = looks_path()
    path.mkdir(parents=True)  # a folder stands where the file belongs
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, book, "ShelfRoom")
        app.action_other_theme()
        await wait_for_message(
            pilot, "looks.toml could not be read: it is not a file", "could not be written"
        )
        assert app.theme == "sand"


class Clock:
    """A day that a test sets."""

    def __init__(self, day: date) -> None:
        self.day = day

    def __call__(self) -> date:
        return self.day


async def test_after_midnight_every_room_shows_the_new_day(book: Book, id_of: IdOf) -> None:
    clock = Clock(TODAY)
    app = LogbookApp(book, clock)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await opened(pilot, book, "WatchRoom")
        assert not app.follow_the_day()
        clock.day = TODAY + timedelta(days=400)
        app.post_message(events.AppFocus())
        await wait_for_message(pilot, "It is now Thursday, 30 Dec 2027.")
        assert "form" not in messages(app)
        assert book.today == clock.day
        await wait_for_text(pilot, "case back")
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_text(pilot, "overdue")
        assert all(standing.on == clock.day for standing in book.standings())


async def test_a_day_that_was_asked_for_stays_over_midnight(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot, book, "ShelfRoom")
        app.post_message(events.AppFocus())
        await pilot.pause()
        assert not app.follow_the_day()
        assert book.today == TODAY


async def test_a_form_left_open_over_midnight_says_which_day_it_means(book: Book, id_of: IdOf) -> None:
    clock = Clock(TODAY)
    app = LogbookApp(book, clock)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, book, "EventRoom")
        clock.day = TODAY + timedelta(days=1)
        assert app.follow_the_day()
        await wait_for_message(pilot, "It is now Thursday, 26 Nov 2026.", "open before midnight")


async def test_a_window_that_changes_its_size_keeps_everything_in_view(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened(pilot, book, "WatchRoom")
        await pilot.press("enter")
        await wait_for_text(pilot, "storage age of NBR")
        await pilot.resize_terminal(*SMALL)
        await wait_for(pilot, lambda: app.screen.has_class("narrow"), "the room is narrow")
        await wait_for_text(pilot, CAUTION_LINE, "storage age of NBR", "? help")
        await pilot.press("escape")
        await wait_for(
            pilot, lambda: room(app) == "WatchRoom" and shows(app, "log: 1 entry"), "the log is back"
        )


def test_a_record_of_another_make_is_refused_before_the_terminal_changes(tmp_path: Path) -> None:
    path = tmp_path / "notes.logbook"
    path.write_text("my own notes")
    with pytest.raises(LogbookError, match=r"notes\.logbook"):
        run(path, today=TODAY)


@pytest.mark.parametrize("name", ["ShelfRoom", "WatchRoom", "DueRoom"])
async def test_a_record_that_goes_bad_while_it_is_open_is_told_in_words(book: Book, name: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, book, name)
        await pilot.press("question_mark")
        await wait_for_room(pilot, "HelpRoom")
        book.path.write_text("my own notes")
        book.forget()
        await pilot.press("escape")
        await wait_for_text(pilot, "is not a")


def test_the_app_opens_on_the_day_and_units_that_were_asked_for(book: Book) -> None:
    other = Book(book.path, date(2027, 1, 1), "imperial")
    assert (other.today, other.units, book.units) == (date(2027, 1, 1), "imperial", "metric")
