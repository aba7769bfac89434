"""Water from before the record of a watch began: kept, and asked whether the record begins earlier."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from textual.pilot import Pilot

from logbook.caution import CAUTION_LINE
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.water.entry_line import EntryLineRoom
from tests.tui.conftest import RECORDED
from tests.tui.exposing import open_room, put
from tests.tui.helpers import (
    SMALL,
    paste,
    press_all,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
)
from tests.tui.watching import IdOf

EARLY = date(2024, 6, 1)


async def in_the_form(pilot: Pilot[Any], watch_id: int) -> None:
    """A dive of before the record, in Log exposure."""
    await open_room(pilot, watch_id)
    await press_all(pilot, ["2", "1", "enter", "3", "8"])
    await put(pilot, "when", "2024-06-01")
    await press_all(pilot, ["ctrl+s", "r"])


async def in_one_line(pilot: Pilot[Any], watch_id: int) -> None:
    """The same in one line."""
    await wait_for_room(pilot, "ShelfRoom")
    pilot.app.screen.enter(EntryLineRoom())  # type: ignore[attr-defined]
    await wait_for_room(pilot, "EntryLineRoom")
    await paste(pilot, "blue bezel: dive 21m 38min on 2024-06-01 rinsed")
    await pilot.press("enter")


WAYS = [in_the_form, in_one_line]
Way = Callable[[Pilot[Any], int], Any]


@pytest.mark.parametrize("way", WAYS)
async def test_a_yes_moves_the_start_as_a_step_of_its_own(
    book: Book, id_of: IdOf, newest: Any, way: Way
) -> None:
    key = id_of("Blue bezel")
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await way(pilot, key)
        await wait_for_room(pilot, "RecordStartRoom")
        await wait_for_text(
            pilot,
            "Blue bezel has its water on record from 1 Jan 2025 only",
            "Is all its water since 1 Jun 2024 in the log now",
            "y yes, it begins then",
            "n no, leave it",
            CAUTION_LINE,
        )
        assert book.cost(newest("Blue bezel").id) == {}
        await pilot.press("y")
        await wait_for_message(pilot, "Blue bezel has its water on record from 1 Jun 2024. z: undo")
        await wait_for_room(pilot, "ShelfRoom")
        assert book.standing(key).record.watch.recorded_from == EARLY
        await pilot.press("z")  # the start is a step of its own
        await wait_for(
            pilot, lambda: book.standing(key).record.watch.recorded_from == RECORDED, "the start is as it was"
        )
        assert newest("Blue bezel").starts_on == EARLY


@pytest.mark.parametrize("key_of_no", ["n", "escape"])
@pytest.mark.parametrize("way", WAYS)
async def test_a_no_keeps_the_dive_and_the_start(
    book: Book, id_of: IdOf, newest: Any, way: Way, key_of_no: str
) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await way(pilot, id_of("Blue bezel"))
        await wait_for_room(pilot, "RecordStartRoom")
        await wait_for_text(pilot, "a in its room, recorded from")
        await pilot.press(key_of_no)
        await wait_for_room(pilot, "ShelfRoom")
    assert newest("Blue bezel").starts_on == EARLY
    assert book.standing(id_of("Blue bezel")).record.watch.recorded_from == RECORDED


async def test_a_dive_within_the_record_asks_nothing(book: Book, id_of: IdOf) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await press_all(pilot, ["2", "1", "enter", "3", "8", "ctrl+s", "r"])
        await wait_for_message(pilot, "Logged")
        await wait_for_room(pilot, "ShelfRoom")
