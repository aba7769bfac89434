"""The fewest workshop visits as a room."""

from __future__ import annotations

from typing import Any

import pytest
from textual.pilot import Pilot

from logbook.caution import CAUTION_LINE
from logbook.model.due.visits import Visit, plan_visits, trips_of
from logbook.record.record import Book
from logbook.text import visiting
from logbook.tui.app import LogbookApp
from logbook.tui.due import visits
from tests.tui.conftest import TODAY, a_watch, passed_test, seals_of
from tests.tui.helpers import (
    LARGE,
    SMALL,
    screen_lines,
    shows,
    text_of,
    wait_for,
    wait_for_room,
    wait_for_text,
)


async def opened(pilot: Pilot[Any]) -> None:
    """The room, by its keys from the Shelf."""
    await wait_for_room(pilot, "ShelfRoom")
    await pilot.press("u")
    await wait_for_room(pilot, "DueRoom")
    await pilot.press("v")
    await wait_for_room(pilot, "VisitsRoom")


def planned(book: Book) -> list[Visit]:
    """The visits for what the book says is due, the forecast heard or not yet."""
    standings = book.standings()
    trips = trips_of(book.all_plans(), [s.record.watch for s in standings], TODAY)
    return plan_visits([service for s in standings for service in s.services], TODAY, trips)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_first_visit_is_in_view_with_its_days_and_its_work(
    book: Book, size: tuple[int, int]
) -> None:
    app = LogbookApp(book)

    def in_view() -> bool:
        plan = planned(book)
        work = [f"{watch}: {work}" for watch, work in visiting.by_watch(plan[0])]
        return shows(app, f"{len(plan)} visits are enough", visiting.when(plan[0]), *work, CAUTION_LINE)

    async with app.run_test(size=size) as pilot:
        await opened(pilot)
        await wait_for(pilot, in_view, "the first visit is in view")
        # A test that was due when the watch was added, almost two years ago.
        assert shows(app, "between 25 Nov 2026 and 26 Nov 2026; the sooner the better")
        await pilot.press("escape")
        await wait_for_room(pilot, "DueRoom")


async def test_the_rest_is_a_scroll_away(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        await pilot.press("end")
        await wait_for_text(pilot, "with a later date are left out.", CAUTION_LINE)


async def test_a_shelf_that_needs_nothing_says_so(empty_book: Book) -> None:
    """Never worn nor wound, so that its gaskets are not foretold to need anything either."""
    watch = a_watch("Fresh", bar=5, added_on=TODAY, recorded_from=TODAY, intervals_months={"strap": 60},
                    worn_h=0.0, winds=0.0)  # fmt: skip
    empty_book.add_watch(watch, seals_of(watch, TODAY), [passed_test(TODAY, 5)])
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        await wait_for_text(pilot, "No workshop visit is needed", "left out")


async def test_a_nickname_is_text_and_no_markup(empty_book: Book) -> None:
    watch = a_watch("[bold]x[/bold]", bar=5)
    empty_book.add_watch(watch, seals_of(watch))
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        await wait_for_text(pilot, "[bold]x[/bold]: ")
        assert max(map(len, screen_lines(app))) <= SMALL[0]


@pytest.mark.parametrize("width", [40, 77, 117])
def test_no_line_is_wider_than_the_window(book: Book, width: int) -> None:
    plan = planned(book)
    assert any("the sooner the better" in visiting.when(visit) for visit in plan)
    assert max(map(len, text_of(visits.lines(plan, TODAY, 3, width)).splitlines())) <= width
