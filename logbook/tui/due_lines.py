"""The Due room's lines as plain pieces of text: one a task, and the one under the cursor in full."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from logbook.exchange import phrases
from logbook.reckoning import due
from logbook.reckoning.due import DueItem
from logbook.reckoning.standing import Standing
from logbook.tui.ink import STAGE_ROLE, Line, fit, short


@dataclass(frozen=True, slots=True)
class Task:
    """One due item with the watch that it belongs to."""

    item: DueItem
    watch_id: int
    name: str
    silent: bool  # snoozed today

    @property
    def stage(self) -> str:
        """The word that comes first."""
        return "snoozed" if self.silent else self.item.stage

    @property
    def role(self) -> str:
        """What the word means."""
        return "dim" if self.silent else STAGE_ROLE[self.item.stage]


def tasks(standings: Sequence[Standing], today: date) -> list[Task]:
    """Every next task: what asks now, the gravest first; then what is snoozed; then what is later."""
    found = [
        Task(item, s.record.watch.id or 0, s.name, item.stage != "later" and not due.asks_now([item], today))
        for s in standings
        for item in s.due
    ]

    def place(task: Task) -> tuple[int, int, date, str]:
        later = task.item.stage == "later"
        group = 2 if later else 1 if task.silent else 0
        return group, -due.STAGES.index(task.item.stage), task.item.due, task.item.id

    return sorted(found, key=place)


def title(found: Sequence[Task]) -> str:
    """What the list holds, counted."""
    counts = Counter(task.stage for task in found)
    said = [f"{counts[word]} {word}" for word in ("overdue", "due", "coming up", "snoozed") if counts[word]]
    return " · ".join(said) if said else "nothing is due"


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its head, its width in cells at 80, how much of the spare width it takes, what it shows."""

    head: str
    width: int
    grows: int
    words: Callable[[Task], str]


def _window(task: Task) -> str:
    if task.silent and task.item.snoozed_until is not None:
        return f"until {task.item.snoozed_until.day} {task.item.snoozed_until:%b %y}"
    if task.item.stage == "overdue":
        return "now"
    return f"{task.item.earliest:%b %y}–{task.item.latest:%b %y}"


COLUMNS = (
    Column("", 9, 0, lambda task: task.stage),
    Column("watch", 17, 1, lambda task: task.name),
    Column("task", 19, 0, lambda task: task.item.label),
    Column("date", 11, 0, lambda task: phrases.full_date(task.item.due)),
    Column("visit", 15, 0, _window),
)
WHY = Column("why", 30, 4, lambda task: task.item.why)
WIDE = 112  # cells from which the reason has a column of its own


def _columns(width: int) -> list[tuple[Column, int]]:
    chosen = [*COLUMNS, WHY] if width >= WIDE else [*COLUMNS]
    spare = max(0, width - 1 - sum(c.width + 1 for c in chosen))
    share = sum(c.grows for c in chosen)
    return [(c, c.width + spare * c.grows // share) for c in chosen]


def heads(width: int) -> Line:
    """The column heads."""
    return [(" " + " ".join(fit(column.head, cells) for column, cells in _columns(width)), "dim")]


def row(task: Task, width: int) -> Line:
    """One task, its stage first."""
    (first, cells), *others = _columns(width)
    rest = " ".join(fit(column.words(task), n) for column, n in others)
    role = "dim" if task.item.stage == "later" or task.silent else "plain"
    return [(f" {fit(first.words(task), cells)} ", task.role), (rest, role)]


def detail(task: Task | None, today: date) -> list[Line]:
    """The task under the cursor: when, why, when a visit covers it, and until when it is silent."""
    if task is None:
        return [[("Nothing is scheduled: no watch is on the shelf.", "plain")]]
    item = task.item
    window = f"{phrases.full_date(item.earliest)} to {phrases.full_date(item.latest)}"
    if item.latest < today:
        window = "over: the sooner the better"
    lines: list[Line] = [
        [
            (short(task.name, 40), "strong"),
            (f": {item.label}, {phrases.full_date(item.due)}", "plain"),
            (f" ({task.stage})", task.role),
        ],
        [(f"{item.why}; every {item.interval_months} months", "plain")],
        [(f"window for a visit: {window}", "plain")],
    ]
    if item.snoozed_until is not None:
        state = "snoozed until" if task.silent else "was snoozed until"
        lines.append([(f"{state} {phrases.full_date(item.snoozed_until)}", "mild")])
    return lines
