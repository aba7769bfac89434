"""A ledger of other constants is made anew, with a line on the terminal that says how far it is."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from logbook.model.practice import Practice
    from logbook.record.file.store import Store


def reckon_anew(store: Store, practice: Practice, *, only_much: bool = False) -> None:
    """Makes the ledger anew if it was reckoned with other constants; an interruption leaves it as it was.

    `only_much`: a short one is left to what is written next, which makes it anew by the way.
    """
    from logbook.record.ledger import ledger
    from logbook.record.ledger.backlog import backlog_of

    found = backlog_of(store.rows, practice)
    if found is None or (only_much and not found.much):
        return
    if found.much and sys.stderr.isatty():
        from logbook.cli.progress_line import progress_line

        words = "{task.completed:,.0f} of {task.total:,.0f} exposures"
        with progress_line("Reckoning anew", words) as tell:
            ledger.refresh_all(store, practice, tell)
    else:
        ledger.refresh_all(store, practice)
