"""The whole service of a watch was done: one form, one step."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.app import ComposeResult
from textual.widgets import Static

from logbook.model.due.services import TEST, Service, kinds_done
from logbook.model.text import printable
from logbook.model.values import DAMAGED_PART, MEDIA, Event, EventKind
from logbook.text.events import KIND_WORDS, event_words, one_visit
from logbook.tui.events import draft as event_draft
from logbook.tui.events.draft import Around
from logbook.tui.shell.form import FormRoom, Question, Write
from logbook.tui.shell.ink import content
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.pick import YES_NO, Pick

NOT_TESTED = "not tested"
NONE = "none"


class ServiceDoneRoom(FormRoom):
    """When it was done, and what its pressure test came to."""

    CSS_PATH = "service_done.tcss"
    TITLE_WORDS = "Service done"
    PURPOSE = (
        "Put on record that the whole service of a watch was done: every task of it as the workshop event "
        "that it is, in one step. A case that was opened is tested at the end. While something stands, or a "
        "test is all that asks, only you know what else was done: nothing is recorded that you do not say."
    )
    FIELD_OF: ClassVar[dict[str, str]] = {"test_pa": "pressure", "passed": "result", "date": "on"}

    def __init__(self, watch_id: int, service: Service) -> None:
        super().__init__()
        self.service_id = watch_id
        self.service = service
        self.around: Around | None = None

    @property
    def _has_test(self) -> bool:
        return any(item.task == TEST for item in self.service.items)

    def asked(self) -> ComposeResult:
        """What is done, then the questions of it."""
        results = event_draft.RESULTS if self._has_test else [(NOT_TESTED, NOT_TESTED), *event_draft.RESULTS]
        yield Static(id="about")
        yield Question(Field("on", "date", silent="today; or sat, 12 mar, 2026-07-03"))
        for task in self.service.to_be_told:
            gaskets = Field("seals", "new gaskets", silent="none; or all; crown, case back=FKM")
            yield Question(gaskets if task == "gaskets" else Pick(task, KIND_WORDS[task], YES_NO))
        for kind in self.service.damage:
            yield Question(Pick(kind, f"{DAMAGED_PART[kind]} repaired", YES_NO))
        yield Question(Pick("result", "pressure test", results))
        yield Question(Field("pressure", "pressure", silent="such as 10 bar"))
        yield Question(Pick("medium", "in", [(medium, medium) for medium in MEDIA]))
        yield Question(Field("workshop", "workshop", silent="not said"))
        yield Question(Field("note", "note"))

    def prepare(self) -> None:
        """Read the watch."""
        (record,) = self.book.records_of([self.service_id])
        self.around = Around(record, self.book.practice, self.book.units, self.book.today)

    def fill(self) -> None:
        """The service as it stands."""
        what = ", ".join(item.label for item in self.service.in_order_of_work)
        head = "due: " if self.service.to_be_told else "done: "
        self.query_one("#about", Static).update(content([[(head, "dim"), (what, "plain")]]))

    def ask_first(self) -> None:
        """The cursor is where the answer is needed."""
        self.question("result").asked.ask()

    @property
    def subject(self) -> str:
        """The watch."""
        return self.service.watch

    def save(self) -> Write | None:
        """An event for each task, all or none."""
        if self.around is None:
            return None
        made = one_visit(list(self._events(self.around)))
        words = "; ".join(event_words(event, self.around.units) for event in made)

        def write() -> str:
            self.book.add_events(made)
            return printable(f"Logged for {self.service.watch}: {words}. z: undo")

        return write

    def _events(self, around: Around) -> Iterator[Event]:
        texts = {name: self.text(name) for name in ("on", "result", "pressure", "medium", "workshop", "note")}
        texts |= dict.fromkeys(("minutes", "deflection", "material", "place"), "")
        texts["seals"] = self._seals if "gaskets" in self.service.to_be_told else ""
        tested = self._has_test or texts["result"] != NOT_TESTED
        mended = [kind for kind in self.service.damage if self.text(kind) == "yes"]
        for kind, repaired in kinds_done(self._tasks(), mended, tests=tested):
            yield event_draft.read(kind, texts | {"repaired": repaired or ""}, around)

    @property
    def _seals(self) -> str:
        """Which gaskets were renewed, as it was said; empty where none was."""
        said = self.text("seals").strip()
        return "" if said.casefold() == NONE else said

    def _tasks(self) -> list[EventKind]:
        """What was done: all of the service, or the test and what was said beside it."""
        asked = self.service.to_be_told
        if not asked:
            return [item.task for item in self.service.items]
        return [TEST, *(task for task in asked if self._is_done(task))]

    def _is_done(self, task: EventKind) -> bool:
        return bool(self._seals) if task == "gaskets" else self.text(task) == "yes"
