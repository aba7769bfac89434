"""Check: a planned exposure against one watch, or against all of them, answered as one writes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.widgets import Input, Static

from logbook.errors import LogbookError
from logbook.reckoning import check
from logbook.reckoning.check import Verdict
from logbook.reckoning.marks import mark_words
from logbook.reckoning.planrules import Plan
from logbook.reckoning.values import Exposure, WatchRecord
from logbook.tui import check_form, check_lines, remembered
from logbook.tui import exposure_form as form
from logbook.tui.exposure_form import Around, Reading
from logbook.tui.ink import Line, content, fit
from logbook.tui.latest import Latest
from logbook.tui.room import Room
from logbook.tui.widgets.frame import KeyLine, TitleLine
from logbook.tui.widgets.lines import Lines
from logbook.tui.widgets.questions import Questions, keys_in_a_field

if TYPE_CHECKING:
    from logbook.reckoning.bands import BandMaker
    from logbook.reckoning.trials import Foresight


@dataclass(frozen=True, slots=True)
class Asked:
    """What stands in the form, and of which watch it is asked; None: of all of them."""

    texts: Mapping[str, str]
    around: Around
    one: WatchRecord | None
    every: tuple[WatchRecord, ...]
    foresee: Callable[[], Foresight | None]
    bands: Callable[[], BandMaker | None]


@dataclass(frozen=True, slots=True)
class Answered:
    """The plan as read, and a verdict for each watch that was asked about."""

    reading: Reading
    plan: Plan | None
    verdicts: tuple[Verdict, ...]


class CheckRoom(Room):
    """The answer before water: the verdict in words, every reason, and what would change it."""

    CSS_PATH = "check.tcss"
    TITLE_WORDS = "Check"
    PURPOSE = (
        "May this watch go there? Or: which one may come? The answer follows what you write, worst reason "
        "first, each with its limit. It is bookkeeping: no objection found is not a promise."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+t", "other_view", "which may come?", tooltip="this watch, or all of them, and back"),
        Binding("ctrl+o", "read_answer", "read on", tooltip="to the answer, to scroll in it"),
        Binding("up", "step(-1)", "question above", show=False),
        Binding("down", "step(1)", "question below", show=False),
        Binding("pageup", "scroll(-1)", "scroll the answer up", show=False),
        Binding("pagedown", "scroll(1)", "scroll the answer down", show=False),
    ]

    def __init__(self, watch_id: int | None) -> None:
        super().__init__()
        self.watch_id = watch_id
        self.every = watch_id is None  # asking about all of them
        self.records: tuple[WatchRecord, ...] = ()
        self.off_shelf: tuple[WatchRecord, ...] = ()  # the watch one came with, when it is retired
        self.from_list = False
        self.answered: Answered | None = None
        self._bands: BandMaker | None = None
        self.latest: Latest[Asked, Answered] = Latest(self, _answer, self._show)

    # ------------------------------------------------------------------ the frame

    def prepare(self) -> None:
        """Every watch on the shelf, and the one that is asked about."""
        self.records = tuple(self.book.records())
        if self.watch_id is not None and self.record is None:
            self.off_shelf = (self.book.standing(self.watch_id).record,)

    def body(self) -> ComposeResult:
        """The plan's questions, then the answer."""
        self.questions = Questions(
            check_form.COLUMNS,
            self._around(),
            self._last_of,
            prefilled=check_form.prefilled,
            silent=check_form.silent_words,
        )
        with Vertical(id="form"):
            yield self.questions
            yield Static(id="said")
        with VerticalScroll(id="answer"):
            yield Static(content([[("  working out …", "dim")]]), id="said-of-one")
        yield Static(id="heads")
        yield Lines(self._draw_row, id="all")

    def on_mount(self) -> None:
        """Start with what the watch is usually taken to."""
        super().on_mount()
        practice, record = self.book.practice, self.record
        usual = (
            remembered.usual_activity(record.watch, practice) if record else next(iter(practice.activities))
        )
        self.questions.open_with(usual)
        self.questions.ask("what")
        self._turn()

    @property
    def record(self) -> WatchRecord | None:
        """The one watch that is asked about, or was last."""
        return next((r for r in (*self.records, *self.off_shelf) if r.watch.id == self.watch_id), None)

    def _around(self) -> Around:
        book, one = self.book, None if self.every else self.record
        return Around(
            book.practice, book.settings, book.units, book.today, one.watch if one else None, ahead=True
        )

    def _last_of(self, activity: str) -> Exposure | None:
        watch_id = self.watch_id
        return (
            None if watch_id is None else self.looked_up(lambda: self.book.last_exposure(watch_id, activity))
        )

    def on_resize(self) -> None:
        """Title and answer follow the window."""
        super().on_resize()
        self._write_title()
        self.call_after_refresh(self._draw)

    def _write_title(self) -> None:
        record, right = self.record, ""
        left = "logbook · Check: which may come?"
        if not self.every and record is not None:
            left, right = f"logbook · Check: {record.watch.name}", mark_words(record.watch)
        width = max(20, self.app.size.width - 3 - len(right))
        self.query_one("#title", TitleLine).say([(fit(left, width), "title"), (f" {right}", "plain")])

    def shown_keys(self) -> list[tuple[str, str, str]]:
        """The keys that work where the cursor is."""
        words = "one watch" if self.every else "which may come?"
        keys = [
            (key, words if action == "other_view" else said, action)
            for key, said, action in super().shown_keys()
        ]
        if isinstance(self.focused, Input):
            return keys_in_a_field(keys)
        here = ("⏎", "its answer", "open_row") if self.every else ("↑↓", "scroll", "read_answer")
        return [here, *(key for key in keys if key[2] != "read_answer")]

    def on_descendant_focus(self) -> None:
        """Keys and hint follow the cursor."""
        self.query_one("#keys", KeyLine).say(self)
        self._say()

    # ------------------------------------------------------------------ the answer

    def _turn(self) -> None:
        """Show one watch, or all of them."""
        around = self._around()
        self.questions.around = around
        self.questions.field("pushers").display = around.watch is None or around.watch.pushers
        self.query_one("#answer").display = not self.every
        self.query_one("#heads").display = self.every
        self.query_one("#all").display = self.every
        self._write_title()
        self.query_one("#keys", KeyLine).say(self)
        self._consider()

    def _foresee(self) -> Foresight | None:
        """What the owner's tests teach; asked in the thread that works out the answer."""
        return self.book.foresight(wait=True)

    def _band_maker(self) -> BandMaker | None:
        """Bands for the day asked about; made in the thread that answers, kept while one types."""
        if self._bands is None:
            self._bands = self.book.band_maker()
        return self._bands

    @on(Questions.Edited)
    def _consider(self) -> None:
        """Answer anew; no key waits for it."""
        one = None if self.every else self.record
        asked = (self.questions.texts, self._around(), one, self.records)
        self.latest.ask(Asked(*asked, self._foresee, self._band_maker))

    def _show(self, asked: Asked, answered: Answered) -> None:
        if asked.one == (None if self.every else self.record):
            self.answered = answered
            self.questions.mark(answered.reading.wrong)
            self._say()
            self._draw()

    def _say(self) -> None:
        self.query_one("#said", Static).update(content([self.questions.said()]))

    def _draw(self) -> None:
        answered = self.answered
        if answered is None:
            return
        width = self.app.size.width
        if self.every:
            every = self.query_one("#all", Lines)
            every.show(len(answered.verdicts))
            row_width = every.scrollable_content_region.width or width
            self.query_one("#heads", Static).update(content([check_lines.heads(row_width)]))
            return
        lines: list[Line] = [[(f"  {words}", "mild")] for words in answered.reading.missing.values()]
        if answered.plan is not None and answered.verdicts:
            place = self.query_one("#answer").scrollable_content_region
            lines = check_lines.answer(
                answered.verdicts[0],
                answered.plan,
                self.book.today,
                self.book.units,
                place.width,
                place.height,
            )
        elif not lines:
            lines = [[("  The answer follows once the plan can be read.", "dim")]]
        self.query_one("#said-of-one", Static).update(content(lines))

    def _draw_row(self, row: int, width: int) -> Line:
        verdicts = self.answered.verdicts if self.answered else ()
        return check_lines.row(verdicts[row], width) if row < len(verdicts) else []

    # ------------------------------------------------------------------ moving

    def action_other_view(self) -> None:
        """All watches, or the one that is under the cursor there."""
        if self.every:
            self.action_open_row()
        else:
            self.every, self.from_list = True, False
            self._turn()

    def action_open_row(self) -> None:
        """The answer for the watch under the cursor."""
        verdicts = self.answered.verdicts if self.answered else ()
        row = self.query_one("#all", Lines).cursor
        if self.every and row < len(verdicts):
            name = verdicts[row].name
            self.watch_id = next(r.watch.id for r in self.records if r.watch.name == name)
            self.every, self.from_list, self.answered = False, True, None
            self._turn()
            self.query_one("#answer").focus()

    @on(Lines.Chosen, "#all")
    def _row_chosen(self) -> None:
        self.action_open_row()

    def action_read_answer(self) -> None:
        """The cursor into the answer."""
        self.query_one("#all" if self.every else "#answer").focus()

    @on(Questions.Ended)
    def _next(self, event: Questions.Ended) -> None:
        """Enter: the next question, after the last of them the answer."""
        names = [q.name for q in form.asked(check_form.QUESTIONS, self._around().watch)]
        following = names[names.index(event.name) + 1 :]
        if following:
            self.questions.ask(following[0])
        else:
            self.action_read_answer()

    def action_step(self, step: int) -> None:
        """The question above or below."""
        (self.focus_next if step > 0 else self.focus_previous)()

    def action_scroll(self, step: int) -> None:
        """The answer, where it is longer than its place."""
        pane = self.query_one("#all" if self.every else "#answer")
        (pane.scroll_page_down if step > 0 else pane.scroll_page_up)(animate=False)

    def action_back(self) -> None:
        """Back to the list one came from, else out of the room."""
        if self.from_list and not self.every:
            self.every, self.from_list = True, False
            self._turn()
            self.query_one("#all").focus()
        else:
            super().action_back()


def _answer(asked: Asked) -> Answered:
    """What was written, and the verdict on it for every watch asked about; runs in a thread."""
    around = asked.around
    reading, plan = check_form.read(asked.texts, around)
    if plan is None:
        return Answered(reading, plan, ())
    foresight = asked.foresee()
    try:
        verdicts = _verdicts(asked, plan, foresight, asked.bands())
    except LogbookError:  # the record has gone: what was read of it before still answers, without a band
        verdicts = _verdicts(asked, plan, foresight, None)
    return Answered(reading, plan, tuple(verdicts))


def _verdicts(
    asked: Asked, plan: Plan, foresight: Foresight | None, bands: BandMaker | None
) -> list[Verdict]:
    about = (asked.around.practice, asked.around.today, foresight, bands)
    if asked.one is not None:
        return [check.check(asked.one, plan, *about)]
    return check.check_any(asked.every, plan, *about)
