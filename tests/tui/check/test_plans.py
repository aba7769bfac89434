"""Planning water in the rooms, on a real record: asked about, kept, judged, confirmed, struck."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from logbook.caution import CAUTION_LINE
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Exposure
from logbook.record.record import Book
from logbook.record.writing.habits import confirm
from logbook.tui.app import LogbookApp
from logbook.tui.check.plans import PlansRoom
from logbook.tui.check.room import CheckRoom
from logbook.tui.water.questions import Questions
from logbook.tui.widgets.lines import Lines
from tests.tui.conftest import TODAY, a_watch, seals_of
from tests.tui.helpers import (
    HOSTILE,
    LARGE,
    SMALL,
    paste,
    press_all,
    raw_controls,
    screen_lines,
    screen_text,
    shows,
    told,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
)

IdOf = Callable[[str], int]
Plan = Callable[..., Exposure]


@pytest.fixture
def plan(book: Book, id_of: IdOf) -> Plan:
    """Write a plan into the record: nickname, activity, day, and fields of `make_exposure`."""

    def write(name: str, activity: str, starts_on: date, **fields: Any) -> Exposure:
        watch = book.standing(id_of(name)).record.watch
        exposure = make_exposure(
            book.practice, book.settings, activity=activity, starts_on=starts_on, today=TODAY, watch=watch,
            planned=True, **fields,
        )  # fmt: skip
        book.log([exposure])
        return exposure

    return write


async def put(pilot: Pilot[Any], name: str, text: str) -> None:
    """An answer written over what stands there."""
    pilot.app.screen.query_one(Questions).ask(name)
    await pilot.pause()
    await pilot.press("ctrl+u", "ctrl+k")
    await paste(pilot, text)


async def open_plans(pilot: Pilot[Any]) -> PlansRoom:
    """The room of plans, from the Shelf, with its verdicts worked out."""
    await wait_for_room(pilot, "ShelfRoom")
    await pilot.press("t")
    await wait_for_room(pilot, "PlansRoom")
    room = pilot.app.screen
    assert isinstance(room, PlansRoom)
    await wait_for(pilot, lambda: not room.answers.busy, "the verdicts are there")
    return room


def rows(pilot: Pilot[Any]) -> list[str]:
    """The plans as they are drawn, one a line, with runs of blanks as one."""
    shown = screen_lines(pilot.app)
    rule = next(n for n, line in enumerate(shown) if line.startswith("───"))
    return [" ".join(line.split()) for line in shown[2:rule] if line.strip()]


async def test_plan_a_holiday(book: Book) -> None:
    async with LogbookApp(book).run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("c")
        await wait_for_room(pilot, "CheckRoom")
        for name, text in (("depth", "30"), ("minutes", "40"), ("temp", "20"), ("when", "12 to 20 jul")):
            await put(pilot, name, text)
        await wait_for_text(pilot, "dive 30 m, 40 min, sea 20 °C, 12 to 20 Jul 2027 (9 days)")
        await pilot.press("ctrl+t")
        await wait_for_text(
            pilot, "which may come?", "› Blue bezel", "the pressure test was due on", "keep it dry"
        )
        await press_all(pilot, ["ctrl+o", "down", "up", "ctrl+s"])
        await wait_for_message(
            pilot, "Planned for Blue bezel: dive 30 m", "(9 days)", "^z here, z on the Shelf"
        )
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "Blue bezel has this plan already")
        await pilot.press("escape")
        room = await open_plans(pilot)
        await wait_for(
            pilot,
            lambda: rows(pilot) == ["12 to 20 Jul 2027 9 days Blue bezel dive 30 m think twice"],
            "the trip stands there with its verdict",
        )
        assert shows(pilot.app, "1 ahead", CAUTION_LINE)
        assert "think twice: the pressure test was due on" in told(pilot.app, "#detail")
        await pilot.press("x")
        await wait_for_text(pilot, "Nothing is planned")
        await wait_for_message(pilot, "Struck: dive of Blue bezel, 12 to 20 Jul 2027. z: undo")
        await pilot.press("z")
        await wait_for(pilot, lambda: len(room.rows) == 1, "the trip is back")
        await wait_for(pilot, lambda: rows(pilot)[0].endswith("think twice"), "and its verdict")
        await pilot.press("enter")
        await wait_for_text(
            pilot, "Check: Blue bezel · plan 1 of 1", "on 12 to 20 Jul", "THINK TWICE dive 30 m"
        )
        await press_all(pilot, ["ctrl+o", "end"])
        await wait_for_text(pilot, "judged")
        await pilot.press("escape")
        await wait_for_room(pilot, "PlansRoom")
        await pilot.press("a")
        await wait_for_text(pilot, "which may come? · plan 1 of 1", "depth 30 m", "Sunday dress")
        await press_all(pilot, ["escape", "n"])
        await wait_for_text(pilot, "Check: Blue bezel", "on today")


async def test_a_past_plan_asks_whether_it_happened_and_is_charged_only_then(
    book: Book, plan: Plan, id_of: IdOf
) -> None:
    plan("Blue bezel", "dive", date(2026, 11, 20), depth_m=21, duration_s=2280, water_c=12)
    plan("Lido quartz", "pool", date(2026, 12, 5), duration_s=3000)
    blue = id_of("Blue bezel")
    async with LogbookApp(book).run_test(size=SMALL, notifications=True) as pilot:
        await open_plans(pilot)
        assert book.exposures(blue) == []
        await wait_for_text(pilot, "1 ahead, 1 past: did it happen?", "It was planned for 20 Nov 2026")
        assert rows(pilot)[0] == "20 Nov 2026 Blue bezel dive 21 m did it happen?"
        await pilot.press("d")
        await wait_for_message(pilot, "Logged 20 Nov 2026, dive 21 m, 38 min", "took", "z: undo")
        happened = book.exposures(blue)[0]
        assert (happened.starts_on, happened.depth_m, happened.planned) == (date(2026, 11, 20), 21, False)
        assert sum(shares.total for shares in book.cost(happened.id or 0).values()) > 0
        assert book.plans(blue) == []
        await pilot.press("z")
        await wait_for_text(pilot, "did it happen?", "1 past")
        assert book.exposures(blue) == []
        assert [one.id for one in book.plans(blue)] == [happened.id]
        assert book.cost(happened.id or 0) == {}
        await press_all(pilot, ["down", "d"])
        await wait_for_message(pilot, "It begins on 5 Dec 2026, which lies ahead")
        assert len(book.all_plans()) == 2


async def test_of_a_trip_the_first_day_is_charged_and_the_rest_stays_planned(
    book: Book, plan: Plan, id_of: IdOf
) -> None:
    plan("Blue bezel", "dive", TODAY, depth_m=18, duration_s=2400, planned_to=date(2026, 11, 27))
    blue = id_of("Blue bezel")
    async with LogbookApp(book).run_test(size=SMALL, notifications=True) as pilot:
        await open_plans(pilot)
        await wait_for(
            pilot, lambda: rows(pilot)[0].endswith("no objection found"), "a trip under way is judged"
        )
        await pilot.press("d")
        await wait_for_message(pilot, "Logged 25 Nov 2026", "took", "26 to 27 Nov 2026 stay planned. z: undo")
        await wait_for(pilot, lambda: rows(pilot)[0].startswith("26 to 27 Nov 2026 2 days"), "two are left")
        (charged,), (left,) = book.exposures(blue, limit=9), book.plans(blue)
        assert (charged.starts_on, charged.planned_to) == (TODAY, None)
        assert sum(shares.total for shares in book.cost(charged.id or 0).values()) > 0
        assert (left.starts_on, left.planned_to) == (date(2026, 11, 26), date(2026, 11, 27))
        await pilot.press("d")
        await wait_for_message(pilot, "It begins on 26 Nov 2026, which lies ahead")
        await pilot.press("z")
        await wait_for(
            pilot, lambda: rows(pilot)[0].startswith("25 to 27 Nov 2026 3 days"), "all of it is back"
        )
        assert book.exposures(blue) == []


async def test_a_past_trip_asks_about_one_day_after_the_other_and_what_comes_back_is_under_the_cursor(
    book: Book, plan: Plan, id_of: IdOf
) -> None:
    plan("Gran's chrono", "swim", date(2026, 11, 10), duration_s=1800)
    plan("Blue bezel", "dive", date(2026, 11, 20), depth_m=18, duration_s=2400,
         planned_to=date(2026, 11, 21))  # fmt: skip
    plan("Lido quartz", "pool", date(2026, 12, 5), duration_s=3000)
    blue = id_of("Blue bezel")
    async with LogbookApp(book).run_test(size=SMALL, notifications=True) as pilot:
        room = await open_plans(pilot)
        await pilot.press("down")
        await wait_for_text(pilot, "d charges 20 Nov 2026 as planned and asks about the next day")
        await pilot.press("d")
        await wait_for_message(pilot, "Logged 20 Nov 2026", "21 Nov 2026 stays planned. z: undo")
        await wait_for_text(pilot, "It was planned for 21 Nov 2026: did it happen?")
        await pilot.press("d")
        await wait_for(pilot, lambda: len(room.rows) == 2, "the trip is over")
        assert [one.starts_on.day for one in book.exposures(blue, limit=9)] == [21, 20]
        await pilot.press("home", "z")
        await wait_for(
            pilot, lambda: room.nickname == "Blue bezel", "the plan that is back is under the cursor"
        )
        await press_all(pilot, ["x", "end", "z"])
        await wait_for(pilot, lambda: len(room.rows) == 3, "it is back again")
        assert room.nickname == "Blue bezel"


async def test_next_plan_fills_in_one_plan_after_the_other(book: Book, plan: Plan, id_of: IdOf) -> None:
    plan("Blue bezel", "dive", date(2026, 12, 12), depth_m=33, duration_s=1800, planned_to=date(2026, 12, 20))
    plan("Gran's chrono", "dive", date(2026, 12, 12), depth_m=33, duration_s=1800,
         planned_to=date(2026, 12, 20))  # fmt: skip
    plan("Lido quartz", "swim", date(2027, 7, 3), duration_s=1800)
    async with LogbookApp(book).run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("c")
        await wait_for_text(pilot, "^l next plan")
        await press_all(pilot, ["ctrl+t", "ctrl+l"])
        await wait_for_text(pilot, "which may come? · plan 1 of 2", "dive", "33 m", "12 to 20 Dec")
        await wait_for_text(pilot, "› Blue bezel")
        await pilot.press("ctrl+l")
        await wait_for_text(pilot, "plan 2 of 2", "swim", "on 3 Jul")
        await pilot.press("ctrl+l")
        await wait_for_text(pilot, "plan 1 of 2")
        await put(pilot, "depth", "12")
        await wait_for(pilot, lambda: not shows(pilot.app, "plan 1 of 2"), "it is another plan now")


async def test_planning_says_beside_the_answer_what_is_wrong_and_takes_back_only_its_own(
    book: Book, id_of: IdOf
) -> None:
    book.do(confirm, [id_of("Lido quartz")], TODAY)
    async with LogbookApp(book).run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("c")
        await wait_for_room(pilot, "CheckRoom")
        for name, text, says in (
            ("depth", "900", "depth: The depth is out of range"),
            ("depth", "", "depth: How deep will it be?"),
            ("depth", "20", ""),
            ("when", "yesterday", "when: A plan for 24 Nov 2026 is past: today is 25 Nov 2026"),
            ("when", "20 dec to someday", "'someday' is not a date"),
        ):
            await put(pilot, name, text)
            await pilot.press("ctrl+s") if says else None
            await wait_for_text(pilot, says)
        assert book.all_plans() == []
        await pilot.press("ctrl+z")
        await wait_for_message(pilot, "Nothing was planned here.")
        await put(pilot, "when", "in 3 days")
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "Planned for Blue bezel: dive 20 m", "28 Nov 2026")
        assert [one.starts_on for one in book.all_plans()] == [date(2026, 11, 28)]
        await pilot.press("ctrl+z", "ctrl+z")
        await wait_for_message(pilot, "Undone: plan dive")
        assert book.all_plans() == []
        assert len(book.steps()[0]) > 0  # what was done before stays
        await pilot.press("ctrl+s")
        await wait_for(pilot, lambda: len(book.all_plans()) == 1, "it is planned again")
        Book(book.path, TODAY).do(confirm, [id_of("Sunday dress")], TODAY)  # in another window
        await pilot.press("ctrl+z")
        await wait_for_message(pilot, "Something else was changed since: Z on the Shelf lists every change.")
        assert len(book.all_plans()) == 1
        assert book.standing(id_of("Sunday dress")).record.watch.confirmed_on == TODAY


async def test_from_the_list_the_watch_that_is_marked_is_planned_and_named(book: Book) -> None:
    async with LogbookApp(book).run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("c")
        await wait_for_text(pilot, "^o to the answer")
        await pilot.press("ctrl+t")
        await wait_for_text(pilot, "^o to the list", "› ")
        marked = next(line for line in screen_lines(pilot.app) if line.startswith("› "))
        await pilot.press("ctrl+s")
        await wait_for(pilot, lambda: len(book.all_plans()) == 1, "it is planned")
        name = book.standing(book.all_plans()[0].watch_id or 0).record.watch.name
        assert marked.startswith(f"› {name} ")
        await wait_for_message(pilot, f"Planned for {name}: ")


@pytest.mark.parametrize("size", [SMALL, (100, 30), (140, 40)])
async def test_the_answer_has_the_place_that_the_window_gives(
    book: Book, id_of: IdOf, size: tuple[int, int]
) -> None:
    wide = size[0] >= 140
    async with LogbookApp(book).run_test(size=size) as pilot:
        room = CheckRoom(id_of("Gran's chrono"))
        pilot.app.screen.enter(room)  # type: ignore[attr-defined]
        await wait_for_room(pilot, "CheckRoom")
        for name, text in (("what", "dive"), ("depth", "30"), ("minutes", "40"), ("when", "28 dec to 3 jan")):
            await put(pilot, name, text)
        await wait_for_text(pilot, "28 Dec to 3 Jan 2027 (7 days)")
        lines = screen_lines(pilot.app)
        first = next(line for line in lines if line.strip().startswith(("what", "! what")))
        assert ("28 Dec to 3 Jan 2027" in first) is wide  # the answer begins beside the first question
        assert any("28 dec to 3 jan" in line for line in lines)
        await pilot.press("ctrl+t")
        await wait_for_text(pilot, "Sunday dress", "may it come?")
        await press_all(pilot, ["ctrl+o", "end"])
        await wait_for_text(pilot, "› Lido quartz", "scuba diving: more than is usual")
        assert shows(pilot.app, "keep it dry, because", "for context") is wide
        await pilot.press("up")
        await wait_for(
            pilot, lambda: "Lido quartz" not in told(pilot.app, "#brief"), "another watch, other reasons"
        )


async def test_hostile_names_notes_and_answers_are_text(tmp_path: Path) -> None:
    book = Book(tmp_path / "hostile.logbook", TODAY)
    for n, text in enumerate(("[@click=app.quit]x[/]", "\x1b[2J", "\u202eevil", "漢字" * 60, "x" * 10_000)):
        watch = a_watch(text, bar=5)
        watch_id = book.add_watch(watch, seals_of(watch))
        starts_on = date(2026, 11, 20) + timedelta(days=3 * n)
        kept = make_exposure(
            book.practice, book.settings, activity="swim", starts_on=starts_on, today=TODAY, duration_s=1800,
            planned=True, planned_to=starts_on + timedelta(days=9) if n % 2 else None, note="[/] [b]x",
        )  # fmt: skip
        book.log([replace(kept, watch_id=watch_id)])
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await open_plans(pilot)
        plans = app.screen.query_one(Lines)
        for _ in range(plans.count):
            await pilot.press("down")
            assert raw_controls(app) == []
            assert "\u202e" not in screen_text(app)
            assert CAUTION_LINE in screen_text(app)
        await press_all(pilot, ["home", "d", "x"])
        assert raw_controls(app) == []
        await press_all(pilot, ["end", "enter"])
        await wait_for_room(pilot, "CheckRoom")
        for text in HOSTILE[::4]:
            app.screen.query_one("#when-entry", Input).value = f"{text} to {text}"
            await pilot.press("ctrl+s")
            assert raw_controls(app) == [], repr(text)
        assert len(book.all_plans()) == 3


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_of_a_trip_the_first_day_is_named_from_which_its_verdict_holds(
    book: Book, plan: Plan, size: tuple[int, int]
) -> None:
    # Its test of 1 May 2026 is due again after twelve months, on the fourth day of the trip.
    first, last = date(2027, 4, 28), date(2027, 5, 5)
    plan("Blue bezel", "dive", first, planned_to=last, depth_m=18.0, duration_s=2400)
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await open_plans(pilot)
        holds = "so from 1 May 2027 on"
        await wait_for_text(pilot, f"think twice; {holds}: ")
        await pilot.press("enter")
        await wait_for_room(pilot, "CheckRoom")
        await wait_for_text(pilot, "28 Apr to 5 May 2027 (8 days)", holds, "think twice, because")
        await pilot.press("ctrl+t")
        await wait_for_text(pilot, f"Blue bezel; {holds}: ")


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_a_plan_of_a_watch_that_was_retired_since_is_not_judged(
    book: Book, plan: Plan, id_of: IdOf, size: tuple[int, int]
) -> None:
    watch = book.standing(id_of("Blue bezel")).record.watch
    plan("Blue bezel", "dive", TODAY + timedelta(days=9), depth_m=18.0, duration_s=2400)
    book.retire(watch, book.today)
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await open_plans(pilot)
        await wait_for_text(pilot, "not judged: It is retired and not judged")
