"""A form whose answers are judged as one types: what is wrong stands beside the answer before one saves."""

from __future__ import annotations

from textual import on
from textual.widgets import Input

from logbook.errors import LogbookError
from logbook.model.values import WatchRecord
from logbook.tui.shell.form import FormRoom
from logbook.tui.widgets.pick import Options


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
        error = self._refusal()
        name = self.FIELD_OF.get(error.where or "", error.where or "") if error else ""
        for question in self.questions():
            at_fault = error is not None and question.asked.id == name
            if at_fault or question.wrong:  # any other is left alone: to lay it out anew would slow each key
                question.complain(error.message if error is not None and at_fault else "")

    def _refusal(self) -> LogbookError | None:
        try:
            self.judge()
        except LogbookError as error:
            return error
        return None


class WatchFormRoom(LiveFormRoom):
    """A form about one watch; without the watch there is no such room."""

    def __init__(self, watch_id: int) -> None:
        super().__init__()
        self.watch_id = watch_id
        self.record: WatchRecord | None = None

    def prepare(self) -> None:
        """Read the watch."""
        self.record = self.book.standing(self.watch_id).record

    def on_mount(self) -> None:
        """What is known stands there; the cursor begins at the first question."""
        if self.record is None:
            try:
                self.prepare()
            except LogbookError as error:
                self.call_later(self.leave, error)
                return
        self.fill()
        next(self.questions()).asked.ask()

    def fill(self) -> None:
        """Put what is on record into the fields, and say what an empty one means."""
        raise NotImplementedError
