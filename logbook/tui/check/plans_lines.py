"""What is planned, as lines: one a plan, those that ask whether they happened first."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from logbook.model.judge.check import Verdict
from logbook.model.values import Exposure, Units, WatchRecord
from logbook.text import phrases, quantities
from logbook.tui.check import lines as check_lines
from logbook.tui.shell.ink import VERDICT_ROLE, Line, fit, short, wrapped

DID_IT = "did it happen?"
WAITING = "working out …"
REASON_LINES = 2


@dataclass(frozen=True, slots=True)
class PlanRow:
    """A plan, the watch that it is for, and whether its last day is past."""

    plan: Exposure
    record: WatchRecord
    past: bool

    @property
    def name(self) -> str:
        """The watch."""
        return self.record.watch.name


def rows_of(plans: Sequence[Exposure], records: Sequence[WatchRecord], today: date) -> list[PlanRow]:
    """A row for each plan: first what is past, then what lies ahead, of either the soonest first."""
    by_id = {record.watch.id: record for record in records}
    rows = [
        PlanRow(plan, by_id[plan.watch_id], plan.last_day < today) for plan in plans if plan.watch_id in by_id
    ]
    return sorted(rows, key=lambda row: (not row.past, row.plan.starts_on, row.plan.last_day))


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its head, its width in cells at 80, how much of the spare width it takes, what it shows."""

    head: str
    width: int
    grows: int
    words: Callable[[PlanRow, Units, int], str]


def _what(row: PlanRow, units: Units, width: int) -> str:
    """`dive 24 m, 45 min, sea 25 °C`, as much of it as there is room for; the detail has all."""
    plan = row.plan
    depth = f" {quantities.show_depth(plan.depth_m, units)}" if plan.depth_m > 0 else ""
    water = f"{plan.water} {quantities.show_temp(plan.water_c, units)}"
    parts = [f"{plan.activity}{depth}", quantities.show_minutes(plan.duration_s), water]
    while len(parts) > 1 and len(", ".join(parts)) > width:
        parts.pop()
    return ", ".join(parts)


def _when(row: PlanRow, units: Units, width: int) -> str:
    return phrases.span_words(row.plan.starts_on, row.plan.planned_to)


def _days(row: PlanRow, units: Units, width: int) -> str:
    return phrases.days_words(row.plan.starts_on, row.plan.planned_to)


COLUMNS = (
    Column("when", 20, 1, _when),
    Column("", 7, 0, _days),
    Column("watch", 13, 3, lambda row, units, width: row.name),
    Column("what", 16, 4, _what),
)
VERDICT_CELLS = 18


def _columns(width: int) -> list[tuple[Column, int]]:
    spare = max(0, width - VERDICT_CELLS - 1 - sum(c.width + 1 for c in COLUMNS))
    share = sum(c.grows for c in COLUMNS)
    return [(c, c.width + spare * c.grows // share) for c in COLUMNS]


def heads(width: int) -> Line:
    """The column heads."""
    words = " ".join(fit(column.head, cells) for column, cells in _columns(width))
    return [(f" {words} on that day", "dim")]


def row_line(row: PlanRow, verdict: Verdict | None, units: Units, width: int) -> Line:
    """One plan, and the verdict on it; of a past one the question whether it happened."""
    words = " ".join(fit(column.words(row, units, cells), cells) for column, cells in _columns(width))
    if row.past:
        return [(f" {words} ", "strong"), (fit(DID_IT, VERDICT_CELLS), "mild")]
    said = (WAITING, "dim") if verdict is None else (verdict.word, VERDICT_ROLE[verdict.word])
    return [(f" {words} ", "plain"), (fit(said[0], VERDICT_CELLS), said[1])]


def title(rows: Sequence[PlanRow]) -> Line:
    """How many plans lie ahead, and how many ask."""
    past = sum(row.past for row in rows)
    line: Line = [("logbook · Plans   ", "title"), (f"{len(rows) - past} ahead", "plain")]
    return [*line, (f", {past} past: did {'they' if past > 1 else 'it'} happen?", "mild")] if past else line


def detail(row: PlanRow | None, verdict: Verdict | None, today: date, units: Units, width: int) -> list[Line]:
    """The plan under the cursor in full, and the first reason against it or the question that it asks."""
    if row is None:
        return [[("Nothing is planned: n asks about a trip, ^s there keeps it as a plan.", "plain")]]
    plan, room = row.plan, max(20, width - 2)
    if row.past:
        when = phrases.span_words(plan.starts_on, plan.planned_to)
        keys = "d charges it as planned, x strikes it."
        if plan.planned_to is not None and plan.planned_to > plan.starts_on:
            first = phrases.full_date(plan.starts_on)
            keys = f"d charges {first} as planned and asks about the next day, x strikes all that is left."
        asks = f"It was planned for {when}: did it happen? {keys}"
        lines: list[Line] = [[(part, "mild")] for part in wrapped(asks, room)]
    elif verdict is None:
        lines = [[(WAITING, "dim")]]
    else:
        lines = [[(part, VERDICT_ROLE[verdict.word])] for part in _reason(verdict, plan, room)]
    note: list[Line] = [[(short(f"note: {plan.note}", room), "dim")]] if plan.note else []
    words = check_lines.plan_words(plan, today, units)
    return [[(short(f"{row.name}: {words}", room), "strong")], *lines, *note]


def _reason(verdict: Verdict, plan: Exposure, room: int) -> list[str]:
    """The verdict, of a trip from which day it holds, with what speaks first, in at most two lines."""
    words = f"{verdict.word}{check_lines.holds_words(verdict, plan)}: {check_lines.first_words(verdict)}"
    if len(verdict.reasons) > 1:
        words += f" (and {len(verdict.reasons) - 1} more)"
    found = wrapped(words, room)
    if len(found) <= REASON_LINES:
        return found
    return [*found[: REASON_LINES - 1], short(" ".join(found[REASON_LINES - 1 :]), room)]


def happened_words(entry: Exposure, rest: Exposure | None, units: Units, cost: str) -> str:
    """What is said once a plan happened: what was charged, and which days of a trip are left."""
    left = ""
    if rest is not None:
        stays = "stay" if rest.planned_to else "stays"
        left = f" {phrases.span_words(rest.starts_on, rest.planned_to)} {stays} planned."
    day, words = phrases.full_date(entry.starts_on), phrases.exposure_words(entry, units)
    return f"Logged {day}, {words}: {cost}.{left} z: undo"
