"""The Due room’s lines: one a watch, its tasks below, the one under the cursor in full."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from datetime import date

from logbook.model.due import services
from logbook.model.due.services import Service
from logbook.model.due.tasks import DueItem, Stage
from logbook.model.judge.rules import CLOCK_REMEDY, clock_words
from logbook.model.judge.standing import Standing, clock_behind_by
from logbook.text import phrases
from logbook.tui.shell.ink import STAGE_ROLE, Line, fit, short

_SHORT = {"pressure-test": "test", "movement": "movement", "strap": "strap"}


@dataclass(frozen=True, slots=True)
class Task:
    """A service with the watch that it belongs to; or, unfolded, one task of it."""

    service: Service
    watch_id: int
    name: str
    item: DueItem | None = None  # None: the service as a whole

    @property
    def silent(self) -> bool:
        """True while it is snoozed and would ask."""
        if self.item is None:
            return self.service.silent
        return self.item.stage != "later" and self.item not in self.service.asking

    @property
    def snoozed_until(self) -> date | None:
        """The day on which its snooze ends or ended."""
        if self.item is not None:
            return self.item.snoozed_until
        return self.service.snoozed_until

    @property
    def due(self) -> date:
        """Its date."""
        return self.service.due if self.item is None else self.item.due

    @property
    def label(self) -> str:
        """What it is."""
        return self.service.in_full if self.item is None else self.item.label

    @property
    def items(self) -> tuple[DueItem, ...]:
        """The tasks that it stands for."""
        return self.service.items if self.item is None else (self.item,)

    @property
    def stage(self) -> str:
        """The word that comes first."""
        return "snoozed" if self.silent else self._stage

    @property
    def is_later(self) -> bool:
        """True when it does not ask yet."""
        return self._stage == "later"

    @property
    def role(self) -> str:
        """What the word means."""
        if self.silent:
            return "dim"
        return "grave" if self.service.troubles and self.item is None else STAGE_ROLE[self._stage]

    @property
    def _stage(self) -> Stage:
        return self.service.stage if self.item is None else self.item.stage


def tasks(standings: Sequence[Standing], unfolded: Collection[str] = ()) -> list[Task]:
    """Every next service: what asks now, faults first, then what is snoozed, then what is later.

    The tasks of those whose id is among `unfolded` stand below them.
    """
    watches = {service.id: standing for standing in standings for service in standing.services}
    found = []
    for service in services.in_order(s for standing in standings for s in standing.services):
        standing = watches[service.id]
        whole = Task(service, standing.record.watch.id or 0, standing.name)
        found.append(whole)
        if service.id in unfolded:
            found += [Task(service, whole.watch_id, whole.name, item) for item in service.items]
    return found


def title(found: Sequence[Task]) -> str:
    """What the list holds, counted by watch."""
    counts = Counter(task.stage for task in found if task.item is None)
    said = [f"{counts[word]} {word}" for word in ("overdue", "due", "coming up", "snoozed") if counts[word]]
    return " · ".join(said) if said else "nothing is due"


def clock(standings: Sequence[Standing]) -> str:
    """That the clock is behind and what ends it; empty while it is not."""
    ahead = clock_behind_by(standings)
    return f"{clock_words(ahead)}; {CLOCK_REMEDY}" if ahead is not None else ""


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its head, its width in cells at 80, how much of the spare width it takes, what it shows."""

    head: str
    width: int
    grows: int
    words: Callable[[Task], str]


def _window(task: Task) -> str:
    if task.silent and task.snoozed_until is not None:
        return f"until {task.snoozed_until.day} {task.snoozed_until:%b %y}"
    if task.stage == "overdue" or (task.service.troubles and task.item is None):
        return "now"
    first, last = _reach(task)
    return f"{first:%b %y}–{last:%b %y}" if last >= task.due else "now"


def _reach(task: Task) -> tuple[date, date]:
    """First and last day to which a visit may draw it."""
    if task.item is None:
        return task.service.earliest, task.service.latest
    return task.item.earliest, task.item.latest


def _what(task: Task) -> str:
    """Its tasks, as short as a column."""
    if task.item is not None:
        return f"  {task.item.label}"
    if task.service.troubles:
        return services.NOW
    if len(task.items) == 1:
        return task.label
    return ", ".join(_SHORT.get(item.task, item.task) for item in task.service.in_order_of_work)


COLUMNS = (
    Column("", 9, 0, lambda task: task.stage),
    Column("watch", 14, 1, lambda task: "" if task.item else task.name),
    Column("what", 22, 0, _what),
    Column("date", 11, 0, lambda task: phrases.full_date(task.due)),
    Column("visit", 15, 0, _window),
)
WHY = Column("why", 30, 4, lambda task: task.item.why if task.item else task.service.why)
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
    """One service or task, its stage first."""
    (first, cells), *others = _columns(width)
    rest = " ".join(fit(column.words(task), n) for column, n in others)
    role = "dim" if task.is_later or task.silent else "plain"
    return [(f" {fit(first.words(task), cells)} ", task.role), (rest, role)]


def detail(task: Task | None, today: date) -> list[Line]:
    """What is under the cursor: when, why, when a visit covers it, and until when it is silent."""
    if task is None:
        return [[("Nothing is scheduled: no watch is on the shelf.", "plain")]]
    first, last = _reach(task)
    window = f"{phrases.full_date(first)} to {phrases.full_date(last)}"
    if last < today or (task.service.troubles and task.item is None):
        window = "now: the sooner the better"
    only = task.items[0] if len(task.items) == 1 and not task.service.troubles else task.item
    why = f"{only.why}; every {only.interval_months} months" if only else task.service.why
    lines: list[Line] = [
        [
            (short(task.name, 40), "strong"),
            (f": {task.label}, {phrases.full_date(task.due)}", "plain"),
            (f" ({task.stage})", task.role),
        ],
        [(why, "plain")],
        [(f"window for a visit: {window}", "plain")],
    ]
    if task.snoozed_until is not None:
        state = "snoozed until" if task.silent else "was snoozed until"
        lines.append([(f"{state} {phrases.full_date(task.snoozed_until)}", "mild")])
    return lines
