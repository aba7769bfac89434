"""Silence something due until a date."""

from __future__ import annotations

from datetime import date

from textual.app import ComposeResult
from textual.widgets import Static

from logbook.model.due.snoozing import check_until
from logbook.model.text import printable
from logbook.text import phrases
from logbook.text.dates import parse_date
from logbook.tui.due import lines as due_lines
from logbook.tui.due.lines import Task
from logbook.tui.shell.form import FormRoom, Question, Write
from logbook.tui.shell.ink import content, sentence
from logbook.tui.widgets.field import Field

USUAL = "14 days"


class SnoozeRoom(FormRoom):
    """One question: until when."""

    CSS_PATH = "snooze.tcss"
    TITLE_WORDS = "Snooze"
    PURPOSE = "A snoozed task keeps its date and its place in the list; it asks again from the day you say."

    def __init__(self, task: Task) -> None:
        super().__init__()
        self.due_task = task

    def asked(self) -> ComposeResult:
        """The task, then the question."""
        yield Static(content(due_lines.detail(self.due_task, self.book.today)), id="about")
        yield Question(Field("until", "silent until"))
        yield Static(sentence("14 days, 2 weeks, 12 mar or 2027-03-12", "dim"), id="hint")

    def fill(self) -> None:
        """The usual answer stands there, ready to be replaced."""
        self.fill_in({"until": USUAL})

    def save(self) -> Write:
        """Until when it is silent."""
        until = read_until(self.text("until"), self.book.today)
        near = [item for item in self.due_task.items if item.stage != "later"] or self.due_task.items
        first, *others = (item.id for item in near)
        what = f"{self.due_task.name}: {', '.join(item.label for item in near)}"
        words = printable(f"Snoozed until {phrases.full_date(until)}: {what}. z: undo")

        def write() -> str:
            from logbook.record.writing.snoozes import snooze

            self.book.do(snooze, first, until, others)
            return words

        return write


def read_until(text: str, today: date) -> date:
    """The day that `14 days` or a date names; raises BadInput unless a snooze may end on it."""
    words = " ".join(text.split())
    span = words if words[:1].isdigit() and words.endswith(("day", "days", "week", "weeks")) else ""
    until = parse_date(f"in {span}" if span else words, today, ahead=True, where="until")
    return check_until(until, today, "until")
