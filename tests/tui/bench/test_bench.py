"""The Bench and the guided condensation check as a person uses them."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Input
from typer.testing import CliRunner

from logbook.bench import worksheets
from logbook.bench.calculators import CALCULATORS
from logbook.caution import CAUTION_LINE
from logbook.cli.app import app as command_line
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.bench.countdown import Countdown, minutes_and_seconds
from logbook.tui.bench.fog_check import FogCheckRoom
from logbook.tui.bench.room import BenchRoom
from logbook.tui.events.room import EventRoom
from logbook.tui.shell.form import Question
from logbook.tui.widgets.pick import Options, Pick
from tests.tui.conftest import TODAY
from tests.tui.helpers import (
    LARGE,
    SMALL,
    all_done,
    dealt,
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
    words,
    write,
)  # fmt: skip

IdOf = Callable[[str], int]

# The word in the row -> what the command is given for the answers that stand there at first.
COMMANDS = {
    "depth": ("depth", "30m"),
    "pressure": ("pressure", "3bar"),
    "speed": ("speed", "1m/s"),
    "head": ("speed", "--head", "25m"),
    "jump": ("jump", "3m"),
    "altitude": ("altitude", "2000m"),
    "swing": ("swing", "32C", "6C", "--span", "30mm", "--seal", "NBR", "--case", "steel"),
    "fog": ("fog", "--sealed", "21C", "--humidity", "50", "--crystal", "10C"),
    "force": ("force", "20bar", "--diameter", "30mm"),
}


def run_bench(book: Book, *arguments: str) -> str:
    """What `logbook bench` prints on the same record and day."""
    done = CliRunner().invoke(
        command_line, ["bench", *arguments, "--file", str(book.path), "--today", str(TODAY)]
    )
    assert done.exit_code == 0, done.output
    return done.stdout.rstrip("\n")


async def open_bench(pilot: Pilot[Any], calculator: str = "depth") -> BenchRoom:
    """The room with one calculator and its answer."""
    await wait_for_room(pilot, "ShelfRoom")
    room = BenchRoom()
    pilot.app.screen.enter(room)  # type: ignore[attr-defined]
    await wait_for_room(pilot, "BenchRoom")
    await answered(pilot, room)
    for _ in range([each.word for each in CALCULATORS].index(calculator)):
        await pilot.press("ctrl+n")
    await answered(pilot, room)
    assert shows(pilot.app, f"logbook · Bench: {calculator}")
    return room


async def answered(pilot: Pilot[Any], room: BenchRoom | FogCheckRoom) -> None:
    """Go on once the answer is that of what stands in the form."""
    await all_done(pilot)
    assert room.answered is not None


def question(room: BenchRoom | FogCheckRoom, name: str) -> Question:
    """One question of what is shown."""
    return room.query_one(f"#{room.asks.key}-{name}-question", Question)


async def put(pilot: Pilot[Any], room: BenchRoom | FogCheckRoom, name: str, text: str) -> None:
    """An answer written over what stands there."""
    question(room, name).asked.ask()
    await pilot.pause()
    await pilot.press("ctrl+u", "ctrl+k")
    await paste(pilot, text)
    await answered(pilot, room)


async def put_all(pilot: Pilot[Any], room: BenchRoom | FogCheckRoom, texts: Mapping[str, str]) -> None:
    """Answers to several questions, each in place of what stands there; the last one is pasted."""
    for name, text in texts.items():
        question(room, name).query_one(Input).value = text
    question(room, name).asked.ask()
    await paste(pilot, text)
    await answered(pilot, room)


async def read_through(pilot: Pilot[Any]) -> str:
    """Everything that the answer holds, read by scrolling to its end; runs of blanks count as one."""
    pane = pilot.app.screen.query_one("#answer")
    found: dict[int, str] = {}
    await pilot.press("home")
    while True:
        await pilot.pause()
        region, top = pane.scrollable_content_region, int(pane.scroll_y)
        for n, line in enumerate(screen_lines(pilot.app)[region.y : region.bottom]):
            found[top + n] = line[region.x : region.right]
        if top >= pane.max_scroll_y:
            return words(" ".join(found.values()))
        await pilot.press("pagedown")


# ---------------------------------------------------------------- the calculators


@pytest.mark.parametrize(
    ("calculator", "name", "text"), [("depth", "depth", "12m"), ("swing", "from", "30C")]
)
async def test_constants_that_can_no_longer_be_read_are_told_of_in_the_room(
    book: Book, calculator: str, name: str, text: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        room = await open_bench(pilot, calculator)
        (tmp_path / "practice.toml").write_bytes(b"\xff")
        monkeypatch.setenv("LOGBOOK_PRACTICE", str(tmp_path / "practice.toml"))
        await put(pilot, room, name, text)
        await wait_for_text(pilot, "The constants in", "could not be read: it is not UTF-8 text.")
        monkeypatch.delenv("LOGBOOK_PRACTICE")
        await put(pilot, room, name, f" {text}")
        assert room.answered is not None
        assert room.answered.sheet is not None


def test_every_calculator_of_the_command_is_on_the_bench() -> None:
    offered = CliRunner().invoke(command_line, ["bench", "--help"]).stdout
    on_the_bench = {each.command or each.word for each in CALCULATORS}
    assert on_the_bench == {"depth", "pressure", "speed", "jump", "altitude", "swing", "fog", "force"}
    assert all(command in offered for command in on_the_bench)
    assert set(COMMANDS) == {each.word for each in CALCULATORS}


@pytest.mark.parametrize("calculator", COMMANDS)
async def test_a_calculator_shows_the_numbers_and_the_text_of_the_command(
    book: Book, calculator: str
) -> None:
    printed = run_bench(book, *COMMANDS[calculator])
    numbers = json.loads(run_bench(book, *COMMANDS[calculator], "--json"))
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        room = await open_bench(pilot, calculator)
        assert room.answered is not None
        assert room.answered.sheet is not None
        sheet = room.answered.sheet
        assert worksheets.document(sheet) == numbers
        for size in (SMALL, LARGE):
            await pilot.resize_terminal(*size)
            await wait_for(pilot, lambda: room.query_one("#keys").region.bottom == size[1], "it is laid out")  # noqa: B023
            for what, value in worksheets.at_a_glance(sheet, "metric"):
                assert shows(app, f"{what} {value}")
            assert max(map(len, screen_lines(app))) <= size[0]
            assert CAUTION_LINE in screen_text(app)
            await pilot.press("ctrl+o")
            shown = await read_through(pilot)
            for passage in worksheets.passages(sheet, "metric"):
                assert words(passage.text) in shown
            await pilot.press("ctrl+o")
        await pilot.press("ctrl+y")
        await wait_for_message(pilot, f"Copied as text: {calculator}.")
        assert app.clipboard == printed


async def test_the_answer_follows_what_is_typed_in_any_unit(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room = await open_bench(pilot, "force")
        assert shows(app, "force on the disc 1414 N")  # p π d² / 4 of 20 bar on 30 mm
        for text, shown in (
            ("40 bar", "2827 N"),
            ("4 MPa", "2827 N"),
            ("300 psi", "1462 N"),
            ("20", "1414 N"),
        ):
            await put(pilot, room, "pressure", text)
            assert shows(app, f"force on the disc {shown}")


async def test_the_owners_units_are_those_of_defaults_bare_numbers_and_answers(
    book: Book, set_home: Callable[..., None]
) -> None:
    set_home(units="imperial")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room = await open_bench(pilot)
        assert shows(app, "depth 100 ft", " psi")
        await put(pilot, room, "depth", "50")
        assert shows(app, "depth 50 ft")


async def test_an_empty_answer_is_that_of_the_home_water(book: Book, set_home: Callable[..., None]) -> None:
    set_home(monthly_c=tuple(range(1, 13)))
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await open_bench(pilot)
        assert shows(app, "temperature 11 °C, as at home", "salinity 35, as at home")  # November
        assert "surface temperature = 11 °C" in run_bench(book, "depth", "30m")


async def test_only_salty_water_is_asked_for_its_salinity(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room = await open_bench(pilot, "speed")
        assert shows(app, "salinity")
        question(room, "water").asked.ask()
        await pilot.press("f")
        await answered(pilot, room)
        assert not shows(app, "salinity")
        assert shows(app, "not said: 1000 kg/m³", "0.005 bar")
        await pilot.press("b")
        await answered(pilot, room)
        await wait_for_text(pilot, "How salty is brackish water?")
        await put(pilot, room, "salinity", "12")
        assert shows(app, "dynamic pressure")


async def test_only_a_brine_is_asked_for_its_density(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room = await open_bench(pilot, "depth")
        assert not question(room, "density").display
        await put(pilot, room, "salinity", "280")
        await wait_for_text(pilot, "a brine of 280 needs its density too")
        await put(pilot, room, "density", "1190")
        await answered(pilot, room)
        assert shows(app, "1190 kg/m³")
        await put(pilot, room, "salinity", "36")
        await answered(pilot, room)
        assert not question(room, "density").display
        assert not shows(app, "1190")


@pytest.mark.parametrize(
    ("calculator", "name", "text", "sentence"),
    [
        ("depth", "depth", "deep", "is not a number with a unit"),
        ("depth", "depth", "3 bar", "a length belongs here"),
        ("depth", "depth", "-3m", "below zero"),
        ("depth", "latitude", "91", "from pole to pole"),
        ("depth", "temp", "90C", "out of range"),
        ("pressure", "pressure", "", "The pressure is needed here."),
        ("speed", "speed", "1e200 m/s", "must be 1000 m/s or less"),
        ("fog", "humidity", "150", "air holds no more"),
        ("fog", "crystal", "300C", "Did you mean 300 K = 27 °C?"),
        ("swing", "from", "305K", "not in kelvin"),
    ],
)
async def test_a_wrong_answer_is_told_in_a_sentence_right_below_itself(
    book: Book, calculator: str, name: str, text: str, sentence: str
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        room = await open_bench(pilot, calculator)
        await put(pilot, room, name, text)
        asked = question(room, name)
        await wait_for(pilot, lambda: asked.wrong, "the question is marked")
        assert words(sentence) in words(str(asked.message.content))
        assert asked.message.region.y == asked.asked.region.y + 1
        assert asked.message.region.width > 20
        assert shows(app, f"! {asked.asked.label}", "The answer follows once this can be read.")
        assert len(app.screen_stack) == 2
        await pilot.press("ctrl+y")
        await wait_for_message(pilot, "There is no answer to copy yet.")
        assert app.clipboard == ""


async def test_what_no_single_answer_is_to_blame_for_stands_in_place_of_the_answer(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room = await open_bench(pilot, "altitude")
        await put(pilot, room, "height", "12km")
        await wait_for_text(pilot, "Altitude must be from -2000 to 11000 m, not 12000.")


async def test_each_calculator_keeps_its_answers_and_the_row_can_be_walked_and_clicked(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room = await open_bench(pilot)
        await put(pilot, room, "depth", "12 m")
        await pilot.press("ctrl+b")
        await answered(pilot, room)
        assert shows(app, "logbook · Bench: force")
        row = room.query_one("#calculators", Options)
        row.focus()
        await pilot.press("a")
        await wait_for_text(pilot, "logbook · Bench: altitude", "air pressure 0.795 bar")
        assert row.has_focus
        await pilot.click(row, offset=(3, 0))
        await wait_for_text(pilot, "logbook · Bench: depth", "depth 12 m")
        await pilot.press("enter")
        assert question(room, "depth").asked.query("Entry:focus")


async def test_enter_goes_from_question_to_question_and_then_to_the_answer(book: Book) -> None:
    async with LogbookApp(book).run_test(size=SMALL) as pilot:
        room = await open_bench(pilot, "swing")
        for name in ("to", "span", "seal", "case"):
            await pilot.press("enter")
            assert question(room, name) in pilot.app.focused.ancestors  # type: ignore[union-attr]
        await pilot.press("enter")
        assert pilot.app.focused is room.query_one("#answer")


async def test_a_click_on_a_key_does_what_the_key_does_and_escape_goes_back(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room = await open_bench(pilot)
        await pilot.click(room.query_one("#keys"), offset=(3, 0))
        await wait_for_text(pilot, "logbook · Bench: pressure")
        await pilot.press("ctrl+g")
        await wait_for_room(pilot, "FogCheckRoom")
        await pilot.press("escape")
        await wait_for_room(pilot, "BenchRoom")
        await pilot.press("escape")
        await wait_for_room(pilot, "ShelfRoom")


async def test_the_bench_needs_no_record(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL) as pilot:
        await wait_for_room(pilot, "WelcomeRoom")
        await pilot.press("escape")
        await open_bench(pilot)
        assert shows(app, "gauge pressure 3.018 bar")
        assert not empty_book.path.exists()


@pytest.mark.parametrize("calculator", ["depth", "fog"])
async def test_hostile_answers_are_text(book: Book, calculator: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        room = await open_bench(pilot, calculator)
        names = list(next(c for c in CALCULATORS if c.word == calculator).asks)
        written = [name for name in names if name != "water"]
        for texts in dealt(written):
            await put_all(pilot, room, texts)
            assert raw_controls(app) == []
            assert not set(screen_text(app)) & set("\u202e\u2066\u200b\ufeff\u2028")
            assert shows(app, CAUTION_LINE, "esc back")
        assert app.screen is room


# ---------------------------------------------------------------- the guided check


@dataclass
class Clock:
    """A clock that stands until it is moved."""

    now_s: float = 1000.0

    def __call__(self) -> float:
        """The time by it."""
        return self.now_s


async def open_check(pilot: Pilot[Any], watch_id: int | None = None) -> tuple[FogCheckRoom, Clock]:
    """The guided check by a clock of the test's own, with its first answer."""
    await wait_for_room(pilot, "ShelfRoom")
    clock = Clock()
    room = FogCheckRoom(watch_id, clock)
    pilot.app.screen.enter(room)  # type: ignore[attr-defined]
    await wait_for_room(pilot, "FogCheckRoom")
    await answered(pilot, room)
    return room, clock


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_check_opens_by_saying_that_it_is_for_a_workshop(book: Book, size: tuple[int, int]) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=size) as pilot:
        await open_check(pilot)
        assert shows(app, CAUTION_LINE)
        assert told(app, "#step").startswith("This check is for a workshop. Do not heat a watch at home")
        assert "common practice, no source" in told(app, "#step")


