"""Keys at random: no room breaks, and undo brings back every row that was there before the walk."""

from __future__ import annotations

import random
import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from logbook.demo import build
from logbook.record.file.practice_file import load_practice
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.shell.room import Room
from tests.tui.helpers import HOSTILE, all_done, paste, raw_controls

DAY = date(2026, 6, 20)
WINDOWS = ((80, 24), (120, 40), (60, 20), (160, 50), (80, 24))
MOVES = (
    *("up", "down", "left", "right", "pageup", "pagedown", "home", "end", "tab", "shift+tab"),
    *("enter", "enter", "escape", "space", "backspace", "delete"),
)
ANSWERS = (
    *("21m", "38min", "17C", "sea", "12 mar", "yesterday", "dive 21m 38min sea 17C rinsed", "shower 8min"),
    *("lido: pool 60min", "10", "2026-01-02", "20 bar", "NBR", "today", "Harbour blue"),
)
LEAVES = {"q", "ctrl+q", "ctrl+c", "ctrl+z"}  # the app, or the terminal
LOGS = ("action", "change", "meta")  # what undo walks through, and the next free numbers


def rows_of(path: Path) -> dict[str, list[Any]]:
    """Table -> its rows, but for the list of changes itself."""
    with closing(sqlite3.connect(path)) as connection:
        tables = [row[0] for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        kept = [table for table in tables if table not in LOGS and not table.startswith("sqlite_")]
        return {table: sorted(map(repr, connection.execute(f"SELECT * FROM {table}"))) for table in kept}


def steps_of(path: Path) -> int:
    """How many changes undo would take back."""
    with closing(sqlite3.connect(path)) as connection:
        return int(connection.execute("SELECT count(*) FROM action WHERE undone = 0").fetchone()[0])


def some_key(dice: random.Random, app: LogbookApp, first_step: int) -> str:
    """A key that does something here: of the room, of a list, or one that moves.

    Undo stays with what the walk itself did: what was there before could not be brought back by redo once
    something else was changed.
    """
    screen = app.screen
    keys = ["escape", "enter"]
    if isinstance(screen, Room):
        keys = [key for binding in screen.room_bindings() for key in binding.key.split(",")]
    key = dice.choice([key for key in (*keys, *MOVES) if key not in LEAVES])
    return "down" if key == "z" and steps_of(app.book.path) <= first_step else key


async def walk(dice: random.Random, app: LogbookApp, pilot: Pilot[Any], keys: int) -> list[str]:
    """Press so many keys; the last of them are returned, for whoever looks for what went wrong."""
    pressed: list[str] = []
    first_step = steps_of(app.book.path)
    for n in range(keys):
        if n % 97 == 96:
            await pilot.resize_terminal(*dice.choice(WINDOWS))
        if isinstance(app.focused, Input) and dice.random() < 0.4:
            text = dice.choice(ANSWERS if dice.random() < 0.7 else HOSTILE)
            pressed.append(f"paste {text[:40]!r}")
            await paste(pilot, text)
        else:
            pressed.append(some_key(dice, app, first_step))
            await pilot.press(pressed[-1])
        if app._exception is not None or app.return_code is not None:
            break
        if n % 20 == 0:
            assert not raw_controls(app)
    return pressed[-30:]


async def walked(path: Path, seed: int, keys: int) -> None:
    """A walk through the demo, and back by undo."""
    build(path, DAY, load_practice())
    before, steps = rows_of(path), steps_of(path)
    app = LogbookApp(Book(path, DAY))
    trail: list[str] = []
    try:
        async with app.run_test(size=WINDOWS[0]) as pilot:
            await pilot.pause()
            trail = await walk(random.Random(seed), app, pilot, keys)
            await all_done(pilot)
    except Exception as reason:
        raise AssertionError(f"seed {seed} broke a room after {trail}") from reason
    assert app.return_code in (None, 0)
    book = Book(path, DAY)
    while steps_of(path) > steps:
        book.undo()
    after = rows_of(path)
    for table, rows in before.items():
        assert after[table] == rows, f"seed {seed}: {table} is not as it was"


@pytest.mark.parametrize("seed", [1, 2, 3])
async def test_keys_at_random_break_nothing_and_lose_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    monkeypatch.chdir(tmp_path)
    await walked(tmp_path / "walk.logbook", seed, 150)


@pytest.mark.release
@pytest.mark.parametrize("seed", range(100, 110))
async def test_ten_thousand_keys_at_random_break_nothing_and_lose_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    monkeypatch.chdir(tmp_path)
    await walked(tmp_path / "walk.logbook", seed, 1_000)
