"""Draws the rooms from the demo into docs/pictures, the same every time: `python docs/write_pictures.py`.

The demo stands on a fixed day, so that the pictures change only when a room does.
"""

from __future__ import annotations

import asyncio
import os
import tempfile
from datetime import date
from pathlib import Path

from logbook.demo import build
from logbook.keeping.practice_file import load_practice
from logbook.tui.app import LogbookApp
from logbook.tui.book import Book

FOLDER = Path(__file__).parent.absolute() / "pictures"
DAY = date(2026, 6, 20)
SIZE = (100, 28)
# Picture -> the keys that lead to it from the Shelf.
ROOMS = {
    "shelf": (),
    "watch": ("enter",),
    "forecast": ("enter", "f"),
    "log-exposure": ("w",),
    "check": ("c",),
    "due": ("u",),
    "new-watch": ("n",),
    "bench": ("b",),
    "guide": ("g",),
    "preview": ("i", *"trip.txt", "ctrl+s"),
}
# The file that the preview shows: a trip as one logs it in a text file.
TRIP = """\
blue bezel: dive 22m 41min sea 16C rinsed on 2026-06-12 09:40
blue bezel: dive 18m 47min sea 16C rinsed on 2026-06-12 12:30
lido: pool 45min on 2026-06-14
lido: pool 60min on 2026-06-16
"""


async def draw(path: Path, keys: tuple[str, ...]) -> str:
    """The SVG of the room that the keys lead to."""
    app = LogbookApp(Book.at(path, DAY))
    async with app.run_test(size=SIZE) as pilot:
        for key in keys:
            await pilot.press(key)
            await app.workers.wait_for_complete()
        await pilot.pause()
        await app.workers.wait_for_complete()
        while app.book.is_behind:  # bands and forecasts come after what is painted first
            await pilot.pause()
            await app.workers.wait_for_complete()
        await pilot.pause()
        return app.export_screenshot(title="logbook")


def main() -> None:
    """Every picture, from one demo record."""
    FOLDER.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        record = Path(folder) / "demo.db"
        build(record, DAY, load_practice())
        (Path(folder) / "trip.txt").write_text(TRIP, encoding="utf-8")
        os.chdir(folder)
        for name, keys in ROOMS.items():
            (FOLDER / f"{name}.svg").write_text(asyncio.run(draw(record, keys)), encoding="utf-8")


if __name__ == "__main__":
    main()
