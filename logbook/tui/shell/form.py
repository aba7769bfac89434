"""What the rooms with questions have in common: one answer under the other, a message where one is wrong.

Answers are judged when they are saved, or in a `LiveFormRoom` as one types.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widget import Widget
from textual.widgets import Input, Static

from logbook.errors import InUse, LogbookError
from logbook.model.values import WatchRecord
from logbook.tui.shell.ink import sentence
from logbook.tui.shell.room import BACK, Room, keys_in_a_field
from logbook.tui.widgets.field import Asked, Field
from logbook.tui.widgets.pick import Options, Pick

Write = Callable[[], str]  # writes in a thread what was answered, and returns what is then said


class Question(Vertical):
    """A field or a choice, and under it what is wrong with its answer."""

    DEFAULT_CSS = """
    Question { height: auto; }
    Question .message { height: auto; display: none; color: $text-error; padding: 0 0 0 2; }
    Question.-wrong .message { display: block; }
    """

    def __init__(self, asked: Asked) -> None:
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


def pair(*asked: Asked) -> ComposeResult:
    """Questions side by side."""
    with Horizontal(classes="pair"):
        yield from map(Question, asked)


def mark_wrong(questions: Mapping[str, Question], wrong: Mapping[str, str]) -> None:
    """Say what is wrong beside the answers it is about; an answer that is not named is not wrong."""
    for name, question in questions.items():
        words = wrong.get(name, "")
        if words or question.wrong:  # any other is left alone: to lay it out anew would slow each key
            question.complain(words)


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

    def body(self) -> ComposeResult:
        """The questions, as far as the window reaches."""
        with VerticalScroll(id="questions", can_focus=False):
            yield from self.asked()

    def asked(self) -> ComposeResult:
        """The questions, and what is said between them."""
        raise NotImplementedError

    def on_mount(self) -> None:
        """What is known stands there; the cursor is where the first answer is needed."""
        try:
            if not self.prepared:
                self.prepare()
            self.fill()
        except LogbookError as error:
            self.call_later(self.leave, error)
        else:
            self.ask_first()

    def fill(self) -> None:
        """Put what is known into the fields; raises LogbookError."""

    def ask_first(self) -> None:
        """The cursor to the first question."""
        next(self.questions()).asked.ask()

    def question(self, name: str) -> Question:
        """The question of that name."""
        return self.query_one(f"#{name}-question", Question)

    def text(self, name: str) -> str:
        """What was typed or chosen."""
        return self.question(name).asked.text

    @property
    def texts(self) -> dict[str, str]:
        """Every question with what stands in it."""
        return {question.asked.id or "": question.asked.text for question in self.query(Question)}

    def field(self, name: str) -> Field:
        """A question that is typed."""
        return self.query_one(f"#{name}", Field)

    def pick(self, name: str) -> Pick:
        """A question that is picked."""
        return self.query_one(f"#{name}", Pick)

    def fill_in(self, texts: Mapping[str, str]) -> None:
        """Answers that stand there."""
        for name, text in texts.items():
            self.question(name).asked.fill(text)

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
        if self.saving:
            return
        try:
            write = self.save()
        except InUse as error:
            self.logbook_app.trouble_reading(error, self.action_save)
        except LogbookError as error:
            self.complain(error)
        else:
            if write is not None:
                self.save_once(write, self.complain, self.saved)

    def complain(self, error: LogbookError) -> None:
        """Put a refusal beside the answer that it speaks of, else over the room."""
        name = self.name_of(error)
        at_fault = next((q for q in self.questions() if q.asked.id == name), None)
        if at_fault is None:
            self.app.notify(error.message, severity="error", markup=False)
            return
        at_fault.complain(error.message)
        at_fault.asked.ask()
        self.call_after_refresh(at_fault.scroll_visible, animate=False)

    def name_of(self, error: LogbookError) -> str:
        """The question that a refusal speaks of, as far as it is one."""
        return self.FIELD_OF.get(error.where or "", error.where or "")

    def mark(self, wrong: Mapping[str, str]) -> None:
        """Say what is wrong, by question, and take back what no longer is."""
        mark_wrong({question.asked.id or "": question for question in self.questions()}, wrong)

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


class LiveFormRoom(FormRoom):
    """`judge` reads all the answers; a refusal stands beside the question it names while the cursor stays."""

    def judge(self) -> None:
        """Read the answers and write nothing; raises LogbookError whose `where` names a question."""
        raise NotImplementedError

    @on(Input.Changed)
    @on(Options.Changed)
    def _judge_now(self, message: Input.Changed | Options.Changed) -> None:
        message.prevent_default()  # the form itself would take the new words back again
        self.say_what_is_wrong()

    def say_what_is_wrong(self) -> None:
        """Put the first refusal where it belongs; one of the whole form is told when it is saved."""
        wrong = {}
        try:
            self.judge()
        except LogbookError as error:
            wrong = {self.name_of(error): error.message}
        self.mark(wrong)


class WatchFormRoom(LiveFormRoom):
    """A form about one watch; without the watch there is no such room."""

    def __init__(self, watch_id: int) -> None:
        super().__init__()
        self.watch_id = watch_id
        self.record: WatchRecord | None = None

    def prepare(self) -> None:
        """Read the watch."""
        self.record = self.book.standing(self.watch_id).record

    @property
    def subject(self) -> str:
        """Its nickname."""
        return self.record.watch.name if self.record else ""


def _question_of(widget: Widget | None) -> Question | None:
    return next((a for a in widget.ancestors if isinstance(a, Question)), None) if widget else None
