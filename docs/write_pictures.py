"""Draws every room from the demo, the same every time: `python docs/write_pictures.py [NAME …]`.

Each room becomes a picture for README and pages (docs/pictures), and two drawings in plain characters that
the tests hold against the rooms (tests/tui/drawings, at 80×24 and 120×40). The demo stands on a fixed day, so
that they change only when a room does: look at what has changed before you keep it.
"""

from __future__ import annotations

import asyncio
import os
import sqlite3
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import chdir, closing, contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from textual.pilot import Pilot
from textual.widgets import Input

from logbook.demo import build
from logbook.record.file.practice_file import load_practice
from logbook.record.record import Book
from logbook.tui.app import LogbookApp

ROOT = Path(__file__).parents[1].absolute()
PICTURES, DRAWINGS = ROOT / "docs" / "pictures", ROOT / "tests" / "tui" / "drawings"
DAY = date(2026, 6, 20)
PICTURE_SIZE = (100, 28)
DRAWN_SIZES = ((80, 24), (120, 40))

# Picture -> the keys that lead to it from the Shelf.
SCENES: dict[str, Sequence[str]] = {
    "shelf": (),
    "shelf-picked": ("space", "down", "space", "slash", *"e"),
    "worn-on": ("O",),
    "watch": ("enter",),
    "seal": ("enter", "enter"),
    "forecast": ("enter", "f"),
    "year": ("enter", "Y"),
    "dive": ("enter", "tab", "tab", *["down"] * 2, "enter"),
    "what-happened": ("down", "down", "enter", "h"),
    "edit-watch": ("enter", "a"),
    "amend": ("enter", "tab", "tab", *["down"] * 2, "a"),
    "habits": ("enter", "r"),
    "log-exposure": ("w",),
    "event": ("e",),
    "one-line": (":", *"pool 45min 27C"),
    "check": ("c",),
    "which-may-come": ("c", "ctrl+t"),
    "plans": ("t",),
    "retired": ("R",),
    "due": ("u",),
    "snooze": ("u", "s"),
    "visits": ("u", "v"),
    "changes": ("Z",),
    "new-watch": ("n",),
    "settings": ("comma",),
    "bench": ("b",),
    "fog-check": ("b", "ctrl+g"),
    "guide": ("g",),
    "bring-in": ("i",),
    "preview": ("i", *"trip.txt", "ctrl+s"),
    "merge": ("i", *"more.csv", "ctrl+s"),
    "dossier": ("enter", "p"),
    "help": ("question_mark",),
}
# What a terminal says of itself, and whose home it is: no settings of the person who draws.
SURROUNDING = {"TZ": "UTC", "TERM": "xterm-256color", "COLORTERM": "truecolor"}
# What the previews show: a trip as one logs it in a text file, and a table of watches.
FILES = {
    "trip.txt": """\
blue bezel: dive 22m 41min sea 16C rinsed on 2026-06-12 09:40
blue bezel: dive 18m 47min sea 16C rinsed on 2026-06-12 12:30
lido: pool 45min on 2026-06-14
lido: pool 60min on 2026-06-16
""",
    "more.csv": "name,mark,marked\nBlue bezel,divers,200m\nHarbour steel,water-resistant,10 bar\n",
}


@dataclass(frozen=True)
class Drawn:
    """A room as a picture, and as characters at each of the sizes."""

    svg: str
    texts: dict[str, str]


def record_in(folder: Path) -> Path:
    """The demo on its day, with the files beside it that some pictures need."""
    record = folder / "demo.logbook"
    build(record, DAY, load_practice())
    _fix_times(record)
    for name, text in FILES.items():
        (folder / name).write_text(text, encoding="utf-8")
    return record


def _fix_times(record: Path) -> None:
    """The list of changes says when each was made: a minute after the one before, up to noon of the day."""
    with closing(sqlite3.connect(record)) as connection, connection:
        ids = [row[0] for row in connection.execute("SELECT id FROM action ORDER BY id DESC")]
        noon = datetime(DAY.year, DAY.month, DAY.day, 12, tzinfo=UTC)
        before = [noon - timedelta(minutes=n) for n in range(len(ids))]
        times = [(at.isoformat(timespec="seconds"), id_) for at, id_ in zip(before, ids, strict=True)]
        connection.executemany("UPDATE action SET done_at = ? WHERE id = ?", times)


async def draw(record: Path, keys: Sequence[str]) -> Drawn:
    """The room that the keys lead to; paths that are typed are looked for beside the record."""
    with chdir(record.parent), _surrounding(record.parent):
        app = LogbookApp(Book(record, DAY))
        async with app.run_test(size=PICTURE_SIZE) as pilot:
            await _settled(pilot)
            for key in keys:
                await pilot.press(key)
                if len(key) > 1 or not isinstance(app.focused, Input):
                    await _settled(pilot)
            await _settled(pilot)
            svg = app.export_screenshot(title="logbook")
            texts = {}
            for width, height in DRAWN_SIZES:
                await pilot.resize_terminal(width, height)
                await _settled(pilot)
                texts[f"{width}x{height}"] = _characters(app)
        return Drawn(svg, texts)


@contextmanager
def _surrounding(home: Path) -> Iterator[None]:
    before = dict(os.environ)
    for name in [name for name in before if name.startswith(("XDG_", "LOGBOOK_")) or name == "NO_COLOR"]:
        del os.environ[name]
    os.environ.update(SURROUNDING, HOME=str(home))
    time.tzset()
    try:
        yield
    finally:
        os.environ.clear()
        os.environ.update(before)
        time.tzset()


async def _settled(pilot: Pilot[Any]) -> None:
    """Bands and forecasts come after what is painted first; a cursor does not blink."""
    app = pilot.app
    assert isinstance(app, LogbookApp)
    await pilot.pause()
    while True:
        await app.workers.wait_for_complete()
        await pilot.pause()
        if not (app.behind.busy or app.ahead.busy or any(worker.is_running for worker in app.workers)):
            break
    for entry in app.screen.query(Input):
        entry.cursor_blink = False
    await pilot.pause()


def _characters(app: LogbookApp) -> str:
    strips = app.screen._compositor.render_strips()
    lines = ["".join(segment.text for segment in strip).rstrip() for strip in strips]
    return "\n".join(lines).rstrip() + "\n"


def stored(name: str) -> Drawn:
    """The pictures of a room as they are kept; what is not there is empty."""
    sizes = [f"{width}x{height}" for width, height in DRAWN_SIZES]
    texts = {size: _read(DRAWINGS / f"{name}-{size}.txt") for size in sizes}
    return Drawn(_read(PICTURES / f"{name}.svg"), texts)


def _read(path: Path) -> str:
    return path.read_text(encoding="utf-8") if path.exists() else ""


def keep(name: str, drawn: Drawn) -> None:
    """Write the pictures of a room."""
    for folder in (PICTURES, DRAWINGS):
        folder.mkdir(parents=True, exist_ok=True)
    (PICTURES / f"{name}.svg").write_text(drawn.svg, encoding="utf-8")
    for size, text in drawn.texts.items():
        (DRAWINGS / f"{name}-{size}.txt").write_text(text, encoding="utf-8")


def main(names: Sequence[str]) -> None:
    """Every room, or those that are named; says which have changed."""
    with tempfile.TemporaryDirectory() as folder:
        record = record_in(Path(folder))
        for name in names or SCENES:
            drawn = asyncio.run(draw(record, SCENES[name]))
            if drawn != stored(name):
                print(f"changed: {name}")
                keep(name, drawn)


if __name__ == "__main__":
    main(sys.argv[1:])
