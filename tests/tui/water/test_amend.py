"""Changing an entry of the log in place: water in its line, an event by its questions."""

from __future__ import annotations

from datetime import date, time
from typing import Any

import pytest
from textual.pilot import Pilot

from logbook.caution import CAUTION_LINE
from logbook.errors import BadInput
from logbook.model.values import DAMAGE, Event, Exposure, ProfilePoint
from logbook.record.record import Book
from logbook.text import phrases
from logbook.text.planned import refuse_past_plan
from logbook.tui.app import LogbookApp
from logbook.tui.events import draft as event_draft
from logbook.tui.events.amend import AmendEventRoom
from logbook.tui.events.draft import Around
from logbook.tui.watch.working import share_words
from logbook.tui.water import amend_lines
from logbook.tui.water.amend import AmendRoom
from logbook.tui.widgets.field import Field
from tests.tui.conftest import TODAY
from tests.tui.helpers import (
    SMALL,
    paste,
    raw_controls,
    shows,
    told,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
)
from tests.tui.watching import DIVE, IdOf, Log, answer, opened, to_the_log

LOUD = ("\x1b[31mred", "[@click=app.quit]x[/]", "dive 21m \u202eevil", "x" * 5_000, "dive " * 500, "a\x00b")


async def amend(pilot: Pilot[Any], watch_id: int, room: str) -> Any:
    """The newest entry of a watch, opened to be changed."""
    await opened(pilot, watch_id)
    await to_the_log(pilot)
    await pilot.press("a")
    await wait_for_room(pilot, room)
    return pilot.app.screen


def the_line(screen: AmendRoom) -> Field:
    return screen.question("line").query_one(Field)


def most(book: Book, exposure: Exposure) -> str:
    """What an exposure took at most, in words."""
    return phrases.of_hundred(max(shares.total for shares in book.cost(exposure.id or 0).values()))


async def test_a_dive_is_amended_from_21_to_24_m_its_cost_is_seen_and_it_is_taken_back(
    book: Book, id_of: IdOf, log: Log
) -> None:
    key = id_of("Blue bezel")
    log("Blue bezel", "dive", **DIVE, note="with the others")
    before = book.exposures(key)[0]
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        screen = await amend(pilot, key, "AmendRoom")
        assert shows(app, "Amend: Blue bezel", "as it is on record", CAUTION_LINE)
        line = the_line(screen)
        assert line.text == "dive 21m 38min sea 17C rinsed on 2026-11-22 -- with the others"
        line.entry.value = line.text.replace("21m", "24m")
        await wait_for_text(pilot, f"took {most(book, before)} (crown); now it takes")
        said = told(app, "#means")
        ledger = book.cost(before.id or 0).values()
        pressure = max(ledger, key=lambda shares: shares.total).pressure
        await pilot.press("enter")
        await wait_for_room(pilot, "WatchRoom")
        after = book.exposures(key)[0]
        assert (after.id, after.depth_m, after.note) == (before.id, 24.0, before.note)
        assert after.gauge_pa > before.gauge_pa
        again = max(book.cost(after.id or 0).values(), key=lambda shares: shares.total).pressure
        assert again > pressure
        was, now = share_words(100 * pressure), share_words(100 * again)
        assert said.endswith(f"now it takes {most(book, after)} (crown): pressure {now} of 100, was {was}")
        await wait_for_message(pilot, "Amended: 22 Nov 2026: dive 24 m, 38 min", f"takes {most(book, after)}")
        await pilot.press("z")
        await wait_for_text(pilot, "dive 21 m, 38 min")
        assert book.exposures(key) == [before]


async def test_what_is_taken_out_of_the_line_is_no_longer_said_and_a_wrong_word_is_pointed_at(
    book: Book, id_of: IdOf, log: Log
) -> None:
    key = id_of("Blue bezel")
    log("Blue bezel", "dive", **DIVE, note="gone", crown_wet=1, starts_at=time(10, 40))
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        screen = await amend(pilot, key, "AmendRoom")
        the_line(screen).entry.value = "dive 21m 38min 17C sparkling on 2026-11-22"
        await wait_for_text(pilot, "^", "sparkling")
        await pilot.press("enter")
        assert app.screen is screen
        assert book.exposures(key)[0].rinsed
        the_line(screen).entry.value = "dive 21m 38min 17C on 2026-11-22"
        await wait_for_text(pilot, "22 Nov 2026: dive 21 m, 38 min, sea 17 °C, not rinsed")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "WatchRoom")
        after = book.exposures(key)[0]
        assert (after.rinsed, after.note, after.crown_wet, after.starts_at) == (False, "", 0, None)


