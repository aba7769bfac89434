"""How a watch is lived with between its logged water: what repeats, and the hours on the wrist."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from logbook.errors import LogbookError
from logbook.model.text import printable
from logbook.model.values import Habit, WatchRecord, WornStretch
from logbook.text import phrases
from logbook.tui.habits import lines as habits_lines
from logbook.tui.shell.ink import Line, content, short
from logbook.tui.shell.room import CHANGES, ONE_LINE, REDO, UNDO, Room
from logbook.tui.widgets.frame import TitleLine
from logbook.tui.widgets.lines import Lines


class HabitsRoom(Room):
    """Two lists, habits and worn stretches, the newest first."""

    CSS_PATH = "room.tcss"
    TITLE_WORDS = "Habits"
    PURPOSE = (
        "What happens to a watch without being logged each time: water that repeats, such as a shower a day, "
        "and the hours a day on the wrist. Both are charged to its seals."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "n", "watch_room('habit-form')", "new habit", tooltip="water that repeats, such as a shower a day"
        ),
        Binding(
            "s",
            "watch_room('stretch-form')",
            "new stretch",
            tooltip="hours a day on the wrist between two days",
        ),
        Binding("a", "amend", "amend", tooltip="amend the habit or the stretch under the cursor"),
        Binding("t", "end", "end today", tooltip="the habit under the cursor ends today"),
        Binding("x", "strike", "strike", tooltip="strike what is under the cursor; z takes it back"),
        UNDO,
        REDO,
        CHANGES,
        ONE_LINE,
        Binding("tab", "app.focus_next", "next list"),
    ]

    def __init__(self, watch_id: int) -> None:
        super().__init__()
        self.watch_id = watch_id
        self.record: WatchRecord | None = None
        self.habits: list[Habit] = []
        self.stretches: list[WornStretch] = []
        self._costs: dict[int, str] = {}  # habit id -> its cost, once it came into view

    def body(self) -> ComposeResult:
        """The hours by default, the habits, the worn stretches, and the one under the cursor in full."""
        yield Static(id="default")
        yield Static(id="habit-heads")
        yield Lines(self._draw_habit, id="habits")
        yield Static(id="stretch-heads")
        yield Lines(self._draw_stretch, id="stretches")
        yield Static(id="detail")

    def on_mount(self) -> None:
        """The cursor begins at the habits."""
        self.query_one("#habits", Lines).focus()

    def reload(self) -> None:
        """Read the watch again."""
        try:
            self.record = self.book.standing(self.watch_id).record
        except LogbookError as error:
            self.leave(error)
            return
        self.habits = sorted(self.record.habits, key=lambda h: (h.from_on, h.id or 0), reverse=True)
        self.stretches = sorted(self.record.stretches, key=lambda s: (s.from_on, s.id or 0), reverse=True)
        self._costs.clear()
        name = short(self.record.watch.name, 60)
        self.query_one("#title", TitleLine).say([("logbook · Habits: ", "title"), (name, "strong")])
        self.query_one("#default", Static).update(
            content([habits_lines.default_line(self.record, self.book.practice, self.book.units)])
        )
        self.query_one("#habits", Lines).show(len(self.habits))
        self.query_one("#stretches", Lines).show(len(self.stretches))
        self._write_heads()
        self._write_detail()

    def on_resize(self) -> None:
        """Heads follow the window."""
        self._write_heads()

    def _write_heads(self) -> None:
        habits = f"{len(self.habits)} habit{'s' if len(self.habits) != 1 else ''}" if self.habits else (
            "no habits; n adds one, such as a shower a day"
        )  # fmt: skip
        stretches = f"{len(self.stretches)} worn stretch{'es' if len(self.stretches) != 1 else ''}"
        none = "no worn stretches; s adds one, such as 16 h a day on a trip"
        width = max(20, self.app.size.width)
        cost = habits_lines.COST_HEAD if self.habits else ""
        pad = max(1, width - len(habits) - len(cost) - 5)
        self.query_one("#habit-heads", Static).update(content([[(f"── {habits}{' ' * pad}{cost}", "dim")]]))
        self.query_one("#stretch-heads", Static).update(
            content([[(f"── {stretches if self.stretches else none}", "dim")]])
        )

    def _draw_habit(self, row: int, width: int) -> Line:
        habit = self.habits[row]
        return habits_lines.habit_row(habit, self._cost(habit), self.book.units, width)

    def _cost(self, habit: Habit) -> str:
        """What it costs, worked out where it is looked at."""
        key = habit.id or 0
        if key not in self._costs and self.record is not None:
            self._costs[key] = habits_lines.cost_a_month(
                habit, self.record, self.book.practice, self.book.today
            )
        return self._costs.get(key, "")

    def _draw_stretch(self, row: int, width: int) -> Line:
        return habits_lines.stretch_row(self.stretches[row], width)

    @on(Lines.Highlighted)
    def _follow(self) -> None:
        self._write_detail()

    def on_descendant_focus(self) -> None:
        """The detail is of the list one is in."""
        self._write_detail()

    def _write_detail(self) -> None:
        here = self.here
        words: Line = []
        if isinstance(here, Habit):
            words = habits_lines.detail(here, self.book.units)
        elif isinstance(here, WornStretch):
            words = [(f"worn {habits_lines.stretch_name(here)}; the latest entered one counts", "plain")]
        self.query_one("#detail", Static).update(content([words]))

    @property
    def here(self) -> Habit | WornStretch | None:
        """What is under the cursor, in the list one is in."""
        stretches = self.query_one("#stretches", Lines)
        if stretches.has_focus:
            return self.stretches[stretches.cursor] if self.stretches else None
        return self.habits[self.query_one("#habits", Lines).cursor] if self.habits else None

    @property
    def watch_here(self) -> int:
        """This one."""
        return self.watch_id

    @property
    def nickname(self) -> str:
        """Of this watch."""
        return self.record.watch.name if self.record else ""

    @on(Lines.Chosen)
    def action_amend(self) -> None:
        """Amend what is under the cursor."""
        here = self.here
        if here is None:
            self._say_nothing_is_here()
        elif isinstance(here, Habit):
            self.go("habit-form", self.watch_id, here)
        else:
            self.go("stretch-form", self.watch_id, here)

    def action_end(self) -> None:
        """The habit under the cursor ends today."""
        here = self.here
        if not isinstance(here, Habit):
            self.app.notify("t ends a habit: tab leads to the habits.", markup=False)
            return
        name = habits_lines.habit_name(here, self.book.units)
        if here.to_on is not None and here.to_on <= self.book.today:
            ended = phrases.full_date(here.to_on)
            self.app.notify(f"It ended on {ended} already; a changes that.", markup=False)
            return
        if here.from_on > self.book.today:
            self.app.notify("It has not begun yet: x strikes it.", markup=False)
            return
        ended_today = replace(here, to_on=self.book.today)

        def end() -> str:
            self.book.amend(ended_today)
            return printable(f"Ends today: {name}. z: undo")

        self.change(end)

    def action_strike(self) -> None:
        """Strike what is under the cursor."""
        here = self.here
        if here is None:
            self._say_nothing_is_here()
            return
        entry_id = here.id or 0
        name = (
            habits_lines.habit_name(here, self.book.units)
            if isinstance(here, Habit)
            else f"worn {habits_lines.stretch_name(here)}"
        )
        self.strike(entry_id, name)

    def _say_nothing_is_here(self) -> None:
        self.app.notify("Nothing is in this list: n adds a habit, s a worn stretch.", markup=False)
