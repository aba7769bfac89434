"""A long record whose constants have changed: the room that says how far it is, and the way out of it."""

from __future__ import annotations

import threading
from collections.abc import Callable, Coroutine, Iterator
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import ProgressBar

from logbook.caution import CAUTION_LINE
from logbook.errors import BadInput
from logbook.record.ledger import backlog, bulk, ledger
from logbook.record.reading import glance
from logbook.record.record import Book
from logbook.tui import app as app_module
from logbook.tui.app import LogbookApp
from logbook.tui.shell.reckoning_anew import LEFT, ReckoningAnewRoom
from tests.tui.conftest import TODAY
from tests.tui.helpers import SMALL, room, screen_lines, wait_for, wait_for_room, wait_for_text

DIVES = 12


class Gate:
    """Lets a thread through to one block of exposures at a time."""

    def __init__(self) -> None:
        self._open = threading.Semaphore(0)
        self.passed = threading.Event()  # the thread is done with the record

    def let(self, blocks: int = 1) -> None:
        self._open.release(blocks)

    def go_through(self) -> None:
        assert self._open.acquire(timeout=60)


@pytest.fixture
def gate(monkeypatch: pytest.MonkeyPatch) -> Iterator[Gate]:
    """A few dives are much, and are charged three at a time, each three once the gate was opened."""
    gate, blocks, refresh_all = Gate(), bulk.blocks, ledger.refresh_all

    def one_by_one(*args: Any) -> Iterator[bulk.Block]:
        for block in blocks(*args):
            gate.go_through()
            yield block

    def to_the_end(*args: Any) -> None:
        try:
            refresh_all(*args)
        finally:
            gate.passed.set()

    monkeypatch.setattr(bulk, "blocks", one_by_one)
    monkeypatch.setattr(ledger, "refresh_all", to_the_end)
    monkeypatch.setattr(bulk, "BLOCK", 3)
    monkeypatch.setattr(backlog, "MUCH", DIVES)
    yield gate
    gate.let(1000)  # no thread is left waiting


@pytest.fixture
def stale(
    book: Book, log: Callable[..., Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Callable[[], Book]:
    """Opens a record with some dives, whose owner has changed a constant since."""
    for _ in range(DIVES):
        log("Blue bezel", "dive", depth_m=18.0, duration_s=2400, water_c=17.0)
    mine = tmp_path / "practice.toml"
    mine.write_text("[constants.H_salt]\nvalue = 200\n", encoding="utf-8")
    monkeypatch.setenv("LOGBOOK_PRACTICE", str(mine))
    return lambda: Book(book.path, TODAY)


def ledger_of(book: Book) -> tuple[bool, list[Any]]:
    """Whether it is stale, and what stands in it."""
    with book.reading() as rows:
        columns = "SELECT * FROM ledger_share ORDER BY exposure_id, seal_id"
        return glance.is_stale(rows, book.practice), list(rows(columns, ()))


async def opened(pilot: Pilot[Any]) -> None:
    await wait_for_room(pilot, "ReckoningAnewRoom")
    await wait_for_text(pilot, "0 of 12 exposures")


async def test_the_room_says_how_far_it_is_and_then_the_shelf_shows(
    stale: Callable[[], Book], gate: Gate
) -> None:
    book = stale()
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        await wait_for_text(pilot, "is reckoned anew, once", "esc not now, leave", CAUTION_LINE)
        for done in (3, 6, 9):
            gate.let()
            await wait_for_text(pilot, f"{done} of 12 exposures")
            assert app.screen.query_one(ProgressBar).percentage == done / 12
        gate.let()
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_text(pilot, "4 watches", "Blue bezel")
        assert not ledger_of(book)[0]


async def test_numbers_of_exposures_are_written_in_thousands(stale: Callable[[], Book], gate: Gate) -> None:
    app = LogbookApp(stale())
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        assert isinstance(app.screen, ReckoningAnewRoom)
        app.screen.tell(1200, 20500)
        await wait_for_text(pilot, "1,200 of 20,500 exposures")
        gate.let(4)
        await wait_for_room(pilot, "ShelfRoom")


async def press_escape(pilot: Pilot[Any]) -> None:
    await pilot.press("escape")


async def press_ctrl_q(pilot: Pilot[Any]) -> None:
    await pilot.press("ctrl+q")


async def click_the_key(pilot: Pilot[Any]) -> None:
    lines = screen_lines(pilot.app)
    y = next(n for n, line in enumerate(lines) if "esc not now" in line)
    await pilot.click(offset=(lines[y].index("not now"), y))


Leave = Callable[[Pilot[Any]], Coroutine[Any, Any, None]]


@pytest.mark.parametrize("leave", [press_escape, press_ctrl_q, click_the_key])
async def test_leaving_puts_everything_back_and_says_so(
    stale: Callable[[], Book], gate: Gate, leave: Leave, capsys: pytest.CaptureFixture[str]
) -> None:
    book = stale()
    before = ledger_of(book)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        gate.let()
        await wait_for_text(pilot, "3 of 12 exposures")
        await leave(pilot)
        await wait_for_text(pilot, "Putting everything back as it was")
        gate.let()
        await wait_for(pilot, lambda: not app.is_running, "the app has ended")
    assert before[0]
    assert ledger_of(book) == before
    assert app.return_code in (None, 0)
    assert LEFT in " ".join(capsys.readouterr().err.split())


async def test_an_app_that_ends_otherwise_leaves_the_ledger_as_it_was(
    stale: Callable[[], Book], gate: Gate
) -> None:
    book = stale()
    before = ledger_of(book)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        gate.let()
        await wait_for_text(pilot, "3 of 12 exposures")
        app.exit()
        await wait_for(pilot, lambda: not app.is_running, "the app has ended")
    gate.let(4)
    assert gate.passed.wait(timeout=60)
    assert ledger_of(book) == before


async def test_help_may_be_open_when_it_is_done(stale: Callable[[], Book], gate: Gate) -> None:
    app = LogbookApp(stale())
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        await pilot.press("question_mark")
        await wait_for_room(pilot, "HelpRoom")
        await wait_for_text(pilot, "put everything back and leave logbook")
        gate.let(4)
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_text(pilot, "4 watches")


async def test_what_cannot_be_written_is_told_to_the_one_who_opened_the_app(
    stale: Callable[[], Book], gate: Gate, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: Any) -> Iterator[bulk.Block]:
        raise BadInput("The disk is full.")

    monkeypatch.setattr(bulk, "blocks", full)
    app = LogbookApp(stale())
    async with app.run_test(size=SMALL) as pilot:
        await wait_for(pilot, lambda: not app.is_running, "the app has ended")
    assert str(app.trouble) == "The disk is full."
    monkeypatch.setattr(app_module, "LogbookApp", lambda book, clock: app)
    monkeypatch.setattr(app, "run", lambda: None)
    with pytest.raises(BadInput, match="disk is full"):
        app_module.run(app.book.path, today=TODAY)


async def test_a_short_record_is_brought_up_to_date_by_the_way(stale: Callable[[], Book]) -> None:
    book = stale()
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches", "Blue bezel")
        assert room(app) == "ShelfRoom"
        assert not ledger_of(book)[0]


async def test_a_long_ledger_that_another_window_made_otherwise_is_reckoned_anew_in_the_room_too(
    book: Book, stale: Callable[[], Book], gate: Gate
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches")
        other = stale()
        gate.let(4)
        other.reckon_anew()
        app.follow()
        await opened(pilot)
        gate.let(4)
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_text(pilot, "4 watches", "Blue bezel")
        assert not ledger_of(book)[0]
