"""A watch of whose seals nothing is known: no room shows a number for it, and each says why."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from logbook.model.judge.standing import NOTHING_KNOWN
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.pictures.fan import BAND, MIDDLE
from logbook.tui.shelf import choice as shelf_choice
from logbook.tui.shelf import lines as shelf_lines
from logbook.tui.shelf.choice import Choice
from logbook.tui.watch.bar import ASSUMED, HATCHING, LEFT
from logbook.tui.watch.room import WatchRoom
from logbook.tui.widgets.lines import Lines
from tests.tui.conftest import TODAY, passed_test
from tests.tui.helpers import (
    LARGE,
    SMALL,
    screen_lines,
    screen_text,
    shows,
    text_of,
    told,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    words,
)
from tests.tui.watching import IdOf

pytestmark = pytest.mark.looks_ahead

UNKNOWN = "Sunday dress"  # of the record that the tests have: never tested, its gaskets of any age


async def opened_unknown(pilot: Pilot[Any], watch_id: int) -> None:
    """The Watch room of the watch, once all that can be worked out is."""
    await wait_for_room(pilot, "ShelfRoom")
    await wait_for(pilot, lambda: "worked out" not in screen_lines(pilot.app)[0], "all is worked out")
    pilot.app.push_screen(WatchRoom(watch_id))
    await wait_for_room(pilot, "WatchRoom")
    await wait_for_text(pilot, "score and chance not known")


def row_of(app: LogbookApp, name: str) -> str:
    return next(line for line in screen_lines(app) if line.strip().startswith(name))


@pytest.mark.parametrize(("size", "said"), [(SMALL, "unknown"), (LARGE, "not known")])
async def test_the_shelf_has_the_word_in_place_of_score_and_limit(
    book: Book, size: tuple[int, int], said: str
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await wait_for_text(pilot, "4 watches")
        left = re.search(r"(?:keep it dry|think twice|–) +(.*?) +never", row_of(app, UNKNOWN))
        assert left is not None
        assert words(left[1]) == f"{said} –"


async def test_the_shelf_says_below_why_no_score_is_told(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=(160, 40)) as pilot:
        await wait_for_text(pilot, "4 watches")
        await pilot.press("end")
        await wait_for(pilot, lambda: UNKNOWN in told(app, "#detail"), "it is under the cursor")
        assert f"score not known {NOTHING_KNOWN}" in told(app, "#detail")
        assert told(app, "#seals").count("not known") == 3  # of each of its seals
        assert not re.search(r"▰|▱", told(app, "#seals"))


def test_what_is_not_known_comes_before_every_score_when_the_least_left_comes_first(book: Book) -> None:
    shown = shelf_choice.chosen(book.standings(), Choice(order="least left"))
    assert shown[0].name == UNKNOWN
    assert [s.score is None for s in shown] == [True, False, False, False]


def test_columns_keep_their_width_where_the_score_is_not_known(book: Book) -> None:
    for width in (80, 100, 120, 200):
        columns = shelf_lines.layout(book.standings(), width)
        rows = [text_of([shelf_lines.row(s, TODAY, columns)]) for s in book.standings()]
        assert len({len(row) for row in rows}) == 1


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_watch_room_has_neither_score_nor_bar_nor_forecast_and_says_why(
    book: Book, id_of: IdOf, size: tuple[int, int]
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await opened_unknown(pilot, id_of(UNKNOWN))
        assert f"score and chance not known {NOTHING_KNOWN}" in told(app, "#head")
        assert f"forecast not known {NOTHING_KNOWN}" in told(app, "#against-words")
        assert "used up by" not in told(app, "#against-words")
        for place in ("case back", "crystal", "crown"):
            row = next(line for line in screen_lines(app) if line.startswith(f" {place} "))
            assert words(row) == f"{place} NBR not known not known"
            assert not set(row) & {*HATCHING.values(), ASSUMED, LEFT}


@pytest.mark.parametrize("key", ["enter", "f", "h"])
async def test_a_panel_of_the_watch_room_draws_nothing_and_says_why(
    book: Book, id_of: IdOf, key: str
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened_unknown(pilot, id_of(UNKNOWN))
        app.screen.query_one("#seals", Lines).focus()
        await pilot.press(key)
        await wait_for(pilot, lambda: NOTHING_KNOWN in told(app, "#working-words"), "the panel says why")
        shown = told(app, "#working-words")
        assert not set(shown) & {BAND if key == "f" else MIDDLE, MIDDLE, "║", *HATCHING.values()}
        assert not re.search(r"\d", shown.replace("not known", ""))


async def test_a_passed_test_makes_the_score_known(book: Book, id_of: IdOf) -> None:
    book.add_events([replace(passed_test(TODAY, 3), watch_id=id_of(UNKNOWN))])
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        app.push_screen(WatchRoom(id_of(UNKNOWN)))
        await wait_for_text(pilot, "of 100 left")
        assert not shows(app, "score and chance not known")


async def test_the_page_for_the_workshop_is_written_without_a_number(
    book: Book, id_of: IdOf, a_home_of_its_own: Path
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened_unknown(pilot, id_of(UNKNOWN))
        await pilot.press("p")
        await wait_for_room(pilot, "DossierRoom")
        assert not re.search(r"score \d", screen_text(app))
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "Wrote the dossier of Sunday dress")
    page = (a_home_of_its_own / "sunday-dress.html").read_text()
    assert f"Seal score: not known {NOTHING_KNOWN}." in page
    assert page.count("<td>not known</td>") == 3
    assert "of its interval" in page
    assert not re.search(r"\d\s*%", words(page.split("Seals now")[1].split("</table>")[0]))
