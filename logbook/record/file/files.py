"""Files that appear whole or not at all, for their owner alone, and are still there after a power cut."""

from __future__ import annotations

import os
import sqlite3
import tempfile
from pathlib import Path


def draft_beside(path: Path) -> Path:
    """An empty private file in the same folder, so that it can be put at `path` in one step."""
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".new", dir=path.parent)
    os.close(handle)
    return Path(name)


def place_new(draft: Path, path: Path) -> bool:
    """Puts a finished file at a path that is free; false, and nothing changed, when it is taken."""
    sync(draft)
    try:
        path.hardlink_to(draft)
    except FileExistsError:
        return False
    except OSError:  # a file system without links
        if path.exists():
            return False
        draft.rename(path)
    sync(path.parent)
    return True


def place_over(draft: Path, path: Path) -> None:
    """Puts a finished file at a path, in place of what is there."""
    sync(draft)
    draft.replace(path)
    sync(path.parent)


def sync(path: Path) -> None:
    """Makes a file, or the entries of a folder, durable, where the system can."""
    try:
        handle = os.open(path, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(handle)
    except OSError:
        pass
    finally:
        os.close(handle)


def remove_draft(draft: Path) -> None:
    for name in (draft, journal_of(draft)):
        name.unlink(missing_ok=True)


def journal_of(path: Path) -> Path:
    """Where SQLite keeps what a transaction has begun to change; it belongs to the file beside it."""
    return path.with_name(f"{path.name}-journal")


def copy_record(source: sqlite3.Connection, target: Path) -> None:
    """One state of an open record into an empty file, by the online backup, whoever writes meanwhile."""
    copy = sqlite3.connect(target, isolation_level=None)
    try:
        source.backup(copy)
    finally:
        copy.close()


def identity(path: Path) -> tuple[int, ...] | None:
    """What tells one file from another put at the same path; None: there is none."""
    found = stamp(path)
    return found and found[:2]


def stamp(path: Path) -> tuple[int, ...] | None:
    """What tells a file from another one and, its size third, from what was written into it; None: gone."""
    try:
        status = path.stat()
    except OSError:
        return None
    return status.st_dev, status.st_ino, status.st_size, status.st_mtime_ns
