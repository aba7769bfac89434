"""Whole journeys from the Shelf and back, as a person walks them: by the keys on the screen, or by mouse."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from logbook import demo
from logbook.caution import CAUTION_LINE
from logbook.model.values import Event, Exposure
from logbook.record.file.places import default_path
from logbook.record.file.practice_file import load_practice
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from tests.tui.conftest import TODAY
from tests.tui.helpers import (
    SMALL,
    press_all,
    screen_lines,
    shows,
    told,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    write,
)

IdOf = Callable[[str], int]
Newest = Callable[[str], Exposure | None]
JUNE = date(2026, 6, 20)
HALF_A_YEAR_ON = date(2027, 5, 25)


@pytest.fixture(scope="module")
def demo_path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo as it is built on a day in June."""
    path = tmp_path_factory.mktemp("demo") / "demo.logbook"
    demo.build(path, JUNE, load_practice())
    return path


@pytest.fixture
def collection(demo_path: Path, tmp_path: Path) -> Path:
    """The demo, to be changed by one test alone."""
    return Path(shutil.copy(demo_path, tmp_path / "collection.logbook"))


def events_of(book: Book, name: str) -> list[Event]:
    """Workshop events and faults of a watch, the oldest first."""
    return list(next(s for s in book.standings() if s.name == name).record.events)


def stops_of(book: Book, name: str) -> list[str]:
    """The stop rules in force."""
    return [stop.code for stop in next(s for s in book.standings() if s.name == name).stops]


async def go_to(pilot: Pilot[Any], name: str) -> None:
    """The cursor of the Shelf onto a watch, by the arrow keys."""
    await press_all(pilot, ["home"])
    await pilot.pause()
    for _ in range(20):
        if pilot.app.screen.nickname == name:  # type: ignore[attr-defined]
            return
        await pilot.press("down")
    raise AssertionError(f"{name} is not on the shelf")


def place_of(pilot: Pilot[Any], text: str, *, after: str = "") -> tuple[int, int]:
    """Column and row at which `text` stands on the screen, of several the last; below `after`."""
    found = [
        (line.index(text), n)
        for n, line in enumerate(screen_lines(pilot.app))
        if text in line and after in line
    ]
    assert found, f"{text!r} is nowhere on the screen:\n" + "\n".join(screen_lines(pilot.app))
    return found[-1]


async def click(pilot: Pilot[Any], text: str, *, after: str = "") -> None:
    """One click on what stands on the screen."""
    x, y = place_of(pilot, text, after=after)
    await pilot.click(offset=(x + 1, y))
    await pilot.pause()


# ---------------------------------------------------------------- a dive


async def test_a_dive_is_eight_keys_from_the_shelf_and_one_takes_it_back(book: Book, newest: Newest) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches", "w log")
        await pilot.press("w")
        await wait_for_text(pilot, "Log exposure: Blue bezel", "how deep?", "⏎ next")
        await press_all(pilot, ["2", "1", "enter", "3", "8", "enter"])
        await wait_for_text(pilot, "r save, rinsed", "pressure at 21 m", "adds to the")
        await pilot.press("r")
        await wait_for_message(pilot, "dive 21 m, 38 min", "rinsed: took", "z: undo")
        await wait_for_text(pilot, "Blue bezel: dive 21 m, 38 min", "today")
        logged = newest("Blue bezel")
        assert logged is not None
        assert (logged.depth_m, logged.duration_s, logged.rinsed, logged.starts_on) == (21, 2280, True, TODAY)

        # The same again: what was answered last stands there.
        await press_all(pilot, ["w"])
        await wait_for_text(pilot, "21 m", "38 min", "last time, today")
        await press_all(pilot, ["enter", "enter", "r"])
        await wait_for_room(pilot, "ShelfRoom")
        assert len(book.exposures(logged.watch_id or 0, limit=9)) == 2
        await press_all(pilot, ["z", "z"])
        await wait_for_message(pilot, "Undone: log dive of 25 Nov 2026 for Blue bezel")
        await wait_for_text(pilot, "Blue bezel: no water on record")
        assert newest("Blue bezel") is None

        # And in one line.
        await pilot.press(":")
        await wait_for_text(pilot, "entry Blue bezel:", "⏎ save")
        await write(pilot, "dive 21m 38min rinsed")
        await wait_for_text(pilot, "Blue bezel, 25 Nov 2026: dive 21 m, 38 min")
        await pilot.press("enter")
        await wait_for_message(pilot, "Blue bezel: Logged", "z: undo")
        await wait_for_room(pilot, "ShelfRoom")
        again = newest("Blue bezel")
        assert again is not None
        assert (again.depth_m, again.duration_s, again.rinsed) == (21, 2280, True)


