"""Keys go on whatever is read or written: nothing slow is done where they are, and a wait can be left."""

from __future__ import annotations

import asyncio
import sqlite3
import threading
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import asynccontextmanager, contextmanager
from datetime import date
from typing import Any

import pytest
from textual.pilot import Pilot

from logbook.model.values import Exposure, HomeWater, Settings
from logbook.record.ledger import ledger
from logbook.record.record import Book
from logbook.record.schema import revision
from logbook.record.writing import undo
from logbook.tui.app import LogbookApp
from logbook.tui.check.room import CheckRoom
from logbook.tui.shell import background
from logbook.tui.shell.background import Background
from logbook.tui.shell.room import LEFT
from logbook.tui.watch import panels
from logbook.tui.water.amend import AmendRoom
from tests.tui.helpers import (
    LARGE,
    PATIENCE_S,
    SMALL,
    all_done,
    press_all,
    room,
    shows,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
)
from tests.tui.rooms import ROOMS
from tests.tui.watching import DIVE, IdOf, Log, to_the_log

REST_S = 0.005
WAITS = "The record is in use: waiting for it. esc: leave it"


class Held:
    """Work that waits until the test lets it go on; on the thread of the keys it fails."""

    def __init__(self, do: Callable[..., Any]) -> None:
        self._do = do
        self._keys = threading.get_ident()
        self._go = threading.Event()
        self.begun = threading.Event()

    def __call__(self, *args: Any, **more: Any) -> Any:
        assert threading.get_ident() != self._keys, "the keys would stand still meanwhile"
        self.begun.set()
        assert self._go.wait(PATIENCE_S), "nobody let it go on"
        return self._do(*args, **more)

    def let_go(self) -> None:
        self._go.set()


@contextmanager
def held_up(monkeypatch: pytest.MonkeyPatch, owner: object, name: str) -> Iterator[Held]:
    """One function waits in its thread, at the latest until the end; the keys need not wait for it."""
    held = Held(getattr(owner, name))
    monkeypatch.setattr(owner, name, held)
    monkeypatch.setattr(background, "KEYS_WAIT_S", 0)
    try:
        yield held
    finally:
        held.let_go()


class Heart:
    """Beats whenever the loop of the keys comes round; the test steps a clock that counts missed beats.

    It rests between two beats: the pilot waits until the processor does.
    """

    def __init__(self) -> None:
        self._beats = 0
        self._seen = 0
        self.missed = 0

    async def beat(self) -> None:
        while True:
            self._beats += 1
            await asyncio.sleep(REST_S)

    def step(self) -> None:
        """The clock goes on: since the last step there was a beat, or one was missed."""
        self.missed += self._beats == self._seen
        self._seen = self._beats


@asynccontextmanager
async def beating() -> AsyncIterator[Heart]:
    heart = Heart()
    task = asyncio.create_task(heart.beat())
    try:
        yield heart
    finally:
        task.cancel()


async def live_on(pilot: Pilot[Any]) -> None:
    """Keys are pressed, do what they do, and no beat is missed."""
    async with beating() as heart:
        before = room(pilot.app)
        await pilot.press("f1")
        heart.step()
        await wait_for_room(pilot, "HelpRoom")
        await press_all(pilot, ["down", "pagedown", "home"])
        heart.step()
        await pilot.press("f1")
        heart.step()
        await wait_for_room(pilot, before)
        assert heart.missed == 0


async def in_room(pilot: Pilot[Any], name: str, book: Book) -> None:
    """A room on top of the Shelf."""
    await wait_for_text(pilot, "4 watches")
    await all_done(pilot)
    if name != "ShelfRoom":
        pilot.app.screen.enter(ROOMS[name](book))  # type: ignore[attr-defined]
        await wait_for_room(pilot, name)


