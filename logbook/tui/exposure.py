"""Log exposure: the form a wet diver fills in with a few keys, its working beside it as it is filled in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widgets import Input, Static

from logbook.errors import BadInput, LogbookError, NotUnderstood
from logbook.exchange import phrases
from logbook.reckoning.planrules import mark_words
from logbook.reckoning.practice import Activity
from logbook.reckoning.values import Exposure
from logbook.tui import exposure_form as form
from logbook.tui import exposure_working
from logbook.tui.exposure_form import Around, Reading
from logbook.tui.exposure_working import Working
from logbook.tui.ink import Line, content, fit
from logbook.tui.latest import Latest
from logbook.tui.room import Room
from logbook.tui.widgets.choice import Answer, Choice
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.frame import KeyLine, TitleLine

RINSE = (Answer("r", "rinsed", True), Answer("n", "not rinsed", False))
NO_RINSE = (Answer("⏎", "save", False),)
LINE_LENGTH = 4_000


@dataclass(frozen=True, slots=True)
class Asked:
    """What stands in the form, or in the line when that is where one writes."""

    texts: Mapping[str, str]
    line: str | None = None


class ExposureRoom(Room):
    """One contact with water: its questions on the left, what it amounts to on the right."""

    CSS_PATH = "exposure.tcss"
    TITLE_WORDS = "Log exposure"
    PURPOSE = (
        "One contact with water, and what it costs the seals. A usual one is two numbers and r or n: rinsed, or "
        "not rinsed; that saves it. An empty answer means what stands there in grey. Or write it in one line."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("r", "save(True)", "save rinsed", tooltip="save it as rinsed, from the last question"),
        Binding("n", "save(False)", "save not rinsed", tooltip="save it as not rinsed, from the last question"),
        Binding("enter", "next", "next", tooltip="the next question that needs an answer"),
        Binding("ctrl+s", "last_question", "to the end", tooltip="the last question: rinsed or not"),
        Binding("ctrl+l", "line", "in one line", tooltip="write it in one line: dive 21m 38min sea 17C rinsed"),
        Binding("f1", "help", "help", key_display="F1"),
        Binding("up", "step(-1)", "question above", show=False),
        Binding("down", "step(1)", "question below", show=False),
        Binding("pageup", "scroll(-1)", "scroll the working up", show=False),
        Binding("pagedown", "scroll(1)", "scroll the working down", show=False),
    ]

    def __init__(self, watch_id: int) -> None:
        super().__init__()
        self.watch_id = watch_id
        self.activity: Activity | None = None
        self.last: Exposure | None = None
        self.typed: set[str] = set()  # questions answered by hand since the room was opened
        self.reading = Reading()
        self.working: Working | None = None
        self.saving = False
        self.latest: Latest[Asked, tuple[Reading, Working | None]] = Latest(self, self._work_out, self._show)

    # ------------------------------------------------------------------ the frame

    def body(self) -> ComposeResult:
        """The questions, the working, and a line to write it all in."""
        self.record = self.book.standing(self.watch_id).record
        self.around = Around(
            self.book.practice, self.book.settings, self.book.units, self.book.today, self.record.watch
        )
        self.questions = form.asked(form.QUESTIONS, self.record.watch)
        with Horizontal(id="sides"):
            with Vertical(id="form"):
                for question in self.questions:
                    yield Field(question.name, question.label)
                yield Choice("rinsed", id="rinse")
                yield Static(id="said")
            with VerticalScroll(id="working", can_focus=False):
                yield Static(content([[("working out …", "dim")]]), id="worked")
        yield Field("line", "or one line", longest=LINE_LENGTH)
        yield Static(id="pointer")

    def on_mount(self) -> None:
        """Start with what this watch was last taken to."""
        super().on_mount()
        watch = self.record.watch
        left, right = f"logbook · Log exposure: {watch.name}", mark_words(watch)
        width = max(20, self.app.size.width - 3 - len(right))
        self.query_one("#title", TitleLine).say([(fit(left, width), "title"), (f" {right}", "plain")])
        self._field("line").silent("dive 21m 38min sea 17C rinsed")
        last = next(iter(self.book.exposures(self.watch_id, limit=1)), None)
        activity = last.activity if last else form.usual_activity(watch, self.book.practice)
        self._field("what").fill(activity)
        self._take_activity(self.book.practice.activities.get(activity))
        self._field(form.needed(self.activity)[0] if self.activity else "what").ask()
        self._consider()

    def on_resize(self) -> None:
        """The working follows the window."""
        super().on_resize()
        if self.is_mounted:
            self.call_after_refresh(self._draw_working)

    def shown_keys(self) -> list[tuple[str, str, str]]:
        """The keys that work where the cursor is: letters are text inside a field."""
        inside = isinstance(self.focused, Input)
        hidden = ("save(True)", "save(False)") if inside else ("next", "last_question")
        return [key for key in super().shown_keys() if key[2] not in hidden]

    def on_descendant_focus(self) -> None:
        """Keys and hint follow the cursor."""
        self.query_one("#keys", KeyLine).say(self)
        self._say()

    # ------------------------------------------------------------------ while it is filled in

    def _field(self, name: str) -> Field:
        return self.query_one(f"#{name}", Field)

    @property
    def texts(self) -> dict[str, str]:
        """Question -> what stands there."""
        return {question.name: self._field(question.name).text for question in self.questions}

    @property
    def asked(self) -> str:
        """The question the cursor is at."""
        focused = self.focused
        return focused.name or "" if isinstance(focused, Input) else ""

    @on(Input.Changed)
    def _changed(self, event: Input.Changed) -> None:
        name = event.input.name or ""
        if name == "line":
            self._point(None)
        else:
            self.typed.add(name)
        if name == "what":
            self._find_activity(event.value)
        self._consider()

    def _find_activity(self, text: str) -> None:
        try:
            found = form.find_activity(text, self.book.practice)
        except BadInput:
            return
        if found != self.activity:
            self._take_activity(found)

    def _take_activity(self, activity: Activity | None) -> None:
        """Fill in what was logged of this activity last time, but for what was typed since."""
        self.activity = activity
        if activity is None:
            return
        self.last = self.book.last_exposure(self.watch_id, activity.name)
        for name, text in form.prefilled(activity, self.last, self.around).items():
            if name not in self.typed:
                self._field(name).fill(text)
        for name, words in form.silent_words(activity, self.around).items():
            if name in {question.name for question in self.questions}:
                self._field(name).silent(words)
        rinse = self.query_one("#rinse", Choice)
        rinse.label = "rinsed" if activity.water != "air" else "done"
        rinse.offer(RINSE if activity.water != "air" else NO_RINSE)

    def _consider(self) -> None:
        """Work out anew what stands there; a key never waits for it."""
        line = self._field("line").text if self.asked == "line" else ""
        self.latest.ask(Asked(self.texts, line or None))

    def _work_out(self, asked: Asked) -> tuple[Reading, Working | None]:
        """What was written and what it amounts to; runs in a thread."""
        if asked.line is None:
            reading = form.read(asked.texts, self.around, self.questions)
        else:
            try:
                exposure = self._read_line(asked.line)
            except BadInput:
                reading = Reading()  # the caret comes when the line is sent off
            else:
                reading = Reading(exposure, exposure)
        return reading, exposure_working.work_out(reading, self.record, self.book.practice)

    def _read_line(self, line: str) -> Exposure:
        from logbook.exchange.lines import parse_entry

        around = self.around
        return parse_entry(
            line, practice=around.practice, settings=around.settings, today=around.today, with_name=False,
            watch=around.watch,
        )  # fmt: skip

    def _show(self, asked: Asked, answer: tuple[Reading, Working | None]) -> None:
        self.reading, self.working = answer
        self._say()
        self._draw_working()

    def _say(self) -> None:
        """Mark the wrong answers; say what is wrong where the cursor is, else with the first, else a hint."""
        wrong = self.reading.wrong
        for question in self.questions:
            self._field(question.name).mark(question.name in wrong)
        name = self.asked if self.asked in wrong or not wrong else next(iter(wrong))
        line: Line = []
        if name in wrong:
            line = [(f"{name}: {wrong[name]}", "grave")]
        else:
            line = [(q.hint, "dim") for q in self.questions if q.name == name]
        self.query_one("#said", Static).update(content([line]))

    def _draw_working(self) -> None:
        pane = self.query_one("#working", VerticalScroll)
        width = pane.scrollable_content_region.width or pane.content_size.width
        lines: list[Line]
        if self.working is not None:
            lines = exposure_working.lines(self.working, self.around, width)
        else:
            lines = [[(sentence, "mild")] for sentence in self.reading.missing.values()]
        lines = [*lines, *exposure_working.last_time(self.last, self.around.today, self.around.units, width)]
        self.query_one("#worked", Static).update(content(lines))

    # ------------------------------------------------------------------ moving

    def action_step(self, step: int) -> None:
        """The question above or below."""
        (self.focus_next if step > 0 else self.focus_previous)()

    def action_scroll(self, step: int) -> None:
        """The working, where it is longer than its place."""
        pane = self.query_one("#working", VerticalScroll)
        (pane.scroll_page_down if step > 0 else pane.scroll_page_up)(animate=False)

    def action_last_question(self) -> None:
        """The question that saves."""
        self.query_one("#rinse", Choice).focus()

    def action_line(self) -> None:
        """The line in which all of it can be written."""
        self._field("line").ask()

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        if event.input.name == "line":
            self._save(partial(self._read_line, event.value), "line")
        else:
            self.action_next()

    def action_next(self) -> None:
        """The next question that needs an answer; from the last of them on, the one that saves."""
        if self.focused is self.query_one("#rinse", Choice):
            self._answer_by_enter()
            return
        names = [question.name for question in self.questions]
        at = names.index(self.asked) if self.asked in names else -1
        asking = form.needed(self.activity) if self.activity else ["what"]
        following = [name for name in asking if names.index(name) > at]
        if following:
            self._field(following[0]).ask()
        else:
            self.action_last_question()

    def _answer_by_enter(self) -> None:
        if self.activity is not None and self.activity.water == "air":
            self.action_save(False)
        else:
            self.app.say("Was it rinsed? r: rinsed, n: not rinsed. Either saves it.")

    # ------------------------------------------------------------------ saving

    @on(Choice.Chosen)
    def _chosen(self, event: Choice.Chosen) -> None:
        self.action_save(event.value)

    def action_save(self, rinsed: bool) -> None:
        """Write it into the record and go back; where an answer is wrong, go there instead."""
        texts = self.texts

        def make() -> Exposure:
            reading = form.read(texts, self.around, self.questions, rinsed=rinsed)
            if reading.exposure is None:
                name, sentence = reading.fault or ("what", "Something is missing.")
                raise BadInput(sentence, where=name)
            air = reading.exposure.water == "air"
            return replace(reading.exposure, rinsed=False) if air else reading.exposure

        self._save(make, "form")
