"""What happened since the last pass, in the Watch room."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from logbook.caution import CAUTION_LINE
from logbook.model.values import Event
from logbook.record.record import Book
from logbook.text.happened import NOT_PROOF
from logbook.tui.app import LogbookApp
from tests.tui.conftest import passed_test
from tests.tui.helpers import LARGE, SMALL, shows, wait_for, wait_for_text
from tests.tui.watching import DIVE, IdOf, Log, opened, to_the_log

BEGAN = "crown seal from 1 May 2026 (last passed pressure test)"


def fog(watch_id: int) -> Event:
    """Fog, seen the day after the dive."""
    return Event("fog", date(2026, 11, 23), 60, watch_id=watch_id)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_a_key_tells_it_and_puts_it_away(
    book: Book, id_of: IdOf, log: Log, size: tuple[int, int]
) -> None:
    log("Blue bezel", "dive", **DIVE)
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        assert not shows(app, BEGAN)
        await pilot.press("h")
        await wait_for_text(
            pilot,
            f"what happened: {BEGAN} to 25 Nov 2026 (today)",
            "Ageing had the largest part of the wear since the last passed pressure test",
            NOT_PROOF,
            "22 Nov 2026 dive 21 m, 38 min, sea 17 °C, rinsed",
            CAUTION_LINE,
        )
        await pilot.press("h")
        await wait_for(pilot, lambda: not shows(app, BEGAN), "it is put away")


async def test_a_fault_tells_it_at_once_in_a_wide_window_below_the_log(
    book: Book, id_of: IdOf, log: Log
) -> None:
    log("Blue bezel", "dive", **DIVE)
    book.add_events([fog(id_of("Blue bezel"))])
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await wait_for_text(pilot, f"{BEGAN} to 23 Nov 2026 (fog was seen)", NOT_PROOF, CAUTION_LINE)
        assert shows(app, "keep it dry: fog was seen inside", "log: 3 entries")
        await pilot.press("escape")
        await wait_for(pilot, lambda: not shows(app, BEGAN), "it is put away")
        assert shows(app, "h: what happened; ageing had the largest part (bookkeeping, no proof)")


async def test_a_fault_leads_to_it_in_a_small_window_beside_the_stop_rule(
    book: Book, id_of: IdOf, log: Log
) -> None:
    log("Blue bezel", "dive", **DIVE)
    book.add_events([fog(id_of("Blue bezel"))])
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        assert shows(app, "keep it dry: fog was seen inside", "h: what happened; ageing had the largest part")
        await pilot.press("h")
        await wait_for_text(pilot, f"{BEGAN} to 23 Nov 2026 (fog was seen)", NOT_PROOF, CAUTION_LINE)


async def test_a_failed_test_tells_it_too(book: Book, id_of: IdOf) -> None:
    key = id_of("Blue bezel")
    book.add_events([Event("pressure-test", date(2026, 11, 20), 40, passed=False, watch_id=key)])
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened(pilot, key)
        await wait_for_text(pilot, f"{BEGAN} to 20 Nov 2026 (a pressure test failed)")


async def test_it_goes_when_the_trouble_is_over(book: Book, id_of: IdOf) -> None:
    key = id_of("Blue bezel")
    book.add_events([fog(key)])
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened(pilot, key)
        await wait_for_text(pilot, BEGAN)
        mended = Event("opened", date(2026, 11, 24), 10, watch_id=key)  # a pass alone does not dry it
        book.add_events([mended, replace(passed_test(date(2026, 11, 24), 20), watch_id=key)])
        app.screen.reload()  # type: ignore[attr-defined]
        await wait_for(pilot, lambda: not shows(app, "what happened:"), "it is gone")
        assert not shows(app, "h: what happened;")


async def test_the_working_takes_its_place_and_gives_it_back(book: Book, id_of: IdOf, log: Log) -> None:
    log("Blue bezel", "dive", **DIVE)
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await pilot.press("h")
        await wait_for_text(pilot, BEGAN)
        await pilot.press("enter")
        await wait_for_text(pilot, "share used, by channel of 100 assumed")
        assert not shows(app, BEGAN)
        await to_the_log(pilot)
        await pilot.press("h")
        await wait_for_text(pilot, BEGAN, "22 Nov 2026")


async def test_a_struck_exposure_is_no_longer_told_of(book: Book, id_of: IdOf, log: Log) -> None:
    log("Blue bezel", "dive", **DIVE)
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await pilot.press("h")
        await wait_for_text(pilot, "The exposures with the largest part")
        await to_the_log(pilot)
        await pilot.press("x")
        await wait_for_text(pilot, "No exposure on record in this time added to it.")
