"""Bringing a file in through the rooms: asked, looked at, written as one step, undone."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, time
from pathlib import Path

import pytest
from textual.pilot import Pilot

from logbook.model.values import Exposure
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.watch.log import LogPages
from tests.tui.helpers import (
    HOSTILE,
    LARGE,
    SMALL,
    paste,
    raw_controls,
    room,
    screen_lines,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    write,
)

# Half an hour after the first of the lines, and about as long and as deep.
TYPED = {"depth_m": 20, "duration_s": 2400, "starts_on": date(2026, 11, 20), "starts_at": time(10, 0)}
LINES = """\
blue bezel: dive 18m 41min 15C rinsed on 2026-11-20 09:30
blue bezel: dive 22m 38min 15C rinsed on 2026-11-20 12:00
lido: pool 60min on 2026-11-21
"""


def logged(book: Book) -> int:
    """Entries in all logs."""
    return sum(LogPages(book, record).logged for record in book.records())


@pytest.fixture
def trip(tmp_path: Path) -> Path:
    path = tmp_path / "trip.txt"
    path.write_text(LINES, encoding="utf-8")
    return path


async def ask(pilot: Pilot[int], path: Path | str) -> None:
    """From the Shelf to the questions about a file, and its path typed."""
    await wait_for_room(pilot, "ShelfRoom")
    await pilot.press("i")
    await wait_for_room(pilot, "BringInRoom")
    await write(pilot, str(path))


async def previewed(pilot: Pilot[int], path: Path) -> None:
    await ask(pilot, path)
    await pilot.press("ctrl+s")
    await wait_for_room(pilot, "PreviewRoom")


def states(app: LogbookApp) -> list[str]:
    """What becomes of each line of the preview."""
    words = ("comes in", "on record", "left out", "alike?", "struck")
    return [line[:9].strip() for line in screen_lines(app) if line[:9].strip() in words]


async def test_a_file_is_looked_at_and_then_comes_in_as_one_step(book: Book, trip: Path) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await previewed(pilot, trip)
        await wait_for_text(pilot, "3 come in", "20 Nov 2026 09:30", "Lido quartz", "dive 22 m, 38 min")
        assert states(app) == ["comes in"] * 3
        assert logged(book) == 1  # the test of the diver's, no water yet
        await pilot.press("b")
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_message(pilot, "3 exposures came in from trip.txt. z: undo")
        assert logged(book) == 4
        await pilot.press("z")
        await wait_for_message(pilot, "Undone: import 3 exposures from trip.txt")
        assert logged(book) == 1


async def test_the_same_file_again_brings_nothing(book: Book, trip: Path) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await previewed(pilot, trip)
        await pilot.press("b")
        await wait_for_room(pilot, "ShelfRoom")
        await previewed(pilot, trip)
        await wait_for_text(pilot, "0 come in, 3 on record already", "On record already: entry")
        assert states(app) == ["on record"] * 3
        await pilot.press("b")
        await wait_for_message(pilot, "Nothing of this file comes in.")


async def test_a_likeness_is_asked_about_before_anything_is_written(
    book: Book, trip: Path, log: Callable[..., Exposure]
) -> None:
    log("Blue bezel", "dive", **TYPED)
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await previewed(pilot, trip)
        await wait_for_text(pilot, "2 come in, 1 like one on record", "Is it entry")
        assert states(app) == ["alike?", "comes in", "comes in"]
        await pilot.press("down", "b")
        await wait_for_message(pilot, "One is like an exposure on record. Say first whether it is the same")
        await pilot.press("s")
        await wait_for_text(pilot, "3 come in", "both are kept")
        assert states(app) == ["comes in"] * 3
        await pilot.press("s", "l")
        await wait_for_text(pilot, "2 come in, 1 left out")
        await pilot.press("b")
        await wait_for_message(pilot, "2 exposures came in from trip.txt. z: undo")


async def test_the_one_that_it_is_like_is_told_in_the_owners_units(
    book: Book, trip: Path, log: Callable[..., Exposure], set_home: Callable[..., None]
) -> None:
    set_home(units="imperial")
    log("Blue bezel", "dive", **TYPED)
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await previewed(pilot, trip)
        await wait_for_text(pilot, "Is it entry", "dive 66 ft, 40 min")


async def test_what_changed_meanwhile_is_said_and_nothing_is_written(
    book: Book, trip: Path, log: Callable[..., Exposure]
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await previewed(pilot, trip)
        log("Blue bezel", "dive", **TYPED)
        await pilot.press("b")
        await wait_for_message(pilot, "The record was changed while you looked at the file")
        assert logged(book) == 2


async def test_one_exposure_is_left_out_and_taken_back(book: Book, trip: Path) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await previewed(pilot, trip)
        await pilot.press("down", "l")
        await wait_for_text(pilot, "2 come in, 1 left out", "Left out by you: l takes it back in.")
        assert states(app) == ["comes in", "left out", "comes in"]
        await pilot.press("l")
        await wait_for_text(pilot, "3 come in")


async def test_a_wrong_line_is_said_beside_the_question(book: Book, tmp_path: Path) -> None:
    path = tmp_path / "bad.txt"
    path.write_text("blue bezel: dive 18m 41min\nblue bezel: dive\n", encoding="utf-8")
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await ask(pilot, path)
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "bad.txt, line 2: How deep was it?")
        await wait_for_room(pilot, "BringInRoom")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("", "Which file?"),
        ("/nowhere/at/all.uddf", "could not be read: No such file or directory"),
        ("/", "Is a directory"),
    ],
)
async def test_a_file_that_is_not_there_is_said_beside_its_path(book: Book, typed: str, said: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await ask(pilot, typed)
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, said)
        await wait_for_room(pilot, "BringInRoom")


async def test_an_unknown_zone_is_said_beside_it(book: Book, trip: Path) -> None:
    from logbook.tui.widgets.field import Field

    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await ask(pilot, trip)
        app.screen.query_one("#zone", Field).fill("Middle/Nowhere")
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, "'Middle/Nowhere' is not a time zone")


async def test_whatever_is_typed_as_a_path_is_answered_in_the_room(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await ask(pilot, "")
        for text in HOSTILE:
            await pilot.press("ctrl+u", "ctrl+k")
            await paste(pilot, text)
            await pilot.press("ctrl+s")
            await pilot.pause()
            await wait_for(
                pilot, lambda: room(app) == "BringInRoom", f"{text[:40]!r} is answered in the room"
            )
            assert raw_controls(app) == [], text[:40]


async def test_escape_goes_back_and_nothing_is_written(book: Book, trip: Path) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await previewed(pilot, trip)
        await pilot.press("escape")
        await wait_for_room(pilot, "BringInRoom")
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")
        assert logged(book) == 1


async def test_a_file_without_an_exposure_says_so(book: Book, tmp_path: Path) -> None:
    path = tmp_path / "empty.txt"
    path.write_text("# nothing yet\n", encoding="utf-8")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await previewed(pilot, path)
        await wait_for_text(pilot, "0 come in", "This file holds no exposure.")
        await pilot.press("right", "a", "l", "s", "b")
        await wait_for_message(pilot, "Nothing of this file comes in.")


async def test_what_came_in_is_said_at_once_the_gravest_of_each_watch(book: Book, tmp_path: Path) -> None:
    path = tmp_path / "deep.txt"
    path.write_text(
        "blue bezel: dive 230m sure 41min on 2026-11-20\nlido: pool 60min crown under on 2026-11-21\n",
        encoding="utf-8",
    )
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await previewed(pilot, path)
        await pilot.press("b")
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_message(
            pilot,
            "2 exposures came in from deep.txt. z: undo",
            "Blue bezel: keep it dry: a dive to 230 m on 20 Nov 2026 went above its mark",
            "Lido quartz: keep it dry: a swim in the pool to 1.5 m on 21 Nov 2026 had its crown used",
        )
