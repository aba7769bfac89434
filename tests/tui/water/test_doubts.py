"""A depth or length that an activity hardly has is asked about, and asked once more before it is written."""

from __future__ import annotations

from typing import Any

from textual.pilot import Pilot

from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.check.room import CheckRoom
from logbook.tui.habits.form import HabitFormRoom
from tests.tui.exposing import open_room, put
from tests.tui.helpers import (
    SMALL,
    press_all,
    room,
    screen_lines,
    told,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
)
from tests.tui.watching import IdOf, answer

DEEP = "depth: 10 m deep is more than a shower's 0.5 m: is that right?"


async def shower(pilot: Pilot[Any], depth: str) -> None:
    """A shower of eight minutes, that deep."""
    await put(pilot, "what", "shower")
    await put(pilot, "minutes", "8")
    await put(pilot, "depth", depth)


async def test_a_shower_ten_metres_deep_is_asked_about_and_the_last_question_asks_once_more(
    book: Book, id_of: IdOf, newest: Any
) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await shower(pilot, "10")
        await wait_for(pilot, lambda: told(pilot.app, "#said") == DEEP, "the form asks")
        await press_all(pilot, ["ctrl+s", "r"])
        again = f"{DEEP} r again saves it."
        await wait_for(pilot, lambda: told(pilot.app, "#said") == again, "it is asked once more")
        assert any(line.startswith(" again saves it.") for line in screen_lines(pilot.app))  # not cut
        assert newest("Blue bezel") is None
        await pilot.press("n")  # another key is another answer
        await wait_for(pilot, lambda: told(pilot.app, "#said").endswith("n again saves it."), "it asks again")
        assert newest("Blue bezel") is None
        await pilot.press("n")
        await wait_for_message(pilot, "Logged")
    kept = newest("Blue bezel")
    assert (kept.activity, kept.depth_m, kept.rinsed) == ("shower", 10.0, False)


async def test_the_question_goes_with_the_answer_that_it_was_about(
    book: Book, id_of: IdOf, newest: Any
) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await shower(pilot, "10")
        await wait_for(pilot, lambda: told(pilot.app, "#said") == DEEP, "the form asks")
        await press_all(pilot, ["ctrl+s", "r"])
        await wait_for(pilot, lambda: "again saves it" in told(pilot.app, "#said"), "it is asked once more")
        await put(pilot, "depth", "0.2")
        await wait_for(pilot, lambda: "is that right" not in told(pilot.app, "#said"), "nothing is asked")
        await press_all(pilot, ["ctrl+s", "r"])
        await wait_for_message(pilot, "Logged")
    assert newest("Blue bezel").depth_m == 0.2


async def test_a_length_is_asked_about_too(book: Book, id_of: IdOf) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await put(pilot, "what", "shower")
        await put(pilot, "minutes", "10h")
        await wait_for(
            pilot, lambda: told(pilot.app, "#said").startswith("minutes: 600 min is longer than"), "it asks"
        )


async def test_a_plan_is_asked_about_and_kept_by_the_same_key_pressed_again(book: Book, id_of: IdOf) -> None:
    key = id_of("Blue bezel")
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        pilot.app.screen.enter(CheckRoom(key))  # type: ignore[attr-defined]
        await wait_for_room(pilot, "CheckRoom")
        await shower(pilot, "10")
        await wait_for(pilot, lambda: told(pilot.app, "#said") == DEEP, "the form asks")
        await wait_for_text(pilot, "shower 10 m")  # and answers all the same
        await pilot.press("ctrl+s")
        again = f"{DEEP} ^s again plans it."
        await wait_for(pilot, lambda: told(pilot.app, "#said") == again, "it is asked once more")
        assert book.plans(key) == []
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "Planned for Blue bezel: shower 10 m")
    assert [plan.depth_m for plan in book.plans(key)] == [10.0]


async def test_a_habit_is_asked_about_and_kept_when_it_is_saved_again(book: Book, id_of: IdOf) -> None:
    key = id_of("Blue bezel")
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        pilot.app.screen.enter(HabitFormRoom(key))  # type: ignore[attr-defined]
        await wait_for_room(pilot, "HabitFormRoom")
        await answer(pilot, "line", "shower 10m 8min")
        asked = "'10m' reads as 10 metres deep, more than a shower's 0.5 m"
        await wait_for_text(pilot, asked)
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, asked, "Or save it again as it is.")
        assert room(pilot.app) == "HabitFormRoom"
        assert book.standing(key).record.habits == ()
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "A habit from now on: shower 10 m")
    assert [habit.exposure.depth_m for habit in book.standing(key).record.habits] == [10.0]


async def test_saving_again_does_not_save_a_line_without_a_meaning(book: Book, id_of: IdOf) -> None:
    key = id_of("Blue bezel")
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        pilot.app.screen.enter(HabitFormRoom(key))  # type: ignore[attr-defined]
        await wait_for_room(pilot, "HabitFormRoom")
        await answer(pilot, "line", "shower 10m 8min slowly")
        for _ in range(3):
            await pilot.press("ctrl+s")
            await wait_for_text(pilot, "slowly' is not")
        assert book.standing(key).record.habits == ()
