"""Room on the paper: how many rows of each table fit, so that the page takes two sheets at the most.

The browser sets the lines, not this program; they are estimated here for US Letter, the shorter of the usual
papers, with some to spare. A line is one of the running text as it is printed, rows and heads are more.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from logbook.dossier.words import Table

if TYPE_CHECKING:
    from logbook.dossier.content import Dossier

LINES = 112.0  # that two sheets hold for sure
SMALLER = 0.86  # the size of the small print
SHORT = 60  # characters of a cell in it
MOST_REMARKS, _REMARK = 4, 2.2
_TITLE, _HEAD, _ROW, _FORM = 6.0, 2.9, 1.25, 15.0
_FULL, _ASKED = 118, 50  # characters of a line: over the sheet, and of the owner's wishes
_DUE, _NAME = 66, 30


@dataclass(frozen=True, slots=True)
class _Wanted:
    """A table that may be cut: the fewest rows, and how many characters of a column fit a line."""

    table: Table
    least: int
    widths: dict[int, int]

    def cost(self, at: int) -> float:
        """The lines that one of its rows takes."""
        row = self.table.rows[at]
        folds = (_lines(row[n], width) - 1 for n, width in self.widths.items() if n < len(row))
        return _ROW + max(folds, default=0)

    def of(self, count: int) -> float:
        """The lines that it takes with so many rows, its head included."""
        return _HEAD + sum(self.cost(at) for at in range(min(count, len(self.table.rows))))


def fitted(page: Dossier) -> Dossier:
    """The page with so many rows of its hardest exposures, tests, faults and events as fit two sheets.

    What is left goes to lines for remarks. Where not even the fewest rows fit, the print is smaller, what was
    typed is cut shorter, and the profiles are not drawn.
    """
    wanted = [
        _Wanted(page.exposed.hardest, 4, {7: 30, 9: 26}),
        _Wanted(page.tests, 3, {7: 34}),
        _Wanted(page.faults, max(1, len(page.faults.marked)), {2: 44, 3: 58}),
        _Wanted(page.events, 2, {1: 50, 2: 56}),
    ]
    least = sum(each.of(each.least) for each in wanted)
    if least + _other_lines(page) > LINES:
        page = replace(page, small=True, exposed=replace(page.exposed, curves=()))
        wanted = [replace(each, table=_in_short(each.table)) for each in wanted]
    room = (LINES / SMALLER if page.small else LINES) - _other_lines(page)
    counts, spare = _shared_out(wanted, room)
    hardest, tests, faults, events = (
        cut(each.table, count) for each, count in zip(wanted, counts, strict=True)
    )
    remarks = 1 + max(0, min(MOST_REMARKS - 1, int(spare / _REMARK)))
    exposed = replace(page.exposed, hardest=hardest)
    return replace(page, exposed=exposed, tests=tests, faults=faults, events=events, remarks=remarks)


def cut(table: Table, count: int) -> Table:
    """The first rows of a table; what is left out is counted."""
    left_out = table.left_out + max(0, len(table.rows) - count)
    marked = tuple(n for n in table.marked if n < count)
    return replace(table, rows=table.rows[:count], marked=marked, left_out=left_out)


def _in_short(table: Table) -> Table:
    """The table with long texts cut."""
    rows = tuple(
        tuple(cell if len(cell) <= SHORT else f"{cell[: SHORT - 1]}…" for cell in row) for row in table.rows
    )
    return replace(table, rows=rows)


def _shared_out(wanted: Sequence[_Wanted], room: float) -> tuple[list[int], float]:
    """Rows of each table, the fewest first, then one by one in turn; and what room is left."""
    counts = [min(each.least, len(each.table.rows)) for each in wanted]
    room -= sum(each.of(count) for each, count in zip(wanted, counts, strict=True))
    growing = True
    while growing:
        growing = False
        for at, each in enumerate(wanted):
            if counts[at] < len(each.table.rows) and each.cost(counts[at]) <= room:
                room -= each.cost(counts[at])
                counts[at] += 1
                growing = True
    return counts, room


def _other_lines(page: Dossier) -> float:
    """The lines of everything that is never cut."""
    # Beside the name stand the day and what is on record; a long one goes over several lines.
    title = max(_TITLE, 2.5 + len(page.recorded), 4.0 + 1.7 * _lines(page.name, _NAME))
    asked = sum(1.2 * _lines(wish, _ASKED) for wish in page.asked)
    due = sum(_lines(item, _DUE) for item in page.due)
    opening = max(11.0, 3 + asked + due + (1.5 + len(page.stands_open) if page.stands_open else 0))
    facts = 1.5 + 2.3 * math.ceil(len(page.facts) / 4) + (_lines(page.note, _FULL) + 1 if page.note else 0)
    bars = len(page.seals.bars)
    wide = any(len(row[2]) > 15 for row in page.seals.table.rows)
    seals = _HEAD + bars * (_ROW + wide) + (4.5 + 1.7 * bars if bars else 0)
    stops = 1.4 + sum(_lines(stop, _FULL) for stop in page.seals.stops)
    activities = _HEAD + 1 + _ROW * len(page.exposed.activities.rows)
    exposed = max(activities, 2.5 * len(page.exposed.extremes)) + 2 * len(page.exposed.repeated)
    plot = 8.0 if page.exposed.curves else 0.0
    return title + opening + facts + seals + stops + exposed + plot + _FORM


def _lines(text: str, width: int) -> int:
    return max(1, math.ceil(len(text) / width))
