"""A disk that fills up at any point of a write loses nothing, and the person reads one sentence."""

from __future__ import annotations

import resource
import sqlite3
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest
from sqlalchemy.exc import OperationalError
from sqlmodel import Session

from logbook.errors import RecordTrouble
from logbook.model.practice import Practice
from logbook.model.values import ProfilePoint
from logbook.record.file import doctor
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.writing import exposures, watches
from tests.effort import tries
from tests.record import children
from tests.record.making import a_dive, a_watch, folder_of, its_seals

SIZES = tries(120)
PROFILE = tuple(ProfilePoint(10.0 * n, float(n % 21)) for n in range(300))


def set_limit(size: int) -> None:
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, resource.getrlimit(resource.RLIMIT_FSIZE)[1]))


def writing_at_every_size(path: Path, practice: Practice) -> Callable[[Callable[[str], None]], None]:
    """A file may grow to each of many sizes, from nothing to more than a write needs; one write at each."""

    def work(say: Callable[[str], None]) -> None:
        size = path.stat().st_size
        for n in range(SIZES):
            set_limit((size + 80_000) * n // SIZES)
            try:
                dives = [a_dive(1, date(2024, 2, 1) + timedelta(days=n), profile=PROFILE) for _ in range(3)]
                with Store.open(path) as store:
                    ids = exposures.add(store, dives, practice)
                outcome = f"written {' '.join(map(str, ids))}"
            except RecordTrouble as error:
                outcome = f"refused {error.message}"
            set_limit(resource.RLIM_INFINITY)
            with glance.open_rows(path) as rows:
                there = [str(e.id) for e in glance.read_exposures(rows)]
            findings = [finding.sentence for finding in doctor.examine(path, practice)]
            say(f"{outcome}|{' '.join(there)}|{findings}")

    return work


def test_a_full_disk_loses_nothing(path: Path, practice: Practice) -> None:
    with Store.open(path, create=True) as store:
        watches.add(store, a_watch(), its_seals(), [], practice)
        exposures.add(store, [a_dive(1)] * 40, practice)
    expected = [str(n) for n in range(1, 41)]
    outcomes = children.start(writing_at_every_size(path, practice)).wait()
    assert len(outcomes) == SIZES
    verbs = set()
    for line in outcomes:
        outcome, there, findings = line.split("|")
        verb, _, rest = outcome.partition(" ")
        verbs.add(verb)
        if verb == "written":
            expected = sorted([*expected, *rest.split()], key=int)
        else:
            assert "disk" in rest, rest
        assert sorted(there.split(), key=int) == expected
        assert findings == "[]"
    assert verbs == {"written", "refused"}
    assert folder_of(path) == ["record.logbook"]


def test_no_record_is_made_on_a_full_disk(path: Path) -> None:
    def work(say: Callable[[str], None]) -> None:
        for size in range(0, 120_000, 8192):
            set_limit(size)
            try:
                Store.open(path, create=True).close()
            except RecordTrouble as error:
                say(f"{folder_of(path)} {error.message}")

    outcomes = children.start(work).wait()
    assert len(outcomes) == len(range(0, 120_000, 8192))
    assert all(line.startswith("[] The record") and "disk" in line for line in outcomes), outcomes


def failing_sync(*, written: bool) -> Callable[[Session], None]:
    """The end of a transaction on a disk that fails after, or before, the change is there."""
    commit = Session.commit

    def fail(session: Session) -> None:
        if written:
            commit(session)
        else:
            session.rollback()
        failed = sqlite3.OperationalError("disk I/O error")
        failed.sqlite_errorname = "SQLITE_IOERR_DIR_FSYNC"
        raise OperationalError("COMMIT", None, failed)

    return fail


def test_what_was_committed_is_said_to_be_on_record(
    store: Store, practice: Practice, monkeypatch: pytest.MonkeyPatch
) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    for written, words in ((True, "It is on record in .*disk I/O error"), (False, "nothing was changed")):
        before = glance.count_exposures(store.rows)
        store.wrote = False
        with monkeypatch.context() as patched:
            patched.setattr(Session, "commit", failing_sync(written=written))
            with pytest.raises(RecordTrouble, match=words):
                exposures.add(store, [a_dive(1)], practice)
        assert glance.count_exposures(store.rows) == before + written
        assert store.wrote is written


def test_whether_it_is_on_record_is_not_guessed(
    store: Store, path: Path, practice: Practice, monkeypatch: pytest.MonkeyPatch
) -> None:
    fail = failing_sync(written=True)

    def gone(session: Session) -> None:
        try:
            fail(session)
        finally:
            path.unlink()

    monkeypatch.setattr(Session, "commit", gone)
    with pytest.raises(RecordTrouble, match="Whether it is on record is not known"):
        watches.add(store, a_watch(), its_seals(), [], practice)
