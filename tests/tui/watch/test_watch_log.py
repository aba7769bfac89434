"""The log of the Watch room: knocks, spans of days, tests to the mark, what water raised."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from textual.pilot import Pilot

from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Event
from logbook.record.record import Book
from logbook.text.phrases import exposure_words
from logbook.tui.app import LogbookApp
from logbook.tui.widgets.lines import Lines
from tests.tui.conftest import TODAY, a_watch, passed_test, seals_of
from tests.tui.helpers import LARGE, SMALL, screen_lines, told, wait_for, wait_for_text, words
from tests.tui.watching import DIVE, IdOf, Log, opened, to_the_log

DAY = re.compile(r"\d+ \w{3} 2026 ")
MARCH = (date(2026, 3, 1), date(2026, 3, 31))


def write(book: Book, watch_id: int, *events: Event) -> None:
    book.add_events([replace(event, watch_id=watch_id) for event in events])


def entries(app: LogbookApp) -> list[str]:
    """The lines of the log as they are drawn."""
    lines = screen_lines(app)
    top = app.screen.query_one("#log", Lines).region.y
    return [words(line) for line in lines[top:] if line.strip()]


async def log_of(app: LogbookApp, pilot: Pilot[Any], watch_id: int) -> list[str]:
    await opened(pilot, watch_id)
    await to_the_log(pilot)
    count = app.screen.query_one("#log", Lines).count
    await wait_for(pilot, lambda: len([e for e in entries(app) if DAY.match(e)]) >= count, "all are in view")
    return entries(app)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_a_knock_says_whether_something_moved(book: Book, id_of: IdOf, size: tuple[int, int]) -> None:
    key = id_of("Blue bezel")
    write(book, key, Event("knock", date(2026, 11, 2), 60, moved=True), Event("knock", date(2026, 11, 1), 60))
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        shown = await log_of(app, pilot, key)
        assert any(line.startswith("2 Nov 2026 fall or blow, something moved") for line in shown)
        assert any(line.startswith("1 Nov 2026 fall or blow") and "moved" not in line for line in shown)


async def test_an_event_of_some_day_in_a_month_says_so_in_the_log_and_in_its_working(
    book: Book, id_of: IdOf
) -> None:
    key = id_of("Lido quartz")
    write(book, key, Event("battery", MARCH[1], 10, span=MARCH))
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        shown = await log_of(app, pilot, key)
        battery = next(line for line in shown if "battery" in line)
        assert battery.startswith("31 Mar 2026 battery changed, some day of 1 to 31 Mar 2026")
        await pilot.press("enter")
        between = "between 1 Mar 2026 and 31 Mar 2026, counted on 31 Mar 2026"
        await wait_for(pilot, lambda: between in told(app, "#working-words"), "its days are told")


async def test_a_test_to_the_mark_and_one_without_a_pressure_are_told_apart(book: Book, id_of: IdOf) -> None:
    key = id_of("Lido quartz")
    to_mark = Event(
        "pressure-test", date(2026, 10, 2), 40, passed=True, test_pa=10e5, medium="air", to_mark=True
    )
    bare = Event("pressure-test", date(2026, 10, 1), 40, passed=True, medium="air")
    write(book, key, to_mark, bare)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        shown = await log_of(app, pilot, key)
        assert any("pressure test passed, to its mark, 10 bar in air" in line for line in shown)
        assert any("pressure test passed, pressure not known" in line for line in shown)


@pytest.mark.parametrize("size", [SMALL, LARGE])
@pytest.mark.parametrize(
    ("name", "activity", "told_of_it", "word"),
    [
        ("Lido quartz", "dive", {"depth_m": 110.0, "duration_s": 600}, "above its mark"),
        ("Blue bezel", "dive", DIVE | {"crown_under": 1}, "crown used under water"),
        ("Blue bezel", "dive", DIVE | {"crown_open": True}, "crown open under water"),
        ("Gran's chrono", "swim", {"depth_m": 1.0, "pusher_under": 2}, "pushers used under water"),
        ("Gran's chrono", "swim", {"depth_m": 1.0}, "beyond its mark’s class"),
    ],
)
async def test_what_water_raised_stands_beside_it(
    book: Book, id_of: IdOf, log: Log, size: tuple[int, int], name: str, activity: str,
    told_of_it: dict[str, object], word: str,
) -> None:  # fmt: skip
    log(name, activity, **told_of_it)
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        shown = await log_of(app, pilot, id_of(name))
        (line,) = [line for line in shown if word in line]
        assert line.startswith(f"22 Nov 2026 {activity}")
        await pilot.press("enter")
        said = f"{word}: it asked for a passed pressure test after it"
        await wait_for(pilot, lambda: said in told(app, "#working-words"), "the working says it too")


async def test_a_dive_deeper_than_every_test_says_so(book: Book) -> None:
    watch = a_watch("Deep steel", mark="divers", bar=20, use="diving")
    key = book.add_watch(watch, seals_of(watch), [passed_test(date(2026, 10, 1), 10)])
    dives = [
        make_exposure(
            book.practice, book.settings, activity="dive", starts_on=day, today=TODAY,
            watch=replace(watch, id=key), depth_m=depth_m, duration_s=600,
        )
        for day, depth_m in ((date(2026, 11, 20), 90.0), (date(2026, 11, 22), 110.0))
    ]  # fmt: skip
    book.log(dives)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        shown = await log_of(app, pilot, key)
        assert [line[:11] for line in shown if "beyond its tests" in line] == ["22 Nov 2026"]


async def test_water_that_raised_nothing_and_what_is_planned_have_no_word(
    book: Book, id_of: IdOf, log: Log
) -> None:
    key = id_of("Blue bezel")
    log("Blue bezel", "dive", **DIVE)
    watch = book.standing(key).record.watch
    book.log([
        make_exposure(
            book.practice, book.settings, activity="dive", starts_on=date(2026, 12, 1), today=TODAY,
            watch=watch, planned=True, depth_m=250.0, duration_s=600,
        )
    ])  # fmt: skip
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        shown = await log_of(app, pilot, key)
        assert not any("above its mark" in line or "beyond" in line for line in shown)
        await wait_for_text(pilot, "planned")


def test_what_was_open_is_said_once(book: Book, id_of: IdOf, log: Log) -> None:
    dive = log("Gran's chrono", "swim", crown_open=True, pushers_open=True)
    said = exposure_words(dive, "metric")
    assert said.count("crown open") == 1
    assert said.count("pushers open") == 1
