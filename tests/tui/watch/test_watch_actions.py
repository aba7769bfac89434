"""What one can do in the Watch room: strike, confirm, undo, and go to other rooms."""

from __future__ import annotations

from datetime import date

import pytest

from logbook.caution import CAUTION_LINE
from logbook.model.values import Event
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.watch.room import WatchRoom
from tests.tui.conftest import TODAY, a_watch, seals_of
from tests.tui.foretelling import opened_ahead
from tests.tui.helpers import (
    SMALL,
    press_all,
    screen_lines,
    shows,
    wait_for,
    wait_for_room,
    wait_for_text,
)
from tests.tui.watching import DIVE, IdOf, Log, opened, to_the_log

pytestmark = pytest.mark.looks_ahead


async def test_strike_takes_an_entry_away_and_undo_brings_it_back(book: Book, id_of: IdOf, log: Log) -> None:
    log("Blue bezel", "dive", **DIVE)
    key = id_of("Blue bezel")
    before = book.standing(key)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, key)
        await to_the_log(pilot)
        await pilot.press("x")
        await wait_for_text(pilot, "Struck: dive 21 m, 38 min", "z: undo")
        assert book.exposures(key) == []
        await pilot.press("z")
        await wait_for_text(pilot, "Undone:", "log: 2 entries")
        assert book.standing(key).record.totals == before.record.totals


async def test_strike_takes_an_event_and_its_seals_away(book: Book, id_of: IdOf) -> None:
    key = id_of("Blue bezel")
    book.add_events([Event("gaskets", date(2026, 7, 1), 20, seals=(("crown", "FKM"),), watch_id=key)])
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, key)
        assert shows(app, "crown FKM 1 Jul 2026")
        await to_the_log(pilot)
        assert shows(app, "gaskets replaced, crown (FKM) new seals")
        await pilot.press("x")
        await wait_for_text(pilot, "crown NBR 1 Mar 2026")


async def test_strike_outside_the_log_strikes_nothing_and_says_where_it_works(
    book: Book, id_of: IdOf, log: Log
) -> None:
    log("Blue bezel", "dive", **DIVE)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await pilot.press("x")
        await wait_for_text(pilot, "x strikes an entry of the log")
        assert len(book.exposures(id_of("Blue bezel"))) == 1


async def test_confirm_says_that_nothing_else_happened_up_to_today(book: Book, id_of: IdOf) -> None:
    key = id_of("Lido quartz")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, key)
        assert shows(app, "nothing was logged or confirmed for 693 days")
        await pilot.press("N")
        await wait_for_text(pilot, "Nothing else happened up to today")
        await wait_for(pilot, lambda: not shows(app, "for 693 days"), "the rule is silent")
        assert book.standing(key).record.watch.confirmed_on == TODAY
        await pilot.press("z")
        await wait_for_text(pilot, "nothing was logged or confirmed for 693 days")


@pytest.mark.parametrize(("key", "name"), [("w", "ExposureRoom"), ("c", "CheckRoom"), ("e", "EventRoom")])
async def test_a_key_leads_to_another_room_and_escape_back(
    book: Book, id_of: IdOf, key: str, name: str
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await pilot.press(key)
        await wait_for_room(pilot, name)
        await wait_for_text(pilot, "Blue bezel", CAUTION_LINE)
        await pilot.press("escape")
        await wait_for_room(pilot, "WatchRoom")


async def test_undoing_the_watch_itself_leads_back_to_the_shelf(book: Book) -> None:
    watch = a_watch("Newcomer", bar=5)
    key = book.add_watch(watch, seals_of(watch))
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, key)
        await pilot.press("z")
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_text(pilot, "This watch is no longer")
        assert not any(line.startswith(" Newcomer") for line in screen_lines(app))


async def test_a_change_in_another_window_is_seen_on_the_way_back(book: Book, id_of: IdOf, log: Log) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        assert shows(app, "log: 1 entry")
        await pilot.press("question_mark")
        await wait_for_room(pilot, "HelpRoom")
        log("Blue bezel", "dive", **DIVE)
        await pilot.press("escape")
        await wait_for_text(pilot, "log: 2 entries")


async def test_entries_that_another_window_took_away_leave_no_hole(book: Book, id_of: IdOf, log: Log) -> None:
    key = id_of("Blue bezel")
    for day in range(1, 6):
        log("Blue bezel", "dive", **(DIVE | {"starts_on": date(2026, 11, day)}))
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened_ahead(pilot, key)  # after which the room is not read anew by itself
        await to_the_log(pilot)
        screen = app.screen
        assert isinstance(screen, WatchRoom)
        other = Book(book.path, TODAY)
        for exposure in other.exposures(key, limit=5):
            other.strike(exposure.id or 0)
        assert screen._log is not None
        screen._log.pages.clear()
        screen.query_one("#log").refresh()
        await wait_for_text(pilot, "no longer on record")
        await press_all(pilot, ["end", "enter", "x"])
        await wait_for_text(pilot, "log: 1 entry")


async def test_a_watch_that_another_window_took_away_is_told_in_words(book: Book) -> None:
    watch = a_watch("Newcomer", bar=5)
    key = book.add_watch(watch, seals_of(watch))
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened_ahead(pilot, key)  # after which the room is not read anew by itself
        Book(book.path, TODAY).undo()
        await pilot.press("e")
        await wait_for_text(pilot, "This watch is no longer")
        await wait_for_room(pilot, "ShelfRoom")