async def test_every_step_can_be_read_in_full_in_a_small_window(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room, _ = await open_check(pilot)
        seen = [told(app, "#step")]
        for key in ("enter", "right", "ctrl+n", "5", "6"):
            await pilot.press(key)
            await wait_for(pilot, lambda: told(app, "#step") != seen[-1], "the next step is shown")
            await pilot.pause()
            seen.append(told(app, "#step"))
            assert room.query_one("#words").max_scroll_y == 0
        assert len(set(seen)) == 6
        assert "40 to 45 °C (ISO 22810, as secondary sources quote it)" in seen[1]
        assert "18 to 25 °C" in seen[2]
        assert "proves nothing about the seals" in seen[4]
        assert "waterproof" not in " ".join(seen).lower()


async def test_the_timer_counts_down_can_be_held_and_says_when_it_is_over(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        _, clock = await open_check(pilot)
        assert shows(app, "1:00 of 1:00, not started", "^t start")
        await pilot.press("ctrl+t")
        clock.now_s += 20.5
        await wait_for_text(pilot, "0:40 of 1:00, running", "^t hold")
        await pilot.press("ctrl+t")
        clock.now_s += 300
        await wait_for_text(pilot, "0:40 of 1:00, held", "^t go on")
        await pilot.press("ctrl+t")
        clock.now_s += 39
        await wait_for_text(pilot, "0:01 of 1:00, running")
        clock.now_s += 5
        await wait_for_text(pilot, "0:00 of 1:00, over", "^t start again")
        await wait_for_message(pilot, "The time is over: wipe the crystal dry and look.")
        assert told(app, "#step").startswith("Wipe the crystal dry")
        await pilot.press("ctrl+r")
        await wait_for_text(pilot, "1:00 of 1:00, not started")


async def test_the_timer_takes_its_time_from_the_form(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room, clock = await open_check(pilot)
        await put(pilot, room, "wait", "90 s")
        await wait_for_text(pilot, "1:30 of 1:30, not started")
        await put(pilot, room, "wait", "soon")
        await wait_for_text(pilot, "! timer soon", "is not a number with a unit")
        await wait_for_text(pilot, "this air would fog the crystal no")
        await put(pilot, room, "wait", "90 s")
        await pilot.press("ctrl+t")
        clock.now_s += 10
        await put(pilot, room, "wait", "2")
        await wait_for_text(pilot, "1:20 of 1:30, running")
        await pilot.press("ctrl+r")
        await wait_for_text(pilot, "2:00 of 2:00, not started")


def test_a_countdown_counts_only_while_it_runs() -> None:
    clock = Clock()
    count = Countdown(90, clock)
    clock.now_s += 50
    assert (count.left_s, count.fresh, count.words()) == (90, True, "not started")
    count.start()
    clock.now_s += 30
    count.start()
    assert (count.left_s, count.running) == (60, True)
    count.hold()
    clock.now_s += 500
    assert (count.left_s, count.words()) == (60, "held")
    count.start()
    clock.now_s += 61
    assert (count.left_s, count.over, count.running) == (0, True, False)


@pytest.mark.parametrize(
    ("duration_s", "shown"), [(0, "0:00"), (0.2, "0:01"), (60, "1:00"), (599.5, "10:00"), (3750, "1:02:30")]
)
def test_a_duration_is_minutes_and_seconds(duration_s: float, shown: str) -> None:
    assert minutes_and_seconds(duration_s) == shown


async def test_the_fog_arithmetic_is_that_of_the_command(book: Book) -> None:
    given = ("--sealed", "27C", "--humidity", "90", "--crystal", "20C", "--case-air", "40C")
    numbers = json.loads(run_bench(book, "fog", *given, "--json"))
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room, _ = await open_check(pilot)
        assert shows(app, "this air would fog the crystal no", "fog there would mean more vapour")
        await put(pilot, room, "sealed", "27C")
        await put(pilot, room, "humidity", "90 %")
        assert room.answered is not None
        assert room.answered.sheet is not None
        assert worksheets.document(room.answered.sheet) == numbers
        assert shows(app, "this air would fog the crystal yes", "fog here is no proof of a leak")
        await put(pilot, room, "crystal", "90C")
        await wait_for_text(pilot, "The crystal temperature is out of range")


async def test_fog_is_logged_with_the_temperatures_that_were_written_and_no_others(
    book: Book, id_of: IdOf
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        room, _ = await open_check(pilot, id_of("Lido quartz"))
        await put(pilot, room, "crystal", "9C")
        room.query_one("#steps", Options).focus()
        await pilot.press("f")
        await wait_for_room(pilot, "EventRoom")
        await wait_for_text(pilot, "Log event: Lido quartz", "▸ fog seen inside", "crystal at 9C")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "FogCheckRoom")
        event = book.standing(id_of("Lido quartz")).record.events[-1]
        assert (event.kind, event.on, event.crystal_c, event.case_air_c) == ("fog", TODAY, 9.0, None)
        await pilot.press("z")
        await wait_for_message(pilot, "Undone")
        assert book.standing(id_of("Lido quartz")).record.events == ()


@pytest.mark.parametrize(("key", "passed"), [("p", True), ("x", False)])
async def test_the_check_is_logged_as_a_condensation_test(
    book: Book, id_of: IdOf, key: str, passed: bool
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room, clock = await open_check(pilot)
        room.query_one("#watch", Pick).ask()
        await press_all(pilot, ["s"])
        room.query_one("#steps", Options).focus()
        await pilot.press("ctrl+t")
        clock.now_s += 60
        await wait_for_text(pilot, "over")
        await pilot.press(key)
        await wait_for_room(pilot, "EventRoom")
        assert isinstance(app.screen, EventRoom)
        await wait_for_text(pilot, "▸ condensation test", f"[{'passed' if passed else 'failed'}]")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "FogCheckRoom")
        event = book.standing(id_of("Sunday dress")).record.events[-1]
        assert (event.kind, event.passed, event.minutes) == ("condensation-test", passed, 1.0)


async def test_letters_are_text_in_a_field_of_the_check(book: Book, id_of: IdOf) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room, _ = await open_check(pilot)
        await put(pilot, room, "sealed", "")
        await write(pilot, "fpxz")
        await answered(pilot, room)
        assert app.screen is room
        assert shows(app, "sealed at fpxz", "F1 help")
        assert not shows(app, "fog seen")


async def test_without_a_watch_there_is_nothing_to_log_for(empty_book: Book) -> None:
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_room(pilot, "WelcomeRoom")
        await pilot.press("escape")
        room, _ = await open_check(pilot)
        await pilot.press("f")
        await wait_for_message(pilot, "No watch is on the shelf to log it for.")
        assert app.screen is room


async def test_hostile_answers_are_text_in_the_check_too(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        room, _ = await open_check(pilot)
        names = ("wait", "sealed", "humidity", "crystal", "case_air")
        for texts in dealt(names):
            await put_all(pilot, room, texts)
            assert raw_controls(app) == []
            assert CAUTION_LINE in screen_text(app)
        assert app.screen is room


async def test_a_small_window_made_large_shows_the_answer_beside_the_questions(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        room = await open_bench(pilot)
        answer = room.query_one("#answer")
        assert answer.region.y > question(room, "depth").region.y
        await pilot.resize_terminal(*LARGE)
        await wait_for(pilot, lambda: answer.region.x > 40, "the answer stands on the right")
        await wait_for_text(pilot, "source: EN 13319:2000")
