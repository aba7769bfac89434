"""The preview of a UDDF file: whose dives they were is chosen there, one by one or for all."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest
from textual.pilot import Pilot

from logbook.model.values import ProfilePoint
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.files.preview import PreviewRoom
from tests.files.uddf.writing import Written, uddf
from tests.tui.helpers import LARGE, SMALL, wait_for, wait_for_message, wait_for_room, wait_for_text, write

START = datetime(2026, 11, 3, 9, 40)
PROFILE = (ProfilePoint(0.0, 0.0), ProfilePoint(60.0, 18.0, 14.0), ProfilePoint(2400.0, 0.0))


@pytest.fixture
def trip(tmp_path: Path) -> Path:
    path = tmp_path / "trip.uddf"
    made = [Written(f"d{n}", START + timedelta(days=n), 18.0, 2400.0, points=PROFILE) for n in range(3)]
    path.write_bytes(uddf([*made, Written("deep", START, 700.0, 2400.0)]))
    return path


async def previewed(pilot: Pilot[int], path: Path) -> PreviewRoom:
    await wait_for_room(pilot, "ShelfRoom")
    await pilot.press("i")
    await wait_for_room(pilot, "BringInRoom")
    await write(pilot, str(path))
    await pilot.press("ctrl+s")
    await wait_for_room(pilot, "PreviewRoom")
    room = pilot.app.screen
    assert isinstance(room, PreviewRoom)
    return room


def watches(room: PreviewRoom) -> list[str | None]:
    return [item.watch.name if item.watch else None for item in room.inbox.items]


async def test_the_watch_under_the_cursor_of_the_shelf_is_offered(book: Book, trip: Path) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await previewed(pilot, trip)
        await wait_for_text(pilot, "3 come in, 1 left out", "3 Nov 2026 09:40", "Blue bezel")
        await wait_for_text(pilot, "With a profile of 3 points.")


async def test_a_watch_is_chosen_for_one_dive_and_for_all(book: Book, trip: Path) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        room = await previewed(pilot, trip)
        await pilot.press("down", "right")
        await wait_for(
            pilot, lambda: watches(room)[1] == "Gran's chrono", "the second dive has another watch"
        )
        assert watches(room)[:3] == ["Blue bezel", "Gran's chrono", "Blue bezel"]
        await pilot.press("a")
        await wait_for(pilot, lambda: watches(room)[:3] == ["Gran's chrono"] * 3, "all have it")
        await pilot.press("left", "left")
        await wait_for(pilot, lambda: watches(room)[1] is None, "it goes round to no watch")
        await wait_for_text(pilot, "2 come in, 2 left out", "No watch was named for it.")


async def test_a_dive_that_cannot_come_in_says_why(book: Book, trip: Path) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await previewed(pilot, trip)
        await pilot.press("end")
        await wait_for_text(pilot, "Left out:", "700")


async def test_the_dives_come_in_with_their_profiles(book: Book, trip: Path) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await previewed(pilot, trip)
        await pilot.press("b")
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_message(pilot, "3 exposures came in from trip.uddf. z: undo")
    dive = book.last_exposure(1)
    assert dive is not None
    assert book.with_profile(dive).profile == PROFILE


async def test_leaving_while_it_is_written_leaves_the_record_as_it_was(book: Book, tmp_path: Path) -> None:
    path = tmp_path / "many.uddf"
    path.write_bytes(
        uddf(
            Written(f"d{n}", START - timedelta(hours=6 * n), 18.0, 2400.0, points=PROFILE) for n in range(900)
        )
    )
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room = await previewed(pilot, path)
        room.action_bring_in()
        room.action_back()
        await wait_for_message(pilot, "Left: nothing was written.")
        assert isinstance(app.screen, PreviewRoom)
    assert book.last_exposure(1) is None


async def test_a_dive_from_before_the_water_is_on_record_says_that_it_costs_nothing(
    book: Book, tmp_path: Path
) -> None:
    path = tmp_path / "old.uddf"
    path.write_bytes(uddf([Written("old", datetime(2024, 5, 1, 10, 0), 18.0, 2400.0)]))
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await previewed(pilot, path)
        await wait_for_text(pilot, "1 of Blue bezel is from before 1 Jan 2025", "kept, but not charged")
