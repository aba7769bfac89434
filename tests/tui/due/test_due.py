"""The Due room: what asks now, what is silent, what comes later, and what one does about it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from textual.pilot import Pilot

from logbook.caution import CAUTION_LINE
from logbook.errors import BadInput
from logbook.model.values import Event
from logbook.record.record import Book
from logbook.record.writing.snoozes import snooze
from logbook.text import phrases
from logbook.tui.app import LogbookApp
from logbook.tui.due import lines as due_lines
from logbook.tui.due.room import DueRoom
from logbook.tui.due.service_done import ServiceDoneRoom
from logbook.tui.due.snooze import read_until
from logbook.tui.events.room import EventRoom
from logbook.tui.widgets.lines import Lines
from tests.tui.conftest import TODAY, a_watch, passed_test, seals_of
from tests.tui.helpers import (
    LARGE,
    SMALL,
    press_all,
    screen_lines,
    shows,
    wait_for,
    wait_for_room,
    wait_for_text,
    words,
    write,
)

IdOf = Callable[[str], int]


@pytest.fixture
def stages(empty_book: Book) -> Book:
    """Three watches whose pressure tests are overdue, due, and coming up."""
    for name, tested in (("Old", 400), ("Ripe", 370), ("Soon", 350)):
        watch = a_watch(name, bar=10, use="swimming", intervals_months={"strap": 120})
        anchor = TODAY - timedelta(days=tested)
        empty_book.add_watch(watch, seals_of(watch, date(2026, 3, 1)), [passed_test(anchor, 10)])
    return empty_book


async def opened(pilot: Pilot[Any]) -> DueRoom:
    """The Due room, by its key on the Shelf."""
    await wait_for_room(pilot, "ShelfRoom")
    await pilot.press("u")
    await wait_for_room(pilot, "DueRoom")
    await wait_for_text(pilot, "logbook · Due")
    screen = pilot.app.screen
    assert isinstance(screen, DueRoom)
    return screen


def rows(app: LogbookApp) -> list[str]:
    """The services and tasks in view, their blanks made one."""
    stages = ("overdue", "due", "coming up", "snoozed", "later")
    return [words(line) for line in screen_lines(app) if line.startswith(tuple(f" {s} " for s in stages))]


def at(screen: DueRoom, name: str, task: str | None = None) -> int:
    """The row of the first service of a watch, or of one of its tasks."""
    return next(
        n
        for n, t in enumerate(screen.rows)
        if t.name == name and (t.item is None if task is None else t.item is not None and t.item.task == task)
    )


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_what_asks_now_comes_first_by_its_stage_and_the_rest_is_later(
    stages: Book, size: tuple[int, int]
) -> None:
    app = LogbookApp(stages)
    async with app.run_test(size=size) as pilot:
        await opened(pilot)
        found = rows(app)
        assert found[0].startswith("overdue Old pressure test 21 Oct 2026")
        assert found[1].startswith("due Ripe pressure test 20 Nov 2026")
        assert found[2].startswith("coming up Soon pressure test 10 Dec 2026")
        assert all(row.startswith("later ") for row in found[3:])
        assert shows(app, "1 overdue · 1 due · 1 coming up", CAUTION_LINE)


async def test_a_task_shows_its_date_its_reason_and_its_window(stages: Book) -> None:
    app = LogbookApp(stages)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        assert shows(app, "Old: pressure test, 21 Oct 2026 (overdue)")
        assert shows(app, "12 months after the last test passed at 3 bar or more; every 12 months")
        assert shows(app, "window for a visit: now: the sooner the better")
        await press_all(pilot, ["down", "down"])
        await wait_for_text(pilot, "window for a visit: 10 Sep 2026 to 10 Dec 2026")
        assert not shows(app, "the sooner the better")


async def test_a_wide_window_has_the_reason_in_the_row(stages: Book) -> None:
    app = LogbookApp(stages)
    async with app.run_test(size=LARGE) as pilot:
        await opened(pilot)
        assert rows(app)[0].endswith("21 Oct 2026 now 12 months after the last test passed a…")
    async with LogbookApp(stages).run_test(size=(140, 40)) as pilot:
        await opened(pilot)
        assert rows(pilot.app)[0].endswith("now 12 months after the last test passed at 3 bar or more")


async def test_a_key_opens_the_watch_and_escape_leads_back(stages: Book) -> None:
    app = LogbookApp(stages)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        await press_all(pilot, ["down", "l"])
        await wait_for_room(pilot, "WatchRoom")
        await wait_for_text(pilot, "logbook · Watch: Ripe")
        await pilot.press("escape")
        await wait_for_room(pilot, "DueRoom")


async def test_a_watch_unfolds_into_its_tasks_and_folds_again(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await opened(pilot)
        one = next(n for n, task in enumerate(screen.rows) if len(task.items) > 1)
        service, count = screen.rows[one].service, len(screen.rows)
        assert all(task.item is None for task in screen.rows)
        screen.query_one(Lines).cursor = one
        await pilot.press("enter")
        assert [t.item for t in screen.rows[one + 1 :][: len(service.items)]] == [*service.items]
        assert len(screen.rows) == count + len(service.items)
        await pilot.press("down", "enter")
        assert len(screen.rows) == count
        assert screen.query_one(Lines).cursor == one


async def test_a_fault_stands_first_and_sends_the_watch_to_a_workshop(book: Book, id_of: IdOf) -> None:
    book.add_events([Event("water-inside", TODAY, 60, watch_id=id_of("Blue bezel"))])
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        assert rows(app)[0].startswith("due Blue bezel to a workshop now 25 Nov 2026 now")
        assert shows(app, "Blue bezel: to a workshop now: open, dry, mend", "water was seen")


async def test_snooze_silences_until_a_day_and_shows_it(stages: Book) -> None:
    app = LogbookApp(stages)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot)
        await pilot.press("s")
        await wait_for_room(pilot, "SnoozeRoom")
        await wait_for_text(pilot, "Old: pressure test", "14 days", CAUTION_LINE)
        await pilot.press("enter")
        await wait_for_room(pilot, "DueRoom")
        await wait_for_text(pilot, "Snoozed until 9 Dec 2026: ", "1 due · 1 coming up · 1 snoozed")
        found = rows(app)
        assert found[0].startswith("due Ripe")
        assert found[2].startswith("snoozed Old")
        await press_all(pilot, ["home", "down", "down"])
        await wait_for_text(pilot, "snoozed until 9 Dec 2026")
        await pilot.press("z")
        await wait_for_text(pilot, "1 overdue · 1 due · 1 coming up")


async def test_snooze_takes_a_date_too(stages: Book) -> None:
    app = LogbookApp(stages)
    async with app.run_test(size=SMALL) as pilot:
        screen = await opened(pilot)
        item = screen.rows[0].items[0].id
        await pilot.press("s")
        await wait_for_room(pilot, "SnoozeRoom")
        await write(pilot, "2027-01-15")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "DueRoom")
        assert next(t for t in screen.rows if t.items[0].id == item).snoozed_until == date(2027, 1, 15)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("today", "25 Nov 2026 is not ahead: today is 25 Nov 2026."),
        ("2026-11-01", "1 Nov 2026 is not ahead"),
        ("2028-11-26", "a snooze ends within two years, by 25 Nov 2028"),
        ("2206-12-09", "a snooze ends within two years"),
        ("soon", "'soon' is not a date"),
        ("01/02/2027", "can be read day first or month first"),
        ("", "is not a date"),
    ],
)
async def test_a_snooze_that_cannot_be_is_told_beside_the_question(
    stages: Book, text: str, said: str
) -> None:
    app = LogbookApp(stages)
    async with app.run_test(size=SMALL) as pilot:
        screen = await opened(pilot)
        await pilot.press("s")
        await wait_for_room(pilot, "SnoozeRoom")
        await pilot.press("backspace")
        await write(pilot, text)
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, said)
        await pilot.press("escape")
        await wait_for_room(pilot, "DueRoom")
        assert not any(task.silent for task in screen.rows)


@pytest.mark.parametrize(
    ("text", "until"),
    [
        ("14 days", date(2026, 12, 9)),
        ("1 day", date(2026, 11, 26)),
        ("2 weeks", date(2026, 12, 9)),
        ("in 3 days", date(2026, 11, 28)),
        ("tomorrow", date(2026, 11, 26)),
        ("12 mar", date(2027, 3, 12)),
        ("2027-03-12", date(2027, 3, 12)),
        ("2028-11-25", date(2028, 11, 25)),
    ],
)
def test_until_when_is_a_span_or_a_date(text: str, until: date) -> None:
    assert read_until(text, TODAY) == until


def test_a_snooze_into_the_past_is_refused() -> None:
    with pytest.raises(BadInput, match="is not ahead"):
        read_until("yesterday", TODAY)


async def test_done_asks_a_test_for_its_result_and_pressure(stages: Book) -> None:
    app = LogbookApp(stages)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot)
        await pilot.press("d")
        await wait_for_room(pilot, "EventRoom")
        await wait_for_text(pilot, "▸ pressure test", "result", "pressure", "logbook · Log event: Old")
        await press_all(pilot, ["tab", *"10"])
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "DueRoom")
        await wait_for_text(pilot, "1 due · 1 coming up")
        assert not any(row.startswith("overdue") for row in rows(app))
        await pilot.press("z")
        await wait_for_text(pilot, "1 overdue · 1 due · 1 coming up")


async def test_done_of_the_gaskets_renews_every_seal(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await opened(pilot)
        screen.query_one(Lines).cursor = at(screen, "Sunday dress")
        service = screen.rows[at(screen, "Sunday dress")].service
        assert "gaskets" in [item.task for item in service.items]
        await pilot.press("enter")
        screen.query_one(Lines).cursor = at(screen, "Sunday dress", "gaskets")
        await pilot.press("d")
        await wait_for_room(pilot, "EventRoom")
        await wait_for_text(pilot, "▸ gaskets replaced", "which seals")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "DueRoom")
        assert {w.seal.fitted_latest for w in book.standing(id_of("Sunday dress")).seals} == {TODAY}


@pytest.mark.parametrize(
    ("name", "task"), [("Lido quartz", "battery"), ("Blue bezel", "movement"), ("Blue bezel", "strap")]
)
async def test_done_of_one_task_records_it(book: Book, id_of: IdOf, name: str, task: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await opened(pilot)
        screen.unfolded = {t.service.id for t in screen.rows}
        screen.reload()
        screen.query_one(Lines).cursor = at(screen, name, task)
        await pilot.press("d")
        await wait_for_room(pilot, "EventRoom")
        form = app.screen
        assert isinstance(form, EventRoom)
        assert form.kind == task
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "DueRoom")
        kept = book.standing(id_of(name)).record.events
        assert (kept[-1].kind, kept[-1].on) == (task, TODAY)


async def test_done_of_a_service_is_one_form_and_one_step(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        screen = await opened(pilot)
        here = next(
            n for n, t in enumerate(screen.rows)
            if {"gaskets", "pressure-test"} <= {item.task for item in t.items}
        )  # fmt: skip
        task = screen.rows[here]
        before = book.standing(task.watch_id).record.events
        screen.query_one(Lines).cursor = here
        await pilot.press("d")
        await wait_for_room(pilot, "ServiceDoneRoom")
        await wait_for_text(pilot, f"logbook · Service done: {task.name}", "pressure test", CAUTION_LINE)
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, "To what pressure was it passed?")
        assert book.standing(task.watch_id).record.events == before
        await write(pilot, "10")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "DueRoom")
        made = book.standing(task.watch_id).record.events[len(before) :]
        assert {event.kind for event in made} == {item.task for item in task.items}
        assert made[-1].kind == "pressure-test"
        assert {event.on for event in made} == {TODAY}
        await pilot.press("z")
        await wait_for(
            pilot, lambda: book.standing(task.watch_id).record.events == before, "all of it is undone"
        )


@pytest.fixture
def broken(empty_book: Book) -> Book:
    """A watch whose crystal was damaged, its gaskets and its test due."""
    watch = a_watch("Lone", bar=20, use="swimming", intervals_months={"strap": 120})
    empty_book.add_watch(watch, seals_of(watch, date(2023, 6, 1)), [])
    (standing,) = empty_book.standings()
    empty_book.add_events([Event("crystal-damaged", TODAY, 60, watch_id=standing.record.watch.id)])
    return empty_book


@pytest.mark.parametrize(
    ("keys", "kinds"),
    [
        ([], ["pressure-test"]),
        (["shift+tab", "y"], ["repaired", "pressure-test"]),
        (["shift+tab", "shift+tab", *"crown"], ["gaskets", "pressure-test"]),
        (["shift+tab", "shift+tab", "shift+tab", "y"], ["opened", "pressure-test"]),
    ],
)
async def test_while_something_stands_nothing_is_ticked_that_its_owner_did_not_say(
    broken: Book, keys: list[str], kinds: list[str]
) -> None:
    app = LogbookApp(broken)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        screen = await opened(pilot)
        task = screen.rows[0]
        assert "gaskets" in [item.task for item in task.items]
        await wait_for_text(pilot, "to a workshop now; due with it: gaskets")
        before = broken.standing(task.watch_id).record.events
        await pilot.press("d")
        await wait_for_room(pilot, "ServiceDoneRoom")
        await wait_for_text(pilot, "case opened", "new gaskets", "crystal repaired")
        await press_all(pilot, keys)
        form = app.screen
        assert isinstance(form, ServiceDoneRoom)
        form.question("pressure").asked.ask()
        await write(pilot, "20")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "DueRoom")
        made = [event for event in broken.standing(task.watch_id).record.events if event not in before]
        assert [event.kind for event in made] == kinds
        assert [[place for place, _ in event.seals] for event in made if event.kind == "gaskets"] == (
            [["crown"]] if "gaskets" in kinds else []
        )


async def test_snooze_of_a_service_silences_all_that_asks_of_it(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await opened(pilot)
        here = next(n for n, t in enumerate(screen.rows) if len(t.service.asking) > 1)
        service = screen.rows[here].service
        screen.query_one(Lines).cursor = here
        await pilot.press("s")
        await wait_for_room(pilot, "SnoozeRoom")
        await pilot.press("enter")
        await wait_for_room(pilot, "DueRoom")
        silent = next(t.service for t in screen.rows if t.service.watch == service.watch)
        assert silent.silent
        await pilot.press("z")
        await wait_for(
            pilot,
            lambda: any(t.service.asking == service.asking for t in screen.rows),
            "all of it asks again",
        )


async def test_nothing_due_is_said_in_words(empty_book: Book) -> None:
    watch = a_watch("Fresh", bar=5, added_on=TODAY, recorded_from=TODAY)
    empty_book.add_watch(watch, seals_of(watch, TODAY), [passed_test(TODAY, 5)])
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        assert shows(app, "nothing is due")
        assert all(row.startswith("later") for row in rows(app))


async def test_an_empty_shelf_has_nothing_scheduled_and_no_key_fails(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "WelcomeRoom")
        await pilot.press("escape")
        await opened(pilot)
        await wait_for_text(pilot, "Nothing is scheduled: no watch is on the shelf.")
        await press_all(pilot, ["d", "s", "enter", "down", "end", "z"])
        await wait_for_room(pilot, "DueRoom")


async def test_thousands_of_tasks_open_as_few_lines(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await opened(pilot)
        one = screen.rows[0]
        screen.rows = [replace(one, name=f"Watch {n}") for n in range(5000)]
        drawn: list[int] = []
        lines = screen.query_one(Lines)
        draw = lines._draw
        lines._draw = lambda row, width: (drawn.append(row), draw(row, width))[1]
        lines.show(5000)
        await wait_for_text(pilot, "Watch 3")
        assert len(set(drawn)) < 60
        await pilot.press("end")
        await wait_for_text(pilot, "Watch 4999")
        assert len(set(drawn)) < 120


async def test_a_click_moves_the_cursor_and_a_second_one_unfolds(stages: Book) -> None:
    app = LogbookApp(stages)
    async with app.run_test(size=SMALL) as pilot:
        screen = await opened(pilot)
        lines = screen.query_one(Lines)
        await pilot.click(lines, offset=(5, 2))
        await wait_for(pilot, lambda: lines.cursor == 2, "the third row is under the cursor")
        await pilot.click(lines, offset=(5, 2))
        await wait_for(pilot, lambda: screen.unfolded == {screen.rows[2].service.id}, "it is unfolded")


def test_what_is_later_is_dim_and_what_is_snoozed_says_so(stages: Book) -> None:
    stages.do(snooze, due_lines.tasks(stages.standings())[0].items[0].id, TODAY + timedelta(days=3))
    found = due_lines.tasks(stages.standings())
    silent = next(t for t in found if t.silent)
    later = found[-1]
    for task in (silent, later):
        assert {role for _, role in due_lines.row(task, 80)} == {"dim"}
    assert any(
        "snoozed until 28 Nov 2026" in text for line in due_lines.detail(silent, TODAY) for text, _ in line
    )


def test_a_snooze_that_is_over_asks_again(stages: Book) -> None:
    item = due_lines.tasks(stages.standings())[0].items[0]
    stages.do(snooze, item.id, TODAY + timedelta(days=1))
    tomorrow = Book(stages.path, TODAY + timedelta(days=1))
    task = next(t for t in due_lines.tasks(tomorrow.standings()) if t.items[0].id == item.id)
    assert not task.silent
    assert any(
        "was snoozed until" in text for line in due_lines.detail(task, tomorrow.today) for text, _ in line
    )


def test_a_fault_asks_for_a_test_at_once(book: Book, id_of: IdOf) -> None:
    book.add_events([Event("fog", TODAY, 60, watch_id=id_of("Blue bezel"))])
    task = due_lines.tasks(book.standings())[0]
    assert (task.name, task.stage, task.role) == ("Blue bezel", "due", "grave")
    assert phrases.full_date(task.due) == "25 Nov 2026"
    assert "pressure-test" in [item.task for item in task.items]
