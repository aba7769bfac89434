"""Text that would do harm if it were more than text: names, notes and answers in every room."""

from __future__ import annotations

from datetime import date

import pytest

from logbook.caution import CAUTION_LINE
from logbook.model.values import Event
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.watch.room import WatchRoom
from logbook.tui.watch.welcome import WelcomeRoom
from logbook.tui.widgets.lines import Lines
from tests.tui.conftest import a_watch, passed_test, seals_of
from tests.tui.helpers import (
    LARGE,
    SMALL,
    press_all,
    raw_controls,
    screen_text,
    wait_for,
    wait_for_room,
    wait_for_text,
)
from tests.tui.rooms import opened

HOSTILE = [
    "[/]",
    "[b]bold[/b]",
    "[red",
    "]]",
    "[@click=app.quit]x[/]",
    "[link=x]y[/link]",
    "\\[x]",
    "[[",
    "[/b]",
    "$primary",
    "{name}",
    "%s%n",
    "{{7*7}}",
    "\x1b[31mred",
    "\x1b]0;title\x07",
    "\x1b[2J",
    "\x1bc",
    "\x9b31m",
    "\x90q",
    "a\x00b",
    "\x07bell",
    "back\x08\x08",
    "line\nbreak",
    "tab\there",
    "carriage\rreturn",
    "\x7f",
    "\u202eevil",
    "\u2066iso\u2069",
    "\u200e\u200f",
    "\u200bzero",
    "\ufeffbom",
    "\u2028sep",
    "\U000e0041tag",
    "e\u0301" * 20,
    "Z\u0351\u0352\u0353" * 15,
    "\U0001f93f",
    "\U0001f468\u200d\U0001f469\u200d\U0001f467",
    "\U0001f1e9\U0001f1ea",
    "漢字時計" * 15,
    "مرحبا",
    "x" * 10_000,
    "\U0001f93f" * 3_000,
    "=1+1",
    "@SUM(A1)",
    "-rf",
    "'; DROP TABLE watch; --",
    "<script>",
    "../../etc",
    " ",
    "…",
]


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
        other = HOSTILE[n ^ 1]
        events = [
            passed_test(date(2025, 2, 1), 5),
            Event("fog", date(2026, 10, 1), 60, note=other, workshop=text),
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
        for watch in sorted(hostile_book.watches(), key=lambda w: w.id or 0)[::2]:  # two texts stand in each
            screen = WatchRoom(watch.id or 0)
            app.push_screen(screen)
            await wait_for_room(pilot, "WatchRoom")
            screen.query_one("#log").focus()
            await wait_for(pilot, lambda: screen.query_one("#log").has_focus, "the log has the focus")  # noqa: B023
            screen.action_work()
            await wait_for_text(pilot, "it stands until opened, dried and tested")
            assert_tame(app, SMALL)
            app.pop_screen()
            await wait_for_room(pilot, "ShelfRoom")


@pytest.mark.parametrize(
    "text", ["[/]", "\x1b[2J", "\u202eevil", "x" * 10_000, "\U0001f93f" * 3_000, "a\x00b"]
)
@pytest.mark.parametrize("name", ["DossierRoom", "EventRoom", "SnoozeRoom"])
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
        screen.field("name").fill("[b]Tub[/b]")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_text(pilot, "[b]Tub[/b]", "is on the shelf")
        assert_tame(app, SMALL)
