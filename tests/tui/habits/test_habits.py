"""Habits and worn stretches of a watch: add, end, change, strike, and what they cost."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from textual.pilot import Pilot

from logbook.caution import CAUTION_LINE
from logbook.model.values import Habit, WornStretch
from logbook.record.record import Book
from logbook.record.writing.habits import add_habit
from logbook.tui.app import LogbookApp
from logbook.tui.habits import lines as habits_lines
from logbook.tui.habits.form import HabitFormRoom
from logbook.tui.widgets.field import Field
from tests.tui.conftest import TODAY
from tests.tui.helpers import (
    LARGE,
    SMALL,
    paste,
    press_all,
    raw_controls,
    screen_text,
    shows,
    text_of,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
)
from tests.tui.watching import IdOf, Log, answer, opened

LOUD = ("\x1b[31mred", "[@click=app.quit]x[/]", "shower \u202e8min", "1e999", "x" * 3_000)


async def habits(pilot: Pilot[Any], watch_id: int) -> None:
    """The room, by its key."""
    await opened(pilot, watch_id)
    await pilot.press("r")
    await wait_for_room(pilot, "HabitsRoom")


async def test_a_habit_is_added_seen_with_its_cost_ended_today_and_taken_back(
    book: Book, id_of: IdOf
) -> None:
    key = id_of("Blue bezel")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await habits(pilot, key)
        assert shows(
            app,
            "Worn 12 h a day",
            "its crown is worked dry once a week",
            "no habits; n adds one",
            CAUTION_LINE,
        )
        before = book.standing(key)
        await pilot.press("n")
        await wait_for_room(pilot, "HabitFormRoom")
        await answer(pilot, "line", "shower 8mn")
        await wait_for_text(pilot, "mn")
        assert app.screen.question("line").wrong  # type: ignore[attr-defined]
        await answer(pilot, "line", "shower 8min")
        await answer(pilot, "since", "1 mar")
        await wait_for_text(
            pilot,
            "shower 0.1 m, 8 min",
            "once a day, since 1 Mar 2026",
        )
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "HabitsRoom")
        await wait_for_message(pilot, "A habit from now on: shower")
        await wait_for_text(pilot, "once a day: shower", "since 1 Mar 2026", "took, of 100 a month")
        (habit,) = book.standing(key).record.habits
        assert (habit.per_day, habit.from_on, habit.to_on) == (1.0, date(2026, 3, 1), None)
        after = book.standing(key)
        assert after.limiting is not None
        assert before.limiting is not None
        assert after.limiting.wear_share > before.limiting.wear_share
        await pilot.press("t")
        await wait_for_message(pilot, "Ends today: shower")
        await wait_for_text(pilot, "1 Mar 2026 to 25 Nov 2026")
        await press_all(pilot, ["z", "z"])
        await wait_for_text(pilot, "no habits; n adds one")
        assert book.standing(key).record == before.record


async def test_a_worn_stretch_is_added_amended_and_struck(book: Book, id_of: IdOf) -> None:
    key = id_of("Lido quartz")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await habits(pilot, key)
        await pilot.press("s")
        await wait_for_room(pilot, "StretchFormRoom")
        await answer(pilot, "since", "2026-06-10")
        await answer(pilot, "until", "2026-06-01")
        await answer(pilot, "hours", "30")
        await answer(pilot, "until", "2026-06-20")
        await wait_for(pilot, lambda: "! hours a day 30" in screen_text(app), "the hours are refused")
        await answer(pilot, "until", "2026-06-01")
        await answer(pilot, "hours", "16")
        await wait_for_text(pilot, "before it begins")
        assert app.screen.question("until").wrong  # type: ignore[attr-defined]
        await answer(pilot, "until", "2026-06-20")
        await wait_for_text(pilot, "worn 16 h a day, 10 Jun 2026 to 20 Jun 2026")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "HabitsRoom")
        await wait_for_text(pilot, "1 worn stretch", "16 h a day, 10 Jun 2026 to 20 Jun 2026")
        await press_all(pilot, ["tab", "a"])
        await wait_for_room(pilot, "StretchFormRoom")
        await answer(pilot, "hours", "8")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "HabitsRoom")
        await wait_for_text(pilot, "8 h a day, 10 Jun 2026 to 20 Jun 2026")
        await pilot.press("x")
        await wait_for_text(pilot, "no worn stretches")
        await pilot.press("z")
        await wait_for_text(pilot, "1 worn stretch")
        assert [s.hours for s in book.standing(key).record.stretches] == [8.0]


async def test_a_habit_is_amended_and_hostile_answers_stay_text(book: Book, id_of: IdOf, log: Log) -> None:
    key = id_of("Lido quartz")
    exposure = log("Lido quartz", "swim", water="pool", depth_m=1.0, duration_s=1800, note="[b]lanes[/b]")
    book.do(add_habit, Habit(exposure, 2 / 7, date(2026, 1, 1), watch_id=key), book.practice)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await habits(pilot, key)
        await wait_for_text(pilot, "twice a week: swim 1 m, 30 min, pool", "note: [b]lanes[/b]")
        await pilot.press("a")
        await wait_for_room(pilot, "HabitFormRoom")
        screen = app.screen
        assert isinstance(screen, HabitFormRoom)
        kept = screen.question("line").query_one(Field).text
        assert "on 2026" not in kept
        for name, text in zip(("line", "times", "since", "until", "line"), LOUD, strict=True):
            field = screen.question(name).query_one(Field)
            field.fill("")
            field.ask()
            await paste(pilot, text)
            assert raw_controls(app) == []
        await pilot.press("ctrl+s")
        assert app.screen is screen
        for name, text in (("line", kept), ("times", "3"), ("since", "2026-01-01"), ("until", "")):
            screen.question(name).query_one(Field).entry.value = text
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "HabitsRoom")
        await wait_for_text(pilot, "3 times a week: swim 1 m, 30 min, pool")
        (habit,) = book.standing(key).record.habits
        assert (habit.per_day * 7, habit.exposure.note) == (pytest.approx(3), "[b]lanes[/b]")


async def test_keys_say_what_they_work_on_where_there_is_nothing(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await habits(pilot, id_of("Gran's chrono"))
        await press_all(pilot, ["t", "x", "a"])
        await wait_for_message(pilot, "t ends a habit", "Nothing is in this list")
        await pilot.press("escape")
        await wait_for_room(pilot, "WatchRoom")
        await wait_for(pilot, lambda: shows(app, "Watch: Gran's chrono"), "back in the watch's room")


# ------------------------------------------------------------------ as text


@pytest.mark.parametrize(
    ("per_day", "words"),
    [
        (1.0, "once a day"),
        (3.0, "3 times a day"),
        (1 / 7, "once a week"),
        (3 / 7, "3 times a week"),
        (0.5 / 7, "0.5 times a week"),
    ],
)
def test_how_often_is_told_by_the_day_or_by_the_week(log: Log, per_day: float, words: str) -> None:
    habit = Habit(log("Blue bezel", "shower"), per_day, date(2026, 1, 1))
    assert habits_lines.times_words(habit) == words


def test_a_habit_that_is_over_costs_nothing_more(book: Book, id_of: IdOf, log: Log) -> None:
    key = id_of("Blue bezel")
    book.do(
        add_habit,
        Habit(log("Blue bezel", "shower"), 1.0, date(2026, 1, 1), date(2026, 2, 1), watch_id=key),
        book.practice,
    )
    book.do(add_habit, Habit(log("Blue bezel", "shower"), 1.0, date(2026, 3, 1), watch_id=key), book.practice)
    book.do(add_habit, Habit(log("Blue bezel", "shower"), 2.0, date(2026, 3, 1), watch_id=key), book.practice)
    record = book.standing(key).record
    over, once, twice = (habits_lines.cost_a_month(h, record, book.practice, TODAY) for h in record.habits)
    assert over == "over"
    assert float(twice) == pytest.approx(2 * float(once), rel=0.02)


@pytest.mark.parametrize("width", [78, 120])
def test_rows_are_as_wide_as_the_list_and_no_wider(log: Log, width: int) -> None:
    exposure = log(
        "Blue bezel", "dive", depth_m=21.0, duration_s=2280, rinsed=True, crown_wet=1, water_c=17.0
    )
    habit = Habit(exposure, 1.0, date(2026, 1, 12), date(2026, 10, 12))
    stretch = WornStretch(date(2026, 1, 12), date(2026, 10, 12), 12.5)
    for row in (
        habits_lines.habit_row(habit, "0.3", "metric", width),
        habits_lines.stretch_row(stretch, width),
    ):
        assert len(text_of([row])) == width


async def test_a_habit_above_the_mark_is_said_at_once(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await habits(pilot, id_of("Blue bezel"))
        await pilot.press("n")
        await wait_for_room(pilot, "HabitFormRoom")
        await answer(pilot, "line", "dive 230m 20min sure")
        await answer(pilot, "since", "1 nov")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "HabitsRoom")
        await wait_for_message(
            pilot, "keep it dry: the habit of dive to 230 m from 1 Nov 2026 went above its mark"
        )
