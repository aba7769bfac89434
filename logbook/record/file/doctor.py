"""Looks the record over: the file, its references, its books. Only the ledger can be mended from here."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from logbook.errors import LogbookError
from logbook.model.practice import Practice
from logbook.model.values import CHANNELS
from logbook.record.file import soundness
from logbook.record.file.store import Store
from logbook.record.file.trouble import OF_SQLITE, explain
from logbook.record.ledger import bulk, ledger, raising
from logbook.record.reading import glance
from logbook.record.reading.entries import KINDS
from logbook.record.reading.rows import Rows
from logbook.record.schema import revision
from logbook.record.schema.tables import LedgerShareRow, SealTotalRow
from logbook.record.writing.journal import JOURNALLED

LEDGER = "ledger"
_SHARE = ("exposure_id", "seal_id", *CHANNELS, "counted")


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is not as it should be.

    `about` is file, pages, references, rows, books, ledger or journal.
    """

    about: str
    sentence: str
    mended: bool = False


def examine(path: Path, practice: Practice, *, mend: bool = False) -> list[Finding]:
    """Everything wrong with the record at `path`, nothing when it is sound.

    With `mend` a ledger that does not add up is made anew from the exposures; nothing else is ever touched.
    """
    try:
        with glance.open_rows(path) as rows:
            findings = [*_file(path), *_inside(path)]
            if all(finding.about == "file" for finding in findings):
                findings += [*_books(rows), *_journal(rows), *_ledger(rows, practice)]
    except LogbookError as error:
        return [Finding("file", error.message)]
    if mend and any(finding.about == LEDGER for finding in findings):
        with Store.open(path) as store:
            ledger.refresh_all(store, practice)
        findings = [f if f.about != LEDGER else Finding(LEDGER, f.sentence, mended=True) for f in findings]
    return findings


def _file(path: Path) -> Iterator[Finding]:
    mode = path.stat().st_mode & 0o777
    if mode & 0o077:
        yield Finding(
            "file", f"Others on this machine can reach the record (mode {mode:04o}); 0600 is private."
        )
    for leftover in sorted(path.parent.glob(f".{path.name}.*.new")):
        yield Finding("file", f"{leftover} was left by something that was interrupted; it can be removed.")


def _inside(path: Path) -> Iterator[Finding]:
    connection = revision.connect(path, read_only=True)
    try:
        for fault in soundness.faults_of(connection):
            yield Finding(fault.about, f"The file is not sound: {fault.words}.")
    except OF_SQLITE as error:
        yield Finding("pages", explain(error, path).message)
    finally:
        connection.close()


def _books(rows: Rows) -> Iterator[Finding]:
    """What no constraint can hold: one id space, counters ahead of every id, seals only from gaskets."""
    union = " UNION ALL ".join(f"SELECT id FROM {kind}" for kind in KINDS)
    for entry_id, _ in rows(f"SELECT id, COUNT(*) FROM ({union}) AS e GROUP BY id HAVING COUNT(*) > 1", ()):
        yield Finding("books", f"Entry {entry_id} is there twice, as two kinds of entry.")
    counters = {"next_entry_id": f"({union}) AS e", "next_watch_id": "watch", "next_seal_id": "seal",
                "next_action_id": "action"}  # fmt: skip
    for counter, source in counters.items():
        statement = f"SELECT {counter}, (SELECT COALESCE(MAX(id), 0) FROM {source}) FROM meta"
        for following, highest in rows(statement, ()):
            if following <= highest:
                yield Finding(
                    "books", f"The counter {counter} stands at {following}, but {highest} is in use."
                )
    statement = "SELECT s.id, e.id FROM seal s JOIN event e ON e.id = s.event_id WHERE {}"
    wrong = (
        "e.kind <> 'gaskets' OR e.watch_id <> s.watch_id"
        " OR COALESCE(e.span_first, e.happened_on) <> s.fitted_earliest"
        " OR COALESCE(e.span_last, e.happened_on) <> s.fitted_latest"
    )
    for seal_id, event_id in rows(statement.format(wrong), ()):
        yield Finding("books", f"Seal {seal_id} does not agree with entry {event_id}, which fitted it.")
    for (months,) in rows("SELECT COUNT(*) FROM home_month", ()):
        if months not in (0, 12):
            yield Finding("books", f"The home water has {months} of 12 months.")


def _journal(rows: Rows) -> Iterator[Finding]:
    statement = (
        "SELECT COUNT(*) FROM action WHERE undone = 0 AND id > (SELECT MIN(id) FROM action WHERE undone = 1)"
    )
    for (stray,) in rows(statement, ()):
        if stray:
            yield Finding("journal", f"{stray} actions follow one that was undone; undo may not reach them.")
    known = ", ".join(f"'{table}'" for table in JOURNALLED)
    for table, count in rows(
        f"SELECT table_name, COUNT(*) FROM change WHERE table_name NOT IN ({known}) GROUP BY table_name", ()
    ):
        yield Finding("journal", f"{count} changes speak of {table}, which the record does not have.")
    statement = "SELECT COUNT(*) FROM action WHERE id NOT IN (SELECT action_id FROM change)"
    for (empty,) in rows(statement, ()):
        if empty:
            yield Finding("journal", f"{empty} actions have lost what would undo them.")


def _ledger(rows: Rows, practice: Practice) -> Iterator[Finding]:
    """The ledger against one made anew from the exposures, digit by digit."""
    records = glance.read_records(rows, retired=True)
    exposures = glance.count_exposures(rows, planned=False)
    if ledger.is_stale(rows, practice):
        if exposures:
            yield Finding(LEDGER, "The ledger was reckoned with other constants than those in force.")
        return
    kept = {tuple(row) for row in rows(f"SELECT {', '.join(_SHARE)} FROM {LedgerShareRow.__tablename__}", ())}
    anew = {row for record in records for row in ledger.reckon(rows, record, practice)}
    if kept != anew:
        wrong = len({row[:2] for row in kept ^ anew})
        yield Finding(LEDGER, f"{wrong} rows of the ledger differ from what the exposures give.")
    sums = bulk.totals_of(anew)
    statement = f"SELECT seal_id, {', '.join(CHANNELS)} FROM {SealTotalRow.__tablename__}"
    totals = {row[0]: list(row[1:]) for row in rows(statement, ())}
    expected = {s.id: sums.get(s.id or 0, [0] * len(CHANNELS)) for r in records for s in r.seals}
    raised = {row for record in records for row in raising.raised_rows(rows, record, practice)}
    standing = {(key, code) for key, code in rows("SELECT exposure_id, code FROM raised", ())}
    if raised != standing:
        yield Finding(
            LEDGER, f"{len(raised ^ standing)} rows of what exposures raised differ from the record."
        )
    if totals != expected:
        wrong = sum(totals.get(k) != expected.get(k) for k in totals.keys() | expected.keys())
        yield Finding(LEDGER, f"The sums of {wrong} seals differ from what the exposures give.")