# What is done to the record: the room, its keys, the function that does it, what is said then.
CHANGES = [
    ("ShelfRoom", "z", "undo", "Undone: log dive"),
    ("ShelfRoom", "o", "wear", "Worn today: Blue bezel"),
    ("ChangesRoom", "z", "undo", "Undone: log dive"),
    ("WatchRoom", "N", "do", "Nothing else happened up to today."),
    ("WatchEditRoom", "ctrl+r", "retire", "is off the shelf"),
    ("SnoozeRoom", "ctrl+s", "do", "Snoozed until"),
    ("WornRoom", "ctrl+s", "wear", "Worn on"),
    ("HabitFormRoom", "s h o w e r ctrl+s", "do", "A habit from now on"),
    ("EntryLineRoom", "l i d o colon space p o o l ctrl+s", "log", "Lido quartz: Logged"),
    ("WelcomeRoom", "N e w ctrl+s", "add_watch", "New is on the shelf"),
    ("SettingsRoom", "right ctrl+s", "change_settings", "The settings are changed."),
    ("RecordStartRoom", "y", "do", "has its water on record from"),
]


@pytest.mark.parametrize(("name", "keys", "does", "said"), CHANGES)
async def test_keys_go_on_while_a_change_is_written(
    book: Book, log: Log, monkeypatch: pytest.MonkeyPatch, name: str, keys: str, does: str, said: str
) -> None:
    log("Blue bezel", "dive", **DIVE)
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await in_room(pilot, name, book)
        with held_up(monkeypatch, book, does) as held:
            await press_all(pilot, keys.split())
            await wait_for(pilot, held.begun.is_set, f"{does} has begun")
            await live_on(pilot)
            await wait_for_text(pilot, "Undoing …" if does == "undo" else "Writing it down …")
            held.let_go()
            await wait_for_message(pilot, said)
        await all_done(pilot)
        assert not shows(app, "Undoing …")
        assert not shows(app, "Writing it down …")


async def test_keys_go_on_while_water_is_amended(
    book: Book, log: Log, newest: Callable[[str], Exposure | None], monkeypatch: pytest.MonkeyPatch
) -> None:
    log("Blue bezel", "dive", **DIVE)
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await in_room(pilot, "ShelfRoom", book)
        entry = newest("Blue bezel")
        assert entry is not None
        app.screen.enter(AmendRoom(entry, book.records()[0]))  # type: ignore[attr-defined]
        await wait_for_room(pilot, "AmendRoom")
        with held_up(monkeypatch, book, "amend") as held:
            await press_all(pilot, ["space", *"crown", "space", *"wet", "ctrl+s"])
            await wait_for(pilot, held.begun.is_set, "it is being written")
            await live_on(pilot)
            held.let_go()
            await wait_for_message(pilot, "Amended: 22 Nov 2026: dive")
        await wait_for_room(pilot, "ShelfRoom")


async def test_a_redo_holds_no_key_up(book: Book, log: Log, monkeypatch: pytest.MonkeyPatch) -> None:
    log("Blue bezel", "dive", **DIVE)
    book.undo()
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await in_room(pilot, "ShelfRoom", book)
        with held_up(monkeypatch, book, "redo") as held:
            await pilot.press("y")
            await wait_for(pilot, held.begun.is_set, "it is being done again")
            await live_on(pilot)
            held.let_go()
            await wait_for_message(pilot, "Done again: log dive")


@pytest.mark.looks_ahead
@pytest.mark.parametrize(
    ("key", "does", "shown"),
    [("h", "read_since", "what happened:"), ("f", "levers_of", "each alone, from")],
)
async def test_what_takes_long_to_work_out_holds_no_key_up(
    book: Book, log: Log, monkeypatch: pytest.MonkeyPatch, key: str, does: str, shown: str
) -> None:
    log("Blue bezel", "dive", **DIVE)
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await in_room(pilot, "WatchRoom", book)
        with held_up(monkeypatch, panels, does) as held:
            await pilot.press(key)
            await wait_for(pilot, held.begun.is_set, f"{does} has begun")
            await live_on(pilot)
            held.let_go()
            await wait_for_text(pilot, shown)


