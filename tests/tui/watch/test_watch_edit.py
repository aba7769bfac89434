"""Changing what is said of a watch: each story at the smallest window, on a real record."""

from __future__ import annotations

from datetime import date
from typing import Any

from textual.pilot import Pilot

from logbook.caution import CAUTION_LINE
from logbook.errors import BadInput
from logbook.model.values import Event
from logbook.record.file.practice_file import load_practice
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.watch import draft as watch_draft
from logbook.tui.watch.edit import WatchEditRoom
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.pick import Pick
from tests.tui.conftest import TODAY
from tests.tui.helpers import (
    HOSTILE,
    LARGE,
    SMALL,
    paste,
    press_all,
    raw_controls,
    screen_text,
    shows,
    told,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    write,
)
from tests.tui.watching import IdOf, Log, answer, opened

LOUD = (
    "\x1b[31mred\x1b[0m",
    "[@click=app.quit]x[/]",
    "\u202eevil",
    "'; DROP TABLE watch; --",
    "\x1b[2J\x1b[H",
)
PICKED = ("mark", "crown", "pushers", "gas_valve", "movement", "case_material", "use")


async def edit(pilot: Pilot[Any], watch_id: int) -> WatchEditRoom:
    """The room that changes a watch, by its key."""
    await opened(pilot, watch_id)
    await pilot.press("a")
    await wait_for_room(pilot, "WatchEditRoom")
    screen = pilot.app.screen
    assert isinstance(screen, WatchEditRoom)
    return screen


async def test_a_nickname_and_a_pressure_are_changed_as_one_step_and_taken_back(
    book: Book, id_of: IdOf
) -> None:
    key = id_of("Blue bezel")
    before = book.standing(key).record
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await edit(pilot, key)
        await wait_for_text(pilot, "Edit: Blue bezel", "nothing is changed yet", CAUTION_LINE)
        assert shows(app, "its number 20 bar")
        await answer(pilot, "name", "Deep green")
        await answer(pilot, "marked", "300")
        await wait_for_text(pilot, "Is it 300 m or 300 bar?")  # beside the field, while one types
        await write(pilot, "m")
        await wait_for(pilot, lambda: not shows(app, "Is it 300 m"), "the answer can be taken")
        assert told(app, "#changed") == "changed: nickname, its number"
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "WatchRoom")
        await wait_for_message(pilot, "Deep green is as you say now. z: undo")
        await wait_for_text(pilot, "Watch: Deep green", "diver’s 300 m")
        after = book.standing(key).record
        assert (after.watch.name, after.watch.marked_pa, after.seals) == ("Deep green", 30e5, before.seals)
        assert after.watch.marked_in == "m"
        await pilot.press("z")
        await wait_for_text(pilot, "Watch: Blue bezel", "diver’s 20 bar")
        assert book.standing(key).record.watch == before.watch


async def test_what_cannot_be_is_refused_beside_its_field_and_nothing_is_written(
    book: Book, id_of: IdOf
) -> None:
    key = id_of("Gran's chrono")
    before = book.standing(key).record
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        screen = await edit(pilot, key)
        for name, text, said in (
            ("name", "a:b", "A name has no colon"),
            ("worn_h", "30", "from 0 to 24"),
            ("recorded_from", "2027-01-01", "2027-01-01"),
            ("crown-fitted", "2026-05-01..2026-01-01", "runs backwards"),
            ("months-battery", "1.5", "no whole number of months"),
        ):
            field = screen.question(name).query_one(Field)
            field.ask()
            field.entry.value = text
            question = screen.question(name)
            await wait_for_text(pilot, said)
            assert question.wrong
            await pilot.press("ctrl+s")
            assert question.has_focus_within
            field.fill(screen.stood[name])
            screen.say_what_is_wrong()
        screen.question("pushers").query_one(Pick).ask()
        await pilot.press("left")
        await wait_for_text(pilot, "Its pushers seal is on record")
        await pilot.press("escape")
        await wait_for_room(pilot, "WatchRoom")
        assert book.standing(key).record == before


