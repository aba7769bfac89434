"""What all the owner's tests teach about the next one, read from the record."""

from __future__ import annotations

from datetime import date

from logbook.model.practice import Practice
from logbook.model.predict.trials import Foresight, foresee
from logbook.model.values import Shares
from logbook.record.reading import charged, glance
from logbook.record.reading.rows import Rows


def read_foresight(rows: Rows, practice: Practice, on: date) -> Foresight:
    """What every test up to a day teaches, at the wear shares that the ledger gives."""

    def sums(seal_id: int, up_to: date) -> Shares:
        return charged.ledger_sums(rows, seal_id, until=up_to)

    return foresee(glance.read_records(rows, retired=True), practice, sums, on)
