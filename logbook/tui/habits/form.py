"""Add or change a habit, or a worn stretch; what it means stands below as one types."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import partial
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.widgets import Input, Static

from logbook.errors import BadInput, LogbookError, NotFound
from logbook.model.judge.stands_words import at_once
from logbook.model.ranges import number
from logbook.model.text import printable
from logbook.model.validate.watch import check_habit, check_stretch
from logbook.model.values import Exposure, Habit, WatchRecord, WornStretch
from logbook.text import quantities
from logbook.text.dates import parse_date
from logbook.text.lines import LONGEST_LINE, parse_entry, print_entry
from logbook.tui.habits import lines as habits_lines
from logbook.tui.shell.form import Question, WatchFormRoom, Write
from logbook.tui.shell.ink import Line, content
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.pick import Options, Pick

DAYS = {"day": 1, "week": 7}


class _OfAWatch(WatchFormRoom):
    """A form about one watch whose last line says what the answers mean."""

    CSS_PATH = "form.tcss"
    WHAT: ClassVar[str] = ""

    def __init__(self, watch_id: int, entry: Habit | WornStretch | None = None) -> None:
        super().__init__(watch_id)
        self.amended = entry

    @property
    def of(self) -> WatchRecord:
        """The watch that this is about."""
        if self.record is None:
            raise NotFound("This watch is no longer in the record.", where="watch")
        return self.record

    def title_line(self) -> Line:
        """What is done, and to which watch."""
        what = f"{'Amend a' if self.amended else 'New'} {self.WHAT}"
        return [(f"logbook · {what}: ", "title"), *super().title_line()[1:]]

    @on(Input.Changed)
    @on(Options.Changed)
    def _say_what_it_means(self) -> None:
        try:
            words = self.meaning()
        except LogbookError:
            words = ""  # what is wrong stands beside its question
        self.query_one("#means", Static).update(content([[(words, "good")]]))

    def meaning(self) -> str:
        """The answers in a sentence; raises LogbookError."""
        raise NotImplementedError

    def day(self, name: str, *, ahead: bool = False) -> date:
        """A day that was typed."""
        return parse_date(self.text(name), self.book.today, ahead=ahead, where=name)


class HabitFormRoom(_OfAWatch):
    """Water that repeats."""

    TITLE_WORDS = "Habit"
    WHAT = "habit"
    PURPOSE = (
        "Water that repeats, such as a shower a day: its line, how often, since when and, if it is over, "
        "until when. It is charged by the day and needs no entry of its own."
    )
    FIELD_OF: ClassVar[dict[str, str]] = {"per_day": "times", "from_on": "since", "to_on": "until"}

    def asked(self) -> ComposeResult:
        """What, how often, between which days."""
        such_as = "such as: shower 8min; swim 1m 30min pool rinsed"
        yield Question(Field("line", "what", silent=such_as, longest=LONGEST_LINE))
        yield Question(Field("times", "how often", silent="a number, such as 2"))
        yield Question(Pick("per", "a", [(unit, unit) for unit in DAYS]))
        yield Question(Field("since", "since", silent="a day, such as 1 mar, 2026-03-01"))
        yield Question(Field("until", "until", silent="it goes on; or a day"))
        yield Static(id="means")

    def __init__(self, watch_id: int, entry: Habit | WornStretch | None = None) -> None:
        super().__init__(watch_id, entry)
        self.sure_of = ""  # the line that was asked back about, and meant when it is saved again

    def fill(self) -> None:
        """A new habit is once a day from today on."""
        texts = {"times": "1", "per": "day", "since": self.book.today.isoformat()}
        habit = self.amended
        if isinstance(habit, Habit):
            per = "day" if habit.per_day >= 1 else "week"
            texts = {
                "line": print_entry(
                    habit.exposure, None, self.book.practice, self.book.settings, dated=False
                ),
                "times": number(round(habit.per_day * DAYS[per], 3)),
                "per": per,
                "since": habit.from_on.isoformat(),
                "until": habit.to_on.isoformat() if habit.to_on else "",
            }
        self.fill_in(texts)
        self._say_what_it_means()

    def _read(self) -> Habit:
        """The habit as it is told; raises LogbookError."""
        book, watch, line = self.book, self.of.watch, self.text("line")
        try:
            exposure = self._exposure(sure=line == self.sure_of)
        except BadInput as error:
            raise BadInput(error.message, where="line") from error
        kind, times = quantities.measure(self.text("times"), "times")
        if kind != quantities.BARE:
            raise BadInput("How often? A number without a unit, such as 2.", where="times")
        until = self.day("until", ahead=True) if self.text("until").strip() else None
        made = Habit(
            exposure=exposure,
            per_day=times / DAYS[self.text("per")],
            from_on=self.day("since"),
            to_on=until,
            watch_id=watch.id,
            id=self.amended.id if self.amended else None,
        )
        return check_habit(made, watch, book.today)

    def _exposure(self, *, sure: bool) -> Exposure:
        book = self.book
        return parse_entry(
            self.text("line"), practice=book.practice, settings=book.settings, today=book.today,
            with_name=False, watch=self.of.watch, sure=sure,
        )  # fmt: skip

    def _ask_back(self) -> None:
        """Raises BadInput the first time that a depth or length is to be written which is hardly meant."""
        try:
            self._exposure(sure=False)
        except BadInput as error:
            if self.text("line") == self.sure_of or not self._is_doubtful():
                return
            self.sure_of = self.text("line")
            raise BadInput(f"{error.message} Or save it again as it is.", where="line") from error

    def _is_doubtful(self) -> bool:
        """Whether nothing else is wrong with the line."""
        try:
            self._exposure(sure=True)
        except BadInput:
            return False
        return True

    def judge(self) -> None:
        """The answers, against the watch; nothing is wrong with a line that is not begun."""
        if self.text("line").strip():
            self._read()

    def meaning(self) -> str:
        """The habit in words."""
        habit = self._read()
        return f"{habits_lines.habit_name(habit, self.book.units)}, {habits_lines.since_words(habit)}"

    def save(self) -> Write:
        """The habit, and what it means for the next dive."""
        self._ask_back()
        return partial(self._write, self._read(), self.of)

    def _write(self, habit: Habit, record: WatchRecord) -> str:
        from logbook.record.writing import habits

        name = habits_lines.habit_name(habit, self.book.units)
        meant = at_once(record, [habit], self.book.practice, self.book.units)
        if self.amended is not None:
            self.book.amend(habit)
            said = f"Amended: {name}. z: undo"
        else:
            self.book.do(habits.add_habit, habit, self.book.practice)
            said = f"A habit from now on: {name}. z: undo"
        return printable(" ".join([said, *meant]))


class StretchFormRoom(_OfAWatch):
    """Hours a day on the wrist between two days."""

    TITLE_WORDS = "Worn stretch"
    WHAT = "worn stretch"
    PURPOSE = (
        "Hours a day on the wrist between two days, in place of the hours that stand for every other day. "
        "Where two stretches cover a day, the one that was entered last counts."
    )
    FIELD_OF: ClassVar[dict[str, str]] = {"from_on": "since", "to_on": "until"}

    def asked(self) -> ComposeResult:
        """From, to, hours."""
        yield Question(Field("since", "from", silent="the first day, such as 1 mar"))
        yield Question(Field("until", "to", silent="the last day; today"))
        yield Question(Field("hours", "hours a day", silent="a number, such as 16"))
        yield Static(id="means")

    def fill(self) -> None:
        """A new stretch begins and ends where one says."""
        stretch = self.amended
        if isinstance(stretch, WornStretch):
            self.fill_in(
                {
                    "since": stretch.from_on.isoformat(),
                    "until": stretch.to_on.isoformat(),
                    "hours": number(stretch.hours),
                }
            )
        self._say_what_it_means()

    def _read(self) -> WornStretch:
        """The stretch as it is told; raises LogbookError."""
        watch = self.of.watch
        made = WornStretch(
            self.day("since"),
            self.day("until") if self.text("until").strip() else self.book.today,
            quantities.parse_duration_s(self.text("hours"), "hours", default_unit="h") / 3600,
            watch_id=watch.id,
        )
        return check_stretch(
            replace(made, id=self.amended.id if self.amended else None), watch, self.book.today
        )

    def judge(self) -> None:
        """The answers; nothing is wrong with those that are not given yet."""
        if all(self.text(name).strip() for name in ("since", "hours")):
            self._read()
        elif self.text("since").strip():
            self.day("since")

    def meaning(self) -> str:
        """The stretch in words."""
        return f"worn {habits_lines.stretch_name(self._read())}"

    def save(self) -> Write:
        """The stretch."""
        return partial(self._write, self._read())

    def _write(self, stretch: WornStretch) -> str:
        from logbook.record.writing import habits

        name = habits_lines.stretch_name(stretch)
        if self.amended is not None:
            self.book.amend(stretch)
            return printable(f"Amended: worn {name}. z: undo")
        self.book.do(habits.add_stretches, [stretch], self.book.practice)
        return printable(f"Worn {name}. z: undo")