# ---------------------------------------------------------------- a collector's evening


async def test_an_evening_three_worn_and_one_battery(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches", "space pick", "o worn", "e event")
        await press_all(pilot, ["space", "down", "space", "down", "space"])
        await wait_for_text(pilot, "3 picked", "*Lido quartz")
        await pilot.press("o")
        await wait_for_message(pilot, "Worn today: Blue bezel, Gran's chrono and Lido quartz, 4 h each")
        key = id_of("Lido quartz")
        worn = book.standing(key).record.stretches
        assert [(s.from_on, s.to_on, s.hours) for s in worn] == [(TODAY, TODAY, 4.0)]

        # What is picked outlives what was done with it; help says which key lets it go.
        await pilot.press("?")
        await wait_for_text(pilot, "pick the watch under the cursor")
        await press_all(pilot, ["pagedown", "pagedown"])
        await wait_for_text(pilot, "esc lift what is looked for, else what is picked")
        await press_all(pilot, ["escape", "escape"])
        await wait_for(pilot, lambda: not shows(app, "3 picked"), "none is picked")
        await pilot.press("e")
        await wait_for_text(pilot, "Log event: Lido quartz", "battery changed")
        await press_all(pilot, ["down", "down"])
        await wait_for_text(pilot, "▸ battery changed", "It opens the case")
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "Logged for Lido quartz: battery changed. z: undo")
        await wait_for_text(pilot, "keep it dry: opened on 25 Nov 2026")
        assert [event.kind for event in events_of(book, "Lido quartz")] == ["battery"]
        await press_all(pilot, ["z", "z"])
        await wait_for_message(pilot, "Undone: worn time of Blue bezel, Gran's chrono, Lido quartz")
        assert book.standing(key).record.stretches == ()
        assert events_of(book, "Lido quartz") == []


# ---------------------------------------------------------------- a holiday


async def test_a_week_in_july_is_asked_about_kept_and_found_again(collection: Path) -> None:
    book = Book(collection, JUNE)
    before = len(book.all_plans())
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "13 watches", "c check")
        await pilot.press("c")
        await wait_for_text(pilot, "Check: Blue bezel", "NO OBJECTION FOUND")
        await press_all(pilot, ["down", "down", "down"])
        await write(pilot, "12 to 19 jul")
        await wait_for_text(pilot, "12 to 19 Jul 2026", "(8 days)", "^t which may come?")
        await pilot.press("ctrl+t")
        await wait_for_text(pilot, "which may come?", "first reason", "Lake bronze")
        await pilot.press("ctrl+o")  # into the list
        await press_all(pilot, ["down"])
        await wait_for_text(pilot, "› Lake bronze think twice", "tested tight to 30 bar", CAUTION_LINE)
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "Planned for Lake bronze", "12 to 19 Jul 2026", "Not charged until")
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("t")
        await wait_for_text(pilot, "logbook · Plans", "12 to 19 Jul 2026 8 days Lake bronze")
        await wait_for(pilot, lambda: not shows(app, "working out"), "every plan has its verdict")
        assert shows(app, "12 to 19 Jul 2026 8 days Lake bronze dive", "think twice", CAUTION_LINE)
        kept = next(p for p in book.all_plans() if p.starts_on == date(2026, 7, 12))
        assert (kept.planned, kept.planned_to, kept.activity) == (True, date(2026, 7, 19), "dive")
        await pilot.press("d")
        await wait_for_message(pilot, "It begins on 12 Jul 2026, which lies ahead")
        await pilot.press("z")
        await wait_for_message(pilot, "Undone:")
        await wait_for(pilot, lambda: not shows(app, "12 to 19 Jul 2026"), "the plan is gone")
    assert len(book.all_plans()) == before


# ---------------------------------------------------------------- a fogged crystal


