"""Bands and forecasts come after the first paint, in a thread, and again after every change."""

from __future__ import annotations

import threading
from datetime import date
from typing import Any

import pytest

from logbook.caution import CAUTION_LINE
from logbook.model.values import Event
from logbook.record.record import Book
from logbook.text import foretold
from logbook.tui.app import LogbookApp
from tests.tui.conftest import TODAY, a_watch, passed_test, seals_of
from tests.tui.foretelling import (
    forecast_of,
    held_up,
    looked_ahead,
    opened_ahead,
    wait_for_what_is_ahead,
)
from tests.tui.helpers import (
    LARGE,
    SMALL,
    room,
    screen_lines,
    shows,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    words,
)
from tests.tui.watching import DIVE, IdOf, Log, opened, to_the_log

pytestmark = pytest.mark.looks_ahead

SALTY = DIVE | {"rinsed": False, "duration_s": 3 * 3600, "depth_m": 30.0}


def row_of(app: LogbookApp, name: str) -> str:
    """The Shelf's line of a watch."""
    return next(words(line) for line in screen_lines(app) if line.startswith(f" {name} "))


def score_words(book: Book, name: str) -> str:
    """The score of a watch with its band, as the rooms write it."""
    standing = next(s for s in book.standings() if s.name == name)
    assert standing.low is not None
    return foretold.score_words(standing.score, standing.low, standing.high)


