"""The workings that the Watch room shows: formulas with their numbers, on a real record."""

from __future__ import annotations

import re
from datetime import date
from typing import Any

import pytest

from logbook.model.values import CHANNELS, ProfilePoint
from logbook.model.wear.cycles import Cycle
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.watch import working as watch_working
from logbook.tui.watch.bar import HATCHING, MOST, dominating
from tests.tui.conftest import a_watch, passed_test, seals_of
from tests.tui.helpers import (
    LARGE,
    SMALL,
    press_all,
    room,
    screen_lines,
    shows,
    told,
    wait_for,
    wait_for_room,
    wait_for_text,
)
from tests.tui.watching import DIVE, IdOf, Log, opened, to_the_log


async def test_water_from_before_the_record_began_is_not_charged(book: Book, id_of: IdOf, log: Log) -> None:
    log("Blue bezel", "dive", **(DIVE | {"starts_on": date(2024, 7, 1)}))
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await to_the_log(pilot)
        assert any(row.startswith(" 1 Jul 2024") and row.endswith("not charged") for row in screen_lines(app))
        await press_all(pilot, ["end", "enter"])
        await wait_for_text(pilot, "before the record of this watch began (1 Jan 2025)")


async def test_the_working_of_a_dive_shows_each_formula_with_its_numbers(
    book: Book, id_of: IdOf, log: Log
) -> None:
    log("Blue bezel", "dive", **(DIVE | {"rinsed": False, "crown_under": 1}))
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await to_the_log(pilot)
        await pilot.press("enter")
        await wait_for_text(pilot, "crown seal: took")
        # 21 m on an instrument is 2.10 bar; the constants are those of the shipped practice.toml.
        assert shows(app, "pressure 1 × 1 × (2.10 bar/20 bar)² / 100 = 0.00011")
        assert shows(app, "temperature 0.8 × (15/35 K)² / 150 = 0.00098")
        assert shows(app, "salt 1 × 38 min × 4 not rinsed / 300 h = 0.0084")
        assert shows(app, "handling 1 × (0/200 + 1/20) = 0.050")
        assert shows(app, "nothing from chemicals")
        assert shows(app, "other seals: case back")


async def test_the_working_of_a_dive_with_a_profile_shows_the_cycles_that_were_counted(
    book: Book, id_of: IdOf, log: Log
) -> None:
    shape = [(0, 0.0), (5, 21.0), (15, 6.0), (20, 18.0), (38, 0.0)]
    log("Blue bezel", "dive", **DIVE, profile=[ProfilePoint(at * 60, depth) for at, depth in shape])
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await to_the_log(pilot)
        await pilot.press("enter")
        await wait_for_text(pilot, "seal: took")
        assert shows(app, "(1 × (2.10 bar/20 bar)² + 1 × (1.20 bar/20 bar)²) / 100 = ")
        # 38 minutes with a lag of 6: 15 K · (1 − e^(−38/6)) = 14.97 K
        assert shows(app, "(1 × (15/35 K)²) / 150 = ")
        assert shows(app, "38 min with the case at 17 to 32 °C, by its profile")


def test_a_long_list_of_cycles_is_cut_where_the_rest_adds_nothing_that_matters() -> None:
    cycles = [Cycle(2.0, 1.0, 0.5), Cycle(20.0, 10.0, 1.0), Cycle(0.1, 3.0, 4.0), Cycle(0.2, 3.0, 4.0)]
    words = watch_working.cycle_words(cycles, lambda size: f"{size:g}", 2.0)
    assert words == "(1 × 20² + 3 smaller)"
    alike = [Cycle(10.0 - n / 10, 5.0, 1.0) for n in range(9)]
    assert watch_working.cycle_words(alike, lambda size: f"{size:g}", 2.0) == (
        "(1 × 10² + 1 × 9.9² + 1 × 9.8² + 1 × 9.7² + 5 smaller)"
    )
    assert watch_working.cycle_words([], str, 2.0) == "0"