async def test_a_plan_is_amended_and_stays_a_plan_that_costs_nothing(
    book: Book, id_of: IdOf, log: Log
) -> None:
    key = id_of("Blue bezel")
    log("Blue bezel", "dive", **DIVE | {"starts_on": date(2026, 12, 20), "planned": True})
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        screen = await amend(pilot, key, "AmendRoom")
        line = the_line(screen)
        line.entry.value = line.text.replace("2026-12-20", "2026-11-01")
        await wait_for_text(pilot, "A plan for 1 Nov 2026 is past: today is 25 Nov 2026.")
        line.entry.value = line.text.replace("2026-11-01", "2026-12-21..2026-12-24")
        await wait_for_text(pilot, "21 Dec 2026 to 24 Dec 2026", "it would take", "once it has happened")
        await pilot.press("enter")
        await wait_for_room(pilot, "WatchRoom")
        (plan,) = book.plans(key)
        assert (plan.starts_on, plan.planned_to) == (date(2026, 12, 21), date(2026, 12, 24))
        assert book.cost(plan.id or 0) == {}


async def test_a_profile_stays_and_the_line_is_judged_against_it(book: Book, id_of: IdOf, log: Log) -> None:
    key = id_of("Blue bezel")
    points = (ProfilePoint(0, 0), ProfilePoint(600, 21, 16), ProfilePoint(2280, 0))
    log("Blue bezel", "dive", **DIVE, profile=points)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        screen = await amend(pilot, key, "AmendRoom")
        line = the_line(screen)
        line.entry.value = line.text.replace("21m", "12m")
        await wait_for_text(pilot, "The profile goes to 21")
        line.entry.value = line.text.replace("12m", "21m").replace(" rinsed", "")
        await wait_for_text(pilot, "not rinsed, with its profile")
        await pilot.press("enter")
        await wait_for_room(pilot, "WatchRoom")
        after = book.with_profile(book.exposures(key)[0])
        assert (after.rinsed, after.profile) == (False, points)


async def test_the_note_and_the_pressure_of_a_test_are_amended_and_taken_back(
    book: Book, id_of: IdOf
) -> None:
    key = id_of("Blue bezel")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        screen = await amend(pilot, key, "AmendEventRoom")
        assert shows(app, "on record, 1 May 2026: pressure test passed, 20 bar in water", CAUTION_LINE)
        (before,) = book.standing(key).record.events
        await answer(pilot, "pressure", "9000 bar")
        await wait_for(pilot, lambda: screen.question("pressure").wrong, "beside the field while one types")
        await pilot.press("ctrl+s")
        assert app.screen is screen
        await answer(pilot, "pressure", "25 bar")
        for name, text in (("note", "drop held"), ("workshop", "The bench"), ("minutes", "10")):
            await answer(pilot, name, text)
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "WatchRoom")
        await wait_for_message(pilot, "Amended: pressure test passed, 25 bar in water, 10 min, 1 May 2026")
        await wait_for_text(pilot, "pressure test passed, 25 bar in water, 10 min, The bench")
        (after,) = book.standing(key).record.events
        assert (after.id, after.order, after.on) == (before.id, before.order, before.on)
        assert (after.test_pa, after.minutes, after.note) == (25e5, 10, "drop held")
        await pilot.press("z")
        await wait_for_message(pilot, "Undone: amend")
        assert book.standing(key).record.events == (before,)


