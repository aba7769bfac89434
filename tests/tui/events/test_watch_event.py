"""Logging a workshop event or a fault from the Watch room."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from textual.pilot import Pilot

from logbook.caution import CAUTION_LINE
from logbook.model.values import EVENT_KINDS, Event
from logbook.record.record import Book
from logbook.text.events import KIND_WORDS
from logbook.tui.app import LogbookApp
from logbook.tui.events import draft as event_draft
from logbook.tui.events.room import EventRoom
from tests.tui.conftest import TODAY
from tests.tui.helpers import (
    LARGE,
    SMALL,
    messages,
    press_all,
    room,
    shows,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    write,
)

IdOf = Callable[[str], int]


async def form(pilot: Pilot[Any], watch_id: int, kind: Any = None) -> EventRoom:
    """The form on top of the Shelf."""
    await wait_for_room(pilot, "ShelfRoom")
    screen = EventRoom(watch_id, kind)
    pilot.app.push_screen(screen)
    await wait_for_room(pilot, "EventRoom")
    await wait_for_text(pilot, "logbook · Log event")
    return screen


async def answer(pilot: Pilot[Any], **texts: str) -> None:
    """Type into questions; `_` stands for `-` in a question's name."""
    for name, text in texts.items():
        screen = pilot.app.screen
        assert isinstance(screen, EventRoom)
        screen.question(name.replace("_", "-")).asked.ask()
        await pilot.pause()
        await write(pilot, text)


async def saved(pilot: Pilot[Any]) -> None:
    await pilot.press("ctrl+s")
    await wait_for_room(pilot, "ShelfRoom")


async def saved_after_the_test(pilot: Pilot[Any], screen: EventRoom) -> None:
    """Dated to the day of the test, placed after it, and saved."""
    await answer(pilot, on="2026-05-01")
    await wait_for_text(pilot, "before pressure test")
    screen.question("place").asked.ask()
    await pilot.press("right")
    await wait_for_text(pilot, "[after pressure test]")
    await saved(pilot)


def newest(book: Book, watch_id: int) -> Event:
    return max(book.standing(watch_id).record.events, key=lambda event: event.id or 0)