async def test_a_fogged_crystal_from_what_was_seen_to_the_guided_check(book: Book, log: Any) -> None:
    log("Blue bezel", "dive", depth_m=21.0, duration_s=2280, water_c=17.0, rinsed=False)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches", "no objection")
        await pilot.press("e")
        await wait_for_text(pilot, "fog seen inside")
        await press_all(pilot, ["down"] * 8)
        await wait_for_text(pilot, "▸ fog seen inside", "Unless its temperatures show that sealed air")
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "Logged for Blue bezel: fog seen inside. z: undo")
        await wait_for_text(pilot, "keep it dry: fog was seen inside on 25 Nov 2026")
        await pilot.press("enter")
        await wait_for_text(pilot, "Watch: Blue bezel", "h: what happened", "h happened")
        await pilot.press("h")
        await wait_for_text(pilot, "what happened:", "1 May 2026", "to 25 Nov 2026 (fog was seen)")
        assert shows(app, "does not say what caused it", "dive 21 m, 38 min", CAUTION_LINE)
        await press_all(pilot, ["escape", "escape"])
        await wait_for_room(pilot, "ShelfRoom")

        await pilot.press("b")
        await wait_for_text(pilot, "logbook · Bench", "^g guided check")
        await pilot.press("ctrl+g")
        await wait_for_text(pilot, "This check is for a workshop.", "[Blue bezel]", "not started", "^t start")
        await press_all(pilot, ["ctrl+n", "ctrl+n", "ctrl+t"])
        await wait_for_text(pilot, "Put a drop of cool water", "running", "^t hold")
        await press_all(pilot, ["ctrl+n", "ctrl+n", "ctrl+n"])
        await wait_for_text(pilot, "[6 record]", "x failed")
        assert "it stands until the watch is opened, dried and tested" in told(app, "#step")
        await pilot.press("x")
        await wait_for_text(pilot, "▸ condensation test", "passed [failed]", "It counts as water inside")
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "Logged for Blue bezel: condensation test failed")
        assert [e.kind for e in events_of(book, "Blue bezel")] == [
            "pressure-test", "condensation-test", "fog",
        ]  # fmt: skip
        assert stops_of(book, "Blue bezel").count("water-inside") == 1  # the gravest of the two speaks
        await press_all(pilot, ["z", "z"])
        await wait_for_message(pilot, "Undone: log fog")
    assert [e.kind for e in events_of(book, "Blue bezel")] == ["pressure-test"]


# ---------------------------------------------------------------- to the watchmaker and back


async def test_a_watch_goes_to_the_workshop_with_its_page_and_comes_back_tested(
    book: Book, id_of: IdOf
) -> None:
    book.add_events([Event("fog", date(2026, 11, 20), 60, watch_id=id_of("Blue bezel"))])
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches", "keep it dry: fog was seen inside")
        await pilot.press("enter")
        await wait_for_text(pilot, "Watch: Blue bezel", "p dossier")
        await pilot.press("p")
        await wait_for_text(pilot, "~/blue-bezel.html", "^s write it")
        await pilot.press("tab")
        await write(pilot, "new gaskets and a pressure test")
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "Wrote the dossier of Blue bezel to")
        page = (Path.home() / "blue-bezel.html").read_text(encoding="utf-8")
        assert "new gaskets and a pressure test" in page
        assert "Gran" not in page
        await wait_for_room(pilot, "WatchRoom")

        await pilot.press("e")
        await wait_for_text(pilot, "▸ gaskets replaced", "The seals named start again at zero")
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "Logged for Blue bezel: gaskets replaced")
        await wait_for_room(pilot, "WatchRoom")
        assert "opened-untested" in stops_of(book, "Blue bezel")
        await pilot.press("e")
        await wait_for_text(pilot, "▸ gaskets replaced")
        await press_all(pilot, ["down"] * 5)
        await wait_for_text(pilot, "▸ pressure test", "[passed] failed", "[after gaskets replaced]")
        await pilot.press("ctrl+s")  # what is missing has the cursor
        await wait_for_text(pilot, "To what pressure was it passed?")
        await write(pilot, "20")
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "Logged for Blue bezel: pressure test passed", "20")
        await wait_for_text(pilot, "no objection found to its use (diving)", CAUTION_LINE)
        assert stops_of(book, "Blue bezel") == []
        fitted = {worn.seal.fitted_latest for worn in book.standing(id_of("Blue bezel")).seals}
        assert fitted == {TODAY}
        await pilot.press("z")
        await wait_for_message(pilot, "Undone: log pressure test")
        await wait_for_text(pilot, "keep it dry: opened on 25 Nov 2026")


# ---------------------------------------------------------------- after half a year


