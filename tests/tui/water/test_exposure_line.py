"""The one line of the Log exposure room, with its caret."""

from __future__ import annotations

from datetime import date
from typing import Any

from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from tests.tui.exposing import open_room
from tests.tui.helpers import (
    SMALL,
    paste,
    press_all,
    screen_lines,
    shows,
    wait_for,
    wait_for_message,
    wait_for_text,
    write,
)


async def test_one_line_says_it_all(book: Book, id_of: Any, newest: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await press_all(pilot, ["ctrl+l"])
        await paste(pilot, "dive 21m 38min sea 17C rinsed crown wet on yester")
        await write(pilot, "day")
        await wait_for_text(pilot, "pressure at 21 m 2.10 bar gauge", "handling")
        await pilot.press("enter")
        await wait_for_message(pilot, "Logged")
    kept = newest("Blue bezel")
    assert (kept.depth_m, kept.water_c, kept.rinsed, kept.crown_wet) == (21.0, 17.0, True, 1)
    assert kept.starts_on == date(2026, 11, 24)


async def test_a_word_that_is_not_understood_gets_a_caret_under_it(
    book: Book, id_of: Any, newest: Any
) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await pilot.press("ctrl+l")
        await paste(pilot, "dive 21m 38min seaa 17C")
        await pilot.press("enter")
        await wait_for_text(pilot, "'seaa' is not understood here. Did you mean sea?")
        lines = screen_lines(pilot.app)
        at = next(n for n, line in enumerate(lines) if "seaa 17C" in line)
        assert lines[at + 1].index("^") == lines[at].index("seaa")
        await pilot.press("backspace")
        await wait_for(pilot, lambda: not shows(pilot.app, "not understood"), "the error is gone")
    assert newest("Blue bezel") is None


async def test_the_caret_of_a_long_line_is_shown_with_the_part_it_is_about(book: Book, id_of: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await pilot.press("ctrl+l")
        await paste(
            pilot, "dive 21m 38min sea 17C rinsed from 32C jump 2m on 2026-11-01 10:40 zone UTC flurb"
        )
        await pilot.press("enter")
        await wait_for_text(pilot, "'flurb' is not understood here.")
        lines = screen_lines(pilot.app)
        caret = next(n for n, line in enumerate(lines) if line.strip() == "^")
        assert lines[caret].index("^") == lines[caret - 1].index("flurb")
