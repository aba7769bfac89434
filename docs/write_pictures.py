"""Draws the rooms from the demo into docs/pictures, the same every time: `python docs/write_pictures.py`.

The demo stands on a fixed day, so that the pictures change only when a room does.
"""

from __future__ import annotations

import asyncio
import tempfile
from datetime import date
from pathlib import Path

from logbook.demo import build
from logbook.keeping.practice_file import load_practice
from logbook.tui.app import LogbookApp
from logbook.tui.book import Book

FOLDER = Path(__file__).parent / "pictures"
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
}


async def draw(path: Path, keys: tuple[str, ...]) -> str:
    """The SVG of the room that the keys lead to."""
    app = LogbookApp(Book.at(path, DAY))
    async with app.run_test(size=SIZE) as pilot:
        for key in keys:
            await pilot.press(key)
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
        for name, keys in ROOMS.items():
            (FOLDER / f"{name}.svg").write_text(asyncio.run(draw(record, keys)), encoding="utf-8")


if __name__ == "__main__":
    main()
