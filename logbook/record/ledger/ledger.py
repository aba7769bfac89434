"""The ledger: what each exposure adds to each seal, and the running sums, in whole trillionths.

Whole numbers make sums exact in any order: a ledger kept up step by step equals one made anew, to the digit.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, Any

from sqlmodel import Session

from logbook.model.practice import Practice
from logbook.model.values import CHANNELS, WatchRecord
from logbook.record.ledger import bulk, raising
from logbook.record.ledger.bulk import ShareRow, Totals
from logbook.record.ledger.spans import Span, merged, spans_of
from logbook.record.reading import glance
from logbook.record.reading.glance import is_stale as is_stale
from logbook.record.reading.rows import Rows, in_chunks
from logbook.record.reading.sql import rows_of, run, run_many
from logbook.record.writing.journal import Change

if TYPE_CHECKING:
    from logbook.record.file.store import Store

_CHANNELS = ", ".join(CHANNELS)
_SUMS = ", ".join(f"SUM({c})" for c in CHANNELS)
_ADD_SHARE = (
    f"INSERT INTO ledger_share (exposure_id, seal_id, {_CHANNELS}, counted)"
    " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)"
)
_ADD_TOTAL = f"UPDATE seal_total SET {', '.join(f'{c} = {c} + ?' for c in CHANNELS)} WHERE seal_id = ?"

Progress = Callable[[int, int], None]  # exposures done, exposures in all


def settle(
    session: Session,
    changes: Sequence[Change],
    practice: Practice | None,
    progress: Progress | None = None,
) -> None:
    """Brings the ledger up to date with changed rows, at a cost that does not grow with the record.

    Only what the changes can touch is reckoned again; when the constants have changed too, everything is.
    `progress` is told as by `rebuild`.
    """
    rows = rows_of(session.connection())
    touched = spans_of(changes, rows)
    if not touched and not raising.is_touched(changes):
        return
    if practice is None:
        raise TypeError("this action changes what exposures cost, so it needs the constants in force")
    if is_stale(rows, practice):
        rebuild(session, practice, progress)
        return
    moved = [change.key for change in changes if change.table == "exposure" and change.before]
    for marks, piece in in_chunks(moved):
        _take_out(session, f"IN {marks}", piece)
    tell = _counting(progress, sum(change.table == "exposure" for change in changes))
    tell(0)  # where nothing is left to charge, this is the only chance to leave it
    for watch_id, spans in touched.items():
        refresh_spans(session, watch_id, spans, practice, tell)
    raising.settle(session, changes, practice)


def refresh_spans(
    session: Session,
    watch_id: int,
    spans: Iterable[Span],
    practice: Practice,
    tell: Callable[[int], None] = lambda more: None,
) -> None:
    """Reckons anew the exposures of one watch that begin within the spans; `tell` hears of each few done."""
    inside = merged(spans)
    for span in inside:
        chosen = (
            "IN (SELECT id FROM exposure WHERE watch_id = ? AND planned = 0 AND starts_on BETWEEN ? AND ?)"
        )
        _take_out(session, chosen, (watch_id, *span.as_text()))
    _put_in(session, watch_id, inside, practice, tell)


def _put_in(
    session: Session, watch_id: int, spans: Sequence[Span], practice: Practice, tell: Callable[[int], None]
) -> None:
    """Adds the rows of the exposures within the spans, which have none, and what they come to."""
    rows = rows_of(session.connection())
    found = glance.read_records(rows, watch_id=watch_id, retired=True)
    if not found:
        return
    run(session, f"INSERT INTO seal_total (seal_id, {_CHANNELS}) SELECT id, 0, 0, 0, 0, 0, 0 FROM seal"
        " WHERE watch_id = ? AND id NOT IN (SELECT seal_id FROM seal_total)", (watch_id,))  # fmt: skip
    for block in bulk.blocks(rows, found[0], practice, spans):
        run_many(session, _ADD_SHARE, block.shares)
        _add_totals(session, block.totals)
        tell(block.exposures)


def refresh_all(store: Store, practice: Practice, progress: Progress | None = None) -> None:
    """Makes the whole ledger anew, as `rebuild` does, in a transaction of its own."""
    with store.transaction() as session:
        rebuild(session, practice, progress)


def rebuild(session: Session, practice: Practice, progress: Progress | None = None) -> None:
    """Makes the whole ledger anew in one pass.

    `progress` is told exposures done and exposures in all. What it raises ends the transaction, so that the
    ledger stays as it was.
    """
    rows = rows_of(session.connection())
    tell = _counting(progress, glance.count_exposures(rows, planned=False))
    tell(0)
    for table in ("ledger_share", "raised", "seal_total"):
        run(session, f"DELETE FROM {table}")
    for (watch_id,) in list(rows("SELECT id FROM watch ORDER BY id", ())):
        _put_in(session, watch_id, [Span.ALL], practice, tell)
        raising.refresh(session, watch_id, practice)
    run(session, "UPDATE meta SET practice_fingerprint = ?", (practice.fingerprint,))


def reckon(rows: Rows, record: WatchRecord, practice: Practice) -> list[ShareRow]:
    """All ledger rows of one watch, from its exposures alone."""
    return [row for block in bulk.blocks(rows, record, practice) for row in block.shares]


def _counting(progress: Progress | None, total: int) -> Callable[[int], None]:
    """Tells `progress` how far it is, from how many more are done."""
    done = 0

    def tell(more: int) -> None:
        nonlocal done
        done += more
        if progress is not None:
            progress(done, max(done, total))

    return tell


def _take_out(session: Session, chosen: str, params: Sequence[Any]) -> None:
    """Removes the rows of the chosen exposures and what they added to the sums."""
    rows = rows_of(session.connection())
    where = f"exposure_id {chosen}"
    counted = rows(
        f"SELECT seal_id, {_SUMS} FROM ledger_share WHERE counted = 1 AND {where} GROUP BY seal_id", params
    )
    _add_totals(session, {seal_id: [-int(s) for s in sums] for seal_id, *sums in counted})
    run(session, f"DELETE FROM ledger_share WHERE {where}", params)


def _add_totals(session: Session, totals: Totals) -> None:
    run_many(session, _ADD_TOTAL, [(*sums, seal_id) for seal_id, sums in totals.items()])
