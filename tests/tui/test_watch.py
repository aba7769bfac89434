"""The Watch room as a person sees and uses it, on a real record."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from textual.pilot import Pilot

from logbook.caution import CAUTION_LINE
from logbook.exchange import phrases
from logbook.reckoning.validate import make_exposure
from logbook.reckoning.values import Event, Exposure
from logbook.tui.app import LogbookApp
from logbook.tui.book import Book
from logbook.tui.watch import WatchRoom
from logbook.tui.watch_bar import HATCHING
from logbook.tui.widgets.lines import Lines
from tests.tui.conftest import TODAY, a_watch, passed_test, seals_of
from tests.tui.helpers import (
    LARGE,
    SMALL,
    press_all,
    room,
    screen_lines,
    screen_text,
    shows,
    wait_for,
    wait_for_room,
    wait_for_text,
    words,
)

Log = Callable[..., Exposure]
IdOf = Callable[[str], int]
DIVE = {"depth_m": 21.0, "duration_s": 38 * 60, "water_c": 17.0, "rinsed": True}


async def opened(pilot: Pilot[Any], watch_id: int) -> None:
    """The Watch room of one watch, on top of the Shelf."""
    await wait_for_room(pilot, "ShelfRoom")
    pilot.app.push_screen(WatchRoom(watch_id))
    await wait_for_room(pilot, "WatchRoom")
    await wait_for_text(pilot, "left (band not computed)")


async def to_the_log(pilot: Pilot[Any]) -> None:
    """The cursor into the log."""
    log = pilot.app.screen.query_one("#log", Lines)
    while not log.has_focus:
        await pilot.press("tab")
    await pilot.pause()


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_a_watch_says_who_it_is_what_is_left_what_speaks_and_what_is_due(
    book: Book, id_of: IdOf, size: tuple[int, int]
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=size, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        standing = book.standing(id_of("Blue bezel"))
        assert shows(app, "Blue bezel", "diver’s 20 bar", "up to scuba", "used for diving")
        assert shows(app, f"{standing.score} of 100 left (band not computed), limited by the crown seal")
        for item in standing.due[:3]:
            assert shows(app, f"{item.stage}: {item.label}, {phrases.full_date(item.due)}")
        assert shows(app, "no stop rule speaks for its use (diving)")
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
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, id_of("Sunday dress"))
        limiting = book.standing(id_of("Sunday dress")).limiting
        assert limiting is not None
        share = f"{limiting.wear_share:.2f}"
        low, high = f"{limiting.history_low:.2f}", f"{limiting.history_high:.2f}"
        assert low < share < high
        assert shows(app, f"used {share} of an interval, from {low} to {high} as its history is not known")


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
        await opened(pilot, id_of("Sunday dress"))
        assert shows(app, "its mark is not known, so that no use in water can be read from it")
        assert shows(app, "kept dry")


async def test_the_log_shows_water_tests_openings_and_faults_newest_first_with_their_cost(
    book: Book, id_of: IdOf, log: Log
) -> None:
    key = id_of("Blue bezel")
    log("Blue bezel", "dive", **DIVE)
    book.add_events([Event("battery", date(2026, 6, 1), 10, watch_id=key)])
    book.add_events([Event("water", date(2026, 11, 23), 60, watch_id=key)])
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
        assert shows(app, f"salt {crown.shares.salt:.4f}")
        assert shows(app, f"ageing {crown.shares.ageing:.4f}")
        score = book.standing(key).score
        assert shows(app, f"score 100 × (1 − {crown.wear_share:.4f}) = {score}, rounded down")


async def test_escape_puts_the_working_away_before_it_leaves(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await pilot.press("enter")
        await wait_for_text(pilot, "share used, by channel", "storage class of NBR")
        await pilot.press("escape")
        await wait_for(pilot, lambda: not shows(app, "storage class of NBR"), "the working is away")
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
        await wait_for_text(pilot, "A pass lifts stop rules and resets no wear.")


async def test_strike_takes_an_entry_away_and_undo_brings_it_back(book: Book, id_of: IdOf, log: Log) -> None:
    log("Blue bezel", "dive", **DIVE)
    key = id_of("Blue bezel")
    before = book.standing(key)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, key)
        await to_the_log(pilot)
        await pilot.press("x")
        await wait_for_text(pilot, "Struck: dive 21 m, 38 min", "z: undo")
        assert book.exposures(key) == []
        await pilot.press("z")
        await wait_for_text(pilot, "Undone:", "log: 2 entries")
        assert book.standing(key).record.totals == before.record.totals


async def test_strike_takes_an_event_and_its_seals_away(book: Book, id_of: IdOf) -> None:
    key = id_of("Blue bezel")
    book.add_events([Event("gaskets", date(2026, 7, 1), 20, seals=(("crown", "FKM"),), watch_id=key)])
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, key)
        assert shows(app, "crown FKM 1 Jul 2026")
        await to_the_log(pilot)
        assert shows(app, "gaskets replaced, crown (FKM) new seals")
        await pilot.press("x")
        await wait_for_text(pilot, "crown NBR 1 Mar 2026")


async def test_strike_outside_the_log_strikes_nothing_and_says_where_it_works(
    book: Book, id_of: IdOf, log: Log
) -> None:
    log("Blue bezel", "dive", **DIVE)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await pilot.press("x")
        await wait_for_text(pilot, "x strikes an entry of the log")
        assert len(book.exposures(id_of("Blue bezel"))) == 1


async def test_confirm_says_that_nothing_else_happened_up_to_today(book: Book, id_of: IdOf) -> None:
    key = id_of("Lido quartz")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, key)
        assert shows(app, "nothing was logged or confirmed for 693 days")
        await pilot.press("o")
        await wait_for_text(pilot, "Confirmed: nothing else")
        await wait_for(pilot, lambda: not shows(app, "for 693 days"), "the rule is silent")
        assert book.standing(key).record.watch.confirmed_on == TODAY
        await pilot.press("z")
        await wait_for_text(pilot, "nothing was logged or confirmed for 693 days")


@pytest.mark.parametrize(("key", "name"), [("w", "ExposureRoom"), ("c", "CheckRoom"), ("e", "EventRoom")])
async def test_a_key_leads_to_another_room_and_escape_back(
    book: Book, id_of: IdOf, key: str, name: str
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        await pilot.press(key)
        await wait_for_room(pilot, name)
        await wait_for_text(pilot, "Blue bezel", CAUTION_LINE)
        await pilot.press("escape")
        await wait_for_room(pilot, "WatchRoom")


async def test_undoing_the_watch_itself_leads_back_to_the_shelf(book: Book) -> None:
    watch = a_watch("Newcomer", bar=5)
    key = book.add_watch(watch, seals_of(watch))
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, key)
        await pilot.press("z")
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_text(pilot, "This watch is no longer")
        assert not any(line.startswith(" Newcomer") for line in screen_lines(app))


async def test_a_change_in_another_window_is_seen_on_the_way_back(book: Book, id_of: IdOf, log: Log) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, id_of("Blue bezel"))
        assert shows(app, "log: 1 entry")
        await pilot.press("question_mark")
        await wait_for_room(pilot, "HelpRoom")
        log("Blue bezel", "dive", **DIVE)
        await pilot.press("escape")
        await wait_for_text(pilot, "log: 2 entries")


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
        assert len(screen._pages) == 1
        await to_the_log(pilot)
        await pilot.press("end")
        await wait_for_text(pilot, "1 Jan 2013")
        assert len(screen._pages) <= 3


async def test_tab_reaches_the_stop_rules_that_do_not_fit(book: Book, id_of: IdOf) -> None:
    key = id_of("Lido quartz")
    faults = ("fog", "water", "crown", "crystal")
    book.add_events([Event(kind, date(2026, 10, 1 + n), 60, watch_id=key) for n, kind in enumerate(faults)])  # type: ignore[arg-type]
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, key)
        against = app.screen.query_one("#against")
        await pilot.press("tab")
        await wait_for(pilot, lambda: against.has_focus, "the stop rules have the focus")
        await pilot.press("end")
        last = book.standing(key).due[2]
        await wait_for_text(pilot, f"{last.label}, {phrases.full_date(last.due)}")


async def test_a_retired_watch_still_opens(book: Book, id_of: IdOf) -> None:
    key = id_of("Blue bezel")
    with book.writing() as store:
        from logbook.keeping import watches

        watches.retire(store, key, TODAY)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, key)
        assert shows(app, "retired 25 Nov 2026")


async def test_a_seal_past_its_class_of_storage_says_so(empty_book: Book) -> None:
    watch = a_watch("Drawer find", bar=3)
    key = empty_book.add_watch(watch, seals_of(watch, date(2017, 1, 1)), [passed_test(date(2026, 1, 2), 3)])
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot, key)
        assert shows(app, "0 of 100 left", "and older than a stored spare may be")
        await pilot.press("enter")
        await wait_for_text(pilot, "storage class of NBR, 7 years, was over on 1 Jan 2024")
