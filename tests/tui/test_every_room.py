"""In every room: caution and keys in view at any size, help, palette, small windows, no colour."""

from __future__ import annotations

from collections.abc import AsyncIterator
from typing import Any

import pytest
from textual.pilot import Pilot

from logbook.caution import CAUTION, CAUTION_LINE, CROWN_IN_WATER, LIFE_SUPPORT
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.shell.help import HelpRoom
from logbook.tui.shell.room import Room
from logbook.tui.widgets.frame import key_rows
from tests.tui.helpers import (
    LARGE,
    SMALL,
    raw_controls,
    screen_lines,
    shows,
    wait_for,
    wait_for_room,
    wait_for_text,
    words,
)
from tests.tui.rooms import ROOMS, opened

EVERY = ["ShelfRoom", *ROOMS]


async def resized(pilot: Pilot[Any], size: tuple[int, int]) -> Room:
    """The room once it is laid out for the window."""
    await pilot.resize_terminal(*size)
    screen = pilot.app.screen
    assert isinstance(screen, Room)
    await wait_for(pilot, lambda: screen.query_one("#keys").region.bottom == size[1], "the keys stand below")
    return screen


async def each_room(pilot: Pilot[Any], book: Book) -> AsyncIterator[str]:
    """The name of every room, while that room is in front; the Shelf is below it."""
    await wait_for_room(pilot, "ShelfRoom")
    for name in EVERY:
        await opened(pilot, book, name)
        yield name
        if name != "ShelfRoom":
            pilot.app.pop_screen()
            await wait_for_room(pilot, "ShelfRoom")


async def test_caution_and_keys_are_in_view_at_any_size_and_the_window_may_change(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        async for name in each_room(pilot, book):
            for size in (SMALL, LARGE, (200, 60), (100, 30)):
                screen = await resized(pilot, size)
                keys = screen.shown_keys()
                rows = key_rows(keys, size[0] - 2)  # what finds no place stays in help and palette
                assert size == SMALL or sum(map(len, rows)) == len(keys), name
                for key, what, _ in (key for row in rows for key in row):
                    assert shows(app, f"{key} {what}"), f"{key} {what} at {size} in {name}"
                assert shows(app, CAUTION_LINE), name
                assert not shows(app, "characters are few"), name
            await resized(pilot, (60, 20))
            await wait_for_text(pilot, "60 by 20 characters are few", "laid out for 80 by 24", CAUTION_LINE)
            assert not raw_controls(app), name
            assert all(len(line) <= 60 for line in screen_lines(app)), name
            await pilot.resize_terminal(40, 14)
            await wait_for_text(pilot, "40 by 14 characters are few")
            await resized(pilot, SMALL)


async def test_every_key_of_a_room_is_in_help_and_in_the_palette(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=(100, 50)) as pilot:
        async for name in each_room(pilot, book):
            screen = app.screen
            assert isinstance(screen, Room)
            titles = [command.title for command in app.get_system_commands(screen)]
            assert titles.count("Quit") == 1, name
            said = [binding for binding in screen.room_bindings() if binding.description]
            assert {binding.description.capitalize() for binding in said} <= set(titles), name
            await pilot.press("f1")
            await wait_for_room(pilot, "HelpRoom")
            await wait_for_text(
                pilot, words(CAUTION), words(LIFE_SUPPORT), CROWN_IN_WATER, words(screen.PURPOSE)
            )
            for binding in said:
                assert shows(app, binding.tooltip or binding.description), name
            assert isinstance(app.screen, HelpRoom)
            await pilot.press("escape")
            await wait_for_room(pilot, name)


async def test_no_colour_means_no_colour_in_every_room(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        for name, make in ROOMS.items():
            app.push_screen(make(book))
            await wait_for_room(pilot, name)
            await wait_for_text(pilot, CAUTION_LINE)
            colours = shown_colours(app)
            assert colours, name
            assert all(red == green == blue for red, green, blue in colours), name
            app.pop_screen()
            await wait_for_room(pilot, "ShelfRoom")
        assert all(red == green == blue for red, green, blue in shown_colours(app))


def shown_colours(app: LogbookApp) -> set[tuple[int, int, int]]:
    """The colours that go to the terminal, but for its own."""
    strips = [
        strip.apply_filter(line_filter, app.screen.background_colors[1])
        for strip in app.screen._compositor.render_strips()
        for line_filter in app._filters
    ]
    return {
        tuple(colour.get_truecolor())
        for strip in strips
        for segment in strip
        if segment.style is not None
        for colour in (segment.style.color, segment.style.bgcolor)
        if colour is not None
    }
