"""A record of before these rules: what reads otherwise is told once, when it is opened first."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from logbook.caution import CAUTION_LINE
from logbook.model.values import Event
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.events.room import EventRoom
from tests.tui.conftest import TODAY
from tests.tui.helpers import (
    LARGE,
    SMALL,
    room,
    screen_lines,
    shows,
    told,
    wait_for,
    wait_for_room,
    wait_for_text,
)

pytestmark = pytest.mark.looks_ahead

OLD = Path(__file__).parents[2] / "record" / "fixtures" / "record-0002.logbook"
# In that record the pressure test of Blue bezel failed, and it passed on the day after with nothing opened.
FAILED = "a pressure test failed on 25 Feb 2026"
SETTLED = "the pass of 26 Feb 2026 used to settle it"


@pytest.fixture
def old(tmp_path: Path) -> Book:
    """A record of revision 0002, opened with these rules for the first time."""
    path = tmp_path / "old.logbook"
    shutil.copyfile(OLD, path)
    path.chmod(0o600)
    return Book(path, TODAY)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_it_is_shown_at_the_start_and_names_the_watch_and_why(old: Book, size: tuple[int, int]) -> None:
    app = LogbookApp(old)
    async with app.run_test(size=size) as pilot:
        await wait_for_room(pilot, "OtherwiseRoom")
        await wait_for_text(pilot, "What reads otherwise now 1 watch", "Blue bezel", CAUTION_LINE)
        assert told(app, "#detail") == (
            f"– {FAILED}; it passed on 26 Feb 2026 with nothing opened: test it again on another day; "
            f"{SETTLED} {FAILED}: was it opened then, and when? e: log it"
        )
        await wait_for_text(pilot, FAILED, SETTLED, "was it opened then, and when?", "a fault stands until")
        assert not shows(app, "Field watch")
        keys = screen_lines(app)[-1]
        assert all(key in keys for key in ("e it was opened", "esc back", "? help"))


async def test_it_is_left_with_escape_and_not_shown_again(old: Book) -> None:
    async with LogbookApp(old).run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "OtherwiseRoom")
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_text(pilot, "Blue bezel")
    assert not old.reads_otherwise()
    again = LogbookApp(Book(old.path, TODAY))
    async with again.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "Blue bezel")
        assert room(again) == "ShelfRoom"


async def test_one_who_quits_before_leaving_it_is_told_again(old: Book) -> None:
    async with LogbookApp(old).run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "OtherwiseRoom")
    async with LogbookApp(Book(old.path, TODAY)).run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "OtherwiseRoom")


async def test_e_logs_the_opening_and_then_nothing_reads_otherwise(old: Book) -> None:
    app = LogbookApp(old)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "OtherwiseRoom")
        await wait_for_text(pilot, FAILED)
        await pilot.press("e")
        await wait_for_room(pilot, "EventRoom")
        form = app.screen
        assert isinstance(form, EventRoom)
        assert (form.kind, form.names) == ("opened", ["Blue bezel"])
        form.question("on").asked.fill("2026-02-26")  # type: ignore[union-attr]
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "OtherwiseRoom")
        await wait_for_text(pilot, "none any more")
        await pilot.press("e", "enter")  # with no watch under the cursor they do nothing
        await wait_for_room(pilot, "OtherwiseRoom")
        assert any(e.kind == "opened" and f"{e.on}" == "2026-02-26" for e in old.standings()[0].record.events)


async def test_enter_opens_the_watch(old: Book) -> None:
    async with LogbookApp(old).run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "OtherwiseRoom")
        await wait_for_text(pilot, FAILED)
        await pilot.press("enter")
        await wait_for_room(pilot, "WatchRoom")
        await wait_for_text(pilot, "logbook · Watch: Blue bezel")
        await pilot.press("escape")
        await wait_for_room(pilot, "OtherwiseRoom")


async def test_many_watches_with_many_faults_fit_a_small_window(book: Book) -> None:
    names = [watch.name for watch in book.watches()]
    for watch in book.watches():
        faults = [Event("fog", TODAY.replace(month=month), 60, watch_id=watch.id) for month in range(2, 8)]
        passed = Event("pressure-test", TODAY.replace(month=9), 40, passed=True, test_pa=2e6, medium="water",
                       watch_id=watch.id)  # fmt: skip
        book.add_events([*faults, passed])
    with book.writing() as store, store.transaction() as session:
        from logbook.record.reading.sql import run

        run(session, "UPDATE meta SET rules_told = 0")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "OtherwiseRoom")
        await wait_for_text(pilot, f"{len(names)} watches", *names, CAUTION_LINE, "e it was opened")
        await wait_for(pilot, lambda: "used to settle it" in told(app, "#detail"), "the reasons stand below")
        assert all(len(line) <= 80 for line in screen_lines(app))


async def test_a_record_of_these_rules_is_told_nothing(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches")
        assert room(app) == "ShelfRoom"
