"""Check: a planned exposure against one watch, or against all of them, answered as one writes."""

from __future__ import annotations

from functools import cached_property, partial
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Horizontal, Vertical, VerticalScroll
from textual.widget import Widget
from textual.widgets import Input, Static

from logbook.errors import LogbookError
from logbook.model.judge.check import Verdict
from logbook.model.marks import mark_words
from logbook.model.predict.bands import BandMaker
from logbook.model.predict.trials import Foresight
from logbook.model.values import Exposure, WatchRecord
from logbook.tui.check import answer as check_answer
from logbook.tui.check import form as check_form
from logbook.tui.check import lines as check_lines
from logbook.tui.check import plan as check_plan
from logbook.tui.check.answer import Answered, Asked
from logbook.tui.shell.answering import AnsweringRoom
from logbook.tui.shell.ink import Line, both_ends, content
from logbook.tui.water import form, remembered
from logbook.tui.water.form import Around
from logbook.tui.water.questions import Questions
from logbook.tui.widgets.lines import Lines

WIDE = 140  # cells from which questions and answer, or list and answer, stand side by side


class CheckRoom(AnsweringRoom):
    """The answer before water: the verdict in words, every reason, and what would change it."""

    CSS_PATH = "room.tcss"
    TITLE_WORDS = "Check"
    PURPOSE = (
        "May this watch go there? Or: which one may come? The answer follows what you write, worst reason "
        "first, each with its limit. It is bookkeeping: no objection found is not a promise."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+t", "other_view", "which may come?", tooltip="this watch, or all of them, and back"),
        Binding("ctrl+s", "plan", "plan it", tooltip="keep what stands here as a plan, a trip with its days"),
        Binding(
            "ctrl+l", "next_plan", "next plan", tooltip="fill in a plan of the coming time, then the next"
        ),
        Binding("ctrl+o", "read_answer", "read on", tooltip="to the answer, to scroll in it"),
        Binding("ctrl+z", "unplan", "undo", show=False, tooltip="take back what was planned here last"),
    ]

    def __init__(self, watch_id: int | None, plan: Exposure | None = None) -> None:
        super().__init__()
        self.watch_id = watch_id
        self.plan = plan  # what stands in the fields to begin with, and where next plan goes on from
        self.every = watch_id is None  # asking about all of them
        self.records: tuple[WatchRecord, ...] = ()
        self.off_shelf: tuple[WatchRecord, ...] = ()  # the watch one came with, when it is retired
        self.plans: list[Exposure] = []  # of the coming time, of any watch
        self.from_list = False
        self.chosen = ""  # the watch that the cursor was put on in the list
        self.answered: Answered | None = None
        self._bands: BandMaker | None = None

    # ------------------------------------------------------------------ the frame

    def prepare(self) -> None:
        """Every watch on the shelf, the one that is asked about, and what is planned."""
        self.records = tuple(self.book.records())
        if self.watch_id is not None and self.record is None:
            self.off_shelf = (self.book.standing(self.watch_id).record,)
        self._read_plans()

    @cached_property
    def made(self) -> check_plan.PlansMade:
        """The plans kept from here, which undo may take back."""
        return check_plan.PlansMade(self.book)

    def _read_plans(self) -> None:
        self.plans = check_plan.ahead(self.book.all_plans(), self._around())

    def body(self) -> ComposeResult:
        """The plan's questions, then the answer."""
        self.questions = Questions(
            check_form.COLUMNS,
            self._around(),
            self._last_of,
            prefilled=check_form.prefilled,
            silent=check_form.silent_words,
        )
        with Container(id="ground"):
            with Vertical(id="form"):
                yield self.questions
                yield Static(id="said")
            with Horizontal(id="below"):
                with Vertical(id="listing"):
                    yield Static(id="heads")
                    yield Lines(self._draw_row, id="all")
                    yield Static("─" * 400, classes="rule")
                    yield Static(id="brief")
                with VerticalScroll(id="answer"):
                    yield Static(content([[("  working out …", "dim")]]), id="said-of-one")

    def on_mount(self) -> None:
        """Start with the plan one came with, else with what the watch is usually taken to."""
        practice, record = self.book.practice, self.record
        usual = (
            remembered.usual_activity(record.watch, practice) if record else next(iter(practice.activities))
        )
        self.questions.open_with(usual)
        if self.plan is not None:
            self.questions.put(check_form.texts_of(self.plan, self._around()))
        self.questions.ask("what")
        self._turn()

    @property
    def record(self) -> WatchRecord | None:
        """The one watch that is asked about, or was last."""
        return next((r for r in (*self.records, *self.off_shelf) if r.watch.id == self.watch_id), None)

    @property
    def verdict_here(self) -> Verdict | None:
        """The answer for the one watch, or for the one under the cursor in the list."""
        verdicts = self.answered.verdicts if self.answered else ()
        row = self.query_one("#all", Lines).cursor if self.every else 0
        return verdicts[row] if row < len(verdicts) else None

    @property
    def record_here(self) -> WatchRecord | None:
        """The one watch, or the one under the cursor in the list."""
        if not self.every:
            return self.record
        verdict = self.verdict_here
        return next((r for r in self.records if verdict and r.watch.name == verdict.name), None)

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
        """Questions and answer stand side by side in a wide window."""
        self._set_classes()

    def _set_classes(self) -> None:
        self.set_class(self.app.size.width >= WIDE, "-wide")
        self.set_class(self.every, "-every")

    def title_line(self) -> Line:
        """What is asked, of which watch, and at the right its mark."""
        one = None if self.every else self.record
        words = check_plan.title(one.watch if one else None, self.plan, self.plans)
        return both_ends(*words, self.app.size.width)

    @property
    def pane(self) -> Widget:
        """The list of all of them, else the answer for one."""
        return self.query_one("#all" if self.every else "#answer")

    def shown_keys(self) -> list[tuple[str, str, str]]:
        """The keys that work where the cursor is."""
        words = {
            "other_view": "one watch" if self.every else "which may come?",
            "read_answer": "to the list" if self.every else "to the answer",
        }
        keys = [
            (key, words.get(action, said), action)
            for key, said, action in super().shown_keys()
            if self.plans or action != "next_plan"
        ]
        if isinstance(self.focused, Input):
            return keys
        in_list = self.every and isinstance(self.focused, Lines)
        here = ("⏎", "its answer", "open_row") if in_list else ("↑↓", "scroll", "read_answer")
        return [here, *(key for key in keys if key[2] != "read_answer")]

    # ------------------------------------------------------------------ the answer

    def reload(self) -> None:
        """Read again what is on record, and answer anew."""
        self.prepare()
        self._bands = None
        if self.is_mounted:
            self.say_title()
            self.say_keys()
            self._consider()

    def _turn(self) -> None:
        """Show one watch, or all of them."""
        around = self._around()
        self.questions.around = around
        self.questions.field("pushers").display = around.watch is None or around.watch.pushers
        self._set_classes()
        self.say_title()
        self.say_keys()
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
    def _edited(self) -> None:
        if self.plan is not None:
            self.plan = None
            self.say_title()
        self._consider()

    def _consider(self) -> None:
        """Answer anew; no key waits for it."""
        one = None if self.every else self.record
        asked = Asked(
            self.questions.texts, self._around(), one, self.records, self._foresee, self._band_maker
        )
        self.answers.begin(lambda _: self._answer(asked), partial(self._show, asked))

    def _answer(self, asked: Asked) -> Answered:
        """The answer, in its thread; where another window changed the record, it is asked for once more."""
        try:
            if self.book.follow():
                self.call_later(self.on_screen_resume)
        except LogbookError:  # what was read before still answers
            pass
        return check_answer.answer(asked)

    def _show(self, asked: Asked, answered: Answered) -> None:
        if asked.one == (None if self.every else self.record):
            self.answered = answered
            self.questions.mark(answered.reading.wrong, answered.reading.doubts)
            self.say()
            self.draw_answer()

    def said(self) -> Line:
        """What is wrong, missing or doubtful, or how to answer."""
        missing = self.answered.reading.missing if self.answered and not self.questions.wrong else {}
        if self.every and missing:  # beside the list there is no place for it
            return [(f"{name}: {words}", "mild") for name, words in missing.items()]
        return self.questions.said()

    def draw_answer(self) -> None:
        """The list of all of them, and the answer for one."""
        answered = self.answered
        if answered is None:
            return
        if self.every:
            listed = self.query_one("#all", Lines)
            names = [verdict.name for verdict in answered.verdicts]
            listed.show(len(names), names.index(self.chosen) if self.chosen in names else 0)
            heads = check_lines.heads(listed.row_width or self.app.size.width)
            self.query_one("#heads", Static).update(content([heads]))
        self._draw_answer()

    def _draw_answer(self) -> None:
        """The answer for one watch: the one asked about, or the one under the cursor."""
        answered, verdict = self.answered, self.verdict_here
        if answered is None:
            return
        lines: list[Line] = [[(f"  {words}", "mild")] for words in answered.reading.missing.values()]
        place = self.query_one("#answer").scrollable_content_region
        if answered.plan is not None and verdict is not None:
            book, record = self.book, self.record_here
            head: list[Line] = []
            if self.every and record is not None:
                head = [check_lines.named(verdict.name, mark_words(record.watch), place.width), []]
            room = (place.width, place.height - len(head))
            lines = [*head, *check_lines.answer(verdict, answered.plan, book.today, book.units, *room)]
        elif not lines:
            lines = [[("  The answer follows once the plan can be read.", "dim")]]
        self.query_one("#said-of-one", Static).update(content(lines))
        if verdict is not None:
            lines = check_lines.brief(verdict, self.app.size.width - 1, answered.plan)
        self.query_one("#brief", Static).update(content(lines))

    def _draw_row(self, row: int, width: int) -> Line:
        verdicts = self.answered.verdicts if self.answered else ()
        here = row == self.query_one("#all", Lines).cursor
        return check_lines.row(verdicts[row], width, here) if row < len(verdicts) else []

    @on(Lines.Highlighted, "#all")
    def _row_here(self) -> None:
        """Another watch under the cursor: its reasons; it stays under it while one goes on writing."""
        if self.every:
            verdict = self.verdict_here
            if verdict is not None and self.query_one("#all").has_focus:
                self.chosen = verdict.name
            self._draw_answer()

    # ------------------------------------------------------------------ plans

    def action_plan(self) -> None:
        """Keep what stands here as a plan of this watch, or of the one under the cursor; or say why not."""
        asked = (self.questions.texts, self._around(), self.record_here, self.questions.all)
        self.change(partial(self.made.plan, *asked), self._refuse)

    def _refuse(self, error: LogbookError) -> None:
        """Nothing was planned: say why where it is, and put the cursor there."""
        said = self.questions.refuse(error)
        if said is not None:
            self.say(said)
        else:
            self.app.notify(error.message, severity="error", markup=False)

    def action_unplan(self) -> None:
        """Take back what was planned here last, and nothing that was done before."""
        self.step(lambda _: self.made.undo(), "Undone: {}", "Undoing …")

    def action_next_plan(self) -> None:
        """Fill in the next plan of the coming time, of any watch; after the last comes the first."""
        if not self.plans:
            self.app.notify("Nothing is planned yet: ^s keeps what stands here as a plan.", markup=False)
            return
        at = self.plans.index(self.plan) + 1 if self.plan in self.plans else 0
        self.plan = self.plans[at % len(self.plans)]
        self.questions.put(check_form.texts_of(self.plan, self._around()))
        self.say_title()
        self._consider()

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
        record = self.record_here
        if self.every and record is not None:
            self.watch_id = record.watch.id
            self.every, self.from_list, self.answered = False, True, None
            self._turn()
            self.query_one("#answer").focus()

    @on(Lines.Chosen, "#all")
    def _row_chosen(self) -> None:
        self.action_open_row()

    @on(Questions.Ended)
    def _next(self, event: Questions.Ended) -> None:
        """Enter: the next question, after the last of them the answer."""
        names = [q.name for q in form.asked(check_form.QUESTIONS, self._around().watch)]
        following = names[names.index(event.name) + 1 :]
        if following:
            self.questions.ask(following[0])
        else:
            self.action_read_answer()

    def action_back(self) -> None:
        """Back to the list one came from, else out of the room."""
        if self.from_list and not self.every:
            self.every, self.from_list = True, False
            self._turn()
            self.query_one("#all").focus()
        else:
            super().action_back()
