"""The guided condensation check: its steps in words, a timer, the fog arithmetic, and the way to the log."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widgets import Input, Static

from logbook.bench import calculators
from logbook.bench.questions import MINUTES, Around, Ask
from logbook.errors import LogbookError
from logbook.model.values import EventKind
from logbook.tui.bench.answering import Answered, WorkedRoom
from logbook.tui.bench.asks import Asks
from logbook.tui.bench.countdown import Countdown, minutes_and_seconds
from logbook.tui.bench.steps import LOOK, STEPS, WAIT_S
from logbook.tui.shell.form import Question
from logbook.tui.shell.ink import Line, content, meter, sentence
from logbook.tui.shell.room import CHANGES, REDO, UNDO
from logbook.tui.widgets.pick import Options, Pick

TICK_S = 0.2
METER_CELLS = 12
WAIT = Ask("wait", "timer", "how long the drop stays, such as 1min or 90s", MINUTES, ("1 min", "1 min"),
           quantity="test_minutes")  # fmt: skip
_FOG = calculators.FOG.asks
ASKS = (
    WAIT,
    _FOG["sealed"],
    _FOG["humidity"],
    replace(_FOG["crystal"], hint="its inner face under the drop, such as 20C", example=("20 °C", "68 °F")),
    replace(_FOG["case_air"], hint="inside the warm case, such as 40C", example=("40 °C", "104 °F")),
)


def work_out(texts: Mapping[str, str], around: Around) -> Answered:
    """What the answers amount to; runs in a thread."""
    refusals: list[LogbookError] = []
    sheet = wait_s = None
    try:
        sheet = calculators.work_out(calculators.FOG, texts, around)
    except LogbookError as refusal:
        refusals.append(refusal)
    try:
        wait_s = 60 * WAIT.read(texts["wait"] or f"{WAIT_S} s", "metric")
    except LogbookError as refusal:
        refusals.append(refusal)
    return Answered(sheet, tuple(refusals), wait_s=wait_s)


class FogCheckRoom(WorkedRoom):
    """The condensation check step by step; `clock` gives seconds that only run forward."""

    CSS_PATH = "fog_check.tcss"
    TITLE_WORDS = "Guided condensation check"
    PURPOSE = (
        "The trade’s fog test, for a workshop: warm the case, cool a spot of the crystal, wipe, look. "
        "The numbers say whether sealed-in air can fog at all. It can show vapour, but not that seals hold."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+t", "timer", "start", tooltip="start the timer, hold it, go on"),
        Binding("ctrl+r", "reset", "reset", tooltip="the timer back to its beginning"),
        Binding("ctrl+n", "step_on(1)", "next step", tooltip="the next step of the check"),
        Binding("ctrl+b", "step_on(-1)", "step before", show=False),
        Binding("f", "log_fog", "fog seen", tooltip="log fog inside the crystal, a fault"),
        Binding("p", "log_test(True)", "passed", tooltip="log a condensation test that was passed: no fog"),
        Binding("x", "log_test(False)", "failed", tooltip="log a condensation test that was failed"),
        UNDO,
        REDO,
        CHANGES,
    ]
    OF_LETTERS = ("log_fog", "log_test(True)", "log_test(False)", "undo", "redo", "changes")

    def __init__(self, watch_id: int | None = None, clock: Callable[[], float] = time.monotonic) -> None:
        super().__init__()
        self.watch_id = watch_id
        self.countdown = Countdown(WAIT_S, clock)
        self._told = True  # that the time is over
        self._timer_line = ""

    def body(self) -> ComposeResult:
        """The row of steps, the words of one, timer and questions, then the fog answer."""
        self.look_around()
        self.row = Options(list(STEPS))
        self.row.id = "steps"
        self._asks = Asks("check", [ASKS], self.book.practice, self.units)
        yield self.row
        with Horizontal(id="sides"):
            with VerticalScroll(id="words"):
                yield Static(id="step")
            with Vertical(id="right"):
                yield Static(id="timer")
                with VerticalScroll(id="asked", can_focus=False):
                    yield Question(Pick("watch", "watch", []))
                    yield self._asks
                    yield Static(id="said")
        with VerticalScroll(id="answer"):
            yield Static(sentence("working out …", "dim"), id="worked")

    def on_mount(self) -> None:
        """The first step, which says for whom this is."""
        self.asks.silent({"wait": f"{WAIT_S:g} s", "case_air": "as when it was closed"})
        self._show_step()
        self._draw_timer()
        self.set_interval(TICK_S, self._draw_timer)
        self.call_after_refresh(self.consider)
        self.row.focus()

    def reload(self) -> None:
        """The watches that one can log for."""
        found = self.looked_up(self.book.watches) or []
        watches = [(str(watch.id), watch.name) for watch in found]
        pick = self.query_one("#watch", Pick)
        wanted = pick.text or str(self.watch_id)
        self.query_one("#watch-question").display = bool(watches)
        if watches:
            values = [value for value, _ in watches]
            pick.offer(watches, wanted if wanted in values else values[0])

    @property
    def asks(self) -> Asks:
        """Timer and temperatures."""
        return self._asks

    def shown_keys(self) -> list[tuple[str, str, str]]:
        """The keys that work where the cursor is; that of the timer says what it would do now."""
        word = "hold" if self.countdown.running else "start" if self.countdown.fresh else "go on"
        word = "start again" if self.countdown.over else word
        return [(key, word if do == "timer" else said, do) for key, said, do in super().shown_keys()]

    # ------------------------------------------------------------------ the steps and the timer

    def _show_step(self) -> None:
        self.query_one("#step", Static).update(sentence(list(STEPS.values())[self.row.picked]))
        self.query_one("#words", VerticalScroll).scroll_home(animate=False)

    def action_step_on(self, step: int) -> None:
        """The next step, or the one before."""
        self.row.picked = max(0, min(self.row.picked + step, len(STEPS) - 1))

    def _draw_timer(self) -> None:
        """The timer as it stands; says once that the time is over."""
        count = self.countdown
        line = f"{minutes_and_seconds(count.left_s)} of {minutes_and_seconds(count.total_s)}, {count.words()}"
        if line == self._timer_line:
            return
        self._timer_line = line
        pieces: Line = [*meter(count.left_s / count.total_s, METER_CELLS), (f" {line}", "strong")]
        self.query_one("#timer", Static).update(content([pieces]))
        self.say_keys()
        if count.over and not self._told:
            self._told = True
            self.row.picked = LOOK
            self.app.bell()
            self.app.notify("The time is over: wipe the crystal dry and look.", markup=False)

    def action_timer(self) -> None:
        """Start, hold, go on, or start again."""
        count = self.countdown
        if count.over:
            self.action_reset()
        if count.running:
            count.hold()
        else:
            count.start()
            self._told = False
        self._draw_timer()

    def action_reset(self) -> None:
        """Back to the beginning, with the time that stands in the form."""
        wait_s = self.answered.wait_s if self.answered else None
        self.countdown.reset(wait_s or self.countdown.total_s)
        self._told = True
        self._draw_timer()

    # ------------------------------------------------------------------ the arithmetic

    def consider(self) -> None:
        """Work it out anew; no key waits for it."""
        texts = self.asks.texts
        self.answers.begin(lambda _: work_out(texts, self.around), self._show)

    def _show(self, answered: Answered) -> None:
        self.take(answered)
        if self.countdown.fresh and answered.wait_s is not None:
            self.action_reset()

    # ------------------------------------------------------------------ moving

    @on(Options.Changed)
    def _picked(self, event: Options.Changed) -> None:
        if event.control is self.row:
            self._show_step()

    @on(Input.Submitted)
    @on(Options.Ended)
    def _go_on(self, event: Input.Submitted | Options.Ended) -> None:
        """Enter: the next step, the next question, after the last of them the answer."""
        if event.control is self.row:
            self.action_step_on(1)
        elif isinstance(event, Options.Ended):
            self.asks.ask()
        else:
            self.ask_after(event.control)

    # ------------------------------------------------------------------ what to log

    def action_log_fog(self) -> None:
        """Fog was seen: a fault, with the temperatures that were written here."""
        self._log("fog", {name.replace("_", "-"): self._written(name) for name in ("crystal", "case_air")})

    def action_log_test(self, passed: bool) -> None:
        """The check as a condensation test; its minutes are those the timer has run out for."""
        minutes = f"{self.countdown.total_s / 60:g}" if self.countdown.over else ""
        self._log("condensation-test", {"result": "passed" if passed else "failed", "minutes": minutes})

    def _written(self, name: str) -> str:
        """What was answered by hand; what stood there at first was never measured."""
        return self.asks.texts[name] if self.asks.changed(name) else ""

    def _log(self, kind: EventKind, known: Mapping[str, str]) -> None:
        chosen = self.query_one("#watch", Pick).text
        if not chosen:
            self.app.notify("No watch is on the shelf to log it for.", severity="error", markup=False)
            return
        self.go("event", int(chosen), kind, known=known)