async def test_a_taken_nickname_is_refused_as_one_types_and_when_it_is_saved(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        screen = await edit(pilot, id_of("Lido quartz"))
        await write(pilot, "blue BEZEL")
        await wait_for_text(pilot, "! nickname", "There is already a watch called Blue bezel")
        await pilot.press("ctrl+s")
        await wait_for(pilot, lambda: screen.question("name").wrong, "it is refused")
        assert app.screen is screen
        await write(pilot, "s")
        await wait_for(pilot, lambda: not screen.question("name").wrong, "another one is taken")
        assert {w.name for w in book.watches()} >= {"Lido quartz", "Blue bezel"}


async def test_a_long_label_keeps_a_blank_before_its_answer_while_that_is_wrong(
    book: Book, id_of: IdOf
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        screen = await edit(pilot, id_of("Lido quartz"))
        for name, wanted in (("presses", "! presses a week 9999"), ("new_on", "! bought new on 9999")):
            await answer(pilot, name, "9999")
            await wait_for(pilot, lambda: screen.question(name).wrong, "it is refused")  # noqa: B023
            await wait_for(pilot, lambda: wanted in screen_text(app), f"{wanted!r} shows")  # noqa: B023
            await answer(pilot, name, "")


async def test_retiring_and_bringing_back_leave_the_record_as_it_was(book: Book, id_of: IdOf) -> None:
    key = id_of("Lido quartz")
    before = book.standing(key).record
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await edit(pilot, key)
        await wait_for_text(pilot, "^r retire")
        await pilot.press("ctrl+r")
        await wait_for_room(pilot, "WatchRoom")
        await wait_for_message(pilot, "Lido quartz is off the shelf; all of it stays on record. z: undo")
        await wait_for_text(pilot, "retired 25 Nov 2026")
        assert key not in [watch.id for watch in book.watches()]
        await pilot.press("a")
        await wait_for_text(pilot, "^r bring back")
        await pilot.press("ctrl+r")
        await wait_for_room(pilot, "WatchRoom")
        await wait_for_message(pilot, "Lido quartz is back on the shelf")
        await press_all(pilot, ["z", "z"])
        await wait_for(pilot, lambda: not shows(app, "retired 25 Nov"), "both steps are taken back")
        assert book.standing(key).record == before


async def test_hostile_text_in_a_field_stays_text(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        screen = await edit(pilot, id_of("Blue bezel"))
        for name, text in zip(("name", "group", "note", "marked", "winds"), LOUD, strict=True):
            field = screen.question(name).query_one(Field)
            field.fill("")
            field.ask()
            await paste(pilot, text)
            assert raw_controls(app) == []
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert screen.question("marked").wrong
        assert raw_controls(app) == []


# ------------------------------------------------------------------ the answers as they are read

PRACTICE = load_practice()


def test_a_hostile_answer_to_any_question_is_taken_as_text_or_refused_in_words(
    book: Book, id_of: IdOf
) -> None:
    record = book.standing(id_of("Gran's chrono")).record
    stood = watch_draft.texts_of(record)
    typed = [name for name in stood if name not in PICKED and not name.endswith("-material")]
    refusals = []
    for name in typed:
        for text in HOSTILE:
            try:
                watch_draft.read(record, stood, stood | {name: text}, PRACTICE, TODAY)
            except BadInput as error:
                refusals.append((name, error))
    assert len(refusals) > 500
    assert [error for name, error in refusals if error.where not in (name, f"{name}_pa")] == []
    assert [error.message for _, error in refusals if "\x1b" in error.message] == []


def test_answers_that_stand_change_nothing_whatever_the_watch(book: Book) -> None:
    for record in book.records():
        stood = watch_draft.texts_of(record)
        assert watch_draft.read(record, stood, stood, PRACTICE, TODAY) == (record.watch, [])


def test_a_seal_is_corrected_by_material_day_range_or_not_known(book: Book, id_of: IdOf) -> None:
    record = book.standing(id_of("Blue bezel")).record
    stood = watch_draft.texts_of(record)
    for text, first, last in (
        ("2025-02-01", date(2025, 2, 1), date(2025, 2, 1)),
        ("2024-01-01..2024-06-30", date(2024, 1, 1), date(2024, 6, 30)),
        (
            "unknown",
            date(1995, 1, 1),
            date(2025, 1, 1),
        ),  # thirty years back, as nothing else is known of it, to when it was added
    ):
        texts = stood | {"crown-fitted": text}
        watch, (seal,) = watch_draft.read(record, stood, texts, PRACTICE, TODAY)
        assert watch == record.watch
        assert (seal.position, seal.material) == ("crown", "NBR")
        assert (seal.fitted_earliest, seal.fitted_latest) == (first, last)
    _, (seal,) = watch_draft.read(record, stood, stood | {"crystal-material": "FKM"}, PRACTICE, TODAY)
    assert (seal.position, seal.material, seal.fitted_latest) == ("crystal", "FKM", date(2026, 3, 1))


def test_pushers_that_were_forgotten_bring_their_seal(book: Book, id_of: IdOf) -> None:
    record = book.standing(id_of("Blue bezel")).record
    stood = watch_draft.texts_of(record)
    texts = stood | {"pushers": "yes", "pushers-material": "VMQ", "pushers-fitted": "2026-03-01"}
    watch, (seal,) = watch_draft.read(record, stood, texts, PRACTICE, TODAY)
    assert watch.pushers
    assert (seal.id, seal.position, seal.material) == (None, "pushers", "VMQ")
    assert seal.fitted_earliest == seal.fitted_latest == date(2026, 3, 1)


async def test_a_seal_that_a_workshop_fitted_keeps_the_day_of_its_entry(book: Book, id_of: IdOf) -> None:
    key = id_of("Blue bezel")
    book.add_events([Event("gaskets", date(2026, 7, 1), 20, seals=(("crown", "FKM"),), watch_id=key)])
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await edit(pilot, key)
        await answer(pilot, "crown-fitted", "2026-06-01")
        await wait_for_text(pilot, "New gaskets on 1 Jul 2026 brought it")


async def test_the_years_made_and_pushers_that_may_be_used_in_water_are_kept(book: Book, id_of: IdOf) -> None:
    key = id_of("Gran's chrono")
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        screen = await edit(pilot, key)
        await wait_for_text(pilot, "in water [not to be used] its maker allows the pushers in water")
        screen.question("pushers_wet").query_one(Pick).ask()
        await pilot.press("i")
        await answer(pilot, "made", "2050")
        await wait_for_text(pilot, "2050")
        assert screen.question("made").wrong
        await answer(pilot, "made", "1960s")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "WatchRoom")
    watch = book.standing(key).record.watch
    assert (watch.pushers_wet, watch.made_from, watch.made_to) == (True, 1960, 1969)


async def test_exposures_that_stand_by_a_lower_mark_are_said_when_it_is_changed(
    book: Book, id_of: IdOf, log: Log
) -> None:
    log("Blue bezel", "dive", depth_m=130.0, duration_s=2400, starts_on=date(2026, 11, 20))
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await edit(pilot, id_of("Blue bezel"))
        await answer(pilot, "marked", "10 bar")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "WatchRoom")
        await wait_for_message(
            pilot,
            "Blue bezel is as you say now. z: undo",
            "keep it dry: a dive to 130 m on 20 Nov 2026 went above its mark",
        )
