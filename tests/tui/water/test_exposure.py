"""Log exposure as a person uses it: keys, mouse and palette on a real record."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from textual.widgets import Input

from logbook.caution import CAUTION_LINE
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.water.questions import Questions
from tests.tui.exposing import focused, on_shelf, open_room, put, texts
from tests.tui.helpers import (
    LARGE,
    SMALL,
    press_all,
    screen_lines,
    screen_text,
    shows,
    told,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    write,
)

LOGGED = date(2026, 11, 22)


@pytest.mark.parametrize("size", [SMALL, LARGE])
@pytest.mark.parametrize(("key", "rinsed"), [("r", True), ("n", False)])
async def test_a_usual_dive_is_w_two_numbers_and_one_letter(
    book: Book, log: Any, newest: Any, size: tuple[int, int], key: str, rinsed: bool
) -> None:
    log(
        "Blue bezel",
        "dive",
        depth_m=18,
        duration_s=2700,
        water_c=17,
        from_c=30,
        rinsed=not rinsed,
        crown_wet=1,
    )
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await on_shelf(pilot, "Blue bezel")
        await press_all(pilot, ["w", "2", "1", "enter", "3", "8", "enter", key])
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_message(pilot, "Logged 3: dive 21 m, 38 min, sea 17 °C", "(crown). z: undo")
    kept = newest("Blue bezel")
    assert (kept.activity, kept.depth_m, kept.duration_s, kept.rinsed) == ("dive", 21.0, 2280, rinsed)
    assert (kept.water_c, kept.from_c, kept.crown_wet, kept.starts_on) == (17.0, 30.0, 0, book.today)


async def test_the_form_opens_with_what_was_logged_last_of_that_activity(
    book: Book, log: Any, id_of: Any
) -> None:
    log("Blue bezel", "dive", depth_m=30, duration_s=1800, water_c=9, starts_on=date(2026, 6, 1), rinsed=True)
    log("Blue bezel", "snorkel", duration_s=3000, starts_on=LOGGED)
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        assert texts(pilot)["what"] == "snorkel"
        assert texts(pilot)["minutes"] == "50 min"
        await put(pilot, "what", "dive")
        await wait_for(pilot, lambda: texts(pilot)["depth"] == "30 m", "the last dive is filled in")
        assert texts(pilot)["minutes"] == "30 min"
        assert texts(pilot)["temp"] == "9 °C"
        await wait_for_text(pilot, "last time, 5 months ago: dive 30 m")


async def test_what_was_written_by_hand_stays_when_the_activity_changes(book: Book, id_of: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await put(pilot, "minutes", "51")
        await put(pilot, "what", "snorkel")
        await wait_for(pilot, lambda: texts(pilot)["depth"] == "3 m", "the snorkel’s depth is filled in")
        assert texts(pilot)["minutes"] == "51"


@pytest.mark.parametrize(
    ("name", "activity", "first", "filled"),
    [("Blue bezel", "dive", "depth", ""), ("Lido quartz", "pool", "minutes", "45 min"),
     ("Sunday dress", "rain", "minutes", "20 min")],
)  # fmt: skip
async def test_a_watch_without_water_starts_with_its_stated_use(
    book: Book, id_of: Any, name: str, activity: str, first: str, filled: str
) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of(name))
        assert texts(pilot)["what"] == activity
        assert focused(pilot) == first
        assert texts(pilot)[first] == filled


async def test_the_first_field_is_selected_so_that_typing_replaces_it(
    book: Book, log: Any, id_of: Any
) -> None:
    log("Blue bezel", "dive", depth_m=18, duration_s=2700)
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        entry = pilot.app.focused
        assert isinstance(entry, Input)
        assert (entry.name, entry.selected_text) == ("depth", "18 m")
        await write(pilot, "7")
        assert entry.value == "7"


async def test_every_question_is_in_view_at_80_by_24(book: Book, id_of: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Gran's chrono"))
        lines = screen_lines(pilot.app)
        for label in ("what", "depth", "minutes", "water", "temp", "from", "dips", "crown", "pushers", "jump",
                      "when", "rinsed", "or one line"):  # fmt: skip
            assert any(line.strip().startswith(label) for line in lines), label
        assert CAUTION_LINE in screen_text(pilot.app)


async def test_the_working_follows_each_key(book: Book, id_of: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await wait_for_text(pilot, "How deep was it?")
        await write(pilot, "2")
        await wait_for_text(pilot, "pressure at 2 m 0.20 bar gauge")
        await write(pilot, "1")
        await wait_for_text(pilot, "pressure at 21 m 2.10 bar gauge", "of the mark, 20 bar 11 %")
        assert "The wear follows once the minutes are there." in told(pilot.app, "#worked")
        await press_all(pilot, ["enter", "3", "8"])
        await wait_for_text(pilot, "adds to the crown seal, of 100", "rinsed not rinsed", "salt")
        await put(pilot, "temp", "2")
        await wait_for_text(pilot, "swing 32 → 2 °C 30 K", "0.86 of a thermal-shock test")
        await put(pilot, "depth", "201")
        await wait_for_text(pilot, "noted: 20.10 bar with the arm’s speed and the jump is above the mark")


async def test_a_wrong_answer_is_said_while_it_is_written_and_stops_being_said(
    book: Book, id_of: Any
) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await write(pilot, "900")
        await wait_for_text(pilot, "! depth", "depth: The depth is out of range")
        await pilot.press("backspace")
        await wait_for(pilot, lambda: not shows(pilot.app, "! depth"), "the mark is gone")
        assert pilot.app.screen.query_one(Questions).wrong == {}


@pytest.mark.parametrize(
    ("name", "text", "says"),
    [
        ("depth", "17C", "belongs here"),
        ("temp", "290", "Did you mean 290 K"),
        ("when", "tomorrow", "in the future"),
        ("what", "flurb", "is no activity"),
        ("crown", "pressed", "not touched, wet, under water"),
        ("water", "milk", "not understood"),
        ("minutes", "", "How long was it?"),
        ("dips", "0", "from 1 to 500"),
    ],
)
async def test_saving_a_wrong_answer_writes_nothing_and_goes_to_it(
    book: Book, id_of: Any, newest: Any, name: str, text: str, says: str
) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await put(pilot, "depth", "21")
        await put(pilot, "minutes", "38")
        await put(pilot, name, text)
        await press_all(pilot, ["ctrl+s", "r"])
        await wait_for(pilot, lambda: focused(pilot) == name, f"the cursor is at {name}")
        await wait_for_text(pilot, says, f"! {name}")
    assert newest("Blue bezel") is None


async def test_escape_leaves_without_writing(book: Book, id_of: Any, newest: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await press_all(pilot, ["2", "1", "enter", "3", "8", "enter", "escape"])
        await wait_for_room(pilot, "ShelfRoom")
    assert newest("Blue bezel") is None


async def test_a_saved_dive_can_be_undone_from_the_shelf(book: Book, id_of: Any, newest: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await on_shelf(pilot, "Blue bezel")
        await press_all(pilot, ["w", "2", "1", "enter", "3", "8", "enter", "n"])
        await wait_for_message(pilot, "Logged")
        await wait_for_room(pilot, "ShelfRoom")
        assert newest("Blue bezel") is not None
        await pilot.press("z")
        await wait_for_message(pilot, "Undone")
    assert newest("Blue bezel") is None


async def test_the_keys_move_between_the_questions(book: Book, id_of: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await pilot.press("down")
        assert focused(pilot) == "minutes"
        await press_all(pilot, ["up", "up"])
        assert focused(pilot) == "what"
        await pilot.press("enter")
        assert focused(pilot) == "depth"
        await press_all(pilot, ["tab", "shift+tab"])
        assert focused(pilot) == "depth"
        await press_all(pilot, ["enter", "enter"])
        assert focused(pilot) == "rinse"
        await wait_for_text(pilot, "r save, rinsed", "n save, not rinsed")
        await pilot.press("enter")
        await wait_for_text(pilot, "Was it rinsed?")
        await pilot.press("up")
        assert focused(pilot) == "when"


async def test_letters_are_text_inside_a_field(book: Book, id_of: Any, newest: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Sunday dress"))
        await put(pilot, "what", "")
        await write(pilot, "rain")
        assert texts(pilot)["what"] == "rain"
    assert newest("Sunday dress") is None


async def test_a_sauna_is_saved_by_enter_for_nothing_is_rinsed(book: Book, id_of: Any, newest: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Sunday dress"))
        await put(pilot, "what", "sauna")
        await press_all(pilot, ["enter", "enter"])
        assert focused(pilot) == "rinse"
        assert shows(pilot.app, "⏎ save")
        await pilot.press("enter")
        await wait_for_message(pilot, "Logged")
    kept = newest("Sunday dress")
    assert (kept.activity, kept.water, kept.rinsed) == ("sauna", "air", False)


@pytest.mark.parametrize(("answer", "rinsed"), [("r rinsed", True), ("n not rinsed", False)])
async def test_the_mouse_does_all_of_it(book: Book, newest: Any, answer: str, rinsed: bool) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await on_shelf(pilot, "Blue bezel")
        await pilot.click("#keys", offset=(3, 0))  # w log exposure
        await wait_for_room(pilot, "ExposureRoom")
        for name, text in (("depth", "21"), ("minutes", "38"), ("temp", "17")):
            await pilot.click(f"#{name}-entry")
            await write(pilot, text)
        at = next(line for line in screen_lines(pilot.app) if answer in line)
        await pilot.click(offset=(at.index(answer) + 2, screen_lines(pilot.app).index(at)))
        await wait_for_message(pilot, "Logged")
    kept = newest("Blue bezel")
    assert (kept.depth_m, kept.duration_s, kept.water_c, kept.rinsed) == (21.0, 2280, 17.0, rinsed)


async def test_every_action_is_in_the_palette(book: Book, id_of: Any) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room = await open_room(pilot, id_of("Blue bezel"))
        titles = {command.title for command in app.get_system_commands(room)}
    assert {"Save, rinsed", "Save, not rinsed", "One line", "Next", "Save", "Back", "Help"} <= titles


async def test_saving_from_the_palette_works_inside_a_field(book: Book, id_of: Any, newest: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await press_all(pilot, ["2", "1", "enter", "3", "8", "ctrl+p"])
        await wait_for_room(pilot, "CommandPalette")
        await write(pilot, "save, rinsed")
        await wait_for_text(pilot, "it was rinsed: saves it")
        await pilot.press("enter")
        await wait_for_message(pilot, "Logged")
    assert newest("Blue bezel").rinsed is True


async def test_a_dive_before_the_record_began_is_kept_and_said_not_to_be_charged(
    book: Book, id_of: Any, newest: Any
) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await press_all(pilot, ["2", "1", "enter", "3", "8"])
        await put(pilot, "when", "2024-06-01")
        said = "Not charged: its record begins on 1 Jan 2025."
        await wait_for(pilot, lambda: said in told(pilot.app, "#worked"), "the working says so")
        await press_all(pilot, ["ctrl+s", "r"])
        await wait_for_message(pilot, "not charged to the seals in place")
    assert newest("Blue bezel").starts_on == date(2024, 6, 1)


async def test_what_the_working_says_is_what_the_record_charges(book: Book, id_of: Any, newest: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        room = await open_room(pilot, id_of("Blue bezel"))
        await press_all(pilot, ["2", "1", "enter", "3", "8"])
        await wait_for_text(pilot, "in all")
        await wait_for(pilot, lambda: not room.answers.busy, "the working is there")
        assert room.working is not None
        assert room.working.shares is not None
        rinsed, _ = room.working.shares
        await press_all(pilot, ["enter", "r"])
        await wait_for_message(pilot, "Logged")
    charged = max(shares.total for shares in book.cost(newest("Blue bezel").id).values())
    assert charged == pytest.approx(rinsed.total, abs=1e-9)