async def test_the_shelf_stands_without_them_and_has_them_then(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = LogbookApp(book)
    with held_up(book, monkeypatch) as go:
        async with app.run_test(size=LARGE) as pilot:
            await wait_for_text(pilot, "4 watches", "Blue bezel: no water on record", CAUTION_LINE)
            assert "– 84 ▰" in row_of(app, "Blue bezel")
            assert not shows(app, "likely")
            assert "next: service: strap and bars, pressure test" in words(" ".join(screen_lines(app)))
            go.set()
            await wait_for_what_is_ahead(pilot)
            for standing in book.standings():
                band = f"{standing.score} {standing.low}–{standing.high} "
                assert (f" {band}" in row_of(app, standing.name)) is (standing.score is not None)
            assert shows(app, f"score {score_words(book, 'Blue bezel')}; its crown seal", CAUTION_LINE)


async def test_in_a_small_window_the_band_stands_below_alone(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_what_is_ahead(pilot)
        await wait_for_text(pilot, f"score {score_words(book, 'Blue bezel')}; its crown seal is used up")
        assert "– 84 ▰" in row_of(app, "Blue bezel")
        await pilot.press("down")
        gran = score_words(book, "Gran's chrono")
        window = foretold.window_words(book.standings()[1].insight.forecast.first, TODAY)  # type: ignore[union-attr]
        await wait_for_text(pilot, f"score {gran}; its")
        assert shows(app, window, CAUTION_LINE)


async def test_no_key_waits_for_them(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    app = LogbookApp(book)
    with held_up(book, monkeypatch) as go:
        async with app.run_test(size=SMALL) as pilot:
            await wait_for_text(pilot, "4 watches")
            await wait_for(pilot, lambda: app.ahead.busy, "it has begun to look ahead")
            await pilot.press("down")
            await wait_for_text(pilot, "Gran's chrono: no water on record")
            await pilot.press("enter")
            await wait_for_room(pilot, "WatchRoom")
            await wait_for_text(pilot, "of 100 left, limited by the crown seal")
            await pilot.press("f")
            await wait_for_text(pilot, "no forecast: it is being worked out")
            await pilot.press("down")
            await pilot.press("escape", "c")
            await wait_for_room(pilot, "CheckRoom")
            await pilot.press("escape", "escape")
            await wait_for_room(pilot, "ShelfRoom")
            assert not shows(app, "likely")
            go.set()
            await wait_for_what_is_ahead(pilot)
            await wait_for_text(pilot, "likely")


async def test_what_waited_for_the_forecast_has_it_once_it_is_there(
    book: Book, id_of: IdOf, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = LogbookApp(book)
    with held_up(book, monkeypatch) as go:
        async with app.run_test(size=LARGE) as pilot:
            await opened(pilot, id_of("Blue bezel"))
            await wait_for(pilot, lambda: app.ahead.busy, "it has begun to look ahead")
            await pilot.press("f")
            await wait_for_text(pilot, "no forecast: it is being worked out")
            go.set()
            await wait_for_text(pilot, "forecast, crown seal: is used up between", "84 of 100 left, likely ")


async def test_a_change_is_worked_out_anew(book: Book, id_of: IdOf, log: Log) -> None:
    key = id_of("Blue bezel")
    log("Blue bezel", "dive", **SALTY)
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await opened_ahead(pilot, key)
        before, was = book.standing(key), forecast_of(book, key).first.p50
        await to_the_log(pilot)
        await pilot.press("x")
        await wait_for_message(pilot, "Struck: dive")
        await wait_for(pilot, lambda: looked_ahead(pilot), "the room has its band again")
        after, now = book.standing(key), forecast_of(book, key).first.p50
        assert (after.score, after.high) > (before.score, before.high)
        assert after.score == 84
        assert now is not None
        assert was is not None
        assert now > was
        await wait_for_text(pilot, f"84 of 100 left, likely {after.low}–{after.high}, limited by")
        await pilot.press("z")
        await wait_for_text(
            pilot, f"{before.score} of 100 left, likely {before.low}–{before.high}, limited by"
        )
        assert forecast_of(book, key).first.p50 == was


async def test_only_the_watch_that_changed_is_worked_out_anew(book: Book, id_of: IdOf, log: Log) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_what_is_ahead(pilot)
        before = {s.name: s.insight for s in book.standings()}
        log("Blue bezel", "dive", **SALTY)
        await pilot.press("question_mark")
        await wait_for_room(pilot, "HelpRoom")
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for(pilot, lambda: all(s.insight for s in book.standings()), "all of it is worked out")
        after = {s.name: s.insight for s in book.standings()}
        assert {name for name, insight in after.items() if insight is not before[name]} == {"Blue bezel"}
        await wait_for_text(pilot, f"score {score_words(book, 'Blue bezel')}; its crown seal")


async def test_keys_go_on_while_a_change_is_worked_out(
    book: Book, id_of: IdOf, log: Log, monkeypatch: pytest.MonkeyPatch
) -> None:
    log("Blue bezel", "dive", **SALTY)
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await opened_ahead(pilot, id_of("Blue bezel"))
        last = book.standing(id_of("Blue bezel"))
        with held_up(book, monkeypatch) as go:
            await to_the_log(pilot)
            await pilot.press("x")
            await wait_for_message(pilot, "Struck: dive")
            await wait_for_text(pilot, f"84 of 100 left, likely {last.low}–{last.high}, limited by")
            await pilot.press("enter")
            await wait_for_text(pilot, "A pass is proof up to its pressure on its day, and resets no wear.")
            await pilot.press("escape", "escape")
            await wait_for_room(pilot, "ShelfRoom")
            await pilot.press("down", "down")
            await wait_for_text(pilot, "Lido quartz: no water on record")
            go.set()
        await wait_for_what_is_ahead(pilot)
        await wait_for_text(pilot, f"score {score_words(book, 'Lido quartz')}; its")


async def test_the_first_watch_of_a_new_record_has_them_too(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=LARGE) as pilot:
        await wait_for_room(pilot, "WelcomeRoom")
        await pilot.press(*"Newcomer")
        app.screen.question("last").asked.ask()  # type: ignore[attr-defined]
        await pilot.press(*"gaskets 2025")
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, "1 watch", "Newcomer: no water on record")
        await wait_for_text(pilot, "score ", "likely ", "; its ")
        assert looked_ahead(pilot)


async def test_a_watch_without_a_seal_is_not_looked_at_for_ever(empty_book: Book) -> None:
    empty_book.add_watch(a_watch("Bare", bar=5), [])
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_what_is_ahead(pilot)
        assert not shows(app, "likely")
        await pilot.press("question_mark")
        await wait_for_room(pilot, "HelpRoom")
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")
        assert not app.ahead.busy


async def test_a_record_that_goes_meanwhile_does_no_harm(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    app = LogbookApp(book)
    with held_up(book, monkeypatch) as go:
        async with app.run_test(size=SMALL, notifications=True) as pilot:
            await wait_for_text(pilot, "4 watches")
            await wait_for(pilot, lambda: app.ahead.busy, "it has begun to look ahead")
            book.path.unlink()
            go.set()
            await wait_for(pilot, lambda: not app.ahead.busy, "it has given up")
            await pilot.press("down")
            await wait_for_message(pilot, "There is no record")
            assert room(app) == "ShelfRoom"


async def test_a_nickname_is_text_on_the_shelf(empty_book: Book) -> None:
    for name in ("[bold]x[/bold]", "[/]"):
        watch = a_watch(name, bar=5)
        empty_book.add_watch(watch, seals_of(watch), [passed_test(date(2026, 5, 1), 5)])
    app = LogbookApp(empty_book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await wait_for_what_is_ahead(pilot)
        await wait_for_text(pilot, "2 watches", "[/]: no water on record", "likely")
        await pilot.press("down")
        await wait_for_text(pilot, "[bold]x[/bold]: no water on record", "likely")


async def test_a_fault_leaves_the_band_and_takes_the_chance(book: Book, id_of: Any) -> None:
    book.add_events([Event("fog", date(2026, 11, 1), 60, watch_id=id_of("Blue bezel"))])
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened_ahead(pilot, id_of("Blue bezel"))
        await wait_for_text(pilot, "of 100 left, likely ")
        assert not shows(app, "would pass a test")


async def test_a_struck_plan_is_out_of_the_forecast(book: Book, id_of: IdOf, log: Log) -> None:
    key = id_of("Blue bezel")
    trip = {"starts_on": date(2026, 12, 5), "planned_to": date(2027, 1, 20), "planned": True}
    log("Blue bezel", "dive", **(SALTY | trip))
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await opened_ahead(pilot, key)
        with_it = forecast_of(book, key)
        assert with_it.planned == 47
        await to_the_log(pilot)
        await pilot.press("x")
        await wait_for_message(pilot, "Struck: dive")
        await wait_for_what_is_ahead(pilot)
        without = forecast_of(book, key)
        assert without.planned == 0
        assert with_it.first.p50 is not None
        assert without.first.p50 is not None
        assert without.first.p50 > with_it.first.p50
        await wait_for_text(pilot, f"seal {foretold.window_words(without.first, TODAY)}")


async def test_what_changes_while_it_is_worked_out_is_worked_out_next(
    book: Book, id_of: IdOf, log: Log, monkeypatch: pytest.MonkeyPatch
) -> None:
    key = id_of("Blue bezel")
    log("Blue bezel", "dive", **SALTY)
    look, done, go = book.look_ahead, threading.Event(), threading.Event()

    def look_and_wait() -> bool:
        found = look()
        done.set()
        go.wait()
        return found

    monkeypatch.setattr(book, "look_ahead", look_and_wait)
    app = LogbookApp(book)
    try:
        async with app.run_test(size=LARGE, notifications=True) as pilot:
            await opened(pilot, key)
            await wait_for(pilot, done.is_set, "the record as it was is worked out")
            await to_the_log(pilot)
            await pilot.press("x")
            await wait_for_message(pilot, "Struck: dive")
            before = book.standing(key)
            go.set()
            await wait_for_what_is_ahead(pilot)
            after = book.standing(key)
            assert (before.score, after.score) == (84, 84)
            assert after.low != before.low
            await wait_for_text(pilot, f"84 of 100 left, likely {after.low}–{after.high}, limited by")
    finally:
        go.set()


async def test_the_demo_opened_from_an_empty_shelf_has_its_bands(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await wait_for_room(pilot, "WelcomeRoom")
        await pilot.press("ctrl+d")
        await wait_for_text(pilot, "13 watches")
        await wait_for_text(pilot, "likely")