async def test_hostile_text_in_a_line_and_in_a_note_stays_text(book: Book, id_of: IdOf, log: Log) -> None:
    key = id_of("Blue bezel")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        screen = await amend(pilot, key, "AmendEventRoom")
        for name, text in zip(
            ("on", "pressure", "minutes", "deflection", "workshop", "note"), LOUD, strict=True
        ):
            field = screen.question(name).query_one(Field)
            field.fill("")
            field.ask()
            await paste(pilot, text)
            assert raw_controls(app) == []
        await pilot.press("escape")
        log("Blue bezel", "dive", **DIVE)
        await pilot.press("z")  # and y brings the dive back, so that the room has read it
        await pilot.press("y")
        await wait_for_text(pilot, "dive 21 m")
        await pilot.press("a")
        await wait_for_room(pilot, "AmendRoom")
        before = book.exposures(key)
        for text in LOUD:
            field = app.screen.query_one(Field)
            field.fill("")
            field.ask()
            await paste(pilot, text)
            await pilot.press("enter")
            assert raw_controls(app) == []
        assert book.exposures(key) == before


MAY = (date(2026, 5, 1), date(2026, 5, 31))
EVENTS = [
    Event("opened", date(2026, 5, 1), 10, workshop="Bench", note="a note"),
    Event("gaskets", date(2026, 5, 1), 20, seals=(("crown", "FKM"), ("case-back", "NBR"))),
    Event("pressure-test", date(2026, 5, 1), 44, passed=True, test_pa=1_234_567.0, medium="air",
          minutes=5 + 1 / 60, deflection_um=12.345),
    Event("pressure-test", date(2026, 5, 1), 40, passed=False),
    Event("condensation-test", date(2026, 5, 1), 40, passed=False, minutes=20.0),
    *(Event("repaired", date(2026, 5, 1), 30, repaired=what) for what in DAMAGE),
    Event("fog", date(2026, 5, 1), 60, crystal_c=5.125, case_air_c=-3.5),
    Event("pressure-test", date(2026, 5, 1), 41, passed=True, test_pa=20e5, medium="water", to_mark=True),
    Event("pressure-test", date(2026, 5, 1), 42, passed=True),
    Event("pressure-test", date(2026, 5, 1), 43, passed=True, test_pa=3e5, medium="air", span=MAY),
    Event("opened", date(2026, 5, 31), 10, span=MAY),
    Event("knock", date(2026, 5, 1), 60, moved=True),
]  # fmt: skip


@pytest.mark.parametrize("units", ["metric", "imperial"])
@pytest.mark.parametrize("event", EVENTS, ids=lambda event: f"{event.kind}-{event.repaired or event.order}")
def test_the_answers_that_stand_read_back_as_the_event(
    book: Book, id_of: IdOf, event: Event, units: Any
) -> None:
    from dataclasses import replace

    record = book.standing(id_of("Blue bezel")).record
    watch = replace(record.watch, pushers=True, gas_valve=True)
    around = Around(replace(record, watch=watch), book.practice, units, TODAY)
    again = event_draft.read(event.kind, event_draft.texts_of(event, units), around)
    assert again == replace(event, watch_id=watch.id)


def test_a_plan_of_today_may_stand_and_one_of_yesterday_may_not(log: Log) -> None:
    plan = log("Blue bezel", "dive", **DIVE | {"starts_on": TODAY, "planned": True})
    refuse_past_plan(plan, TODAY, "line")
    with pytest.raises(BadInput, match="is past"):
        refuse_past_plan(plan, date(2026, 11, 26), "line")


def test_an_entry_from_before_its_record_is_told_to_cost_nothing(book: Book, id_of: IdOf, log: Log) -> None:
    record = book.standing(id_of("Blue bezel")).record
    early = log("Blue bezel", "dive", **DIVE | {"starts_on": date(2024, 6, 1)})
    line = amend_lines.cost_line({}, early, record, book.practice)
    assert line[0][0] == "not charged: its water is on record from 1 Jan 2025 only"


def test_the_rooms_are_told_apart_by_what_the_entry_is(book: Book, id_of: IdOf, log: Log) -> None:
    from logbook.tui.water.amend import room_for

    record = book.standing(id_of("Blue bezel")).record
    assert isinstance(room_for(log("Blue bezel", "dive", **DIVE), record), AmendRoom)
    assert isinstance(room_for(record.events[0], record), AmendEventRoom)
