"""Log a workshop event or a fault: what happened on the left, what that kind needs on the right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import Input, Static

from logbook.errors import BadInput
from logbook.model.values import DAMAGE, DAMAGED_PART, DAY_ORDER, MEDIA, Event, EventKind, Position
from logbook.text.events import KIND_WORDS
from logbook.tui.events import draft as event_draft
from logbook.tui.events import said as event_said
from logbook.tui.events.draft import Around
from logbook.tui.events.meaning import meaning
from logbook.tui.shell.form import FormRoom, Question, Write
from logbook.tui.shell.ink import Line, content, fit, sentence
from logbook.tui.shell.whose import named
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.lines import Lines
from logbook.tui.widgets.pick import Options, Pick, next_with

# Label, and what an empty answer stands for.
TEXTS = {
    "on": ("date", "today; or sat, may 2025, 2019..2022"),
    "seals": ("which seals", "all; or crown, case back=FKM"),
    "material": ("material", "as before; or NBR, FKM, EPDM, VMQ, …"),
    "pressure": ("pressure", "10 bar; to its mark; not known"),
    "minutes": ("minutes", "not said"),
    "deflection": ("deflection", "not said; in µm"),
    "crystal": ("crystal at", "not said; such as 10C"),
    "case-air": ("case air at", "not said; such as 21C"),
    "workshop": ("workshop", "not said"),
    "note": ("note", ""),
}
MOVED = (("no", "no"), ("yes", "yes: crystal, crown or bezel"))


def written(name: str) -> Field:
    """A question that is answered in writing."""
    label, silent = TEXTS[name]
    return Field(name, label, silent=silent)


class EventRoom(FormRoom):
    """One workshop event or fault, of one watch or of several at once."""

    CSS_PATH = "room.tcss"
    TITLE_WORDS = "Log event"
    PURPOSE = (
        "Put on record what a workshop did to a watch or to several, or a fault you saw. Openings ask for "
        "a pressure test; a passed test lifts stop rules; new gaskets start again at zero."
    )
    FIELD_OF: ClassVar[dict[str, str]] = {
        "test_pa": "pressure",
        "to_mark": "pressure",
        "span": "on",
        "deflection_um": "deflection",
        "crystal_c": "crystal",
        "case_air_c": "case-air",
        "passed": "result",
        "order": "place",
        "date": "on",
    }

    def __init__(
        self,
        watch_id: int,
        kind: EventKind | None = None,
        seal: Position | None = None,
        known: Mapping[str, str] | None = None,
        *,
        others: Sequence[int] = (),
    ) -> None:
        """`known` holds answers that stand there already, by question; `others` are further watches."""
        super().__init__()
        self.watch_ids = [watch_id, *others]
        self._kind = kind
        self._known = dict(known or {}) | ({"seals": seal.replace("-", " ")} if seal is not None else {})
        self.kinds: list[EventKind] = []
        self.around: list[Around] = []  # of each watch

    def body(self) -> ComposeResult:
        """The kinds, then every question that any of them asks."""
        with Horizontal():
            yield Lines(self._draw_kind, id="kinds")
            with VerticalScroll(id="questions", can_focus=False):
                yield Question(written("on"))
                yield Question(Pick("place", "in that day", []))
                yield Question(Pick("result", "result", event_draft.RESULTS))
                yield Question(Pick("repaired", "what", []))
                yield Question(Pick("moved", "did it move", MOVED))
                for name in ("seals", "material", "pressure"):
                    yield Question(written(name))
                yield Question(Pick("medium", "in", [(medium, medium) for medium in MEDIA]))
                for name in ("minutes", "deflection", "crystal", "case-air", "workshop", "note"):
                    yield Question(written(name))
                yield Static(id="meaning")
                yield Static(id="whose")

    def prepare(self) -> None:
        """Read the watches."""
        book, records = self.book, self.book.records_of(self.watch_ids)
        self.around = [Around(record, book.practice, book.units, book.today) for record in records]

    def fill(self) -> None:
        """What is known beforehand stands there."""
        records = [around.record for around in self.around]
        self.kinds = event_draft.kinds_for(records)
        damage = [(kind, DAMAGED_PART[kind]) for kind in DAMAGE if kind in self.kinds]
        self.pick("repaired").offer(damage, damage[0][0])
        self.fill_in(self._known)
        lines = self.query_one("#kinds", Lines)
        lines.show(len(self.kinds), self.kinds.index(self._kind) if self._kind in self.kinds else 0)
        self._show_kind()
        if self._are_several:
            every = [("one event each for: ", "dim"), (", ".join(self.names), "plain")]
            self.query_one("#whose", Static).update(content([every]))

    def ask_first(self) -> None:
        """The cursor is where the answer is needed."""
        if self._kind is None:
            self.query_one("#kinds", Lines).focus()
        else:
            next(q for q in self.questions() if q.asked.id not in ("on", "place")).asked.ask()

    def title_line(self) -> Line:
        """The watch, or as many of them as fit; below the questions stand all of several."""
        several = f" for {len(self.names)} watches" if self._are_several else ""
        words = f"logbook · {self.TITLE_WORDS}{several}: "
        return [(words, "title"), (named(self.names, self.app.size.width - 2 - len(words)), "strong")]

    def on_resize(self) -> None:
        """The title follows the window."""
        self.say_title()

    @property
    def names(self) -> list[str]:
        """The nicknames of the watches."""
        return [around.record.watch.name for around in self.around]

    @property
    def _are_several(self) -> bool:
        return len(self.watch_ids) > 1

    @property
    def kind(self) -> EventKind:
        """What happened."""
        return self.kinds[self.query_one("#kinds", Lines).cursor]

    def _draw_kind(self, row: int, width: int) -> Line:
        here = row == self.query_one("#kinds", Lines).cursor
        words = KIND_WORDS[self.kinds[row]]
        return [("▸ " if here else "  ", "key"), (fit(words, width - 2), "strong" if here else "plain")]

    @on(Lines.Highlighted, "#kinds")
    def _show_kind(self) -> None:
        """The questions of this kind, and no others."""
        asked = event_draft.fields_of(self.kind)
        for question in self.query(Question):
            question.display = question.asked.id in asked
        self._show_places()
        self._show_meaning()

    @on(Options.Changed)
    def _picked(self, message: Options.Changed) -> None:
        """Whether a test was passed or failed says on which of several days it counts."""
        if message.options.parent is self.question("result").asked:
            self._show_places()
        self._show_meaning()

    def _show_meaning(self) -> None:
        """What such an event does to the books."""
        draft = Event(self.kind, self.book.today, 0, passed=self.text("result") == "passed")
        self.query_one("#meaning", Static).update(sentence(meaning(draft), "dim"))

    @on(Input.Changed, "#on-entry")
    def _show_places(self) -> None:
        """Where in the day it stands is asked when something else is on record for that day.

        Each of several watches has a day of its own: there the event stands where its kind usually does.
        """
        places = []
        try:
            passed = self.text("result") == "passed"
            day = event_draft.day_that_counts(self.kind, self.text("on"), self.book.today, passed=passed)
        except BadInput:
            pass  # the date is judged when it is saved
        else:
            if not self._are_several:
                wet = bool(self.looked_up(lambda: self.book.wet_on(self.watch_ids[0], day)))
                places = event_draft.places_in_day(self.kind, day, self.around[0].record.events, wet)
        question = self.question("place")
        question.display = bool(places)
        if places:
            self.pick("place").offer(places, places[0][0])

    @on(Lines.Chosen, "#kinds")
    def action_to_questions(self) -> None:
        """On to what this kind asks."""
        next(self.questions()).asked.ask()

    def on_key(self, event: events.Key) -> None:
        """A first letter goes to the next kind that begins with it."""
        kinds = self.query_one("#kinds", Lines)
        words = [KIND_WORDS[kind] for kind in self.kinds]
        if kinds.has_focus and (found := next_with(event, words, kinds.cursor)) is not None:
            kinds.cursor = found

    def shown_keys(self) -> list[tuple[str, str, str]]:
        """At the kinds: how one gets on to the questions."""
        on_kinds = self.query_one("#kinds", Lines).has_focus
        first = [("⏎", "its questions", "to_questions")] if on_kinds else []
        return [*first, *super().shown_keys()]

    def on_descendant_focus(self) -> None:
        """Other keys work at the kinds than in an answer."""
        self.say_keys()

    def save(self) -> Write:
        """The event, of several watches one each."""
        texts = self.texts
        if not self.question("place").display:
            texts["place"] = str(DAY_ORDER[self.kind])
        found = event_draft.read_each(self.kind, texts, self.around)
        return partial(self._write, found)

    def _write(self, found: Sequence[Event]) -> str:
        wet = not self._are_several and self.book.wet_on(self.watch_ids[0], found[0].on)
        self.book.add_events(found)
        return event_said.said(found, self.around, wet=wet)
