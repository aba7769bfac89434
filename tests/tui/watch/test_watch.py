"""The Watch room as a person sees and uses it, on a real record."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from logbook.caution import CAUTION_LINE
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Event
from logbook.record.record import Book
from logbook.text import phrases
from logbook.tui.app import LogbookApp
from logbook.tui.watch.bar import HATCHING
from logbook.tui.watch.room import WatchRoom
from tests.tui.conftest import TODAY, a_watch, passed_test, seals_of
from tests.tui.foretelling import opened_ahead
from tests.tui.helpers import (
    LARGE,
    SMALL,
    screen_lines,
    screen_text,
    shows,
    told,
    wait_for,
    wait_for_text,
    words,
)
from tests.tui.watching import DIVE, IdOf, Log, opened, to_the_log

pytestmark = pytest.mark.looks_ahead


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_a_watch_says_who_it_is_what_is_left_what_speaks_and_what_is_due(
    book: Book, id_of: IdOf, size: tuple[int, int]
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=size, notifications=True) as pilot:
        await opened_ahead(pilot, id_of("Blue bezel"))
        standing = book.standing(id_of("Blue bezel"))
        assert shows(app, "Blue bezel", "diver’s 20 bar", "up to scuba", "used for diving")
        band = f"likely {standing.low}–{standing.high}"
        assert shows(app, f"{standing.score} of 100 left, {band}, limited by the crown seal")
        against = told(app, "#against-words")
        for service in standing.services[:3]:
            assert f"{service.stage}: {service.label}, {phrases.full_date(service.due)}" in against
        assert shows(app, "no objection found to its use (diving)", "forecast: its crown seal is used up")
        assert shows(app, CAUTION_LINE)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_every_seal_has_a_bar_of_at_least_thirty_cells(
    book: Book, id_of: IdOf, size: tuple[int, int]
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=size, notifications=True) as pilot:
        await opened(pilot, id_of("Gran's chrono"))
        for place in ("case back", "crystal", "crown", "pushers"):
            row = next(line for line in screen_lines(app) if line.startswith(f" {place} "))
            assert sum(char in (*HATCHING.values(), "·", "?") for char in row) >= 30
            assert "NBR" in row
            assert "1 Mar 2026" in row


async def test_the_legend_names_every_hatching(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        for name, char in HATCHING.items():
            assert shows(app, f"{char} {name}")
        assert shows(app, "? assumed")


async def test_what_is_assumed_of_the_time_before_the_log_is_marked_in_the_bar(empty_book: Book) -> None:
    watch = a_watch("Old diver", mark="divers", bar=20, use="diving")
    key = empty_book.add_watch(watch, seals_of(watch, date(2023, 1, 1)))
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, key)
        row = next(line for line in screen_lines(app) if line.startswith(" crown "))
        assert "????" in row


async def test_unknown_history_is_a_range_in_words(book: Book, id_of: IdOf) -> None:
    passed = replace(passed_test(date(2026, 11, 1), 3), watch_id=id_of("Sunday dress"))
    book.add_events([passed])  # with it there is a score, though no one knows when its gaskets were fitted
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, id_of("Sunday dress"))
        limiting = book.standing(id_of("Sunday dress")).limiting
        assert limiting is not None
        share = f"{limiting.wear_share:.2f}"
        low, high = f"{limiting.history_low:.2f}", f"{limiting.history_high:.2f}"
        assert low < share < high
        await pilot.press("enter")
        await wait_for_text(
            pilot, f"sum {share} of an interval, from {low} to {high} as its history is not known"
        )


async def test_stop_rules_stand_worst_first_with_their_sentences(book: Book, id_of: IdOf) -> None:
    book.add_events([Event("fog", date(2026, 10, 1), 60, watch_id=id_of("Lido quartz"))])
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await opened(pilot, id_of("Lido quartz"))
        text = words(screen_text(app))
        worst = text.index("keep it dry: fog was seen inside")
        assert worst < text.index("think twice: no passed pressure test on record")


async def test_a_watch_without_a_mark_that_is_known_says_so(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, id_of("Sunday dress"), "score and chance not known")
        assert shows(app, "its mark is not known, so that no use in water can be read from it")
        assert shows(app, "kept dry")


async def test_the_log_shows_water_tests_openings_and_faults_newest_first_with_their_cost(
    book: Book, id_of: IdOf, log: Log
) -> None:
    key = id_of("Blue bezel")
    log("Blue bezel", "dive", **DIVE)
    book.add_events([Event("battery", date(2026, 6, 1), 10, watch_id=key)])
    book.add_events([Event("water-inside", date(2026, 11, 23), 60, watch_id=key)])
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await opened(pilot, key)
        rows = [line for line in screen_lines(app) if line[1:13].strip().endswith("2026") and line[0] == " "]
        said = [words(row) for row in rows]
        assert said[0].startswith("23 Nov 2026 water seen inside")
        cost = max(shares.total for shares in book.cost(book.exposures(key)[0].id or 0).values())
        wanted = phrases.of_hundred(cost).removesuffix(" of 100")
        assert said[1] == f"22 Nov 2026 dive 21 m, 38 min, sea 17 °C, rinsed {wanted}"
        assert said[2].startswith("1 Jun 2026 battery changed")
        assert said[3].startswith("1 May 2026 pressure test passed, 20 bar in water")


async def test_what_is_planned_stands_on_top_and_says_so(book: Book, id_of: IdOf, log: Log) -> None:
    log("Blue bezel", "dive", **DIVE)
    log("Blue bezel", "dive", **(DIVE | {"starts_on": date(2026, 12, 20), "planned": True}))
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await to_the_log(pilot)
        rows = [words(line) for line in screen_lines(app)]
        at = next(n for n, row in enumerate(rows) if row.startswith("20 Dec 2026"))
        assert rows[at].endswith("planned")
        assert rows[at + 1].startswith("22 Nov 2026")
        assert shows(app, "log: 2 entries, newest first; 1 planned on top")


async def test_a_log_of_five_thousand_entries_reads_only_what_is_looked_at(book: Book, id_of: IdOf) -> None:
    key = id_of("Lido quartz")
    watch = book.standing(key).record.watch
    one = make_exposure(
        book.practice, book.settings, activity="pool", today=TODAY, watch=watch,
        starts_on=date(2026, 1, 1), duration_s=1200,
    )  # fmt: skip
    days = [date(2013, 1, 1) + timedelta(days=n) for n in range(5000)]
    book.log([replace(one, starts_on=day) for day in days])
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, key)
        await wait_for_text(pilot, "log: 5,000 entries")
        screen = app.screen
        assert isinstance(screen, WatchRoom)
        assert screen._log is not None
        assert len(screen._log.pages) == 1
        await to_the_log(pilot)
        await pilot.press("end")
        await wait_for_text(pilot, "1 Jan 2013")
        assert len(screen._log.pages) <= 3


async def test_tab_reaches_the_stop_rules_that_do_not_fit(book: Book, id_of: IdOf) -> None:
    key = id_of("Lido quartz")
    faults = ("fog", "water-inside", "crown-damaged", "crystal-damaged")
    book.add_events([Event(kind, date(2026, 10, 1 + n), 60, watch_id=key) for n, kind in enumerate(faults)])  # type: ignore[arg-type]
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened_ahead(pilot, key)
        against = app.screen.query_one("#against")
        await pilot.press("tab")
        await wait_for(pilot, lambda: against.has_focus, "the stop rules have the focus")
        await pilot.press("end")
        last = book.standing(key).due[2]
        await wait_for_text(pilot, f"{last.label}, {phrases.full_date(last.due)}")


async def test_a_retired_watch_still_opens(book: Book, id_of: IdOf) -> None:
    key = id_of("Blue bezel")
    with book.writing() as store:
        from logbook.record.writing import watches

        watches.retire(store, key, TODAY)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, key)
        assert shows(app, "retired 25 Nov 2026")
