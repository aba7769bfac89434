"""Copies of the record that are verified before they count, and bringing one back."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from logbook.errors import LogbookError, RecordTrouble, Refused
from logbook.record.file import files, soundness
from logbook.record.file.store import Store
from logbook.record.file.trouble import OF_SQLITE, explain, is_busy, without_advice
from logbook.record.schema import revision

UNTOUCHED = "Your record was left alone."


def backup(record: Store | Path, target: Path, *, overwrite: bool = False) -> None:
    """Writes a verified copy of the record to `target`, whoever writes meanwhile.

    Raises Refused when `target` is taken, unless told to overwrite it, and when the record itself is damaged.
    """
    path = _path_of(record)
    found = revision.check(path)
    if _is_same(path, target):
        raise Refused(f"{target} is the record itself; name another file.", where=str(target))
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        draft = files.draft_beside(target)
    except OSError as error:
        raise RecordTrouble(
            f"No backup could be made at {target}: {error.strerror}.", where=str(target)
        ) from None
    try:
        _copy(path, draft)
        with _trial(draft, found) as trial:
            fault = _fault(trial, found)
        if fault:
            raise Refused(f"The record {path} is damaged ({fault}); no backup was made.", where=str(path))
        if overwrite:
            files.place_over(draft, target)
        elif not files.place_new(draft, target):
            raise Refused(f"There is already a file at {target}; it was left as it is.", where=str(target))
    except OF_SQLITE as error:
        raise explain(error, target) from error
    finally:
        files.remove_draft(draft)


def restore(path: Path, source: Path) -> Path | None:
    """Puts the record in `source` at `path`; returns where the replaced one is kept, if there was one.

    A link at `path` stays one: what it leads to is replaced.

    Raises Refused for a source that is empty, foreign, damaged, cut short or from a newer version; the record
    at `path` is then untouched.
    """
    if _is_same(path, source):
        raise Refused(f"{source} is the record itself; name a backup of it.", where=str(source))
    path = _end_of(path)
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        draft = files.draft_beside(path)
    except OSError as error:
        raise RecordTrouble(
            f"Nothing can be restored to {path}: {error.strerror}.", where=str(path)
        ) from None
    try:
        _verified_copy(source, draft)
        with _nobody_writes(path):
            kept = _keep_aside(path) if path.exists() else None
            files.place_over(draft, path)
        return kept
    finally:
        files.remove_draft(draft)


def _verified_copy(source: Path, draft: Path) -> None:
    """The source, at the newest revision, in `draft`, or Refused."""
    try:
        found = revision.check(source)
        _copy(source, draft)
        if fault := _fault(draft, found):
            raise Refused(f"{source} is damaged ({fault}).", where=str(source))
    except (LogbookError, *OF_SQLITE) as error:
        told = error if isinstance(error, LogbookError) else explain(error, source)
        raise Refused(f"{without_advice(told.message)} {UNTOUCHED}", where=str(source)) from error


@contextmanager
def _nobody_writes(path: Path) -> Iterator[None]:
    """Holds the record still while another takes its place; one that is no database needs no holding."""
    if not path.exists():
        yield
        return
    connection = None
    try:
        revision.refuse_by_looking(path)
        connection = revision.connect(path)
        connection.execute("PRAGMA journal_mode = DELETE")  # no log may stay behind beside the new file
        connection.execute("BEGIN EXCLUSIVE")
    except (LogbookError, *OF_SQLITE) as error:
        if is_busy(error):
            raise explain(error, path) from error
    try:
        yield
    finally:
        if connection is not None:
            connection.close()


def _keep_aside(path: Path) -> Path:
    """A second name for the record that is about to be replaced, so that at no moment there is none."""
    stamp = datetime.now().strftime("%Y%m%d-%H%M%S")
    number = 0
    while True:
        kept = path.with_name(f"{path.name}.replaced-{stamp}{f'-{number}' if number else ''}")
        if files.place_new(path, kept):
            break
        number += 1
    # What a crash left half-done belongs to the old file; beside the new one it would spoil it.
    leftover = files.journal_of(path)
    if leftover.exists():
        leftover.replace(files.journal_of(kept))
    return kept


def _copy(path: Path, draft: Path) -> None:
    source = revision.connect(path, read_only=True)
    try:
        files.copy_record(source, draft)
    finally:
        source.close()


@contextmanager
def _trial(draft: Path, found: str) -> Iterator[Path]:
    """What may be brought up to date to see whether it can be: the copy stays at the revision it has."""
    if found == revision.HEAD:
        yield draft
        return
    trial = files.draft_beside(draft)
    try:
        _copy(draft, trial)
        yield trial
    finally:
        files.remove_draft(trial)


def _fault(copy: Path, found: str) -> str | None:
    """The first thing wrong inside a copy, which is brought to the newest revision for it."""
    if found != revision.HEAD:
        from logbook.record.file.upgrade import bring_up, reason_of

        if fault := _first(copy, soundness.file_faults):
            return fault
        try:
            bring_up(copy)
        except RecordTrouble as error:
            return reason_of(error.__cause__)
    return _first(copy, soundness.faults_of)


def _first(draft: Path, look: Callable[[sqlite3.Connection], list[soundness.Fault]]) -> str | None:
    copy = revision.connect(draft, read_only=True)
    try:
        return next((fault.words for fault in look(copy)), None)
    finally:
        copy.close()


def _path_of(record: Store | Path) -> Path:
    path = record.path if isinstance(record, Store) else record
    if path is None:
        raise Refused("This record is in a shared database: back it up with that database's own tools.")
    return path


def _end_of(path: Path) -> Path:
    """The file that a link leads to, or would; the path itself where it is none."""
    try:
        return path.resolve() if path.is_symlink() else path
    except (OSError, RuntimeError):
        sentence = f"Nothing can be restored to {path}: it is a link that leads nowhere."
        raise RecordTrouble(sentence, where=str(path)) from None


def _is_same(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except OSError:
        return one.absolute() == other.absolute()
