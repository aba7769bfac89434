"""Pictures in the Watch room: a dive with its profile, and the days with water of a year."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from logbook.caution import CAUTION_LINE
from logbook.model.values import ProfilePoint
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from tests.tui.conftest import a_watch
from tests.tui.helpers import SMALL, press_all, raw_controls, screen_lines, shows, wait_for, wait_for_text
from tests.tui.watching import DIVE, IdOf, Log, opened, to_the_log

SHAPE = [(0, 0.0, 20.0), (5, 21.0, 12.0), (15, 6.0, 18.0), (20, 18.0, 11.0), (38, 0.0, 19.0)]


def with_profile() -> dict[str, Any]:
    return DIVE | {"profile": [ProfilePoint(at * 60, depth, celsius) for at, depth, celsius in SHAPE]}


async def test_a_dive_and_the_year_it_was_in_are_seen_and_said_in_a_small_window(
    book: Book, id_of: IdOf, log: Log
) -> None:
    log("Blue bezel", "swim", starts_on=date(2025, 7, 9), depth_m=1.5, duration_s=1200)
    log("Blue bezel", "dive", **with_profile())
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await to_the_log(pilot)
        await pilot.press("enter")
        await wait_for_text(pilot, "deepest 21 m after 5 min; coldest 11 °C", "21 m┤", "└0─", "11 °C┤")
        assert shows(app, "seal: took", "cycles of pressure", CAUTION_LINE)
        assert all(len(line) <= SMALL[0] for line in screen_lines(app))
        await pilot.press("down", "down")
        await wait_for_text(pilot, "swim 1.5 m, 20 min", "before its seals were fitted")
        assert not shows(app, "profile of")

        await pilot.press("Y")
        await wait_for_text(
            pilot, "2026: 1 day with water, 38 min; the costliest day 22 Nov took", "Jan Feb Mar"
        )
        assert shows(app, "of 100 a day, blank: not on record, or still to come", CAUTION_LINE)
        sunday = next(line for line in screen_lines(app) if line.strip().startswith("Sun "))
        assert "█" in sunday  # 22 Nov 2026
        await pilot.press("left_square_bracket")
        await wait_for_text(pilot, "2025: 1 day with water, 20 min; the longest day 9 Jul")
        await press_all(pilot, ["right_square_bracket", "right_square_bracket"])
        await wait_for_text(pilot, "2026: 1 day with water")  # there is none after this one
        assert raw_controls(app) == []
        await pilot.press("Y")
        await wait_for(pilot, lambda: not shows(app, "with water"), "the year is put away")
        await pilot.press("left_square_bracket")
        assert not shows(app, "with water")


@pytest.mark.parametrize("size", [(120, 40), (160, 50)])
async def test_in_a_large_window_the_dive_the_year_and_the_log_are_in_view_together(
    book: Book, id_of: IdOf, log: Log, size: tuple[int, int]
) -> None:
    log("Blue bezel", "dive", **with_profile())
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await to_the_log(pilot)
        if size[0] < 140:  # where there is more room it stands there already
            await pilot.press("enter")
        await wait_for_text(pilot, "21 m┤", "11 °C┤", "other seals: ", "took, of 100")
        await pilot.press("Y")
        await wait_for_text(
            pilot, "2026: 1 day with water", "Mon ", "Sun ", "days by month: Nov 1", "took, of 100"
        )


async def test_a_watch_without_a_seal_has_its_year_by_minutes(empty_book: Book) -> None:
    key = empty_book.add_watch(a_watch("Bare", bar=5), [])
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, key, "score not known")
        await pilot.press("Y")
        await wait_for_text(pilot, "2026: no day with water on record.", "· dry", CAUTION_LINE)
