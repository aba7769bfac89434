"""Bench: calculators that answer as one types, each with its formula, its numbers and its source."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.widgets import Input, Static

from logbook.bench import worksheets
from logbook.bench.calculators import CALCULATORS, Calculator, silent_words
from logbook.bench.calculators import work_out as worked_out
from logbook.bench.questions import Around
from logbook.errors import LogbookError
from logbook.tui.bench.answering import Answered, WorkedRoom
from logbook.tui.bench.asks import Asks
from logbook.tui.shell.ink import Line, sentence
from logbook.tui.widgets.pick import Options

WIDE = 110  # cells from which the answer stands beside the questions


def work_out(calculator: Calculator, texts: Mapping[str, str], around: Around) -> Answered:
    """The answer; runs in a thread."""
    silent: Mapping[str, str] = {}
    try:
        silent = silent_words(calculator, texts.get("water", ""), around)
        return Answered(worked_out(calculator, texts, around), silent=silent)
    except LogbookError as refusal:
        return Answered(refusals=(refusal,), silent=silent)


class BenchRoom(WorkedRoom):
    """The calculators of `logbook bench`; `watch_id` is the watch that the guided check starts with."""

    CSS_PATH = "room.tcss"
    TITLE_WORDS = "Bench"
    PURPOSE = (
        "Calculators: pressure, speed, altitude, temperature, fog and force. Write any unit; the answer "
        "follows what you write, with its formula, the numbers put in and the source. Nothing is recorded."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+n", "other(1)", "next calculator", tooltip="the calculator to the right"),
        Binding("ctrl+b", "other(-1)", "calculator before", show=False),
        Binding("ctrl+y", "copy", "copy", tooltip="the answer as text, as the command prints it"),
        Binding("ctrl+g", "guided_check", "guided check", tooltip="the condensation check, with a timer"),
    ]

    def __init__(self, watch_id: int | None = None) -> None:
        super().__init__()
        self.watch_id = watch_id

    def body(self) -> ComposeResult:
        """The row of calculators, the questions of one, and its answer."""
        self.look_around()
        self.row = Options([each.word for each in CALCULATORS])
        self.row.id = "calculators"
        yield self.row
        with Vertical(id="sides"):
            with Vertical(id="form"):
                yield Static(id="said")
            with VerticalScroll(id="answer"):
                yield Static(sentence("working out …", "dim"), id="worked")

    def on_mount(self) -> None:
        """Start with the first calculator, its first question selected."""
        self.set_class(self.app.size.width >= WIDE, "-wide")
        self.call_later(self._turn, True)

    def on_resize(self) -> None:
        """In a wide window the answer stands beside the questions."""
        self.set_class(self.app.size.width >= WIDE, "-wide")

    # ------------------------------------------------------------------ one calculator

    @property
    def calculator(self) -> Calculator:
        """The one that is shown."""
        return CALCULATORS[self.row.picked]

    @property
    def subject(self) -> str:
        """Its word."""
        return self.calculator.word

    @property
    def asks(self) -> Asks:
        """Its questions."""
        return self.query_one(f"#asks-{self.calculator.word}", Asks)

    async def _turn(self, ask: bool = False) -> None:
        """Show the calculator that is picked in the row; its answers are those it was left with."""
        here = f"asks-{self.calculator.word}"
        self.answered = None
        if not self.query(f"#{here}"):
            made = Asks(self.calculator.word, self.calculator.columns, self.book.practice, self.units)
            await self.query_one("#form").mount(made, before="#said")
        for each in self.query(Asks):
            each.display = each.id == here
        self.say_title()
        self.pane.scroll_home(animate=False)
        self.consider()
        if ask:
            self.asks.ask()
        self.on_descendant_focus()

    def consider(self) -> None:
        """Work it out anew; no key waits for it."""
        self.asks.follow_water()
        calculator, texts = self.calculator, self.asks.texts
        self.answers.begin(
            lambda _: work_out(calculator, texts, self.around), partial(self._show, calculator)
        )

    def _show(self, calculator: Calculator, answered: Answered) -> None:
        if calculator is self.calculator:
            self.asks.silent(answered.silent)
            self.take(answered)

    def said(self) -> Line:
        """How to answer where the cursor is; in the row, what the calculator is for."""
        if not self.query(f"#asks-{self.calculator.word}"):
            return []  # not yet there
        about = f"{self.calculator.about} Left and right: another one; tab: its questions."
        return [(self.asks.hint() or about, "dim")]

    # ------------------------------------------------------------------ moving

    @on(Options.Changed)
    async def _picked(self, event: Options.Changed) -> None:
        if event.control is self.row:
            await self._turn()
        else:
            self.consider()

    @on(Input.Submitted)
    @on(Options.Ended)
    def _go_on(self, event: Input.Submitted | Options.Ended) -> None:
        """Enter: the next question, after the last of them the answer."""
        if event.control is self.row:
            self.asks.ask()
        else:
            self.ask_after(event.control)

    async def action_other(self, step: int) -> None:
        """The next calculator, or the one before, with its first question."""
        with self.row.prevent(Options.Changed):
            self.row.action_step(step)
        await self._turn(ask=True)

    # ------------------------------------------------------------------ handing on

    def action_copy(self) -> None:
        """Hand the answer to the terminal's clipboard, as the command prints it."""
        sheet = self.answered.sheet if self.answered and not self.answers.busy else None
        if sheet is None:
            self.app.notify("There is no answer to copy yet.", severity="error", markup=False)
            return
        self.app.copy_to_clipboard(worksheets.text(sheet, self.units))
        words = f"Copied as text: {self.calculator.word}. Some terminals do not let programs copy."
        self.app.notify(words, markup=False)

    def action_guided_check(self) -> None:
        """The condensation check, step by step."""
        self.go("fog-check", self.watch_id)
