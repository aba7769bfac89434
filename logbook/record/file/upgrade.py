"""Bringing a record of an older version up to date, after a backup; the one place where alembic is loaded."""

from __future__ import annotations

from datetime import datetime
from errno import EACCES, EPERM, EROFS
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.script import Script, ScriptDirectory
from sqlalchemy import Connection, create_engine

from logbook.errors import LogbookError, RecordTrouble
from logbook.record.file import files, soundness
from logbook.record.file.engine import file_engine, writing_engine
from logbook.record.file.trouble import OF_SQLITE, explain
from logbook.record.schema import revision

MIGRATIONS = Path(__file__).parents[1] / "schema" / "migrations"


def upgrade(path: Path, *, more_versions: Path | None = None) -> Path:
    """Brings the record at `path` to the newest revision, all steps in one transaction; returns the backup.

    The backup is made first and stays beside the record. Raises RecordTrouble when a step fails; the record
    is then as it was. `more_versions` is a folder of further revisions.
    """
    kept = backup_beside(path, f"before-{revision.HEAD}")
    try:
        bring_up(path, more_versions=more_versions)
    except LogbookError as error:
        raise RecordTrouble(f"{error.message} A backup is at {kept}.", where=str(path)) from error
    return kept


def backup_beside(path: Path, word: str) -> Path:
    """A verified copy of the record in the same folder, its name telling why and when."""
    stamp = datetime.now().strftime("%Y%m%d-%H%M%S")
    try:
        draft = files.draft_beside(path)
    except OSError as error:
        raise _not_there(path, error) from None
    try:
        source = revision.connect(path)
        try:
            files.copy_record(source, draft)
        finally:
            source.close()
        _refuse_faults(draft, path)
        number = 0
        while True:
            kept = path.with_name(f"{path.name}.{word}-{stamp}{f'-{number}' if number else ''}")
            if files.place_new(draft, kept):
                return kept
            number += 1
    except OF_SQLITE as error:
        raise explain(error, path) from error
    finally:
        files.remove_draft(draft)


def _not_there(path: Path, error: OSError) -> RecordTrouble:
    """A folder in which the backup that comes first cannot be made."""
    why = "is read-only" if error.errno in (EACCES, EPERM, EROFS) else f"does not take it ({error.strerror})"
    sentence = (
        f"The record {path} is of an older version, and is brought up to date after a backup beside it; but "
        f"the folder {path.parent} {why}. Nothing was changed; make it writable, or open a copy elsewhere."
    )
    return RecordTrouble(sentence, where=str(path))


def _refuse_faults(draft: Path, path: Path) -> None:
    copy = revision.connect(draft, read_only=True)
    try:
        faults = soundness.file_faults(copy)
    finally:
        copy.close()
    if faults:
        sentence = f"The record {path} is damaged ({faults[0].words}), so it was not brought up to date."
        raise RecordTrouble(sentence, where=str(path))


def bring_up(path: Path, *, more_versions: Path | None = None) -> None:
    """The steps alone, without a backup: for a file that is itself a copy."""
    engine = file_engine(path, foreign_keys=False)  # rows may refer to nothing until the last step is done
    try:
        with writing_engine(engine).begin() as connection:
            bring_to_head(connection, more_versions)
            broken = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
            if broken:
                raise RecordTrouble(f"a row of {broken[0][0]} would refer to nothing")
    except Exception as error:  # a step meets whatever stands in an older record
        if _is_done(path):  # the disk complained when all was written
            return
        sentence = f"The record {path} could not be brought up to date ({reason_of(error)})"
        raise RecordTrouble(f"{sentence}; it was left as it was.", where=str(path)) from error
    finally:
        engine.dispose()


def _is_done(path: Path) -> bool:
    try:
        return revision.check(path) == revision.HEAD
    except LogbookError:
        return False


def reason_of(error: BaseException | None) -> str:
    """What the database itself said."""
    return str(getattr(error, "orig", None) or error)


def upgrade_database(url: str) -> None:
    """As `bring_up`, on a database that is no file; whoever runs it makes the backup."""
    engine = create_engine(url)
    with engine.begin() as connection:
        bring_to_head(connection)
    engine.dispose()


def known_revisions() -> list[Script]:
    """The revisions that the package holds, oldest first."""
    return list(ScriptDirectory.from_config(_config(None)).walk_revisions())[::-1]


def bring_to_head(connection: Connection, more_versions: Path | None = None) -> None:
    """A database, also an empty one, through every revision that it has not been through."""
    config = _config(more_versions)
    config.attributes["connection"] = connection
    command.upgrade(config, "head")


def _config(more_versions: Path | None) -> Config:
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    folders = [MIGRATIONS / "versions", *([more_versions] if more_versions else [])]
    config.set_main_option("path_separator", "newline")
    config.set_main_option("version_locations", "\n".join(str(f) for f in folders).replace("%", "%%"))
    return config
