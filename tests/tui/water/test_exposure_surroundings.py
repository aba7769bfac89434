"""Log exposure under hostile text, without colours, in other units, in a tiny window, without its record."""

from __future__ import annotations

from typing import Any

import pytest
from textual.widgets import Input

from logbook.caution import CAUTION_LINE
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from tests.tui.exposing import open_room, put, texts
from tests.tui.helpers import (
    HOSTILE,
    LARGE,
    SMALL,
    dealt,
    paste,
    press_all,
    raw_controls,
    screen_text,
    shows,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    write,
)


async def test_in_imperial_units_bare_numbers_are_feet_and_fahrenheit(
    book: Book, id_of: Any, newest: Any, set_home: Any
) -> None:
    set_home(units="imperial")
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await press_all(pilot, ["7", "0", "enter", "3", "8"])
        await put(pilot, "temp", "64")
        await wait_for_text(pilot, "pressure at 70 ft", "psi gauge")
        await press_all(pilot, ["ctrl+s", "n"])
        await wait_for_message(pilot, "Logged 2: dive 70 ft, 38 min, sea 64 °F")
    assert newest("Blue bezel").depth_m == 21.336


async def test_a_record_that_is_gone_is_said_and_keeps_what_was_written(book: Book, id_of: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await press_all(pilot, ["2", "1", "enter", "3", "8", "enter"])
        book.path.rename(book.path.with_suffix(".away"))
        await pilot.press("r")
        await wait_for_message(pilot, "There is no")
        assert texts(pilot)["depth"] == "21"
        book.path.with_suffix(".away").rename(book.path)
        await pilot.press("r")
        await wait_for_message(pilot, "Logged")


async def test_the_room_survives_a_tiny_window(book: Book, id_of: Any) -> None:
    async with LogbookApp(book).run_test(size=(30, 10)) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await press_all(pilot, ["2", "1", "enter", "9", "enter", "pagedown", "escape"])
        await wait_for_room(pilot, "ShelfRoom")


async def test_help_lists_the_keys_of_the_room(book: Book, id_of: Any) -> None:
    async with LogbookApp(book).run_test(size=LARGE) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await pilot.press("f1")
        await wait_for_room(pilot, "HelpRoom")
        await wait_for_text(pilot, "it was not rinsed: saves it", "write it in one line", CAUTION_LINE)
        await pilot.press("escape")
        await wait_for_room(pilot, "ExposureRoom")


async def test_without_colours_every_word_is_still_there(
    book: Book, id_of: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await write(pilot, "900")
        await wait_for_text(pilot, "! depth", "out of range")
        colours = {
            color
            for strip in app.screen._compositor.render_strips()
            for segment in strip
            if segment.style is not None
            for color in (segment.style.color, segment.style.bgcolor)
            if color is not None and color.triplet is not None
        }
    assert all(c.triplet.red == c.triplet.green == c.triplet.blue for c in colours)


async def test_hostile_text_in_every_field_stays_text(book: Book, id_of: Any, newest: Any) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room = await open_room(pilot, id_of("Gran's chrono"))
        entries = list(app.screen.query(Input))
        assert len(entries) == 12
        by_name = {str(n): entry for n, entry in enumerate(entries)}
        for texts in dealt([*by_name], times=5):
            for name, text in texts.items():
                by_name[name].value = text
            by_name[name].focus()
            await paste(pilot, text)
            await wait_for(pilot, lambda: not room.answers.busy, "it is worked out")
            assert raw_controls(app) == [], texts
            assert CAUTION_LINE in screen_text(app)
            await press_all(pilot, ["ctrl+s", "r"])
            await wait_for(pilot, lambda: not room.saving, "it was refused")
            assert raw_controls(app) == [], texts
    assert newest("Gran's chrono") is None


@pytest.mark.parametrize("nickname", [*[text for text in HOSTILE if text.strip()][:45:4], "漢字" * 20, "[/]"])
async def test_a_hostile_nickname_is_shown_as_text(book: Book, nickname: str) -> None:
    from logbook.model.text import printable
    from tests.tui.conftest import a_watch, seals_of

    watch = a_watch(printable(nickname, 80), mark="divers", bar=20, use="diving")
    watch_id = book.add_watch(watch, seals_of(watch))
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await open_room(pilot, watch_id)
        assert raw_controls(app) == []
        assert shows(app, "diver’s 20 bar")
