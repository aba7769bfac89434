"""The forecast in the Watch room: asked for, followed, put away, and what stands in its place."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from textual.command import CommandPalette

from logbook.caution import CAUTION_LINE
from logbook.model.predict.levers import Lever, levers_of
from logbook.model.values import Event
from logbook.record.record import Book
from logbook.text import foretold
from logbook.text.foretold import MOST_LEVERS, NOT_A_PROMISE
from logbook.text.phrases import full_date
from logbook.tui.app import LogbookApp
from logbook.tui.pictures.fan import BAND, MIDDLE
from logbook.tui.watch.forecast_lines import LEAST_PLOT
from tests.tui.conftest import TODAY, a_watch, seals_of
from tests.tui.foretelling import forecast_of, opened_ahead
from tests.tui.helpers import (
    LARGE,
    SMALL,
    messages,
    room,
    screen_lines,
    shows,
    told,
    wait_for,
    wait_for_room,
    wait_for_text,
    write,
)
from tests.tui.test_app import palette_offers
from tests.tui.watching import DIVE, IdOf, Log, to_the_log

pytestmark = pytest.mark.looks_ahead

PANEL = "#working-words"


def in_the_table(lever: Lever) -> str:
    """A lever as its row says it."""
    low, high = (foretold.day_or_beyond(day) for day in (lever.at_low, lever.at_high))
    return f"{foretold.constant_words(lever.name)} {low} {high}"


HEADS = "seal 1 in 10 by half by 9 in 10 by mostly from"
BOTH = pytest.mark.parametrize("size", [SMALL, LARGE])


def picture(app: LogbookApp) -> list[str]:
    """The rows of the picture that are in view, its line of years with them."""
    return [line for line in screen_lines(app) if line[4:6].strip() in ("│", "└") or "│" in line[:7]]


@BOTH
async def test_a_key_tells_it_with_picture_and_caution_and_puts_it_away(
    book: Book, id_of: IdOf, log: Log, size: tuple[int, int]
) -> None:
    log("Blue bezel", "dive", **DIVE)
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await opened_ahead(pilot, id_of("Blue bezel"))
        await pilot.press("f")
        found = forecast_of(book, id_of("Blue bezel")).of("crown")
        assert found is not None
        window = foretold.window_words(found, TODAY)
        await wait_for_text(pilot, f"forecast, crown seal: {window}", CAUTION_LINE)
        await wait_for(pilot, lambda: len(picture(app)) >= LEAST_PLOT, "the picture is drawn")
        assert shows(app, "└")  # the years below it
        assert MIDDLE in "".join(picture(app))
        assert BAND in "".join(picture(app))
        assert all(len(line) <= size[0] for line in screen_lines(app))
        await pilot.press("f")
        await wait_for(pilot, lambda: not shows(app, "forecast, crown seal"), "it is put away")
        assert room(app) == "WatchRoom"


@BOTH
async def test_it_has_every_seal_the_basis_the_interval_and_what_moves_it_most(
    book: Book, id_of: IdOf, log: Log, size: tuple[int, int]
) -> None:
    log("Blue bezel", "dive", **DIVE)
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await opened_ahead(pilot, id_of("Blue bezel"))
        await pilot.press("f")
        await wait_for(pilot, lambda: NOT_A_PROMISE in told(app, PANEL), "the panel is whole")
        text = told(app, PANEL)
        forecast = forecast_of(book, id_of("Blue bezel"))
        for seal in forecast.seals:
            days = " ".join(foretold.day_or_beyond(d) for d in (seal.p10, seal.p50, seal.p90))
            assert f"{seal.position.replace('-', ' ')} {days} {seal.mostly_from}" in text
        assert HEADS in text
        assert f"storage age ends {full_date(date(2033, 3, 1))}" in text  # class B of ISO 2230: 7 years
        assert f"fixed interval alone {full_date(date(2029, 3, 1))}" in text
        assert f"ways ahead: {foretold.basis_words(forecast)}" in text
        assert forecast.weeks == 99
        record = book.standing(id_of("Blue bezel")).record
        levers = levers_of(
            book.outset(record), next(s for s in record.seals if s.position == "crown"), book.practice
        )
        assert f"each alone, from {full_date(levers.base or TODAY)} at its low at its high" in text
        assert all(in_the_table(lever) in text for lever in levers.each[:MOST_LEVERS])
        assert in_the_table(levers.each[MOST_LEVERS]) not in text


async def test_in_a_large_window_the_picture_and_the_table_are_in_view_at_once(
    book: Book, id_of: IdOf
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened_ahead(pilot, id_of("Blue bezel"))
        await pilot.press("f")
        await wait_for_text(
            pilot, "100│", "0│", "└", f"score from today on: {MIDDLE} half the ways ahead", HEADS
        )
        assert shows(app, "log: 1 entry, newest first")  # above it


async def test_in_a_small_window_picture_dates_and_levers_are_in_view_and_the_rest_a_scroll_away(
    book: Book, id_of: IdOf
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened_ahead(pilot, id_of("Blue bezel"))
        await pilot.press("f")
        await wait_for_text(pilot, "forecast, crown seal", "100│", "└", "from today on", HEADS)
        record = book.standing(id_of("Blue bezel")).record
        levers = levers_of(
            book.outset(record), next(s for s in record.seals if s.position == "crown"), book.practice
        )
        await wait_for_text(
            pilot, *(in_the_table(lever) for lever in levers.each[:MOST_LEVERS]), CAUTION_LINE
        )
        panel = app.screen.query_one("#working")
        while not panel.has_focus:
            await pilot.press("tab")
            await pilot.pause()
        await pilot.press("end")
        await wait_for_text(pilot, NOT_A_PROMISE, CAUTION_LINE)
        await pilot.press("home")
        await wait_for_text(pilot, "forecast, crown seal")


async def test_it_follows_the_seal_under_the_cursor(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened_ahead(pilot, id_of("Gran's chrono"))
        await pilot.press("f", "home")
        standing = book.standing(id_of("Gran's chrono"))
        forecast = forecast_of(book, id_of("Gran's chrono"))
        assert len(standing.seals) == 4
        for wear in standing.seals:
            found = forecast.of(wear.seal.position)
            assert found is not None
            name = found.position.replace("-", " ")
            await wait_for_text(pilot, f"forecast, {name} seal: {foretold.window_words(found, TODAY)}")
            levers = levers_of(book.outset(standing.record), wear.seal, book.practice)
            assert all(in_the_table(lever) in told(app, PANEL) for lever in levers.each[:MOST_LEVERS])
            assert shows(app, f"{name} NBR")  # its row above, the only one there is room for
            await pilot.press("down")


async def test_escape_puts_it_away_and_stays(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened_ahead(pilot, id_of("Blue bezel"))
        await pilot.press("f")
        await wait_for_text(pilot, "forecast, crown seal")
        await pilot.press("escape")
        await wait_for(pilot, lambda: not shows(app, "forecast, crown seal"), "it is put away")
        assert room(app) == "WatchRoom"
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")


@BOTH
async def test_a_click_on_its_key_shows_it(book: Book, id_of: IdOf, size: tuple[int, int]) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await opened_ahead(pilot, id_of("Blue bezel"))
        row, line = next((n, each) for n, each in enumerate(screen_lines(app)) if "f forecast" in each)
        await pilot.click(offset=(line.index("f forecast") + 2, row))
        await wait_for_text(pilot, "forecast, crown seal")


async def test_the_palette_shows_it(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened_ahead(pilot, id_of("Blue bezel"))
        await pilot.press("ctrl+p")
        await wait_for(pilot, lambda: isinstance(app.screen, CommandPalette), "the palette is open")
        await write(pilot, "forecast")
        await wait_for(pilot, lambda: palette_offers(app, "Forecast"), "the palette offers it")
        await pilot.press("enter")
        await wait_for_room(pilot, "WatchRoom")
        await wait_for_text(pilot, "forecast, crown seal")


async def test_it_gives_its_place_to_what_else_is_asked_for_and_takes_it_back(
    book: Book, id_of: IdOf, log: Log
) -> None:
    log("Blue bezel", "dive", **DIVE)
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened_ahead(pilot, id_of("Blue bezel"))
        for key, text in (
            ("f", "forecast, crown seal"),
            ("h", "what happened:"),
            ("f", "forecast, crown seal"),
            ("enter", "crown seal · NBR · fitted"),
            ("f", "forecast, crown seal"),
        ):
            await pilot.press(key)
            await wait_for(pilot, lambda text=text: text in told(app, PANEL), f"the panel says {text}")  # type: ignore[misc]
        await to_the_log(pilot)
        await wait_for_text(pilot, "forecast, crown seal", "22 Nov 2026 dive 21 m")


@BOTH
async def test_the_first_seal_s_window_stands_between_the_stop_rules_and_what_is_due(
    book: Book, id_of: IdOf, size: tuple[int, int]
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await opened_ahead(pilot, id_of("Blue bezel"))
        first = forecast_of(book, id_of("Blue bezel")).first
        assert first.position == "crown"
        line = f"forecast: its crown seal {foretold.window_words(first, TODAY)}"
        lines = told(app, "#against-words")
        assert lines.startswith(f"no objection found to its use (diving) {line} later: ")


async def test_gaskets_are_due_by_the_middle_day_where_that_comes_before_the_interval(
    book: Book, id_of: IdOf, log: Log
) -> None:
    for n in range(25):
        log(
            "Blue bezel",
            "dive",
            **(DIVE | {"rinsed": False, "starts_on": date(2026, 9, 1) + timedelta(days=2 * n)}),
        )
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened_ahead(pilot, id_of("Blue bezel"))
        first = forecast_of(book, id_of("Blue bezel")).first
        assert first.p50 is not None
        assert first.p50 < date(2029, 3, 1)  # the interval of 36 months
        why = f"{first.position} seal: half the ways ahead have its service interval used up by then"
        services = book.standing(id_of("Blue bezel")).services
        service = next(s for s in services if any(item.task == "gaskets" for item in s.items))
        gaskets = next(item for item in service.items if item.task == "gaskets")
        assert (gaskets.due, gaskets.why) == (first.p50, why)
        assert shows(app, f"{service.label}, {full_date(service.due)} ({service.why})")


async def test_with_under_eight_weeks_it_rests_on_the_stated_use_and_says_so(empty_book: Book) -> None:
    since = date(2026, 10, 28)  # four weeks
    watch = a_watch("Newcomer", bar=10, use="swimming", recorded_from=since, added_on=since)
    key = empty_book.add_watch(watch, seals_of(watch, date(2026, 3, 1)))
    app = LogbookApp(empty_book)
    async with app.run_test(size=LARGE) as pilot:
        await opened_ahead(pilot, key)
        await pilot.press("f")
        await wait_for(
            pilot,
            lambda: (
                "ways ahead: only 4 weeks on record: from its stated use, swimming, with its wide band"
                in told(app, PANEL)
            ),
            "it says what it rests on",
        )
        assert "use before the log began " in told(app, PANEL)


async def test_what_is_planned_is_counted_and_said(book: Book, id_of: IdOf, log: Log) -> None:
    trip = {"starts_on": date(2026, 12, 20), "planned_to": date(2026, 12, 26), "planned": True}
    log("Blue bezel", "dive", **(DIVE | trip))
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened_ahead(pilot, id_of("Blue bezel"))
        await pilot.press("f")
        await wait_for(
            pilot, lambda: "by season, and 7 planned days of water" in told(app, PANEL), "it says so"
        )
        assert " without plans at its low at its high" in told(app, PANEL)


@BOTH
async def test_a_retired_watch_has_none_and_says_why(book: Book, id_of: IdOf, size: tuple[int, int]) -> None:
    from logbook.record.writing import watches

    key = id_of("Blue bezel")
    with book.writing() as store:
        watches.retire(store, key, TODAY)
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await opened_ahead(pilot, key)
        assert shows(app, "retired 25 Nov 2026", "likely")  # it has its band
        await pilot.press("f")
        await wait_for_text(pilot, "no forecast: ", "or the watch is retired", CAUTION_LINE)
        assert "forecast:" not in told(app, "#against-words")


@BOTH
async def test_a_watch_without_a_seal_has_none(empty_book: Book, size: tuple[int, int]) -> None:
    key = empty_book.add_watch(a_watch("Bare", bar=5), [])
    app = LogbookApp(empty_book)
    async with app.run_test(size=size, notifications=True) as pilot:
        await opened_ahead(pilot, key, "score not known: no seal is on record")
        await pilot.press("f")
        await wait_for_text(pilot, "no forecast: ", "or no seal is on record", CAUTION_LINE)
        await pilot.press("down", "f", "f")
        await wait_for_text(pilot, "no forecast: ")
        assert messages(app) == ""


async def test_a_seal_that_is_used_up_says_so_and_has_an_empty_picture(empty_book: Book) -> None:
    watch = a_watch("Drawer find", bar=3, worn_h=24)
    key = empty_book.add_watch(watch, seals_of(watch, date(2010, 1, 1)))
    app = LogbookApp(empty_book)
    async with app.run_test(size=LARGE) as pilot:
        await opened_ahead(pilot, key)
        await pilot.press("f")
        await wait_for_text(
            pilot, "forecast, crown seal: is likely used up already: half of the ways ahead since"
        )
        assert "storage age ended 1 Jan 2017" in told(app, PANEL)
        rows = picture(app)
        assert len(rows) > LEAST_PLOT
        assert not any(MIDDLE in row or BAND in row for row in rows)


async def test_a_nickname_is_text_and_no_markup(empty_book: Book) -> None:
    watch = a_watch("[bold]x[/bold][/]", bar=5)
    key = empty_book.add_watch(watch, seals_of(watch))
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened_ahead(pilot, key)
        await pilot.press("f")
        await wait_for_text(pilot, "logbook · Watch: [bold]x[/bold][/]", "forecast, crown seal")


async def test_without_colour_it_is_grey_and_says_the_same(
    book: Book, id_of: IdOf, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened_ahead(pilot, id_of("Blue bezel"))
        await pilot.press("f")
        await wait_for_text(pilot, "forecast, crown seal: is used up", MIDDLE, BAND)
        strips = [
            strip.apply_filter(line_filter, app.screen.background_colors[1])
            for strip in app.screen._compositor.render_strips()
            for line_filter in app._filters
        ]
        colours = {
            colour.get_truecolor()
            for strip in strips
            for segment in strip
            if segment.style is not None
            for colour in (segment.style.color, segment.style.bgcolor)
            if colour is not None
        }
        assert colours
        assert all(red == green == blue for red, green, blue in colours)


async def test_a_fault_takes_no_forecast_away(book: Book, id_of: IdOf) -> None:
    key = id_of("Blue bezel")
    book.add_events([Event("fog", date(2026, 11, 1), 60, watch_id=key)])
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened_ahead(pilot, key)
        assert shows(app, "keep it dry: fog was seen inside")
        await pilot.press("f")
        await wait_for_text(pilot, "forecast, crown seal: is used up")


async def test_the_room_says_what_its_key_is_for(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await opened_ahead(pilot, id_of("Blue bezel"))
        await pilot.press("question_mark")
        await wait_for_room(pilot, "HelpRoom")
        await wait_for_text(pilot, "when the seals are used up, the way this watch lives")