@pytest.mark.parametrize("does", ["_foresee", "_band_maker"])
async def test_the_answers_of_a_check_hold_no_key_up(
    book: Book, id_of: IdOf, monkeypatch: pytest.MonkeyPatch, does: str
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await in_room(pilot, "ShelfRoom", book)
        check = CheckRoom(id_of("Blue bezel"))
        app.screen.enter(check)  # type: ignore[attr-defined]
        await wait_for_room(pilot, "CheckRoom")
        await all_done(pilot)
        check._bands = None
        with held_up(monkeypatch, check, does) as held:
            await press_all(pilot, ["tab", *"12m"])
            await wait_for(pilot, held.begun.is_set, "an answer is being worked out")
            await live_on(pilot)
            held.let_go()
            await all_done(pilot)
            assert check.answered is not None
            assert check.answered.plan is not None
            assert check.answered.plan.depth_m == 12


# ---------------------------------------------------------------- what goes wrong, and what is asked last


async def begin(app: LogbookApp, do: Callable[[background.Tell], Any], **more: Any) -> Background:
    work = Background(app, **more)
    work.begin(do, lambda found: app.say(f"found {found}"))
    return work


async def test_whatever_goes_wrong_is_a_sentence_over_the_room(book: Book) -> None:
    def wrong(_: background.Tell) -> None:
        raise ZeroDivisionError("seven by nought")

    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        work = await begin(app, wrong)
        await wait_for_message(pilot, "This could not be done: ZeroDivisionError, seven by nought.")
        assert app.is_running
        assert not work.busy


async def test_only_the_newest_of_what_is_asked_is_answered(book: Book) -> None:
    asked: list[int] = []

    def question(number: int) -> Callable[[background.Tell], int]:
        def answer(_: background.Tell) -> int:
            asked.append(number)
            return number

        return answer

    app = LogbookApp(book)
    said: list[int] = []
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches")
        work = Background(app, newest_only=True)
        first = Held(question(1))
        work.begin(first, said.append)
        await wait_for(pilot, first.begun.is_set, "the first is being answered")
        for number in (2, 3, 4):
            work.begin(question(number), said.append)
        first.let_go()
        await all_done(pilot)
        assert asked == [1, 4]
        assert said == [4]


async def test_all_that_is_begun_in_turn_is_done_in_turn(book: Book) -> None:
    app = LogbookApp(book)
    said: list[int] = []
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches")
        work = Background(app)
        for number in (1, 2, 3):
            work.begin(lambda _, number=number: number, said.append)  # type: ignore[misc]
        await all_done(pilot)
        assert said == [1, 2, 3]


# ---------------------------------------------------------------- a record that another program holds


@pytest.fixture
def other(book: Book) -> Iterator[sqlite3.Connection]:
    """Another program that holds the record from `BEGIN EXCLUSIVE` to `COMMIT`."""
    connection = revision.connect(book.path)
    yield connection
    connection.close()


async def test_moving_under_anothers_lock_says_so_and_shows_all_once_it_is_free(
    book: Book, other: sqlite3.Connection
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await in_room(pilot, "ShelfRoom", book)
        other.execute("BEGIN EXCLUSIVE")
        await pilot.press("down")
        await wait_for_text(pilot, WAITS)
        await live_on(pilot)
        assert shows(app, WAITS)
        other.execute("COMMIT")
        await wait_for_text(pilot, "Gran's chrono: no water on record")
        assert not shows(app, WAITS)


async def test_a_room_that_is_asked_for_opens_once_the_record_is_free(
    book: Book, other: sqlite3.Connection
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await in_room(pilot, "ShelfRoom", book)
        for key, name in (
            ("enter", "WatchRoom"),
            ("w", "ExposureRoom"),
            ("c", "CheckRoom"),
            ("e", "EventRoom"),
        ):
            other.execute("BEGIN EXCLUSIVE")
            await pilot.press(key)
            await wait_for_text(pilot, WAITS)
            assert room(app) == "ShelfRoom"
            other.execute("COMMIT")
            await wait_for_room(pilot, name)
            await all_done(pilot)
            await pilot.press("escape")
            await wait_for_room(pilot, "ShelfRoom")
            await all_done(pilot)


async def test_the_bench_has_the_home_water_while_another_holds_the_record(
    book: Book, other: sqlite3.Connection
) -> None:
    book.change_settings(Settings(home=HomeWater(latitude_deg=12.0)))
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await in_room(pilot, "ShelfRoom", book)
        book.forget()
        other.execute("BEGIN EXCLUSIVE")
        await pilot.press("b")
        await wait_for_room(pilot, "BenchRoom")
        await wait_for_text(pilot, "12, as at home")
        other.execute("COMMIT")


async def test_escape_leaves_a_wait_for_the_record(book: Book, other: sqlite3.Connection) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await in_room(pilot, "ShelfRoom", book)
        other.execute("BEGIN EXCLUSIVE")
        await pilot.press("enter")
        await wait_for_text(pilot, WAITS)
        await pilot.press("escape")
        await wait_for_message(pilot, "Left: the record is in use by another program")
        await all_done(pilot)
        assert not shows(app, WAITS)
        assert room(app) == "ShelfRoom"
        other.execute("COMMIT")
        await pilot.press("enter")
        await wait_for_room(pilot, "WatchRoom")


@pytest.mark.parametrize("what", ["BEGIN IMMEDIATE", "BEGIN EXCLUSIVE"])
async def test_a_change_waits_for_the_record_and_can_be_left(
    book: Book, other: sqlite3.Connection, what: str
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await in_room(pilot, "ShelfRoom", book)
        other.execute(what)
        await pilot.press("z")
        await wait_for_text(pilot, WAITS)
        await pilot.press("escape")
        await wait_for_message(pilot, LEFT)
        await all_done(pilot)
        assert len(book.watches()) == 4
        await pilot.press("z")
        await wait_for_text(pilot, WAITS)
        other.execute("COMMIT")
        await wait_for_message(pilot, "Undone: add Sunday dress")
        await wait_for_text(pilot, "3 watches")


async def test_a_form_that_was_left_while_it_waited_can_be_saved_again(
    book: Book, other: sqlite3.Connection
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await in_room(pilot, "SnoozeRoom", book)
        other.execute("BEGIN IMMEDIATE")
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, WAITS)
        await pilot.press("escape")
        await wait_for_message(pilot, LEFT)
        assert room(app) == "SnoozeRoom"
        other.execute("COMMIT")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_message(pilot, "Snoozed until")


async def test_a_log_that_is_scrolled_under_anothers_lock_is_read_later(
    book: Book, log: Log, other: sqlite3.Connection
) -> None:
    for n in range(80):
        log("Blue bezel", "dive", **(DIVE | {"starts_on": date(2026, 8, 1 + n % 28)}))
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await in_room(pilot, "WatchRoom", book)
        await to_the_log(pilot)
        other.execute("BEGIN EXCLUSIVE")
        await pilot.press("end")
        await wait_for_text(pilot, WAITS)
        other.execute("COMMIT")
        await wait_for(pilot, lambda: not shows(app, WAITS), "the record is free")
        await wait_for_text(pilot, "pressure test")


async def test_an_undo_that_takes_long_says_how_far_it_is_and_can_be_left(
    book: Book, log: Log, monkeypatch: pytest.MonkeyPatch
) -> None:
    log("Blue bezel", "dive", **DIVE)
    monkeypatch.setattr(undo, "MUCH", 1)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await in_room(pilot, "ShelfRoom", book)
        with held_up(monkeypatch, ledger, "settle") as held:
            monkeypatch.setattr(background, "KEYS_WAIT_S", PATIENCE_S)  # it says itself that it takes long
            await pilot.press("z")
            await wait_for(pilot, held.begun.is_set, "it is being undone")
            await wait_for_text(pilot, "Undoing … 0 of ", "esc: leave it")
            await live_on(pilot)
            await pilot.press("escape")
            await wait_for_text(pilot, "Leaving …")
            held.let_go()
            await wait_for_message(pilot, LEFT)
        await all_done(pilot)
        assert len(book.exposures(book.watches()[0].id or 0)) == 1
        await pilot.press("z")
        await wait_for_message(pilot, "Undone: log dive")
        assert book.exposures(book.watches()[0].id or 0) == []
