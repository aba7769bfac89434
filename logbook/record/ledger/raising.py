"""What exposures raised, kept beside the ledger, so that it stands at once wherever a watch is shown.

Kept is the first exposure of each code since the last fact that is no exposure. One more exposure is held
against the few facts of its watch. Only where it raises something before others, or the facts themselves
change, is the watch gone through again, with the exposures that can raise anything at all.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from sqlmodel import Session

from logbook.model import marks
from logbook.model.judge import history, proofs
from logbook.model.practice import Practice
from logbook.model.values import Exposure, Raised, WatchRecord
from logbook.record.reading import glance
from logbook.record.reading.rows import Rows, values
from logbook.record.reading.sql import rows_of, run, run_many
from logbook.record.schema import shapes
from logbook.record.writing.journal import Change, PlainRow

# Columns of a watch by which it is judged what an exposure raises.
_WATCH = ("mark", "marked_pa", "new_on", "added_on", "stated_use", "pushers_wet")
# More exposures of one watch than this are not tried one by one.
_FEW = 50

ADD = "INSERT INTO raised (exposure_id, code) VALUES (?, ?)"
RaisedRow = tuple[int, str]  # exposure id, code


def settle(session: Session, changes: Sequence[Change], practice: Practice) -> None:
    """Brings what exposures raised up to date with changed rows."""
    rows = rows_of(session.connection())
    anew, added = _touched(changes)
    gone = [(c.key,) for c in changes if c.table == "exposure" and c.before]
    raising = {key for (key,) in gone if list(rows("SELECT 1 FROM raised WHERE exposure_id = ?", (key,)))}
    run_many(session, "DELETE FROM raised WHERE exposure_id = ?", [(key,) for key in raising])
    anew |= {
        row["watch_id"] for c in changes if c.table == "exposure" and c.key in raising for row in c.before
    }
    for watch_id, ids in added.items():
        if watch_id not in anew and not _settled(session, watch_id, ids, practice):
            anew.add(watch_id)
    for watch_id in sorted(anew):
        refresh(session, watch_id, practice)


def is_touched(changes: Sequence[Change]) -> bool:
    """True where these changes can alter what is raised."""
    anew, added = _touched(changes)
    return bool(anew or added) or any(c.table == "exposure" and _charged(c.before) for c in changes)


def refresh(session: Session, watch_id: int, practice: Practice) -> None:
    """Works out anew what the exposures of one watch raise."""
    rows = rows_of(session.connection())
    of_watch = "(SELECT id FROM exposure WHERE watch_id = ?)"
    run(session, f"DELETE FROM raised WHERE exposure_id IN {of_watch}", (watch_id,))
    for record in glance.read_records(rows, watch_id=watch_id, retired=True):
        run_many(session, ADD, raised_rows(rows, record, practice))


def raised_rows(rows: Rows, record: WatchRecord, practice: Practice) -> list[RaisedRow]:
    """What the exposures of a watch raise, worked out from nothing."""
    found: list[Raised] = history.raised_by_exposures(record, _candidates(rows, record, practice), practice)
    return [(each.exposure.id or 0, each.code) for each in found]


def _touched(changes: Sequence[Change]) -> tuple[set[int], dict[int, list[int]]]:
    """Watches whose facts changed, and by watch the exposures that are new or were amended."""
    anew: set[int] = set()
    added: dict[int, list[int]] = defaultdict(list)
    for change in changes:
        if change.table in ("event", "seal", "habit", "watch_interval"):
            anew |= {row["watch_id"] for row in (*change.before, *change.now)}
        elif change.table == "watch" and change.before and change.now:
            if any(change.before[0][column] != change.now[0][column] for column in _WATCH):
                anew.add(change.key)
        elif change.table == "exposure" and _charged(change.now):
            added[change.now[0]["watch_id"]].append(change.key)
    return anew, added


def _charged(found: Sequence[PlainRow]) -> bool:
    return any(not row["planned"] for row in found)


def _settled(session: Session, watch_id: int, ids: Sequence[int], practice: Practice) -> bool:
    """True where these new exposures change nothing that others raise; keeps what they raise themselves."""
    if len(ids) > _FEW:
        return False
    rows = rows_of(session.connection())
    (record,) = glance.read_records(rows, watch_id=watch_id, retired=True)
    for one in glance.read_exposures_of(rows, ids):
        codes = history.new_by(record, one, practice)
        if codes and (len(ids) > 1 or not _is_last(rows, record, one, practice)):
            return False
        run_many(session, ADD, [(one.id, code) for code in codes])
    return True


def _is_last(rows: Rows, record: WatchRecord, one: Exposure, practice: Practice) -> bool:
    """True where nothing that happened to its watch is of the day of an exposure or later."""
    later = "SELECT 1 FROM exposure WHERE watch_id = ? AND planned = 0 AND starts_on >= ? AND id <> ? LIMIT 1"
    if list(rows(later, (record.watch.id, one.starts_on.isoformat(), one.id))):
        return False
    return all(fact.on < one.starts_on for fact in history.facts_of(record, practice))


def _candidates(rows: Rows, record: WatchRecord, practice: Practice) -> list[Exposure]:
    """The exposures of a watch that may raise something, those that certainly do not left out."""
    conditions, params = zip(*_conditions(record, practice), strict=True)
    rest = f"WHERE watch_id = ? AND planned = 0 AND ({' OR '.join(conditions)})"
    asked = [record.watch.id, *(each for group in params for each in group)]
    return values(rows, shapes.EXPOSURE, rest, asked)


def _conditions(record: WatchRecord, practice: Practice) -> Iterator[tuple[str, tuple[object, ...]]]:
    """Conditions of which one must hold for an exposure to raise anything."""
    yield "crown_under > 0 OR pusher_under > 0 OR crown_open = 1 OR pushers_open = 1 OR jump_mm > 0", ()
    watch = record.watch
    limits = [proof.counts_pa(practice) for proof in _dated_proofs(record) if proof.medium != "vacuum"]
    if watch.mark != "unknown":
        limits.append(marks.mark_limit_pa(watch, practice))
        activities = practice.activities.values()
        names = [a.name for a in activities if marks.allows(watch, a.mark_class, practice) != "no"]
        yield f"activity NOT IN ({', '.join('?' * len(names))})", tuple(names)
        # Water that goes deeper than its activity usually does is judged by another class.
        splashes = [a.name for a in activities if a.mark_class == marks.SPLASH]
        yield (
            f"activity IN ({', '.join('?' * len(splashes))}) AND depth_mm > ?",
            (*splashes, round(practice["splash_depth_m"] * 1000)),
        )
        if marks.allows(watch, "free dive", practice) == "no":
            yield "depth_mm > ?", (round(practice["swim_depth_m"] * 1000),)
    if limits:
        yield "gauge_pa > ?", (round(practice["over_share"] * min(limits)),)


def _dated_proofs(record: WatchRecord) -> list[proofs.Proof]:
    passes = (proofs.proof_of(event) for event in record.events)
    return [p for p in (proofs.makers_proof(record.watch), *passes) if p is not None]
