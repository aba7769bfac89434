from __future__ import annotations
from logbook.tui.app import LogbookApp
from tests.tui.helpers import SMALL, wait_for_room, screen_text
async def test_x(book):
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        print(screen_text(app))