async def test_a_letter_goes_to_the_next_kind_that_begins_with_it(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await form(pilot, id_of("Blue bezel"))
        await wait_for_text(pilot, "⏎ its questions", "▸ gaskets replaced")
        for kind in ("fog seen inside", "battery changed", "condensation test"):
            await pilot.press(kind[0])
            await wait_for_text(pilot, f"▸ {kind}")
        await pilot.press("c")
        await wait_for_text(pilot, "▸ crown damaged")
        await pilot.press("q", "enter", *"sat")
        assert screen.text("on") == "sat"
        assert not shows(app, "⏎ its questions")


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_every_kind_is_listed_and_the_caution_is_in_view(
    book: Book, id_of: IdOf, size: tuple[int, int]
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await form(pilot, id_of("Gran's chrono"))
        for kind in EVENT_KINDS:
            if kind != "gas-valve-damaged":  # it has none
                assert shows(app, KIND_WORDS[kind])
        assert not shows(app, KIND_WORDS["gas-valve-damaged"])
        assert shows(app, CAUTION_LINE)


@pytest.mark.parametrize(
    "kind",
    ["opened", "battery", "movement", "strap", "fog", "water-inside", "crown-damaged", "crystal-damaged"],
)
async def test_a_plain_event_of_today_is_one_key(book: Book, id_of: IdOf, kind: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await form(pilot, id_of("Lido quartz"), kind)
        await saved(pilot)
        await wait_for_text(pilot, "Logged for Lido quartz:")
        event = newest(book, id_of("Lido quartz"))
        assert (event.kind, event.on) == (kind, TODAY)


async def test_the_kind_is_chosen_in_the_list_and_enter_leads_to_its_questions(
    book: Book, id_of: IdOf
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await form(pilot, id_of("Lido quartz"))
        await press_all(pilot, ["down"] * 5)
        await wait_for_text(pilot, "▸ pressure test", "pressure", "deflection")
        await pilot.press("enter")
        await wait_for(
            pilot, lambda: screen.question("on").query_one("#on-entry").has_focus, "date has focus"
        )
        await answer(
            pilot, on="sat", pressure="10", minutes="5", deflection="12", workshop="The bench", note="ok"
        )
        await saved(pilot)
        event = newest(book, id_of("Lido quartz"))
        assert event.kind == "pressure-test"
        assert (event.on, event.passed, event.test_pa, event.medium) == (
            date(2026, 11, 21),
            True,
            10e5,
            "air",
        )
        assert (event.minutes, event.deflection_um) == (5, 12)
        assert (event.workshop, event.note) == ("The bench", "ok")


async def test_a_failed_test_in_water_needs_only_its_answers(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await form(pilot, id_of("Lido quartz"), "pressure-test")
        await wait_for_text(pilot, "A pass is proof up to its pressure on its day")
        screen.question("result").asked.ask()
        await pilot.press("f")
        await wait_for_text(pilot, "It stands until opened, mended and passed at that")
        screen.question("medium").asked.ask()
        await pilot.press("w")
        await answer(pilot, pressure="6 bar")
        await saved(pilot)
        event = newest(book, id_of("Lido quartz"))
        assert (event.passed, event.test_pa, event.medium) == (False, 6e5, "water")
        assert book.standing(id_of("Lido quartz")).stops[0].code == "failed-test"


async def test_gaskets_may_be_all_or_some_each_with_its_material(book: Book, id_of: IdOf) -> None:
    key = id_of("Gran's chrono")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await form(pilot, key, "gaskets")
        await saved(pilot)
        everything = ("case-back", "crystal", "crown", "pushers")
        assert newest(book, key).seals == tuple((place, "NBR") for place in everything)
        await form(pilot, key, "gaskets")
        await answer(pilot, seals="crown=fkm, Case back", material="hnbr")
        await saved(pilot)
        assert newest(book, key).seals == (("crown", "FKM"), ("case-back", "HNBR"))
        assert book.standing(key).stops[0].code == "opened-untested"


async def test_a_repair_names_what_was_repaired(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await form(pilot, id_of("Gran's chrono"), "repaired")
        await wait_for_text(pilot, "[crown] crystal pushers")
        screen.question("repaired").asked.ask()
        await pilot.press("p")
        await saved(pilot)
        assert newest(book, id_of("Gran's chrono")).repaired == "pushers-damaged"


async def test_fog_may_carry_its_temperatures_in_either_unit(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await form(pilot, id_of("Gran's chrono"), "fog")
        await answer(pilot, crystal="10", case_air="70F")
        await saved(pilot)
        event = newest(book, id_of("Gran's chrono"))
        assert event.crystal_c == 10
        assert event.case_air_c == pytest.approx(21.111, abs=1e-3)


async def test_imperial_answers_are_taken_in_imperial_units(
    book: Book, id_of: IdOf, set_home: Callable[..., None]
) -> None:
    set_home(units="imperial")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await form(pilot, id_of("Lido quartz"), "pressure-test")
        await answer(pilot, pressure="145")
        await saved(pilot)
        assert newest(book, id_of("Lido quartz")).test_pa == pytest.approx(999_740, abs=1)


@pytest.mark.parametrize(
    ("kind", "texts", "said"),
    [
        ("pressure-test", {}, "To what pressure was it passed?"),
        ("pressure-test", {"pressure": "10 m"}, "10 m is a length, but a pressure"),
        ("pressure-test", {"pressure": "3000"}, "The test pressure is out of range"),
        ("pressure-test", {"pressure": "10", "minutes": "0"}, "The test duration is out of range"),
        ("pressure-test", {"pressure": "10", "deflection": "wide"}, "'wide' is not a number"),
        ("opened", {"on": "tomorrow"}, "'tomorrow' lies in the future"),
        ("opened", {"on": "03/04/2026"}, "can be read day first or month first"),
        ("gaskets", {"seals": "bezel"}, "'bezel' is no sealing place"),
        ("gaskets", {"seals": "pushers"}, "has no pushers"),
        ("gaskets", {"material": "leather"}, "'leather' is no material"),
        ("gaskets", {"seals": "crown, crown"}, "is listed twice"),
        ("fog", {"crystal": "280K"}, "not in kelvin"),
        ("fog", {"case_air": "90"}, "Did you mean 90 °F"),
    ],
)
async def test_a_wrong_answer_is_told_beside_itself_and_nothing_is_written(
    book: Book, id_of: IdOf, kind: str, texts: dict[str, str], said: str
) -> None:
    key = id_of("Lido quartz")
    before = book.standing(key).record.events
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        screen = await form(pilot, key, kind)
        await answer(pilot, **texts)
        await pilot.press("ctrl+s")
        await wait_for(pilot, lambda: any(q.wrong for q in screen.questions()), "an answer is refused")
        await wait_for_text(pilot, said)
        wrong = next(q for q in screen.questions() if q.wrong)
        assert wrong.has_focus_within
        last = list(texts)[-1].replace("_", "-") if texts else "pressure"
        assert wrong.asked.id == last
        assert book.standing(key).record.events == before
        await pilot.press("1")
        await wait_for(pilot, lambda: not wrong.wrong, "the message is gone once the answer changes")


async def test_a_date_before_the_watch_is_refused(empty_book: Book) -> None:
    from tests.tui.conftest import a_watch, seals_of

    watch = a_watch("New one", bar=5, new_on=date(2025, 6, 1))
    key = empty_book.add_watch(watch, seals_of(watch, None))
    app = LogbookApp(empty_book)
    async with app.run_test(size=LARGE) as pilot:
        await form(pilot, key, "opened")
        await answer(pilot, on="2025-05-01")
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, "before the watch's own first date, 2025-06-01")


async def test_the_place_in_the_day_is_asked_only_when_the_day_is_shared(book: Book, id_of: IdOf) -> None:
    key = id_of("Blue bezel")  # tested on 1 May 2026
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await form(pilot, key, "battery")
        assert not screen.question("place").display
        await answer(pilot, on="2026-05-01")
        await wait_for_text(pilot, "in that day", "before pressure test")
        await saved(pilot)
        assert [stop.code for stop in book.standing(key).stops] == []  # the test of that day covers it


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_an_opening_taken_to_be_before_the_test_of_its_day_is_said_to_be_with_the_way_out(
    book: Book, id_of: IdOf, size: tuple[int, int]
) -> None:
    key = id_of("Blue bezel")  # tested on 1 May 2026
    app = LogbookApp(book)
    async with app.run_test(size=size, notifications=True) as pilot:
        await form(pilot, key, "battery")
        await answer(pilot, on="2026-05-01")
        await saved(pilot)
        await wait_for_message(
            pilot,
            "Logged for Blue bezel: battery changed. z: undo",
            "Taken to be before that day’s pressure test. If it was after: z, then log it again with "
            "“in that day” at “after pressure test”.",
        )
        await pilot.press("z")
        await wait_for(pilot, lambda: newest(book, key).kind == "pressure-test", "the battery is taken back")


async def test_an_opening_after_the_test_of_its_day_or_on_another_needs_no_such_word(
    book: Book, id_of: IdOf
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await form(pilot, id_of("Blue bezel"), "battery")
        await saved(pilot)
        await wait_for_message(pilot, "Logged for Blue bezel: battery changed")
        screen = await form(pilot, id_of("Blue bezel"), "opened")
        await saved_after_the_test(pilot, screen)
        await wait_for_message(pilot, "Logged for Blue bezel: case opened")
        assert "Taken to be" not in messages(app)


async def test_a_battery_put_in_after_the_test_of_that_day_leaves_the_watch_untested(
    book: Book, id_of: IdOf
) -> None:
    key = id_of("Blue bezel")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await form(pilot, key, "battery")
        await saved_after_the_test(pilot, screen)
        assert [stop.code for stop in book.standing(key).stops] == ["opened-untested"]


async def test_escape_writes_nothing(book: Book, id_of: IdOf) -> None:
    key = id_of("Lido quartz")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await form(pilot, key, "opened")
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")
        assert book.standing(key).record.events == ()


async def test_enter_goes_through_the_questions_and_saves_after_the_last(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await form(pilot, id_of("Lido quartz"), "strap")
        await wait_for(pilot, lambda: screen.question("workshop").has_focus_within, "workshop has the focus")
        await pilot.press("enter")
        await wait_for(pilot, lambda: screen.question("note").has_focus_within, "note has the focus")
        await pilot.press("enter")
        await wait_for_room(pilot, "ShelfRoom")
        assert newest(book, id_of("Lido quartz")).kind == "strap"


async def test_every_kind_says_what_it_does_to_the_books(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await form(pilot, id_of("Gran's chrono"), "fog")
        await wait_for_text(pilot, "Unless its temperatures show that sealed air explains it")
        await pilot.press("escape")
        await form(pilot, id_of("Gran's chrono"), "crystal-damaged")
        await wait_for_text(pilot, "stands until the damage is repaired and a pressure test is passed")
        assert room(app) == "EventRoom"


def test_a_new_event_can_stand_before_between_and_after_those_of_its_day() -> None:
    day = date(2026, 5, 1)
    events = [Event("opened", day, 10, id=1), Event("pressure-test", day, 40, passed=True, id=2)]
    places = event_draft.places_in_day("battery", day, events, wet=True)
    assert places == [
        ("10", "after case opened"),
        ("9", "before case opened"),
        ("41", "after pressure test"),
        ("51", "after the water"),
    ]


def test_between_two_events_of_one_order_there_is_no_place() -> None:
    day = date(2026, 5, 1)
    events = [Event("opened", day, 10, id=1), Event("battery", day, 10, id=2)]
    places = event_draft.places_in_day("pressure-test", day, events, wet=False)
    assert places == [("40", "after battery changed"), ("9", "before case opened")]


def test_an_event_alone_on_its_day_has_no_place_to_choose() -> None:
    events = [Event("opened", date(2026, 5, 2), 10, id=1)]
    assert event_draft.places_in_day("battery", date(2026, 5, 1), events, wet=False) == []


def test_a_fault_and_a_knock_are_taken_to_come_last_which_keeps_the_watch_drier() -> None:
    day = date(2026, 5, 1)
    events = [
        Event("fog", day, 60, id=1),
        Event("pressure-test", day, 65, passed=True, id=2),  # its owner says that it came after the fog
    ]
    for kind in ("knock", "water-inside"):
        places = event_draft.places_in_day(kind, day, events, wet=True)  # type: ignore[arg-type]
        assert places[0] == ("66", "after pressure test")
    assert event_draft.places_in_day("knock", day, events[:1], wet=False)[0] == (
        "60",
        "after fog seen inside",
    )


def test_a_pass_is_taken_to_come_before_the_water_and_the_faults_of_its_day() -> None:
    day = date(2026, 5, 1)
    events = [Event("opened", day, 10, id=1), Event("knock", day, 60, id=2)]
    places = event_draft.places_in_day("pressure-test", day, events, wet=True)
    assert places[0] == ("40", "after case opened")
    assert ("61", "after fall or blow") in places


async def test_a_test_is_told_to_its_mark_in_a_month_and_counts_on_its_first_day(
    book: Book, id_of: IdOf
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await form(pilot, id_of("Lido quartz"), "pressure-test")
        await answer(pilot, on="may 2026", pressure="to its mark")
        await saved(pilot)
    event = newest(book, id_of("Lido quartz"))
    assert (event.on, event.span) == (date(2026, 5, 1), (date(2026, 5, 1), date(2026, 5, 31)))
    assert (event.to_mark, event.test_pa, event.medium) == (True, 10e5, "air")


async def test_a_pass_whose_pressure_is_not_known_is_kept_without_one(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await form(pilot, id_of("Lido quartz"), "pressure-test")
        await answer(pilot, on="2026-05-02", pressure="not known")
        await saved(pilot)
    event = newest(book, id_of("Lido quartz"))
    assert (event.passed, event.test_pa, event.to_mark) == (True, None, False)


async def test_to_its_mark_says_nothing_of_a_mark_that_is_not_known(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        screen = await form(pilot, id_of("Sunday dress"), "pressure-test")
        await answer(pilot, pressure="to its mark")
        await pilot.press("ctrl+s")
        await wait_for(pilot, lambda: screen.question("pressure").wrong, "the pressure is refused")
        await wait_for_text(pilot, "The mark of Sunday dress is not known")


async def test_a_knock_asks_whether_anything_moved_and_counts_on_the_last_of_its_days(
    book: Book, id_of: IdOf
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await form(pilot, id_of("Lido quartz"), "knock")
        await wait_for_text(pilot, "did it move", "yes: crystal, crown or bezel", "keep it dry where")
        assert not screen.question("workshop").display
        screen.question("moved").asked.ask()
        await pilot.press("y")
        await answer(pilot, on="2026-10-01..2026-10-09")
        await saved(pilot)
    event = newest(book, id_of("Lido quartz"))
    assert (event.kind, event.moved, event.on) == ("knock", True, date(2026, 10, 9))


async def test_a_pass_and_a_fault_of_one_day_are_asked_about_and_the_order_is_said(
    book: Book, id_of: IdOf
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await form(pilot, id_of("Blue bezel"), "fog")
        await answer(pilot, on="2026-05-01")
        await wait_for_text(pilot, "in that day", "[after pressure test]")
        await saved(pilot)
        order = "Read as: pressure test passed, then fog seen inside."
        await wait_for_message(pilot, order, "To change that, a on the entry in the log.")


async def test_a_fault_of_the_day_of_an_opening_says_the_order_in_which_they_are_read(
    book: Book, id_of: IdOf
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await form(pilot, id_of("Lido quartz"), "battery")
        await answer(pilot, on="2026-06-01")
        await saved(pilot)
        await form(pilot, id_of("Lido quartz"), "fog")
        await answer(pilot, on="2026-06-01")
        await saved(pilot)
        order = "Read as: battery changed, then fog seen inside."
        await wait_for_message(pilot, order, "To change that, a on the entry in the log.")
