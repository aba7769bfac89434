"""Files that are written where a person said: private, whole or not at all, never over the record."""

from __future__ import annotations

from pathlib import Path

from logbook.errors import RecordTrouble, Refused
from logbook.record.file import files
from logbook.record.file.places import typed_path


def in_a_folder(text: str) -> Path:
    """The path that was typed; refused when its folder is not there, for a slip would make a new one."""
    path = typed_path(text)
    for folder in reversed(path.absolute().parents):
        try:
            if folder.is_dir():
                continue
            what = f"{folder} is not a folder" if folder.exists() else f"There is no folder {folder}"
        except OSError:  # it may not be looked at: what is wrong is told when it is written to
            break
        raise Refused(f"{what}; make it first, or name another place.", where=str(path))
    return path


def is_there(path: Path) -> bool:
    """True for anything that stands at the path; what may not be looked at counts as nothing."""
    try:
        return path.exists()
    except (OSError, ValueError):
        return False


def spare_record(path: Path, location: Path | str) -> None:
    """Refuses a path at which the record itself stands, whatever was asked for; a database stands at none."""
    if isinstance(location, Path) and is_there(location) and is_there(path) and path.samefile(location):
        raise Refused(f"{path} is the record itself; name another place.", where=str(path))


def write_private(path: Path, text: str, *, replace: bool = False) -> None:
    """The text in a file that only its owner can read, whole or not at all.

    A file that is there already stays, and Refused is raised, unless `replace` is asked for.
    """
    try:
        draft = files.draft_beside(path)
    except OSError as error:
        raise _trouble(path, error) from None
    try:
        draft.write_text(text, encoding="utf-8", newline="")
        if replace:
            files.place_over(draft, path)
        elif not files.place_new(draft, path):
            raise Refused(f"There is already a file at {path}; it was left as it is.", where=str(path))
    except OSError as error:
        raise _trouble(path, error) from None
    finally:
        draft.unlink(missing_ok=True)


def _trouble(path: Path, error: OSError) -> RecordTrouble:
    return RecordTrouble(f"{path} could not be written: {error.strerror}.", where=str(path))
