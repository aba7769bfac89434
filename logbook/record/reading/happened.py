"""What a watch went through since its last pass, or since a day, read from the record."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from logbook.model.judge import since
from logbook.model.judge.since import Cost, Since
from logbook.model.practice import Practice
from logbook.model.values import Shares, WatchRecord
from logbook.record.reading import charged
from logbook.record.reading.rows import Rows


def read_since(
    rows: Rows, record: WatchRecord, practice: Practice, on: date, asked: date | None = None
) -> Since | None:
    """From the day asked for, else the last pass, to the trouble that stands or today; None without a seal.

    `record` is what `glance.read_records` gives of the watch.
    """

    def sums(seal_id: int, first: date | None, last: date | None) -> Shares:
        return charged.ledger_sums(rows, seal_id, first, last)

    def dearest(seal_id: int, first: date, last: date) -> Sequence[Cost]:
        found = charged.ledger_dearest(rows, seal_id, first, last, since.HARDEST)
        return [Cost(exposure, shares) for exposure, shares in found]

    return since.reckon(record, since.period_of(record, practice, on, asked), practice, sums, dearest)
