"""The Shelf for one who has many watches: marks, worn today, events of several, groups, and finding one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from textual.pilot import Pilot

from logbook.model.values import WornStretch
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.shelf.room import ShelfRoom
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.lines import Lines
from tests.tui.conftest import TODAY, a_watch, seals_of
from tests.tui.helpers import (
    HOSTILE,
    LARGE,
    SMALL,
    messages,
    paste,
    press_all,
    raw_controls,
    room,
    screen_lines,
    shows,
    told,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    words,
    write,
)

pytestmark = pytest.mark.looks_ahead

IdOf = Callable[[str], int]
YESTERDAY = date(2026, 11, 24)


@pytest.fixture
def grouped(book: Book) -> Book:
    """Two more watches, both in a group."""
    for name, group in (("Deep orange", "sea box"), ("Harbour steel", "sea box")):
        watch = a_watch(name, bar=20, group=group)
        book.add_watch(watch, seals_of(watch))
    return book


def names_shown(pilot: Pilot[Any]) -> list[str]:
    """The watches on the screen from top to bottom."""
    shelf = pilot.app.screen
    assert isinstance(shelf, ShelfRoom)
    return [standing.name for standing in shelf.standings]


def stretches(book: Book, watch_id: int) -> tuple[WornStretch, ...]:
    return tuple(replace(s, id=None) for s in book.standing(watch_id).record.stretches)


async def test_an_evening_three_worn_one_battery_and_one_step_back(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        await press_all(pilot, ["space", "down", "space", "down", "space"])
        await wait_for_text(pilot, "4 watches · 3 picked")
        assert [line[:8] for line in screen_lines(app) if line.startswith("*")] == [
            "*Blue be", "*Gran's ", "*Lido qu",
        ]  # fmt: skip
        await pilot.press("o")
        await wait_for_message(
            pilot, "Worn today: Blue bezel, Gran's chrono and Lido quartz, 4 h each. z: undo"
        )
        for name in ("Blue bezel", "Gran's chrono", "Lido quartz"):
            assert stretches(book, id_of(name)) == (WornStretch(TODAY, TODAY, 4.0, id_of(name)),)
        assert shows(app, "3 picked")  # they outlive the change
        await pilot.press("o")
        await wait_for_message(
            pilot,
            "Already on record as worn today: Blue bezel, Gran's chrono and Lido quartz. Nothing was added.",
        )
        assert len(stretches(book, id_of("Blue bezel"))) == 1

        await pilot.press("escape")
        await wait_for(pilot, lambda: not shows(app, "picked"), "no watch is picked")
        await pilot.press("e")
        await wait_for_text(pilot, "Log event: Lido quartz")
        await press_all(pilot, ["down", "down", "ctrl+s"])
        await wait_for_message(pilot, "Logged for Lido quartz: battery changed. z: undo")
        assert [e.kind for e in book.standing(id_of("Lido quartz")).record.events] == ["battery"]
        await pilot.press("z")
        await wait_for_message(pilot, "Undone: log battery")
        assert book.standing(id_of("Lido quartz")).record.events == ()
        await pilot.press("z")
        await wait_for_message(pilot, "Undone: worn time of Blue bezel, Gran's chrono, Lido quartz")
        assert stretches(book, id_of("Blue bezel")) == ()


async def test_worn_on_another_day_asks_for_it_and_keeps_what_is_there(book: Book, id_of: IdOf) -> None:
    key = id_of("Blue bezel")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        await pilot.press("O")
        await wait_for_text(pilot, "worn: Blue bezel", "yesterday")
        await pilot.press("enter")
        await wait_for_message(pilot, "Worn on 24 Nov 2026: Blue bezel, 12 h. z: undo")
        assert stretches(book, key) == (WornStretch(YESTERDAY, YESTERDAY, 12.0, key),)

        await pilot.press("O")
        await wait_for_room(pilot, "WornRoom")
        await pilot.press("enter")
        await wait_for_text(pilot, "Already on record as worn on 24 Nov 2026: Blue bezel. Nothing was added.")
        await write(pilot, "tomorrow")
        await pilot.press("enter")
        await wait_for_text(pilot, "Blue bezel: ", "lies in the future")
        field = app.screen.query_one("#on", Field)
        for text in (each for each in HOSTILE[::2] if each != "29 feb"):  # which is a day
            field.entry.value = ""
            await paste(pilot, text)
            await pilot.press("ctrl+s")
            assert room(app) == "WornRoom", f"{text!r} was taken for a day"
            assert not raw_controls(app)
        assert len(stretches(book, key)) == 1


async def test_an_event_of_three_watches_is_one_step(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches")
        await press_all(pilot, ["space", "down", "space", "down", "space", "e"])
        await wait_for_text(
            pilot,
            "Log event for 3 watches: Blue bezel, Gran's chrono and Lido quartz",
        )
        assert told(app, "#whose") == "one event each for: Blue bezel, Gran's chrono, Lido quartz"
        assert not shows(app, "pushers damaged")  # only one of them has any
        await pilot.press("enter")  # gaskets replaced; to its questions
        screen = app.screen
        screen.query_one("#seals", Field).ask()
        await write(pilot, "pushers")
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, "Blue bezel has no pushers")
        for name in ("Blue bezel", "Gran's chrono", "Lido quartz"):
            assert [e.kind for e in book.standing(id_of(name)).record.events if e.kind == "gaskets"] == []
        screen.query_one("#seals", Field).ask()
        await write(pilot, "all")
        await pilot.press("ctrl+s")
        await wait_for_message(
            pilot, "Logged for Blue bezel, Gran's chrono and Lido quartz: gaskets replaced. z: undo"
        )
        fitted = {
            name: book.standing(id_of(name)).record.events[-1].seals
            for name in ("Blue bezel", "Gran's chrono")
        }
        assert [place for place, _ in fitted["Blue bezel"]] == ["case-back", "crystal", "crown"]
        assert [place for place, _ in fitted["Gran's chrono"]] == ["case-back", "crystal", "crown", "pushers"]
        await pilot.press("z")
        await wait_for_message(pilot, "Undone: log 3 events")
        assert book.standing(id_of("Gran's chrono")).record.events == ()


async def test_a_mark_goes_when_its_watch_goes(book: Book) -> None:
    watch = a_watch("Attic", bar=5)
    book.add_watch(watch, seals_of(watch))
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "5 watches")
        await press_all(pilot, ["home", "space", "down", "space"])
        await wait_for_text(pilot, "2 picked", "*Attic", "*Blue bezel")
        Book(book.path, book.today).undo()
        await pilot.press("e")
        await wait_for_message(pilot, "no longer in the record")
        await wait_for_text(pilot, "4 watches · 1 picked", "*Blue bezel")
        await pilot.press("space")
        await wait_for(pilot, lambda: not shows(app, "picked"), "it is let go")


async def test_groups_come_one_after_the_other(grouped: Book) -> None:
    app = LogbookApp(grouped)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "6 watches", "G group")
        await pilot.press("G")
        await wait_for_text(pilot, "2 of 6 watches · group sea box")
        assert names_shown(pilot) == ["Deep orange", "Harbour steel"]
        await pilot.press("down")
        await wait_for_text(pilot, "Harbour steel: no water on record")
        await pilot.press("G")
        await wait_for_text(pilot, "logbook · 6 watches", "Harbour steel: no water on record")
        await press_all(pilot, ["G", "escape"])
        await wait_for_text(pilot, "logbook · 6 watches")


async def test_no_key_for_groups_where_no_watch_has_one(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "4 watches", "/ find")
        assert not shows(app, "G group")


async def test_letters_in_the_find_field_narrow_the_shelf_and_do_nothing_else(grouped: Book) -> None:
    app = LogbookApp(grouped)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "6 watches")
        await press_all(pilot, ["end", "slash"])
        await wait_for_text(pilot, "⏎ to the first one", "esc show all")
        await write(pilot, "qzoOevSn wc")
        await wait_for_text(pilot, "No watch matches qzoOevSn wc: esc shows all.")
        assert room(app) == "ShelfRoom"
        await pilot.press("ctrl+u")
        await write(pilot, "LDQ")
        await wait_for_text(pilot, "1 of 6 watches", "Lido quartz: no water")
        await press_all(pilot, ["backspace"] * 3)
        await write(pilot, "sea")
        await wait_for_text(pilot, "2 of 6 watches", "Deep orange: no water")
        await press_all(pilot, ["enter", "down", "space"])
        await wait_for_text(pilot, "1 picked", "*Harbour steel", "w log")
        await pilot.press("escape")
        await wait_for_text(pilot, "logbook · 6 watches · 1 picked", "Harbour steel: no water")
        assert not app.screen.query_one("#find").display
        assert app.screen.query_one(Lines).has_focus


async def test_no_text_in_the_find_field_does_harm(grouped: Book) -> None:
    app = LogbookApp(grouped)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "6 watches")
        await pilot.press("slash")
        entry = app.screen.query_one("#find", Field).entry
        for text in HOSTILE:
            entry.value = ""
            await paste(pilot, text)
            assert room(app) == "ShelfRoom"
            assert not raw_controls(app)
        assert len(screen_lines(app)) == SMALL[1]
        await pilot.press("escape")
        await wait_for_text(pilot, "logbook · 6 watches")


async def test_a_new_watch_outside_what_is_shown_is_shown_all_the_same(grouped: Book) -> None:
    app = LogbookApp(grouped)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_text(pilot, "6 watches")
        await pilot.press("G")
        await wait_for_text(pilot, "2 of 6 watches")
        await pilot.press("n")
        await wait_for_room(pilot, "WelcomeRoom")
        await write(pilot, "Market find")
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, "logbook · 7 watches", "Market find: no water on record")


async def test_the_order_of_the_shelf_is_named_in_the_title(grouped: Book) -> None:
    app = LogbookApp(grouped)
    async with app.run_test(size=LARGE) as pilot:
        await wait_for_text(pilot, "6 watches")
        await pilot.press("S")
        await wait_for_text(pilot, "by least left")
        shelf = app.screen
        assert isinstance(shelf, ShelfRoom)
        scores = [-1 if s.score is None else s.score for s in shelf.standings]  # not known comes first
        assert scores == sorted(scores)
        assert len(set(scores)) > 1
        await press_all(pilot, ["S", "S", "S"])
        await wait_for(pilot, lambda: " by " not in screen_lines(app)[0], "the usual order")
        assert names_shown(pilot) == sorted(names_shown(pilot))


async def test_a_thousand_watches_are_picked_and_found(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches", "likely")
        shelf = app.screen
        assert isinstance(shelf, ShelfRoom)
        shelf.all = shelf.standings = shelf.all * 250
        shelf._show(None)
        await press_all(pilot, ["end", "space", "slash"])
        await write(pilot, "bb")
        await wait_for_text(pilot, "250 of 1000 watches", "Blue bezel: no water")
        assert messages(app) == ""


@pytest.mark.parametrize("size", [SMALL, LARGE, (160, 50)])
async def test_nothing_of_the_watch_under_the_cursor_is_cut(
    grouped: Book, size: tuple[int, int], id_of: IdOf
) -> None:
    from logbook.model.values import Event

    grouped.add_events([
        Event("battery", TODAY, 10, watch_id=id_of("Gran's chrono")),
        Event("fog", TODAY, 60, watch_id=id_of("Gran's chrono")),
    ])  # fmt: skip
    app = LogbookApp(grouped)
    async with app.run_test(size=size) as pilot:
        await wait_for_text(pilot, "6 watches")
        await press_all(pilot, ["home", "down", "down"])
        await wait_for_text(pilot, "Gran's chrono: no water on record", "likely")
        item = grouped.standing(id_of("Gran's chrono")).next_service
        assert item is not None
        detail = words(str(app.screen.query_one("#detail").content))  # type: ignore[attr-defined]
        assert detail.endswith(item.why)
        assert "…" not in detail
        if size[0] >= 140:
            await wait_for_text(pilot, "crystal NBR", "ageing", "last test never")
        if size[0] >= 120:
            assert shows(app, "last test")
