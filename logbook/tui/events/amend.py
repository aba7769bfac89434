"""Amend an event or a fault that is on record, by the questions of its kind."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.widgets import Input, Static

from logbook.errors import BadInput
from logbook.model.text import printable
from logbook.model.values import DAMAGE, DAMAGED_PART, MEDIA, Event, WatchRecord
from logbook.text import exactly
from logbook.text.events import event_words
from logbook.text.phrases import full_date
from logbook.tui.events import draft as event_draft
from logbook.tui.events import said as event_said
from logbook.tui.events.draft import TO_MARK, Around
from logbook.tui.events.meaning import meaning
from logbook.tui.events.room import MOVED, EventRoom, written
from logbook.tui.shell.form import LiveFormRoom, Question, Write
from logbook.tui.shell.ink import content, sentence
from logbook.tui.widgets.pick import Options, Pick

AS_IT_STANDS = "as it stands"
# The answers that are picked; all others are typed.
PICKED = {
    "place": ("in that day", ()),
    "result": ("result", event_draft.RESULTS),
    "repaired": ("what", tuple((kind, DAMAGED_PART[kind]) for kind in DAMAGE)),
    "moved": ("did it move", MOVED),
    "medium": ("in", tuple((medium, medium) for medium in MEDIA)),
}


class AmendEventRoom(LiveFormRoom):
    """One event; its kind stays what it is."""

    CSS_PATH = "amend.tcss"
    TITLE_WORDS = "Amend"
    PURPOSE = (
        "Amend what a workshop did or what you saw: its day, its result, who did it, a note. What was of "
        "another kind is struck and logged anew."
    )
    FIELD_OF: ClassVar[dict[str, str]] = EventRoom.FIELD_OF

    def __init__(self, event: Event, record: WatchRecord) -> None:
        super().__init__()
        self.event = event
        self.record = record

    def asked(self) -> ComposeResult:
        """The event as it is on record, the questions of its kind, what such an event means."""
        yield Static(id="stands")
        for name in event_draft.fields_of(self.event.kind):
            yield Question(Pick(name, *PICKED[name]) if name in PICKED else written(name))
        yield Static(id="meaning")

    def fill(self) -> None:
        """What is on record stands there."""
        words = event_words(self.event, self.book.units)
        since = f"on record, {full_date(self.event.on)}: "
        self.query_one("#stands", Static).update(content([[(since, "dim"), (words, "plain")]]))
        self._show_places()
        self.fill_in(event_draft.texts_of(self.event, self.book.units))
        self._show_meaning()

    @property
    def subject(self) -> str:
        """The watch."""
        return self.record.watch.name

    @on(Options.Changed)
    def _show_meaning(self) -> None:
        """What such an event does to the books."""
        draft = replace(self.event, passed=self._passed)
        self.query_one("#meaning", Static).update(sentence(meaning(draft), "dim"))

    @on(Input.Changed, "#on-entry")
    def _show_places(self) -> None:
        """Where in the day it stands is asked where something else is on record for that day."""
        try:
            passed = self._passed is not False
            text = self.text("on") or self.event.on.isoformat()
            day = event_draft.day_that_counts(self.event.kind, text, self.book.today, passed=passed)
        except BadInput:
            return  # said beside the date
        wet = bool(self.looked_up(lambda: self.book.wet_on(self.record.watch.id or 0, day)))
        others = [event for event in self.record.events if event.id != self.event.id]
        places = event_draft.places_in_day(self.event.kind, day, others, wet)
        question = self.question("place")
        question.display = bool(places)
        if day == self.event.on:
            stands = str(self.event.order)
            places = [(stands, AS_IT_STANDS), *(each for each in places if each[0] != stands)]
        places = places or [("", "")]  # the usual place
        self.pick("place").offer(places, places[0][0])

    @property
    def _passed(self) -> bool | None:
        result = self.texts.get("result")
        return None if result is None else result == "passed"

    def _read(self) -> Event:
        """The event as it is told now; raises BadInput."""
        around = Around(self.record, self.book.practice, self.book.units, self.book.today)
        texts = self.texts
        # "To its mark" was the mark that it had that day, whatever its mark is now.
        stays = self.event.test_pa is not None and self.event.to_mark and texts["pressure"] == TO_MARK
        if stays:
            texts |= {"pressure": exactly.pressure_text(self.event.test_pa or 0.0, around.units)}
        told = event_draft.read(self.event.kind, texts, around)
        return replace(told, id=self.event.id, to_mark=told.to_mark or stays)

    def judge(self) -> None:
        """The answers, against the watch."""
        self._read()

    def save(self) -> Write:
        """What is told now."""
        event = self._read()
        return lambda: "Nothing was changed." if event == self.event else self._write(event)

    def _write(self, event: Event) -> str:
        wet = self.book.wet_on(self.record.watch.id or 0, event.on)
        self.book.amend(event)
        words = f"{event_words(event, self.book.units)}, {full_date(event.on)}"
        order = event_said.order_on_its_day(event, self.record, wet)
        return f"Amended: {printable(words)}. z: undo" + (f"\n{order}" if order else "")