async def test_after_half_a_year_what_is_due_what_was_forgotten_and_what_can_wait(
    book: Book, id_of: IdOf
) -> None:
    book = Book(book.path, HALF_A_YEAR_ON)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches", "the pressure test was due on 1 May 2027")
        blue = id_of("Blue bezel")
        await pilot.press(":")
        await wait_for_text(pilot, "Blue bezel:")
        await write(pilot, "dive 18m 30min rinsed on 12 dec")
        await wait_for_text(pilot, "Blue bezel, 12 Dec 2026: dive 18 m, 30 min")
        await pilot.press("enter")
        await wait_for_message(pilot, "Blue bezel: Logged", "dive 18 m")
        await wait_for_room(pilot, "ShelfRoom")
        assert book.exposures(blue, limit=1)[0].starts_on == date(2026, 12, 12)

        await pilot.press("w")
        await wait_for_text(pilot, "Log exposure: Blue bezel", "18 m")
        await press_all(pilot, ["down"] * 8)
        await wait_for_text(pilot, "today, sat, 12 mar")  # how a day may be written
        await write(pilot, "13 dec")
        await press_all(pilot, ["enter", "n"])
        await wait_for_message(pilot, "dive 18 m, 30 min", "not rinsed: took")
        await wait_for_room(pilot, "ShelfRoom")
        assert book.exposures(blue, limit=1)[0].starts_on == date(2026, 12, 13)

        await pilot.press("enter")
        await wait_for_text(pilot, "Watch: Blue bezel", "13 Dec 2026 dive 18 m", "N nothing else")
        await pilot.press("N")
        await wait_for_message(pilot, "Nothing else happened up to today. z: undo")
        assert book.standing(blue).record.watch.confirmed_on == HALF_A_YEAR_ON
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")

        await pilot.press("u")
        await wait_for_text(pilot, "logbook · Due", "overdue", "s snooze", "v visits")
        first = screen_lines(app)[2][11:].split("  ")[0]
        await pilot.press("s")
        await wait_for_text(pilot, "Snooze", first, "silent until")
        await write(pilot, "3 weeks")
        await pilot.press("enter")
        await wait_for_message(pilot, f"Snoozed until 15 Jun 2027: {first}", "z: undo")
        await wait_for_text(pilot, "1 snoozed")
        await pilot.press("v")
        await wait_for_text(pilot, "Fewest visits", "visits are enough", "Gran's chrono: ")
        await press_all(pilot, ["escape", "z"])
        await wait_for_message(pilot, "Undone:")
        await wait_for(pilot, lambda: not shows(app, "1 snoozed"), "nothing is snoozed")


# ---------------------------------------------------------------- nothing but a mouse


async def test_with_the_mouse_alone_a_dive_is_logged_and_taken_back(book: Book, newest: Newest) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches", "w log")
        await click(pilot, "Lido quartz", after="10 bar")
        await wait_for_text(pilot, "Lido quartz: no water on record")
        await click(pilot, "Blue bezel", after="20 bar")
        await click(pilot, "w log")
        await wait_for_text(pilot, "Log exposure: Blue bezel", "⏎ next")
        await write(pilot, "21")
        await click(pilot, "⏎ next")
        await write(pilot, "38")
        await wait_for_text(pilot, "pressure at 21 m")
        await click(pilot, "⏎ next")
        await wait_for_text(pilot, "r save, rinsed")
        await click(pilot, "r rinsed")
        await wait_for_message(pilot, "dive 21 m, 38 min", "rinsed: took", "z: undo")
        await wait_for_room(pilot, "ShelfRoom")
        logged = newest("Blue bezel")
        assert logged is not None
        assert (logged.depth_m, logged.duration_s, logged.rinsed) == (21, 2280, True)
        await click(pilot, "z undo")
        await wait_for_message(pilot, "Undone: log")
    assert newest("Blue bezel") is None


