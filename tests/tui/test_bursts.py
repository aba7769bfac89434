"""Keys that arrive in one burst land where they would have gone one by one, in every room that asks."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from logbook.model.values import Exposure
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.check.room import CheckRoom
from logbook.tui.events.amend import AmendEventRoom
from logbook.tui.events.room import EventRoom
from logbook.tui.habits.form import HabitFormRoom, StretchFormRoom
from logbook.tui.settings.room import SettingsRoom
from logbook.tui.shell.room import Room
from logbook.tui.watch.edit import WatchEditRoom
from logbook.tui.watch.welcome import WelcomeRoom
from logbook.tui.water.amend import AmendRoom
from logbook.tui.water.entry_line import EntryLineRoom
from logbook.tui.water.room import ExposureRoom
from tests.tui.conftest import TODAY
from tests.tui.helpers import SMALL, burst, wait_for, wait_for_room

IdOf = Callable[[str], int]


async def typed_into(
    book: Book, room: Callable[[], Room], *parts: str, then: Callable[[], bool] | None = None
) -> None:
    """Open a room on the Shelf, type all of `parts` at once, and wait until `then` or until it is left."""
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        app.screen.enter(room())  # type: ignore[attr-defined]
        name = type(room()).__name__
        await wait_for_room(pilot, name)
        await burst(pilot, *parts)
        await wait_for(pilot, then or (lambda: type(app.screen).__name__ != name), "the burst had its effect")


async def test_a_new_watch(book: Book) -> None:
    await typed_into(
        book, WelcomeRoom, "Harbour", "enter", "diver's 200m", "tab", "gaskets and tested 2025 at 20 bar",
        "enter", "right", "tab", "p", "enter", "q", "ctrl+s",
    )  # fmt: skip
    record = next(r for r in book.records() if r.watch.name == "Harbour")
    watch = record.watch
    assert (watch.mark, watch.marked_pa, watch.use, watch.crown) == ("divers", 20e5, "swimming", "pushed")
    assert watch.movement == "quartz"
    assert [event.kind for event in record.events] == ["opened", "pressure-test"]


async def test_a_watch_that_is_edited(book: Book, id_of: IdOf) -> None:
    key = id_of("Lido quartz")
    await typed_into(
        book, lambda: WatchEditRoom(key), "Lido", "tab", "d", "tab", "200m", "enter", "d", "ctrl+s"
    )
    watch = book.standing(key).record.watch
    assert (watch.name, watch.mark, watch.marked_pa, watch.use) == ("Lido", "divers", 20e5, "diving")


async def test_an_exposure(book: Book, id_of: IdOf, newest: Callable[[str], Exposure | None]) -> None:
    key = id_of("Blue bezel")
    await typed_into(
        book, lambda: ExposureRoom(key), "up", "snorkel", "tab", "4", "tab", "25", "tab", "fresh", "tab",
        "18", "enter", "enter", "n",
    )  # fmt: skip
    logged = newest("Blue bezel")
    assert logged is not None
    assert (logged.activity, logged.depth_m, logged.duration_s) == ("snorkel", 4, 1500)
    assert (logged.water, logged.water_c, logged.rinsed) == ("fresh", 18, False)


async def test_two_exposures_one_after_the_other(book: Book, id_of: IdOf) -> None:
    """What follows the key that saves goes to the room that one comes back to."""
    key = id_of("Blue bezel")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await burst(
            pilot, "/blue", "enter", "w21", "enter", "38", "enter", "r", "w12", "enter", "30", "enter", "n"
        )
        await wait_for(pilot, lambda: len(book.exposures(key, limit=9)) == 2, "both are on record")
    assert sorted(e.depth_m for e in book.exposures(key, limit=9)) == [12, 21]


async def test_a_check(book: Book, id_of: IdOf) -> None:
    key = id_of("Blue bezel")
    await typed_into(
        book, lambda: CheckRoom(key), "snorkel", "enter", "4m", "enter", "25", "tab", "sat", "tab", "sea",
        "tab", "16C", "ctrl+s", then=lambda: bool(book.all_plans()),
    )  # fmt: skip
    [plan] = book.all_plans()
    assert (plan.activity, plan.depth_m, plan.duration_s, plan.water_c) == ("snorkel", 4, 1500, 16)
    assert plan.starts_on == date(2026, 11, 28)


async def test_an_event(book: Book, id_of: IdOf) -> None:
    key = id_of("Lido quartz")
    await typed_into(
        book, lambda: EventRoom(key), "p", "enter", "12 mar", "enter", "f", "enter", "5 bar", "tab", "w",
        "enter", "10", "ctrl+s",
    )  # fmt: skip
    (event,) = book.standing(key).record.events
    assert (event.kind, event.on, event.passed) == ("pressure-test", date(2026, 3, 12), False)
    assert (event.test_pa, event.medium, event.minutes) == (5e5, "water", 10)


async def test_an_event_that_is_amended(book: Book, id_of: IdOf) -> None:
    key = id_of("Blue bezel")
    record = book.standing(key).record
    await typed_into(
        book, lambda: AmendEventRoom(record.events[0], record), "2026-05-02", "enter", "f", "tab", "12 bar",
        "tab", "a", "enter", "3", "enter", "2", "enter", "the old quay", "ctrl+s",
    )  # fmt: skip
    (event,) = book.standing(key).record.events
    assert (event.on, event.passed, event.test_pa, event.medium) == (date(2026, 5, 2), False, 12e5, "air")
    assert (event.minutes, event.deflection_um, event.workshop) == (3, 2, "the old quay")


async def test_an_exposure_that_is_amended(book: Book, log: Any, id_of: IdOf) -> None:
    log("Blue bezel", "dive", depth_m=21.0, duration_s=2280)
    key = id_of("Blue bezel")
    entry, record = book.last_exposure(key), book.standing(key).record
    assert entry is not None
    await typed_into(
        book, lambda: AmendRoom(entry, record), "ctrl+u", "dive 30m 40min sea on 2026-11-22", "enter"
    )
    amended = book.last_exposure(key)
    assert amended is not None
    assert (amended.depth_m, amended.duration_s) == (30, 2400)


async def test_a_habit(book: Book, id_of: IdOf) -> None:
    key = id_of("Lido quartz")
    await typed_into(
        book, lambda: HabitFormRoom(key), "shower 8min", "enter", "3", "tab", "w", "enter", "2026-11-01",
        "enter", "2026-12-24", "enter",
    )  # fmt: skip
    (habit,) = book.standing(key).record.habits
    assert (habit.exposure.activity, habit.per_day) == ("shower", pytest.approx(3 / 7))
    assert (habit.from_on, habit.to_on) == (date(2026, 11, 1), date(2026, 12, 24))


async def test_a_worn_stretch(book: Book, id_of: IdOf) -> None:
    key = id_of("Lido quartz")
    await typed_into(
        book, lambda: StretchFormRoom(key), "2026-11-01", "enter", "2026-11-05", "enter", "16", "enter"
    )
    (stretch,) = book.standing(key).record.stretches
    assert (stretch.from_on, stretch.to_on, stretch.hours) == (date(2026, 11, 1), date(2026, 11, 5), 16)


async def test_the_settings(book: Book) -> None:
    months = [part for degrees in range(10, 22) for part in (f"{degrees}", "tab")]
    await typed_into(
        book,
        SettingsRoom,
        "tab",
        "Europe/Oslo",
        "tab",
        "20",
        "tab",
        "59",
        "tab",
        "120",
        "tab",
        *months,
        "ctrl+s",
    )
    settings = book.settings
    assert (settings.zone, settings.home.salinity, settings.home.latitude_deg) == ("Europe/Oslo", 20, 59)
    assert (settings.home.altitude_m, settings.home.monthly_c) == (120, tuple(range(10, 22)))


async def test_the_entry_line(book: Book, newest: Callable[[str], Exposure | None]) -> None:
    await typed_into(book, EntryLineRoom, "lido", "enter", "pool 45min 27C", "enter")
    logged = newest("Lido quartz")
    assert logged is not None
    assert (logged.activity, logged.duration_s, logged.starts_on) == ("pool", 2700, TODAY)


async def test_a_long_burst_is_taken_in_a_moment(book: Book) -> None:
    """Letters of an answer do not wait for one another."""
    words = "rope " * 60
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await burst(pilot, ":", words)
        await wait_for(pilot, lambda: _line(app) == f"Blue bezel: {words}", "all of it stands there")


def _line(app: LogbookApp) -> str:
    return app.screen.text("line") if isinstance(app.screen, EntryLineRoom) else ""
