"""The ledger: what each exposure adds to each seal, and the running sums, in whole trillionths.

Whole numbers make sums exact in any order: a ledger kept up step by step equals one made anew, to the digit.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from sqlmodel import Session

from logbook.keeping import glance, shapes
from logbook.keeping.glance import is_stale as is_stale
from logbook.keeping.journal import Change
from logbook.keeping.rows import Rows, in_chunks
from logbook.keeping.spans import Span, merged, spans_of, wider
from logbook.keeping.sql import rows_of, run, run_many
from logbook.reckoning.charge import TOUCH_DAYS, Charge, charge_exposures
from logbook.reckoning.practice import Practice
from logbook.reckoning.values import CHANNELS, Exposure, WatchRecord

if TYPE_CHECKING:
    from logbook.keeping.store import Store

_CHANNELS = ", ".join(CHANNELS)
_SUMS = ", ".join(f"SUM({c})" for c in CHANNELS)
_ADD_SHARE = (
    f"INSERT INTO ledger_share (exposure_id, seal_id, {_CHANNELS}, counted)"
    " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)"
)
_ADD_TOTAL = f"UPDATE seal_total SET {', '.join(f'{c} = {c} + ?' for c in CHANNELS)} WHERE seal_id = ?"

ShareRow = tuple[int, ...]  # exposure id, seal id, six channels, counted
Totals = dict[int, list[int]]


def settle(session: Session, changes: Sequence[Change], practice: Practice | None) -> None:
    """Brings the ledger up to date with changed rows, at a cost that does not grow with the record.

    Only what the changes can touch is reckoned again; when the constants have changed too, everything is.
    """
    rows = rows_of(session.connection())
    touched = spans_of(changes, rows)
    if not touched:
        return
    if practice is None:
        raise TypeError("this action changes what exposures cost, so it needs the constants in force")
    if is_stale(rows, practice):
        rebuild(session, practice)
        return
    moved = [change.key for change in changes if change.table == "exposure" and change.before]
    for marks, piece in in_chunks(moved):
        _take_out(session, f"IN {marks}", piece)
    for watch_id, spans in touched.items():
        refresh_spans(session, watch_id, spans, practice)


def refresh_spans(session: Session, watch_id: int, spans: Iterable[Span], practice: Practice) -> None:
    """Reckons anew the exposures of one watch that begin within the spans."""
    rows = rows_of(session.connection())
    inside = merged(spans)
    for span in inside:
        chosen = (
            "IN (SELECT id FROM exposure WHERE watch_id = ? AND planned = 0 AND starts_on BETWEEN ? AND ?)"
        )
        _take_out(session, chosen, (watch_id, *span.as_text()))
    found = glance.read_records(rows, watch_id=watch_id, retired=True)
    if not found:
        return
    run(session, f"INSERT INTO seal_total (seal_id, {_CHANNELS}) SELECT id, 0, 0, 0, 0, 0, 0 FROM seal"
        " WHERE watch_id = ? AND id NOT IN (SELECT seal_id FROM seal_total)", (watch_id,))  # fmt: skip
    around: list[Exposure] = []
    for span in merged(wider(span, TOUCH_DAYS) for span in inside):
        around += glance.read_exposures(
            rows, watch_id=watch_id, since=span.first, until=span.last, planned=False, with_profiles=True
        )
    wanted = {e.id for e in around if any(span.first <= e.starts_on <= span.last for span in inside)}
    shares = share_rows(charge_exposures(found[0], around, practice, wanted))
    run_many(session, _ADD_SHARE, shares)
    _add_totals(session, totals_of(shares))


def refresh_window(session: Session, watch_id: int, days: Iterable[Any], practice: Practice) -> None:
    """Reckons anew whatever an exposure added, changed or struck on these days can touch."""
    refresh_spans(session, watch_id, [Span.near(day) for day in days], practice)


def refresh_watch(session: Session, watch_id: int, practice: Practice) -> None:
    """Reckons one watch anew from its first exposure to its last."""
    refresh_spans(session, watch_id, [Span.ALL], practice)


def refresh_all(store: Store, practice: Practice, progress: Callable[[int, int], None] | None = None) -> None:
    """Makes the whole ledger anew; `progress` is told watches done and watches in all."""
    with store.transaction() as session:
        rebuild(session, practice, progress)


def rebuild(session: Session, practice: Practice, progress: Callable[[int, int], None] | None = None) -> None:
    rows = rows_of(session.connection())
    run(session, "DELETE FROM ledger_share")
    run(session, "DELETE FROM seal_total")
    records = glance.read_records(rows, retired=True)
    for done, record in enumerate(records, start=1):
        shares = reckon(rows, record, practice)
        run_many(session, _ADD_SHARE, shares)
        sums = totals_of(shares)
        marks = ", ".join("?" * (1 + len(CHANNELS)))
        run_many(
            session,
            f"INSERT INTO seal_total (seal_id, {_CHANNELS}) VALUES ({marks})",
            [(seal.id, *sums.get(seal.id or 0, [0] * len(CHANNELS))) for seal in record.seals],
        )
        if progress:
            progress(done, len(records))
    run(session, "UPDATE meta SET practice_fingerprint = ?", (practice.fingerprint,))


def reckon(rows: Rows, record: WatchRecord, practice: Practice) -> list[ShareRow]:
    """All ledger rows of one watch, from its exposures alone."""
    exposures = glance.read_exposures(rows, watch_id=record.watch.id, planned=False, with_profiles=True)
    return share_rows(charge_exposures(record, exposures, practice))


def share_rows(charges: Mapping[int, Mapping[int, Charge]]) -> list[ShareRow]:
    return [
        (exposure_id, seal_id, *shapes.share_columns(charge.shares), int(charge.counted))
        for exposure_id, by_seal in charges.items()
        for seal_id, charge in by_seal.items()
    ]


def totals_of(shares: Iterable[ShareRow]) -> Totals:
    """Seal id -> the six sums of its counted rows."""
    totals: Totals = {}
    for _, seal_id, *channels, counted in shares:
        if counted:
            sums = totals.setdefault(seal_id, [0] * len(CHANNELS))
            for n, share in enumerate(channels):
                sums[n] += share
    return totals


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
