"""Edit what is said of a watch: its description, its seals, its place on the shelf."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, Static

from logbook.model.due.tasks import TASKS
from logbook.model.judge.stands_words import a_few, now_stands
from logbook.model.text import printable
from logbook.model.values import CROWNS, MOVEMENTS, POSITIONS, USES
from logbook.record.writing.watch_names import refuse_double
from logbook.text.phrases import place
from logbook.tui.shell.form import Question, WatchFormRoom, Write, pair
from logbook.tui.shell.ink import content, short
from logbook.tui.watch import draft
from logbook.tui.watch.welcome import CROWN_WORDS, GAS_VALVE, MARKS, PUSHERS_WET, USE_WORDS, WET_WORDS
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.pick import YES_NO, Options, Pick

LONGEST_NOTE = 2_000  # characters, as the record takes it
FITTED = "don’t know; or 2025-03-14, 2023-01-01..2024-06-30"
TASK_WORDS = {"pressure-test": "pressure test", "strap": "strap, bars"}


class WatchEditRoom(WatchFormRoom):
    """Every answer is the one on record until it is changed; what was changed is written as one step."""

    CSS_PATH = "edit.tcss"
    TITLE_WORDS = "Edit"
    PURPOSE = (
        "Edit what is said of a watch and of the seals it has: only what you changed is written, as one "
        "step that z takes back. New gaskets are an event of their own. A retired watch keeps all its record."
    )
    FIELD_OF: ClassVar[dict[str, str]] = {"marked_pa": "marked", "made_from": "made", "made_to": "made"}
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+r", "retire", "retire", tooltip="take the watch off the shelf, or put it back there")
    ]

    def __init__(self, watch_id: int) -> None:
        super().__init__(watch_id)
        self.stood: dict[str, str] = {}

    def prepare(self) -> None:
        """Read the watch as it stands."""
        super().prepare()
        self.stood = draft.texts_of(self.record) if self.record else {}

    def body(self) -> ComposeResult:
        """What was changed, then one question under the other."""
        yield Static(id="changed")
        yield from super().body()

    def asked(self) -> ComposeResult:
        """One question under the other."""
        yield Question(Field("name", "nickname"))
        yield from pair(
            Pick("mark", "mark", MARKS),
            Field("marked", "its number", silent="no number; or 200m, 20 bar"),
        )
        yield from pair(
            Pick("use", "used for", [(use, USE_WORDS[use]) for use in USES]),
            Pick("movement", "movement", [(kind, kind) for kind in MOVEMENTS]),
        )
        yield from pair(
            Pick("crown", "crown", [(crown, CROWN_WORDS[crown]) for crown in CROWNS]),
            Pick("case_material", "case", [(case, case) for case in self.book.practice.cases]),
        )
        yield from pair(Pick("pushers", "pushers", YES_NO), Pick("gas_valve", "gas valve", GAS_VALVE))
        yield Question(Pick("pushers_wet", PUSHERS_WET, WET_WORDS))
        yield Question(Field("group", "group", silent="none"))
        yield Question(Field("reference", "reference", silent="none"))
        yield Question(Field("note", "note", silent="none", longest=LONGEST_NOTE))
        yield Static(content([[("Its seals", "title"), (": of what, and when they were fitted", "dim")]]))
        materials = [(name, name) for name in dict.fromkeys(("unknown", *self.book.practice.materials))]
        for position in POSITIONS:
            yield from pair(
                Pick(draft.material_of(position), place(position), materials),
                Field(draft.fitted_of(position), "fitted", silent=FITTED),
            )
        yield Static(content([[("How it lives", "title"), (" where the log says nothing else", "dim")]]))
        yield from pair(Field("worn_h", "hours worn"), Field("recorded_from", "recorded from"))
        yield from pair(Field("winds", "winds a week"), Field("presses", "presses a week"))
        yield from pair(
            Field("bought_on", "bought on", silent="not known"),
            Field("new_on", "bought new on", silent="not bought new"),
        )
        yield Question(Field("made", "made about", silent="not known; or 1994, 1990s"))
        yield Static(content([[("The maker’s own intervals", "title"), (", in months", "dim")]]))
        for first, *more in (TASKS[n : n + 2] for n in range(0, len(TASKS), 2)):
            yield from pair(*(_months(task) for task in (first, *more)))

    def fill(self) -> None:
        """What is on record stands there."""
        self.fill_in(self.stood)
        self._show_what_applies()

    def room_bindings(self) -> Iterator[Binding]:
        """A retired watch is not retired but brought back."""
        retired = self.record is not None and self.record.watch.retired_on is not None
        for binding in super().room_bindings():
            back = retired and binding.action == "retire"
            yield replace(binding, description="bring back") if back else binding

    @on(Input.Changed)
    @on(Options.Changed)
    def _show_what_applies(self) -> None:
        """A number only for a mark that has one, a seal only where there is a place; and what was changed."""
        self.question("marked").display = self.text("mark") not in draft.NUMBERLESS
        self.question("pushers_wet").display = self.text("pushers") == "yes"
        for position in POSITIONS:
            there = position not in draft.IF_IT_HAS or self.text(draft.IF_IT_HAS[position]) == "yes"
            for question in (draft.material_of(position), draft.fitted_of(position)):
                self.question(question).display = there
        self._say_what_changed()

    def _say_what_changed(self) -> None:
        labels = [
            question.asked.label if not (name := question.asked.id or "").endswith("-fitted")
            else f"{place(name.removesuffix('-fitted'))} fitted"
            for question in self.questions()
            if self.stood[question.asked.id or ""] != self.text(question.asked.id or "")
        ]  # fmt: skip
        words = f"changed: {', '.join(labels)}" if labels else "nothing is changed yet"
        width = max(20, self.app.size.width - 2)
        line = [(short(words, width), "strong" if labels else "dim")]
        self.query_one("#changed", Static).update(content([line]))

    def judge(self) -> None:
        """The answers, against the watch as it was read and the other watches' nicknames."""
        if self.record is not None:
            watch, _ = draft.read(self.record, self.stood, self.texts, self.book.practice, self.book.today)
            if watch.name != self.record.watch.name:
                self.book.ask(refuse_double, watch.name, self.watch_id)

    def save(self) -> Write:
        """What was changed, of the watch as it is on record by then."""
        book, stood, texts = self.book, self.stood, self.texts

        def write() -> str:
            from logbook.record.writing.watches import correct

            record = book.standing(self.watch_id).record
            watch, seals = draft.read(record, stood, texts, book.practice, book.today)
            if watch == record.watch and not seals:
                return "Nothing was changed."
            book.do(correct, record, watch, seals, book.practice)
            now = book.standing(self.watch_id).record
            said = f"{printable(watch.name)} is as you say now. z: undo"
            return "\n".join([said, *a_few(now_stands(record, now, book.practice, book.units))])

        return write

    def action_retire(self) -> None:
        """Take the watch off the shelf, or put it back."""
        if self.texts != self.stood:
            self.app.notify("Save what you changed first (ctrl+s), or leave it (esc).", markup=False)
            return

        def retire() -> str:
            from logbook.record.writing.watches import unretire

            watch = self.book.standing(self.watch_id).record.watch
            back = watch.retired_on is not None
            if back:
                self.book.do(unretire, self.watch_id)
            else:
                self.book.retire(watch, self.book.today)
            words = "is back on the shelf" if back else "is off the shelf; all of it stays on record"
            return f"{printable(watch.name)} {words}. z: undo"

        self.change(retire, then=self.close)


def _months(task: str) -> Field:
    return Field(draft.months_of(task), TASK_WORDS.get(task, task), silent="as is usual")