async def test_with_the_mouse_alone_an_evening_is_put_on_record(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches", "space pick")
        await click(pilot, "space pick")
        await click(pilot, "Gran's chrono", after="3 bar")
        await click(pilot, "space pick")
        await wait_for_text(pilot, "2 picked", "*Blue bezel", "*Gran's chrono")
        await click(pilot, "o worn")
        await wait_for_message(pilot, "Worn today: Blue bezel and Gran's chrono, 6 h each. z: undo")
        for name in ("Blue bezel", "Gran's chrono"):
            key = id_of(name)
            stretches = book.standing(key).record.stretches
            assert [(s.from_on, s.to_on, s.hours) for s in stretches] == [(TODAY, TODAY, 6.0)]
        await click(pilot, "space pick")  # lets the one under the cursor go
        await click(pilot, "Blue bezel", after="20 bar")
        await click(pilot, "space pick")
        await wait_for(pilot, lambda: not shows(app, "picked"), "no watch is picked")
        await click(pilot, "Lido quartz", after="10 bar")
        await click(pilot, "e event")
        await wait_for_text(pilot, "Log event: Lido quartz")
        await click(pilot, "battery changed")
        await wait_for_text(pilot, "▸ battery changed", "It opens the case")
        await click(pilot, "^s save")
        await wait_for_message(pilot, "Logged for Lido quartz: battery changed. z: undo")
        assert [event.kind for event in events_of(book, "Lido quartz")] == ["battery"]


async def test_with_the_mouse_alone_a_holiday_is_planned(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "4 watches", "c check")
        await click(pilot, "c check")
        await wait_for_text(pilot, "Check: Blue bezel", "NO OBJECTION FOUND")
        await pilot.click("#when-entry")
        await pilot.pause()
        await write(pilot, "12 to 19 dec")
        await wait_for_text(pilot, "12 to 19 Dec 2026", "(8 days)")
        await click(pilot, "^t which may come?")
        await wait_for_text(pilot, "first reason", "Lido quartz keep it dry")
        await click(pilot, "Lido quartz")
        await click(pilot, "Blue bezel", after="no objection found")
        await wait_for_text(pilot, "› Blue bezel no objection found")
        await click(pilot, "^s plan it")
        await wait_for_message(pilot, "Planned for Blue bezel", "12 to 19 Dec 2026 (8 days)")
        await click(pilot, "esc back")
        await wait_for_room(pilot, "ShelfRoom")
        await click(pilot, "t plans")
        await wait_for_text(pilot, "1 ahead", "12 to 19 Dec 2026 8 days Blue bezel")
        await wait_for_text(pilot, "no objection found: nothing on record speaks against it")
        assert [(p.planned, p.starts_on) for p in book.plans(id_of("Blue bezel"))] == [
            (True, date(2026, 12, 12))
        ]
        await click(pilot, "z undo")
        await wait_for_text(pilot, "Nothing is planned")
    assert book.all_plans() == []


# ---------------------------------------------------------------- the first evening


async def test_from_an_empty_home_to_a_first_watch_a_first_dive_and_a_first_check() -> None:
    path = default_path()
    assert not path.exists()
    book = Book(path, TODAY)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(
            pilot, "Welcome: put the first watch on the shelf", "1 What do you call it?",
            "2 What does it say about water?", "3 When was it last opened, given gaskets or tested?",
            CAUTION_LINE, "^s save",
        )  # fmt: skip
        assert not path.exists()
        await write(pilot, "Old diver")
        await pilot.press("enter")
        await write(pilot, "diver's 200m")
        await pilot.press("enter")
        await write(pilot, "gaskets 2026-03-01, tested 2026-03-02 at 20 bar")
        await wait_for_text(pilot, "Taken for: diver’s 200 m.", "test passed at 20 bar")
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "Old diver is on the shelf. z: undo")
        await wait_for_text(pilot, "1 watch", "Old diver diver’s 200 m", "never")
        assert path.exists()

        await pilot.press("w")
        await wait_for_text(pilot, "Log exposure: Old diver", "how deep?")
        await write(pilot, "18")
        await pilot.press("enter")
        await write(pilot, "40")
        await press_all(pilot, ["enter", "r"])
        await wait_for_message(pilot, "dive 18 m, 40 min", "z: undo")
        await wait_for_text(pilot, "Old diver: dive 18 m, 40 min", "today")

        await pilot.press("c")
        await wait_for_text(pilot, "Check: Old diver", "dive 18 m, 40 min", "for context", CAUTION_LINE)
        assert shows(app, "NO OBJECTION FOUND")
        watch = book.standings()[0].record
        assert (watch.watch.name, watch.watch.mark, watch.watch.use) == ("Old diver", "divers", "diving")
        assert [e.kind for e in watch.events] == ["opened", "pressure-test"]
        assert book.exposures(watch.watch.id or 0, limit=2)[0].depth_m == 18
