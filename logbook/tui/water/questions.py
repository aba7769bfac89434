"""The questions of an exposure as fields, in one column or several; an activity brings its last values."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.message import Message
from textual.widgets import Input

from logbook.errors import BadInput, LogbookError
from logbook.model.practice import Activity
from logbook.model.values import Exposure
from logbook.tui.shell.ink import Line
from logbook.tui.water import form, remembered
from logbook.tui.water.doubts import AskedBack
from logbook.tui.water.form import Around, Question
from logbook.tui.widgets.field import Field

LastOf = Callable[[str], Exposure | None]
Prefilled = Callable[[Activity, Exposure | None, Around], Mapping[str, str]]


class Questions(Horizontal):
    """Fields of a form; the question `what` says which activity's values the others take.

    `last_of` finds what was logged of an activity last; `prefilled` says what then stands in the fields, and
    `silent` what an empty one means.
    """

    DEFAULT_CSS = "Questions { height: auto; } Questions Vertical { height: auto; }"

    @dataclass
    class Edited(Message):
        """An answer was changed by hand."""

        name: str

    @dataclass
    class Ended(Message):
        """Enter was pressed in a field."""

        name: str

    def __init__(
        self,
        columns: Sequence[Sequence[Question]],
        around: Around,
        last_of: LastOf,
        *,
        prefilled: Prefilled = remembered.prefilled,
        silent: Callable[[Activity, Around], Mapping[str, str]] = remembered.silent_words,
    ) -> None:
        super().__init__(id="questions")
        self.columns = columns
        self.around = around
        self.all = tuple(question for column in columns for question in column)
        self.activity: Activity | None = None
        self.last: Exposure | None = None
        self.typed: set[str] = set()  # answered by hand since the room was opened
        self.wrong: Mapping[str, str] = {}
        self.doubts: Mapping[str, str] = {}
        self._last_of = last_of
        self._prefilled = prefilled
        self._silent = silent

    def compose(self) -> ComposeResult:
        """The columns side by side."""
        for column in self.columns:
            with Vertical():
                for question in column:
                    yield Field(question.name, question.label)

    def field(self, name: str) -> Field:
        """The field of a question."""
        return self.query_one(f"#{name}", Field)

    def has(self, name: str) -> bool:
        """True when this form asks that question."""
        return any(question.name == name for question in self.all)

    @property
    def names(self) -> list[str]:
        """The questions in order."""
        return [question.name for question in self.all]

    @property
    def texts(self) -> dict[str, str]:
        """Question -> what stands there."""
        return {name: self.field(name).text for name in self.names}

    @property
    def asked(self) -> str:
        """The question the cursor is at; empty when it is elsewhere."""
        focused = self.screen.focused
        name = focused.name if isinstance(focused, Input) else None
        return name if name and self.has(name) else ""

    def open_with(self, activity: str) -> None:
        """Start with an activity."""
        self.field("what").fill(activity)
        self._take(form.find_activity(activity, self.around.practice))

    def put(self, texts: Mapping[str, str]) -> None:
        """Fill the form as though someone had written all of it."""
        self.typed |= texts.keys()
        for name, text in texts.items():
            if self.has(name):
                self.field(name).fill(text)
        self._look_up(texts.get("what", ""))

    def ask(self, name: str) -> None:
        """The cursor to a question, its answer selected."""
        self.field(name).ask()

    def mark(self, wrong: Mapping[str, str], doubts: Mapping[str, str] | None = None) -> None:
        """Mark the answers that cannot be taken; of those that are hardly meant it is only asked."""
        self.wrong, self.doubts = wrong, doubts or {}
        for name in self.names:
            self.field(name).mark(name in wrong)

    def refuse(self, error: LogbookError) -> Line | None:
        """Mark what is wrong and go there; what then stands under the fields, None where it is not of them.

        What is only asked back about leaves the cursor where it is, so that the same key insists.
        """
        if isinstance(error, AskedBack):
            return error.said
        if error.where is None or not self.has(error.where):
            return None
        self.mark({**self.wrong, error.where: error.message})
        self.ask(error.where)
        return self.said()

    def said(self) -> Line:
        """What is wrong where the cursor is, else with the first wrong answer, else what is doubtful.

        Where all is well, how to answer.
        """
        name = self.asked
        if self.wrong:
            name = name if name in self.wrong else next(iter(self.wrong))
            return [(f"{name}: {self.wrong[name]}", "grave")]
        if self.doubts:
            return [(f"{name}: {words}", "mild") for name, words in self.doubts.items()]
        return [(question.hint, "dim") for question in self.all if question.name == name]

    def after(self, name: str) -> str | None:
        """The next question that the activity cannot do without; None after the last of them."""
        at = self.names.index(name) if name in self.names else -1
        asking = form.needed(self.activity) if self.activity else ["what"]
        return next((each for each in asking if self.names.index(each) > at), None)

    @on(Input.Changed)
    def _changed(self, event: Input.Changed) -> None:
        event.stop()
        name = event.input.name or ""
        self.typed.add(name)
        if name == "what":
            self._look_up(event.value)
        self.post_message(self.Edited(name))

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self.post_message(self.Ended(event.input.name or ""))

    def _look_up(self, text: str) -> None:
        try:
            found = form.find_activity(text, self.around.practice)
        except BadInput:
            return  # not yet; the reading says so
        if found != self.activity:
            self._take(found)

    def _take(self, activity: Activity) -> None:
        """Fill in what this activity was last time, but for what was typed since."""
        self.activity = activity
        self.last = self._last_of(activity.name)
        for name, text in self._prefilled(activity, self.last, self.around).items():
            if name not in self.typed and self.has(name):
                self.field(name).fill(text)
        for name, words in self._silent(activity, self.around).items():
            if self.has(name):
                self.field(name).silent(words)