@pytest.mark.parametrize(
    ("activity", "fields", "said"),
    [
        ("pool", {"duration_s": 3600}, "chemicals 1 × 60 min / 300 h"),
        ("shower", {"duration_s": 480}, "chemicals 1 × 8 min / 120 h"),
        ("hot tub", {"duration_s": 1200}, "chemicals 1 × 20 min / 60 h"),
        ("swim", {"water": "brackish", "salinity": 12.0, "duration_s": 1800}, "salt 1 × 30 min × 12/35 × 4"),
        ("freedive", {"depth_m": 10.0, "duration_s": 3600}, "pressure 1 × 20 × (1.00 bar/20 bar)² / 100"),
        ("sauna", {"duration_s": 900, "water_c": 80.0}, "temperature 1.2 × (25.3/35 K)²"),
    ],
)
async def test_the_working_fits_the_water(
    book: Book, id_of: IdOf, log: Log, activity: str, fields: dict[str, Any], said: str
) -> None:
    log("Blue bezel", activity, **fields)
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await to_the_log(pilot)
        await pilot.press("enter")
        await wait_for_text(pilot, said)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_working_of_a_seal_shows_channels_sum_and_score(
    book: Book, id_of: IdOf, log: Log, size: tuple[int, int]
) -> None:
    log("Blue bezel", "dive", **DIVE)
    key = id_of("Blue bezel")
    app = LogbookApp(book)
    async with app.run_test(size=size, notifications=True) as pilot:
        await opened(pilot, key)
        await press_all(pilot, ["down", "down", "enter"])
        await wait_for_text(pilot, "crown seal · NBR · fitted 1 Mar 2026")
        crown = next(w for w in book.standing(key).seals if w.seal.position == "crown")
        text = told(app, "#working-words")
        for name in ("salt", "ageing"):
            bar = f"{HATCHING[name]} {name} {HATCHING[name]}+ "
            assert re.search(bar + f"{100 * getattr(crown.shares, name):.2f}", text)
        most = dominating(crown.shares)
        assert re.search(rf"{most} \S+ {100 * getattr(crown.shares, most):.2f} {MOST}", text)
        assert text.index(f" {most} ") == min(text.index(f" {name} ") for name in CHANNELS)
        score = book.standing(key).score
        assert shows(app, f"score 100 × (1 − {crown.wear_share:.4f}) = {score}, rounded down")


async def test_escape_puts_the_working_away_before_it_leaves(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await pilot.press("enter")
        await wait_for_text(pilot, "share used, by channel", "storage age of NBR")
        await pilot.press("escape")
        await wait_for(pilot, lambda: not shows(app, "storage age of NBR"), "the working is away")
        assert room(app) == "WatchRoom"
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")


async def test_the_working_follows_the_cursor(book: Book, id_of: IdOf, log: Log) -> None:
    log("Blue bezel", "dive", **DIVE)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await to_the_log(pilot)
        await pilot.press("enter")
        await wait_for_text(pilot, "crown seal: took")
        await pilot.press("down")
        await wait_for_text(pilot, "A pass is proof up to its pressure on its day, and resets no wear.")


async def test_a_seal_past_its_class_of_storage_says_so(empty_book: Book) -> None:
    watch = a_watch("Drawer find", bar=3)
    key = empty_book.add_watch(watch, seals_of(watch, date(2017, 1, 1)), [passed_test(date(2026, 1, 2), 3)])
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, key)
        assert shows(app, "0 of 100 left", "and past its storage age")
        await pilot.press("enter")
        await wait_for_text(pilot, "crown seal · NBR · fitted 1 Jan 2017")
        working = app.screen.query_one("#working")
        while not working.has_focus:
            await pilot.press("tab")
            await pilot.pause()
        await pilot.press("end")
        await wait_for_text(pilot, "storage age of NBR, 7 years, was over on 1 Jan 2024")


async def test_the_working_of_a_plan_says_what_it_would_take(book: Book, id_of: IdOf, log: Log) -> None:
    log("Blue bezel", "dive", **(DIVE | {"starts_on": date(2026, 12, 20), "planned": True}))
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await to_the_log(pilot)
        await pilot.press("enter")
        await wait_for_text(pilot, "planned: charged once it has happened")
        assert shows(app, "pressure 1 × 1 × (2.10 bar/20 bar)² / 100 = 0.00011")
        assert book.cost(book.plans(id_of("Blue bezel"))[0].id or 0) == {}
