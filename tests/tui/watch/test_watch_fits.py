"""The Watch room keeps all its parts in the window, whichever of them has the cursor."""

from __future__ import annotations

from datetime import date

import pytest

from logbook.caution import CAUTION_LINE
from logbook.model.values import Event
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from tests.tui.conftest import a_watch, seals_of
from tests.tui.foretelling import opened_ahead
from tests.tui.helpers import SMALL, screen_lines, shows, wait_for_text, words
from tests.tui.watching import DIVE, IdOf, Log, opened

pytestmark = pytest.mark.looks_ahead

FAULTS = ("fog", "water-inside", "crown-damaged", "crystal-damaged")
LONG = {"reference": "R 12-34", "group": "weekend", "note": "a note of some length, " * 12}


def much_to_say(book: Book) -> int:
    """A watch with a seal in every place, a long head and many stop rules."""
    watch = a_watch("Everything", bar=3, use="diving", pushers=True, gas_valve=True, **LONG)
    key = book.add_watch(watch, seals_of(watch, date(2018, 3, 1)))
    book.add_events([Event(kind, date(2026, 10, 1 + n), 60, watch_id=key) for n, kind in enumerate(FAULTS)])  # type: ignore[arg-type]
    return key


@pytest.mark.parametrize("size", [SMALL, (100, 30)])
async def test_tab_and_shift_tab_push_nothing_out_of_the_window(
    book: Book, id_of: IdOf, log: Log, size: tuple[int, int]
) -> None:
    for name in ("Blue bezel", "Lido quartz"):
        for day in range(1, 9):
            log(name, "dive", **(DIVE | {"starts_on": date(2026, 9, day)}))
    keys = [id_of("Blue bezel"), id_of("Gran's chrono"), id_of("Lido quartz"), much_to_say(book)]
    book.add_events(
        [Event(kind, date(2026, 10, 1 + n), 60, watch_id=keys[2]) for n, kind in enumerate(FAULTS)]  # type: ignore[arg-type]
    )
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        for key in keys:
            await opened_ahead(pilot, key)
            for press in ("", "tab", "tab", "tab", "shift+tab", "shift+tab", "shift+tab"):
                if press:
                    await pilot.press(press)
                await pilot.pause()
                lines = screen_lines(app)
                screen = "\n".join(lines)
                assert app.screen.max_scroll_y == 0, (press, screen)
                assert any(words(line) == CAUTION_LINE for line in lines), (press, screen)
                heads = [n for n, line in enumerate(lines) if line.startswith("── log")]
                assert heads, (press, screen)
                foot = next(n for n, line in enumerate(lines) if words(line) == CAUTION_LINE)
                assert foot - heads[0] > 3, (press, screen)  # three rows of the log
                assert "pressure" in screen, (press, screen)  # the legend
            await pilot.press("escape")
            await pilot.pause()


async def test_the_worst_stop_rule_stays_in_view_over_what_happened(book: Book) -> None:
    key = much_to_say(book)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot, key)
        await pilot.press("h")
        await wait_for_text(pilot, "what happened:")
        assert shows(app, "keep it dry:", CAUTION_LINE)
        assert app.screen.max_scroll_y == 0
