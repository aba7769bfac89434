"""The Check room as a person uses it, on a real record."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from logbook.caution import CAUTION_LINE
from logbook.model.values import Event
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.check.room import CheckRoom
from logbook.tui.water.questions import Questions
from tests.tui.helpers import (
    LARGE,
    SMALL,
    dealt,
    paste,
    press_all,
    raw_controls,
    screen_lines,
    screen_text,
    shows,
    wait_for,
    wait_for_room,
    wait_for_text,
    write,
)  # fmt: skip


async def open_room(pilot: Pilot[Any], watch_id: int | None) -> CheckRoom:
    """The room, with its first answer shown."""
    room = CheckRoom(watch_id)
    pilot.app.screen.enter(room)  # type: ignore[attr-defined]
    await wait_for_room(pilot, "CheckRoom")
    await settled(pilot, room)
    return room


async def settled(pilot: Pilot[Any], room: CheckRoom) -> None:
    """Go on once the answer is that of what stands in the form."""
    await wait_for(pilot, lambda: not room.answers.busy, "the answer is there")


async def put(pilot: Pilot[Any], name: str, text: str) -> None:
    """An answer written over what stands there."""
    pilot.app.screen.query_one(Questions).ask(name)
    await pilot.pause()
    await pilot.press("ctrl+u", "ctrl+k")
    await paste(pilot, text)


def verdict(pilot: Pilot[Any]) -> str:
    """The first line that is written below the form."""
    return next((line.strip() for line in screen_lines(pilot.app)[7:] if line.strip()), "")


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_verdict_comes_first_and_in_words(book: Book, size: tuple[int, int]) -> None:
    async with LogbookApp(book).run_test(size=size) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("c")
        await wait_for_room(pilot, "CheckRoom")
        await wait_for_text(pilot, "logbook · Check: Blue bezel", "diver’s 20 bar")
        await wait_for(pilot, lambda: verdict(pilot).startswith("NO OBJECTION FOUND"), "the verdict is there")
        assert shows(pilot.app, "dive 18 m, 45 min, sea 15 °C, today")
        assert CAUTION_LINE in screen_text(pilot.app)


async def test_the_plan_is_that_of_the_last_such_exposure(book: Book, log: Any, id_of: Any) -> None:
    log("Blue bezel", "dive", depth_m=27, duration_s=1500, water_c=11)
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        assert shows(pilot.app, "dive 27 m, 25 min, sea 11 °C, today")


async def test_the_answer_follows_what_is_written(book: Book, id_of: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await put(pilot, "depth", "170")
        await wait_for_text(pilot, "THINK TWICE dive 170 m", "think twice, because", "limit: 80 %")
        await put(pilot, "depth", "220")
        await wait_for_text(pilot, "KEEP IT DRY dive 220 m", "keep it dry, because", "limit: 20.00 bar")
        await put(pilot, "what", "rain")
        await put(pilot, "depth", "0.05")
        await wait_for_text(pilot, "NO OBJECTION FOUND rain")


async def test_reasons_are_numbered_worst_first_with_their_limits_at_the_right_edge(
    book: Book, id_of: Any
) -> None:
    async with LogbookApp(book).run_test(size=LARGE) as pilot:
        await open_room(pilot, id_of("Gran's chrono"))
        await put(pilot, "what", "dive")
        await put(pilot, "depth", "40")
        await put(pilot, "minutes", "30")
        await put(pilot, "jump", "5")
        await wait_for_text(pilot, "think twice, because", "limit: 3 m")
        lines = screen_lines(pilot.app)
        grave = next(n for n, line in enumerate(lines) if line.strip() == "keep it dry, because")
        mild = next(n for n, line in enumerate(lines) if line.strip() == "think twice, because")
        numbers = [
            line.split()[0] for line in lines[grave:] if line.strip()[:1].isdigit() and line[3:5] == "  "
        ]
        assert grave < mild
        assert numbers[:4] == ["1", "2", "3", "4"]
        limits = [line for line in lines[grave : mild + 4] if "limit:" in line]
        assert len({len(line) for line in limits}) == 1
        assert len(limits[0]) > 110
        assert shows(pilot.app, "Nothing that a workshop does changes it for this plan", "for context")
        assert shows(pilot.app, "A watch is not life-support")


async def test_an_open_crown_is_asked_about_and_answered(book: Book, id_of: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await put(pilot, "crown", "open")
        await wait_for_text(pilot, "KEEP IT DRY", "crown open", "It would read “no objection found”")
        await put(pilot, "crown", "closed")
        await wait_for_text(pilot, "NO OBJECTION FOUND")


async def test_pushers_are_asked_about_only_where_there_are_any(book: Book, id_of: Any) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        assert not shows(app, "pushers")
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Gran's chrono"))
        assert shows(pilot.app, "pushers closed")
        await put(pilot, "pushers", "unlocked")
        await wait_for_text(pilot, "pushers open or unlocked")


async def test_a_plan_may_lie_ahead(book: Book, id_of: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await put(pilot, "when", "tomorrow")
        await wait_for_text(pilot, "NO OBJECTION FOUND dive 18 m, 45 min, sea 15 °C, tomorrow")
        await put(pilot, "when", "2027-09-01")
        await wait_for_text(pilot, "1 Sep 2027", "think twice, because")


async def test_a_day_that_is_past_is_judged_as_of_today(book: Book, id_of: Any) -> None:
    """A fault seen since then speaks for a day before it, alone and in the list of all."""
    book.add_events([Event("fog", date(2026, 11, 24), 60, watch_id=id_of("Blue bezel"))])
    async with LogbookApp(book).run_test(size=LARGE) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await put(pilot, "when", "2026-11-20")
        await wait_for_text(pilot, "KEEP IT DRY", "20 Nov 2026", "1 fog was seen inside")
        await wait_for_text(pilot, "that day is past: judged as of today, 25 Nov 2026")
        await pilot.press("ctrl+t")
        await wait_for_text(pilot, "Blue bezel keep it dry fog was seen inside")


async def test_a_fault_on_record_is_the_first_reason(book: Book, id_of: Any) -> None:
    book.add_events([Event("fog", date(2026, 11, 10), 60, watch_id=id_of("Blue bezel"))])
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await wait_for_text(pilot, "KEEP IT DRY", "1 fog")


@pytest.mark.parametrize(
    ("name", "text", "says"),
    [("depth", "900", "depth: The depth is out of range"), ("what", "flurb", "what: 'flurb' is no activity"),
     ("when", "someday", "not a date"), ("crown", "maybe", "neither closed nor open"),
     ("temp", "290", "Did you mean 290 K")],
)  # fmt: skip
async def test_a_wrong_answer_is_said_and_takes_the_verdict_away(
    book: Book, id_of: Any, name: str, text: str, says: str
) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await put(pilot, name, text)
        await wait_for_text(pilot, says, "The answer follows once the plan can be read.")
        assert not shows(pilot.app, "NO OBJECTION FOUND")


async def test_a_plan_without_its_depth_is_asked_for_it(book: Book, id_of: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await put(pilot, "depth", "")
        await wait_for_text(pilot, "How deep will it be?")
        assert not shows(pilot.app, "NO OBJECTION FOUND")


async def test_which_may_come_ranks_every_watch_and_opens_one(book: Book, id_of: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await pilot.press("ctrl+t")
        await wait_for_text(pilot, "Check: which may come?", "may it come?", "first reason")
        rows = [line for line in screen_lines(pilot.app) if "found" in line or "keep it dry" in line]
        assert rows[0].split("  ")[0] == "› Blue bezel"
        assert "nothing on record speaks against it" in rows[0]
        assert len(rows) == 4
        assert rows[1].startswith("  Sunday dress")  # fewer reasons than the other two
        assert "its mark is not known" in rows[1]
        await press_all(pilot, ["ctrl+o", "down", "enter"])
        await wait_for_text(pilot, "Check: Sunday dress", "KEEP IT DRY dive 18 m")
        await pilot.press("escape")
        await wait_for_text(pilot, "Check: which may come?")
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")


async def test_a_retired_watch_is_asked_about_by_itself_and_is_not_in_the_list(
    book: Book, id_of: Any
) -> None:
    from logbook.record.writing import watches

    retired = id_of("Lido quartz")
    with book.writing() as store:
        watches.retire(store, retired, book.today)
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, retired)
        await wait_for_text(pilot, "Check: Lido quartz", "NOT JUDGED pool 1.5 m")
        assert shows(pilot.app, "It is retired and not judged: bring it back to ask about it.")
        await press_all(pilot, ["ctrl+o", "end"])
        await wait_for_text(pilot, "retired on 25 Nov 2026")
        assert not shows(pilot.app, "think twice")
        await pilot.press("ctrl+t")
        await wait_for_text(pilot, "Blue bezel", "Sunday dress")
        assert not shows(pilot.app, "Lido quartz")


async def test_the_room_survives_a_tiny_window(book: Book, id_of: Any) -> None:
    async with LogbookApp(book).run_test(size=(30, 10)) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await press_all(pilot, ["ctrl+t", "ctrl+t", "ctrl+o", "pagedown", "escape"])


async def test_the_list_follows_what_is_written(book: Book) -> None:
    async with LogbookApp(book).run_test(size=LARGE) as pilot:
        room = await open_room(pilot, None)
        await put(pilot, "what", "rain")
        await settled(pilot, room)
        await wait_for(
            pilot,
            lambda: screen_text(pilot.app).count("no objection found") == 3,
            "rain is no matter for a mark that allows it",
        )
        assert screen_text(pilot.app).count("think twice") == 1
        assert shows(pilot.app, "Sunday dress think twice its mark is not known")
        await pilot.press("ctrl+t")
        await wait_for_text(pilot, "Check: Blue bezel")


async def test_the_answer_scrolls_where_it_is_longer_than_its_place(book: Book, id_of: Any) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Sunday dress"))
        await put(pilot, "what", "dive")
        await put(pilot, "depth", "30")
        await put(pilot, "minutes", "40")
        await wait_for_text(pilot, "KEEP IT DRY dive 30 m")
        assert not shows(pilot.app, "life-support")
        await press_all(pilot, ["ctrl+o", "end"])
        await wait_for_text(pilot, "A watch is not life-support")
        assert CAUTION_LINE in screen_text(pilot.app)


async def test_enter_walks_through_the_questions_to_the_answer(book: Book, id_of: Any) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        walked = []
        for _ in range(9):
            walked.append((app.focused.name if isinstance(app.focused, Input) else app.focused.id) or "")  # type: ignore[union-attr]
            await pilot.press("enter")
        assert walked == ["what", "depth", "minutes", "when", "water", "temp", "from", "jump", "crown"]
        assert app.focused is not None
        assert app.focused.id == "answer"


async def test_the_mouse_opens_fields_and_rows(book: Book, id_of: Any) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await pilot.click("#depth-entry")
        await pilot.press("ctrl+u", "ctrl+k")
        await write(pilot, "220")
        await wait_for_text(pilot, "KEEP IT DRY dive 220 m")
        await pilot.click("#keys", offset=(3, 0))
        await wait_for_text(pilot, "which may come?", "first reason")
        await wait_for_text(pilot, "Lido quartz")
        at = next(n for n, line in enumerate(screen_lines(app)) if line.strip().startswith("Lido quartz"))
        await pilot.click(offset=(3, at))
        await pilot.click(offset=(3, at))
        await wait_for_text(pilot, "Check: Lido quartz")


async def test_every_action_is_in_the_palette(book: Book, id_of: Any) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room = await open_room(pilot, id_of("Blue bezel"))
        titles = {command.title for command in app.get_system_commands(room)}
    assert {"Which may come?", "Read on", "Back", "Help"} <= titles
    assert "" not in titles


async def test_nothing_is_written_by_asking(book: Book, id_of: Callable[[str], int]) -> None:
    before = book.path.read_bytes()
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Blue bezel"))
        await put(pilot, "depth", "33")
        await press_all(pilot, ["ctrl+t", "ctrl+t", "escape", "escape"])
    assert book.path.read_bytes() == before


async def test_hostile_text_in_every_field_stays_text(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room = await open_room(pilot, None)
        entries = list(app.screen.query(Input))
        assert len(entries) == 10
        by_name = {str(n): entry for n, entry in enumerate(entries)}
        for texts in dealt([*by_name], times=3):
            for name, text in texts.items():
                by_name[name].value = text
            by_name[name].focus()
            await paste(pilot, text)
            await settled(pilot, room)
            assert raw_controls(app) == [], texts
            assert CAUTION_LINE in screen_text(app)


async def test_without_colours_the_verdict_is_still_said(
    book: Book, id_of: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        await open_room(pilot, id_of("Gran's chrono"))
        await put(pilot, "what", "dive")
        await put(pilot, "depth", "30")
        await put(pilot, "minutes", "30")
        await wait_for_text(pilot, "KEEP IT DRY", "keep it dry, because")
