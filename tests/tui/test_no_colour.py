"""Without colours, or with sixteen: where one is shows by an attribute, and everything stands there."""

from __future__ import annotations

import pytest
from rich.segment import Segment
from rich.style import Style

from logbook.caution import CAUTION_LINE
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.lines import Lines
from logbook.tui.widgets.pick import Pick
from tests.tui.helpers import SMALL, shows, told, wait_for, wait_for_room, wait_for_text
from tests.tui.rooms import opened

FEW = {
    "no colour": {"NO_COLOR": "1"},
    "sixteen": {"TERM": "xterm", "COLORTERM": ""},
    "none known": {"TERM": "dumb", "COLORTERM": ""},
}


@pytest.fixture(params=FEW)
def few(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    for name, value in FEW[request.param].items():
        monkeypatch.setenv(name, value)
    return str(request.param)


def drawn(app: LogbookApp, y: int) -> list[Segment]:
    """One line as it goes to the terminal."""
    strip = app.screen._compositor.render_strips()[y]
    for line_filter in (each for each in app._filters if each.enabled):
        strip = strip.apply_filter(line_filter, app.screen.background_colors[1])
    return list(strip)


def attributes(segments: list[Segment]) -> set[str]:
    """What is seen of the attributes; of blanks that is the line under them."""
    styles = [(segment.text.strip(), segment.style or Style()) for segment in segments]
    shown = {name for name in ("reverse", "bold") for text, style in styles if text and getattr(style, name)}
    return shown | ({"underline"} if any(style.underline for _, style in styles) else set())


async def test_the_row_under_the_cursor_is_reversed(book: Book, few: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot, book, "ShelfRoom")
        top = app.screen.query_one("#watches", Lines).region.y
        await pilot.press("down")
        await wait_for(
            pilot, lambda: "reverse" in attributes(drawn(app, top + 1)), "the second row is reversed"
        )
        assert "reverse" not in attributes(drawn(app, top) + drawn(app, top + 2))
        assert shows(app, "4 watches", CAUTION_LINE, "think twice")


async def test_the_field_with_the_cursor_differs_from_the_others(book: Book, few: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await opened(pilot, book, "SettingsRoom")
        await pilot.press("down")
        zone, units = screen.query_one("#zone", Field), screen.query_one("#units", Pick)
        label = zone.query_one(".label").region
        await wait_for(pilot, lambda: zone.has_class("-here"), "the cursor is at the zone")
        there = [segment for segment in drawn(app, label.y) if segment.text.strip() == "time zone"]
        assert attributes(there) == {"reverse", "bold"}
        assert "reverse" not in attributes(drawn(app, units.region.y))
        assert "underline" in attributes(drawn(app, screen.query_one("#jan").region.y))
        assert "whatever is picked" in told(app, "#about-theme")


async def test_a_banner_is_reversed(book: Book, few: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot, book, "ShelfRoom")
        await pilot.press("down", "down", "c")
        await wait_for_room(pilot, "CheckRoom")
        await wait_for_text(pilot, "THINK TWICE")
        lines = [drawn(app, y) for y in range(SMALL[1])]
        banner = next(segment for line in lines for segment in line if segment.text.strip() == "THINK TWICE")
        assert attributes([banner]) == {"reverse", "bold"}
