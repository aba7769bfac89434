"""Log exposure: the form a wet diver fills in with a few keys, its working beside it as it is filled in."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widget import Widget
from textual.widgets import Input, Static

from logbook.errors import BadInput, LogbookError, NotUnderstood
from logbook.model.marks import mark_words
from logbook.model.text import printable
from logbook.model.values import Exposure
from logbook.tui.shell.answering import AnsweringRoom
from logbook.tui.shell.ink import Line, both_ends, content
from logbook.tui.water import form, record_start, remembered
from logbook.tui.water import saving as exposure_saving
from logbook.tui.water import working as exposure_working
from logbook.tui.water.doubts import Doubts
from logbook.tui.water.form import Around, Reading
from logbook.tui.water.questions import Questions
from logbook.tui.water.working import Working
from logbook.tui.widgets.choice import Answer, Choice
from logbook.tui.widgets.field import Field

RINSE = (Answer("r", "rinsed", True), Answer("n", "not rinsed", False))
NO_RINSE = (Answer("⏎", "save", False),)
WORKING_CELLS = 64  # wider, and a number stands too far from its words
LINE_LENGTH = 4_000  # characters, as a one-line entry may have


@dataclass(frozen=True, slots=True)
class Asked:
    """What stands in the form, or in the line when that is where one writes."""

    texts: Mapping[str, str]
    line: str = ""


class ExposureRoom(AnsweringRoom):
    """One contact with water: its questions on the left, what it amounts to on the right."""

    CSS_PATH = "room.tcss"
    TITLE_WORDS = "Log exposure"
    PURPOSE = (
        "One contact with water, and what it costs the seals. A usual one is two numbers, then r (rinsed) or "
        "n (not rinsed), which saves it. An empty answer means what stands there in grey. Or write one line."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "next", "next", tooltip="the next question that needs an answer"),
        Binding("r", "save(True)", "save, rinsed", tooltip="it was rinsed: saves it"),
        Binding("n", "save(False)", "save, not rinsed", tooltip="it was not rinsed: saves it"),
        Binding("ctrl+s", "last_question", "save", tooltip="to the last question: rinsed or not"),
        Binding("ctrl+l", "line", "one line", tooltip="write it in one line: dive 21m 38min sea 17C rinsed"),
        Binding("pageup", "scroll(-1)", "scroll the working up", show=False),
        Binding("pagedown", "scroll(1)", "scroll the working down", show=False),
    ]
    OF_LETTERS = ("save(True)", "save(False)")

    def __init__(self, watch_id: int) -> None:
        super().__init__()
        self.watch_id = watch_id
        self.reading = Reading()
        self.working: Working | None = None
        self.doubts = Doubts()

    def prepare(self) -> None:
        """The watch, and what it was last taken to."""
        self.record = self.book.standing(self.watch_id).record
        self.last = self.book.last_exposure(self.watch_id)

    def body(self) -> ComposeResult:
        """The questions, the working, and a line to write it all in."""
        book = self.book
        watch = self.record.watch
        self.around = Around(book.practice, book.settings, book.units, book.today, watch)
        self.questions = Questions(
            [form.asked(form.QUESTIONS, watch)],
            self.around,
            self._last_of,
        )
        with Horizontal(id="sides"):
            with Vertical(id="form"):
                yield self.questions
                yield Choice("rinsed", id="rinse")
                yield Static(id="said")
            with VerticalScroll(id="working", can_focus=False):
                yield Static(content([[("working out …", "dim")]]), id="worked")
        yield Field("line", "or one line", longest=LINE_LENGTH)
        yield Static(id="pointer")

    def _last_of(self, activity: str) -> Exposure | None:
        return self.looked_up(lambda: self.book.last_exposure(self.watch_id, activity))

    def on_mount(self) -> None:
        """Start with what this watch was last taken to."""
        self.query_one("#line", Field).silent("dive 21m 38min sea 17C rinsed")
        last = self.last
        known = last is not None and last.activity in self.book.practice.activities
        usual = remembered.usual_activity(self.record.watch, self.book.practice)
        self.questions.open_with(last.activity if last is not None and known else usual)
        self._write_last_question()
        self.questions.ask(self.questions.after("what") or "what")
        self._consider()

    def title_line(self) -> Line:
        """The watch, and at the right its mark."""
        watch = self.record.watch
        words = f"logbook · {self.TITLE_WORDS}: {watch.name}"
        return both_ends(words, mark_words(watch), self.app.size.width)

    @property
    def pane(self) -> Widget:
        """The working."""
        return self.query_one("#working")

    def shown_keys(self) -> list[tuple[str, str, str]]:
        """The keys that work where the cursor is: letters are text inside a field."""
        keys = super().shown_keys()
        in_line = isinstance(self.focused, Input) and self.focused.name == "line"
        if isinstance(self.focused, Input) and not in_line:
            return keys
        hidden = ("next", "last_question", "line") if in_line else ("next", "last_question")
        of_the_line = [("⏎", "save the line", "save_line"), ("^s", "to the form", "last_question")]
        return [*(of_the_line if in_line else ()), *(key for key in keys if key[2] not in hidden)]

    # ------------------------------------------------------------------ while it is filled in

    @property
    def line(self) -> str:
        """What stands in the one line."""
        return self.query_one("#line", Field).text

    @on(Questions.Edited)
    def _edited(self, event: Questions.Edited) -> None:
        if event.name == "what":
            self._write_last_question()
        self._consider()

    @on(Input.Changed, "#line-entry")
    def _line_changed(self) -> None:
        self._point([])
        self._consider(self.line)

    def _write_last_question(self) -> None:
        activity = self.questions.activity
        in_air = activity is not None and activity.water == "air"
        self.query_one("#rinse", Choice).offer("done" if in_air else "rinsed", NO_RINSE if in_air else RINSE)

    def _consider(self, line: str = "") -> None:
        """Work out anew what stands there; no key waits for it."""
        asked = Asked(self.questions.texts, line)
        self.answers.begin(lambda _: self._work_out(asked), self._show)

    def _work_out(self, asked: Asked) -> tuple[Reading, Working | None]:
        """What was written and what it amounts to; runs in a thread."""
        reading = form.read(asked.texts, self.around, self.questions.all)
        if asked.line:
            try:
                exposure = form.read_line(asked.line, self.around)
            except BadInput:
                reading = Reading()  # the caret waits until the line is sent off
            else:
                reading = Reading(exposure, exposure)
        return reading, exposure_working.work_out(reading, self.record, self.book.practice, self.around.units)

    def _show(self, answer: tuple[Reading, Working | None]) -> None:
        self.reading, self.working = answer
        self.questions.mark(self.reading.wrong, self.reading.doubts)
        self.say()
        self.draw_answer()

    def said(self) -> Line:
        """What is wrong, doubtful, or how to answer."""
        return self.questions.said()

    def draw_answer(self) -> None:
        """The working, and what it was last time."""
        width = min(self.pane.scrollable_content_region.width, WORKING_CELLS)
        lines: list[Line] = [[(sentence, "mild")] for sentence in self.reading.missing.values()]
        if self.working is not None:
            lines = exposure_working.lines(self.working, self.around, width)
        elif not lines:
            lines = [[("The working follows once this can be read.", "dim")]]
        last = exposure_working.last_time(self.questions.last, self.around.today, self.around.units, width)
        self.query_one("#worked", Static).update(content([*lines, *last]))

    # ------------------------------------------------------------------ moving

    def action_last_question(self) -> None:
        """The question that saves."""
        self.query_one("#rinse", Choice).focus()

    def action_line(self) -> None:
        """The line in which all of it can be written."""
        self.query_one("#line", Field).ask()

    @on(Questions.Ended)
    def action_next(self) -> None:
        """The next question that needs an answer; after the last of them, the one that saves."""
        if not self.query_one("#rinse", Choice).has_focus:
            following = self.questions.after(self.questions.asked)
            self.questions.ask(following) if following else self.action_last_question()
        elif self.query_one("#rinse", Choice).answers is NO_RINSE:
            self.action_save(False)
        else:
            self.say([("Was it rinsed? r: rinsed, n: not rinsed; either saves it.", "strong")])

    # ------------------------------------------------------------------ saving

    @on(Choice.Chosen)
    def _chosen(self, event: Choice.Chosen) -> None:
        self.action_save(event.value)

    def action_save(self, rinsed: bool) -> None:
        """Write what the form says into the record and go back; or go to the answer that is wrong."""
        texts, questions = self.questions.texts, self.questions.all
        in_air = self.query_one("#rinse", Choice).answers is NO_RINSE
        key = "⏎" if in_air else "r" if rinsed else "n"

        def make() -> Exposure:
            exposure = form.exposure_of(texts, self.around, questions, rinsed)
            self.doubts.ask_once(exposure, self.around, questions, f"{key} again saves it.")
            return exposure

        self._save(make)

    @on(Input.Submitted, "#line-entry")
    def action_save_line(self) -> None:
        """Write what the one line says into the record and go back; or point at the word that is wrong."""
        line = self.line
        self._save(lambda: form.read_line(line, self.around))

    def _save(self, make: Callable[[], Exposure]) -> None:
        logged: list[Exposure] = []

        def save() -> str:
            logged.append(make())
            return printable(exposure_saving.save(self.book, self.record, logged[0]))

        self.save_once(save, self._refused, lambda: self._saved(logged[0]))

    def _saved(self, exposure: Exposure) -> None:
        self.close()
        record_start.ask(self.app, self.record, exposure)

    def _refused(self, error: LogbookError) -> None:
        """Nothing was written: say why where it is, and put the cursor there."""
        if isinstance(error, NotUnderstood) or self.query_one("#line-entry", Input).has_focus:
            self._point(exposure_saving.pointer(error, self.app.size.width - 2))
        elif (said := self.questions.refuse(error)) is not None:
            self.say(said)
        else:
            self.logbook_app.refuse(error)

    def _point(self, lines: list[Line]) -> None:
        """The line's error with its caret; no lines take it away."""
        pointer = self.query_one("#pointer", Static)
        pointer.set_class(bool(lines), "-shown")
        pointer.update(content(lines))
