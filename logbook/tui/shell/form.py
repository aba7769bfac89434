"""What the rooms with questions have in common: one answer under the other, a message where one is wrong."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widget import Widget
from textual.widgets import Input, Static

from logbook.errors import InUse, LogbookError
from logbook.tui.shell.ink import sentence
from logbook.tui.shell.room import BACK, Room
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.pick import Options, Pick
from logbook.tui.widgets.questions import keys_in_a_field

Write = Callable[[], str]  # writes in a thread what was answered, and returns what is then said


class Question(Vertical):
    """A field or a choice, and under it what is wrong with its answer."""

    DEFAULT_CSS = """
    Question { height: auto; }
    Question .message { height: auto; display: none; color: $text-error; padding: 0 0 0 2; }
    Question.-wrong .message { display: block; }
    """

    def __init__(self, asked: Field | Pick) -> None:
        super().__init__(id=f"{asked.id}-question")
        self.asked = asked
        self.message = Static(classes="message")

    def compose(self) -> ComposeResult:
        """The question, then the message."""
        yield self.asked
        yield self.message

    def complain(self, words: str) -> None:
        """Say what is wrong; an empty text takes that back."""
        self.asked.mark(bool(words))
        self.set_class(bool(words), "-wrong")
        self.message.update(sentence(words, "grave"))

    @property
    def wrong(self) -> bool:
        """True while a message stands there."""
        return self.has_class("-wrong")


class FormRoom(Room):
    """A room that asks: ctrl+s saves, enter goes on, an answer that cannot be taken says so beside itself.

    `save`, or what writes, raises a LogbookError whose `where`, through `FIELD_OF`, names a question.
    """

    FIELD_OF: ClassVar[dict[str, str]] = {}
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+s", "save", "save"),
        Binding("tab", "app.focus_next", "next question"),
        BACK,
        Binding("down", "app.focus_next", "", show=False),
        Binding("up", "app.focus_previous", "", show=False),
    ]

    _saving = False  # what was answered is being written

    def question(self, name: str) -> Question:
        """The question of that name."""
        return self.query_one(f"#{name}-question", Question)

    def text(self, name: str) -> str:
        """What was typed or chosen."""
        asked = self.question(name).asked
        return asked.text if isinstance(asked, Field) else asked.value

    def fill_in(self, texts: Mapping[str, str], silent: Mapping[str, str]) -> None:
        """Answers that stand there, and words for what an empty one means."""
        for name, text in texts.items():
            asked = self.question(name).asked
            asked.fill(text) if isinstance(asked, Field) else asked.pick(text)
        for name, words in silent.items():
            self.question(name).query_one(Field).silent(words)

    def questions(self) -> Iterator[Question]:
        """Every question that is shown, from top to bottom."""
        return (q for q in self.query(Question) if q.display)

    def shown_keys(self) -> list[tuple[str, str, str]]:
        """Letters are text here, so that help is on F1."""
        return keys_in_a_field(super().shown_keys())

    def save(self) -> Write | None:
        """Read the answers; returns what writes them, if anything is to be written. Raises LogbookError."""
        raise NotImplementedError

    def saved(self) -> None:
        """What was answered is on record: go back."""
        self.close()

    def action_save(self) -> None:
        """Save, or say what stands in the way."""
        for question in self.questions():
            question.complain("")
        if self._saving:
            return
        try:
            write = self.save()
        except InUse as error:
            self.logbook_app.trouble_reading(error, self.action_save)
        except LogbookError as error:
            self.complain(error)
        else:
            if write is not None:
                self._saving = True
                self.change(write, self._refused, self.saved)

    def _refused(self, error: LogbookError) -> None:
        self._saving = False
        self.complain(error)

    def say_left(self) -> None:
        """One is still here, and may save again."""
        self._saving = False
        super().say_left()

    def complain(self, error: LogbookError) -> None:
        """Put a refusal beside the answer that it speaks of, else over the room."""
        name = self.FIELD_OF.get(error.where or "", error.where or "")
        at_fault = next((q for q in self.questions() if q.asked.id == name), None)
        if at_fault is None:
            self.app.notify(error.message, severity="error", markup=False)
            return
        at_fault.complain(error.message)
        at_fault.asked.ask()
        self.call_after_refresh(at_fault.scroll_visible, animate=False)

    @on(Input.Changed)
    @on(Options.Changed)
    def _answered(self, message: Input.Changed | Options.Changed) -> None:
        """Another answer: what was wrong with the last one is no longer said."""
        question = _question_of(message.control)
        if question is not None and question.wrong:
            question.complain("")

    @on(Input.Submitted)
    @on(Options.Ended)
    def _go_on(self, message: Input.Submitted | Options.Ended) -> None:
        """Enter goes to the next question; after the last it saves."""
        shown = list(self.questions())
        question = _question_of(message.control)
        if question is shown[-1]:
            self.action_save()
        elif question is not None:
            shown[shown.index(question) + 1].asked.ask()


def _question_of(widget: Widget | None) -> Question | None:
    return next((a for a in widget.ancestors if isinstance(a, Question)), None) if widget else None
