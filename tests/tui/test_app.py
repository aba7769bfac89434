"""What holds in every room: the palette, help, light and dark, no colour, hostile text, the caution."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from textual.command import CommandPalette
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widgets import OptionList

from logbook.caution import CAUTION, CAUTION_LINE, CROWN_IN_WATER, LIFE_SUPPORT
from logbook.reckoning.values import Event
from logbook.tui.app import LogbookApp
from logbook.tui.book import Book
from logbook.tui.due import DueRoom
from logbook.tui.due_lines import tasks
from logbook.tui.event_form import EventRoom
from logbook.tui.help import HelpRoom
from logbook.tui.room import Room
from logbook.tui.snooze import SnoozeRoom
from logbook.tui.watch import WatchRoom
from logbook.tui.welcome import WelcomeRoom
from logbook.tui.widgets.lines import Lines
from tests.tui.conftest import TODAY, a_watch, passed_test, seals_of
from tests.tui.helpers import (
    LARGE,
    SMALL,
    press_all,
    raw_controls,
    room,
    screen_text,
    shows,
    wait_for,
    wait_for_room,
    wait_for_text,
    words,
    write,
)

IdOf = Callable[[str], int]
MakeRoom = Callable[[Book], Room]

ROOMS: dict[str, MakeRoom] = {
    "WatchRoom": lambda book: WatchRoom(book.watches()[0].id or 0),
    "DueRoom": lambda book: DueRoom(),
    "EventRoom": lambda book: EventRoom(book.watches()[0].id or 0),
    "SnoozeRoom": lambda book: SnoozeRoom(tasks(book.standings(), book.today)[0]),
    "WelcomeRoom": lambda book: WelcomeRoom(),
}


async def opened(pilot: Pilot[Any], book: Book, name: str) -> Screen[Any]:
    """A room on top of the Shelf, or the Shelf itself."""
    await wait_for_room(pilot, "ShelfRoom")
    if name != "ShelfRoom":
        pilot.app.push_screen(ROOMS[name](book))
        await wait_for_room(pilot, name)
    await wait_for_text(pilot, CAUTION_LINE)
    return pilot.app.screen


@pytest.mark.parametrize("size", [SMALL, LARGE, (200, 60)])
@pytest.mark.parametrize("name", ["ShelfRoom", *ROOMS])
async def test_the_caution_and_every_key_are_in_view_in_every_room(
    book: Book, name: str, size: tuple[int, int]
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        screen = await opened(pilot, book, name)
        assert isinstance(screen, Room)
        for key, what, _ in screen.shown_keys():
            assert shows(app, f"{key} {what}")
        assert screen.query_one("#caution").region.bottom <= size[1]
        assert screen.query_one("#keys").region.bottom == size[1]


@pytest.mark.parametrize("name", ["ShelfRoom", *ROOMS])
async def test_no_colour_means_no_colour(book: Book, name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await opened(pilot, book, name)
        strips = [
            strip.apply_filter(line_filter, screen.background_colors[1])
            for strip in screen._compositor.render_strips()
            for line_filter in app._filters
        ]
        colours = {
            colour.get_truecolor()
            for strip in strips
            for segment in strip
            if segment.style is not None
            for colour in (segment.style.color, segment.style.bgcolor)
            if colour is not None
        }
        assert colours
        assert all(red == green == blue for red, green, blue in colours)


async def test_states_are_words_without_any_colour(
    book: Book, id_of: IdOf, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    book.add_events([Event("fog", TODAY, 60, watch_id=id_of("Lido quartz"))])
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot, book, "ShelfRoom")
        assert shows(app, "keep it dry", "think twice", "no stop", "overdue")


@pytest.mark.parametrize("name", ["ShelfRoom", *ROOMS])
async def test_help_lists_every_key_with_its_words_and_the_cautions(book: Book, name: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=(100, 50)) as pilot:
        screen = await opened(pilot, book, name)
        assert isinstance(screen, Room)
        await pilot.press("f1")
        await wait_for_room(pilot, "HelpRoom")
        await wait_for_text(pilot, words(CAUTION), words(LIFE_SUPPORT), CROWN_IN_WATER, words(screen.PURPOSE))
        for binding in screen.room_bindings():
            if binding.description:
                assert shows(app, binding.tooltip or binding.description)
        assert isinstance(app.screen, HelpRoom)
        await pilot.press("escape")
        await wait_for_room(pilot, name)


@pytest.mark.parametrize("name", ["ShelfRoom", *ROOMS])
async def test_every_action_of_a_room_is_in_the_palette(book: Book, name: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        screen = await opened(pilot, book, name)
        assert isinstance(screen, Room)
        titles = [command.title for command in app.get_system_commands(screen)]
        assert titles.count("Quit") == 1
        for binding in screen.room_bindings():
            if binding.description:
                assert binding.description.capitalize() in titles


def palette_offers(app: LogbookApp, title: str) -> bool:
    """True once the search is over and the first thing that it found is `title`."""
    found = app.screen.query_one(OptionList)
    return (
        found.option_count > 0 and found.highlighted == 0 and str(found.options[0].prompt).startswith(title)
    )


@pytest.mark.parametrize(
    ("query", "name"),
    [("log exposure", "ExposureRoom"), ("check", "CheckRoom"), ("open", "WatchRoom"), ("new watch", "WelcomeRoom"),
     ("due", "DueRoom"), ("help", "HelpRoom")],
)  # fmt: skip
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
    [("WatchRoom", "event", "EventRoom"), ("WatchRoom", "check", "CheckRoom"), ("DueRoom", "snooze", "SnoozeRoom"),
     ("DueRoom", "done", "EventRoom"), ("DueRoom", "open watch", "WatchRoom")],
)  # fmt: skip
async def test_palette_entries_of_other_rooms_work_too(book: Book, name: str, words_: str, then: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        screen = await opened(pilot, book, name)
        command = next(c for c in app.get_system_commands(screen) if c.title == words_.capitalize())
        command.callback()
        await wait_for_room(pilot, then)


async def test_light_and_dark_change_places(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot, book, "ShelfRoom")
        first = app.theme
        app.action_other_theme()
        await wait_for(pilot, lambda: app.theme != first, "the other palette is in use")
        assert shows(app, "4 watches", CAUTION_LINE)
        app.action_other_theme()
        assert app.theme == first


async def test_a_window_that_changes_its_size_keeps_everything_in_view(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened(pilot, book, "WatchRoom")
        await pilot.press("enter")
        await wait_for_text(pilot, "storage class of NBR")
        await pilot.resize_terminal(*SMALL)
        await wait_for(pilot, lambda: app.screen.has_class("narrow"), "the room is narrow")
        await wait_for_text(pilot, CAUTION_LINE, "storage class of NBR", "? help")
        await pilot.press("escape")
        await wait_for(
            pilot, lambda: room(app) == "WatchRoom" and shows(app, "log: 1 entry"), "the log is back"
        )


async def test_a_record_of_another_make_is_refused_in_words(tmp_path: Any) -> None:
    from logbook.errors import LogbookError

    path = tmp_path / "notes.logbook"
    path.write_text("my own notes")
    book = Book(path, TODAY)
    with pytest.raises(LogbookError, match=r"notes\.logbook"):
        book.standings()


def test_the_app_opens_on_the_day_and_units_that_were_asked_for(book: Book) -> None:
    other = Book.at(book.path, date(2027, 1, 1), "imperial")
    assert (other.today, other.units, book.units) == (date(2027, 1, 1), "imperial", "metric")


HOSTILE = [
    "[/]", "[b]bold[/b]", "[red", "]]", "[@click=app.quit]x[/]", "[link=x]y[/link]", "\\[x]", "[[", "[/b]", "$primary",
    "{name}", "%s%n", "{{7*7}}", "\x1b[31mred", "\x1b]0;title\x07", "\x1b[2J", "\x1bc", "\x9b31m", "\x90q", "a\x00b",
    "\x07bell", "back\x08\x08", "line\nbreak", "tab\there", "carriage\rreturn", "\x7f", "\u202eevil", "\u2066iso\u2069",
    "\u200e\u200f", "\u200bzero", "\ufeffbom", "\u2028sep", "\U000e0041tag", "e\u0301" * 20, "Z\u0351\u0352\u0353" * 15,
    "\U0001f93f", "\U0001f468\u200d\U0001f469\u200d\U0001f467", "\U0001f1e9\U0001f1ea", "漢字時計" * 15, "مرحبا", "x" * 10_000,
    "\U0001f93f" * 3_000, "=1+1", "@SUM(A1)", "-rf", "'; DROP TABLE watch; --", "<script>", "../../etc", " ", "…",
]  # fmt: skip


def test_there_are_more_than_forty_hostile_names() -> None:
    assert len(set(HOSTILE)) >= 40


@pytest.fixture
def hostile_book(empty_book: Book) -> Book:
    """A watch for each hostile name, which stands wherever its owner can write: as an older version, or
    another program, may have left it in the file."""
    for n, text in enumerate(HOSTILE):
        watch = a_watch(
            f"{text}", bar=5, use=("dry", "swimming")[n % 2], reference=text, group=text, note=text,
        )  # fmt: skip
        events = [
            passed_test(date(2025, 2, 1), 5),
            Event("fog", date(2026, 10, 1), 60, note=text, workshop=text),
        ]
        empty_book.add_watch(watch, seals_of(watch), events)
    return empty_book


def assert_tame(app: LogbookApp, size: tuple[int, int]) -> None:
    """Nothing on the screen that a terminal would obey, and no line wider than the window."""
    from rich.cells import cell_len

    text = screen_text(app)
    assert raw_controls(app) == []
    assert not set(text) & set(
        "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200b\u200e\u200f\u2028\ufeff"
    )
    assert all(cell_len(line) <= size[0] for line in text.split("\n"))
    assert CAUTION_LINE in text


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_hostile_names_are_text_on_shelf_and_due(hostile_book: Book, size: tuple[int, int]) -> None:
    app = LogbookApp(hostile_book)
    async with app.run_test(size=size, notifications=True) as pilot:
        await opened(pilot, hostile_book, "ShelfRoom")
        assert_tame(app, size)
        for _ in HOSTILE:
            await pilot.press("down")
            assert_tame(app, size)
        await pilot.press("u")
        await wait_for_room(pilot, "DueRoom")
        lines = app.screen.query_one(Lines)
        while lines.cursor < lines.count - 1:
            await pilot.press("pagedown")
            assert_tame(app, size)


async def test_hostile_names_are_text_in_the_watch_room_and_its_working(hostile_book: Book) -> None:
    app = LogbookApp(hostile_book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, hostile_book, "ShelfRoom")
        for watch in hostile_book.watches():
            screen = WatchRoom(watch.id or 0)
            app.push_screen(screen)
            await wait_for_room(pilot, "WatchRoom")
            screen.query_one("#log").focus()
            await wait_for(pilot, lambda: screen.has_class("at-log"), "the log has the focus")  # noqa: B023
            screen.action_work()
            await wait_for_text(pilot, "It stands until the damage is repaired")
            assert_tame(app, SMALL)
            app.pop_screen()
            await wait_for_room(pilot, "ShelfRoom")


@pytest.mark.parametrize(
    "text", ["[/]", "\x1b[2J", "\u202eevil", "x" * 10_000, "\U0001f93f" * 3_000, "a\x00b"]
)
@pytest.mark.parametrize("name", ["EventRoom", "SnoozeRoom"])
async def test_hostile_names_are_text_in_the_forms(empty_book: Book, name: str, text: str) -> None:
    watch = a_watch(text, bar=5)
    empty_book.add_watch(watch, seals_of(watch))
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot, empty_book, name)
        assert_tame(app, SMALL)


async def test_a_notice_about_a_hostile_name_is_text(hostile_book: Book) -> None:
    app = LogbookApp(hostile_book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, hostile_book, "ShelfRoom")
        await press_all(pilot, ["z"] * 12)
        await wait_for_text(pilot, "Undone: add")
        assert_tame(app, SMALL)


async def test_a_hostile_name_that_is_typed_is_refused_in_words_or_kept_as_text(empty_book: Book) -> None:
    from tests.tui.helpers import paste

    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_room(pilot, "WelcomeRoom")
        screen = app.screen
        assert isinstance(screen, WelcomeRoom)
        for text in [*HOSTILE, "\x00"]:
            screen.field("name").fill("")
            screen.field("name").ask()
            await paste(pilot, text)
            assert_tame(app, SMALL)
        screen.field("name").fill("[b]Tank[/b]")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_text(pilot, "[b]Tank[/b]", "is on the shelf")
        assert_tame(app, SMALL)
