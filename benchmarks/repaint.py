"""Time from a key to the repainted screen, in a watch's log and in a bare list of the same rows.

Usage: python benchmarks/repaint.py [KEYS]. Both apps run in one process, in turns, with a driver that notes
when bytes for the terminal are written; logs of 40, 5,000 and 100,000 entries. The ratio of medians is what
counts. Opening the log is timed as well: from the push of the room until its first rows are written.
"""

from __future__ import annotations

import asyncio
import statistics
import sys
import tempfile
import time
from collections.abc import Awaitable, Callable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any, ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.app import App, ComposeResult
from textual.binding import BindingType
from textual.drivers.headless_driver import HeadlessDriver
from textual.geometry import Region, Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

from logbook.model.fitting import Fitted, initial_seals
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Settings, Watch
from logbook.record.file.practice_file import load_practice
from logbook.record.file.store import Store
from logbook.record.record import Book
from logbook.record.writing import exposures, watches
from logbook.tui.app import LogbookApp
from logbook.tui.watch.room import WatchRoom
from logbook.tui.widgets.lines import Lines

DAY, BEGUN = date(2026, 6, 20), date(2000, 1, 1)
LENGTHS = (40, 5_000, 100_000)
WINDOW = (80, 24)


class Noting(HeadlessDriver):
    """A terminal that shows nothing and remembers when it was last written to."""

    written_at = 0.0

    @property
    def is_headless(self) -> bool:
        """Taken for a real one, so that the screen is made into bytes."""
        return False

    def write(self, data: str) -> None:
        """Bytes for the terminal."""
        Noting.written_at = time.perf_counter()


class BareList(ScrollView, can_focus=True):
    """Rows drawn on demand with a cursor, and nothing else."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("down", "by(1)", ""),
        ("up", "by(-1)", ""),
        ("pagedown", "page(1)", ""),
        ("pageup", "page(-1)", ""),
    ]

    def __init__(self, rows: Sequence[str]) -> None:
        super().__init__()
        self._rows = rows
        self._cursor = 0
        self.virtual_size = Size(WINDOW[0], len(rows))

    def render_line(self, y: int) -> Strip:
        """One line of the screen."""
        row = y + self.scroll_offset.y
        text = self._rows[row] if row < len(self._rows) else ""
        style = Style(reverse=row == self._cursor)
        return Strip([Segment(text, style)]).adjust_cell_length(self.size.width, style)

    def _to(self, row: int) -> None:
        self._cursor = max(0, min(row, len(self._rows) - 1))
        self.scroll_to_region(Region(0, self._cursor, 1, 1), animate=False)
        self.refresh()

    def action_by(self, step: int) -> None:
        """A row on or back."""
        self._to(self._cursor + step)

    def action_page(self, step: int) -> None:
        """A screenful on or back."""
        self._to(self._cursor + step * (self.size.height - 1))


class BareApp(App[None]):
    """The bare list on a screen of its own."""

    def __init__(self, rows: Sequence[str]) -> None:
        super().__init__(driver_class=Noting)
        self._rows = rows

    def compose(self) -> ComposeResult:
        """The list."""
        yield BareList(self._rows)


def record_of(path: Path, length: int) -> None:
    """One watch with so many swims."""
    practice = load_practice()
    watch = Watch(name="Blue bezel", mark="divers", marked_pa=2e6, added_on=BEGUN, recorded_from=BEGUN)
    seals = initial_seals(watch, "NBR", Fitted(None, BEGUN, BEGUN), {})
    with Store.open(path, create=True) as store:
        watch = replace(watch, id=watches.add(store, watch, seals, (), practice))
        days = (DAY - BEGUN).days
        swims = [
            make_exposure(
                practice,
                Settings(),
                activity="swim",
                today=DAY,
                watch=watch,
                starts_on=BEGUN + timedelta(days=n * days // length),
            )
            for n in range(length)
        ]
        exposures.add(store, swims, practice)


async def running(app: App[Any], ready: Callable[[], bool]) -> asyncio.Task[Any]:
    """The app, started and painted."""
    task = asyncio.create_task(app.run_async(size=WINDOW, mouse=False))
    while not (app.is_running and ready()):
        await asyncio.sleep(0.01)
        if task.done():
            raise SystemExit(f"{app} ended: {task.result()}")
    await asyncio.sleep(0.3)
    return task


async def after(do: Callable[[], Any]) -> float:
    """Milliseconds from an act until the terminal was last written to because of it."""
    begun = time.perf_counter()
    result = do()
    if isinstance(result, Awaitable):
        await result
    while Noting.written_at < begun or time.perf_counter() - Noting.written_at < 0.03:
        await asyncio.sleep(0.001)
        if time.perf_counter() - begun > 5:
            raise SystemExit("nothing was painted within 5 s")
    return (Noting.written_at - begun) * 1e3


async def measured(app: App[Any], there: str, back: str) -> list[float]:
    """Milliseconds of each of ten keys, five there and five back, all of which move the cursor."""
    keys = [there] * 5 + [back] * 5 if there == "down" else [there, back] * 5
    return [await after(lambda key=key: app.post_message(events.Key(key, None))) for key in keys]


def say(words: str) -> None:
    """To the real output: what is printed while an app runs goes to the app."""
    print(words, file=sys.__stdout__, flush=True)


async def one_length(path: Path, length: int, keys: int) -> None:
    """Both in turns on a log of this length."""
    book = Book(path, DAY)
    ours = LogbookApp(book)
    ours.driver_class = Noting
    task = await running(ours, lambda: bool(ours.query("#watches")))
    while book.is_behind:
        await asyncio.sleep(0.1)
    watch_id = book.watches()[0].id or 0
    opened_ms = await after(lambda: ours.call_later(ours.push_screen, WatchRoom(watch_id)))
    await asyncio.sleep(0.5)
    log = ours.screen.query_one("#log", Lines)
    ours.call_later(log.focus)
    rows = ["".join(text for text, _ in log._draw(n % min(length, 640), 78)) for n in range(length)]
    bare = BareApp(rows)
    bare_task = await running(bare, lambda: bool(bare.query(BareList)))
    bare.call_later(bare.query_one(BareList).focus)
    say(f"{length:>7,} entries: opened in {opened_ms:.0f} ms")
    for key, back in (("down", "up"), ("pagedown", "pageup")):
        found: dict[str, list[float]] = {"log": [], "bare": []}
        for _ in range(keys // 10):
            found["bare"] += await measured(bare, key, back)
            found["log"] += await measured(ours, key, back)
        log_ms, bare_ms = statistics.median(found["log"]), statistics.median(found["bare"])
        say(f"        {key:<9} log {log_ms:.2f} ms, bare list {bare_ms:.2f} ms, ratio {log_ms / bare_ms:.2f}")
    for app, running_task in ((ours, task), (bare, bare_task)):
        app.exit()
        await running_task


def main(keys: int) -> None:
    """Every length."""
    with tempfile.TemporaryDirectory() as folder:
        for length in LENGTHS:
            path = Path(folder) / f"{length}.logbook"
            record_of(path, length)
            asyncio.run(one_length(path, length, keys))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 100)
