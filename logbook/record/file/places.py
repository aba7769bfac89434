"""Where the record, the owner's own constants, the choice of a notifier and of colours are kept."""

from __future__ import annotations

import os
from pathlib import Path

from logbook.errors import Refused
from logbook.model.text import printable

APP = "seal-logbook"
FILE_NAME = "record.logbook"


def default_path() -> Path:
    """`LOGBOOK_FILE`, else a file in the platform's data folder."""
    given = os.environ.get("LOGBOOK_FILE")
    if given:
        return typed_path(given)
    return _data_folder() / FILE_NAME


def refuse_missing_folder(path: Path) -> None:
    """Raises Refused where a new record would begin in a folder that does not exist: mostly a slip.

    The platform's data folder is ours to make.
    """
    folder = path.parent
    if not folder.is_dir() and folder != _data_folder():
        shown = printable(str(folder))
        raise Refused(
            f"There is no folder {shown}, so no record was begun there: create the folder first, or correct "
            "the path.",
            where=str(path),
        )


def default_location() -> Path | str:
    """`LOGBOOK_FILE`, else the database of `LOGBOOK_URL`, else the file in the platform's data folder."""
    if not os.environ.get("LOGBOOK_FILE") and (url := os.environ.get("LOGBOOK_URL")):
        return url
    return default_path()


def override_is_named() -> bool:
    """True when the owner named the file, so that it must be there."""
    return bool(os.environ.get("LOGBOOK_PRACTICE"))


def typed_path(text: str) -> Path:
    """The path that a person wrote; `~` is their home, `~name` that of a user there is."""
    path = Path(text)
    try:
        return path.expanduser()
    except RuntimeError:  # there is no such user: then it is a name like any other
        return path


def told_path(path: Path) -> str:
    """A path as a person reads it: what lies in their home begins with `~`."""
    home = Path.home()
    return str(Path("~") / path.relative_to(home)) if path.is_relative_to(home) else str(path)


def override_path() -> Path:
    """The owner's constants: `LOGBOOK_PRACTICE`, else a file in the platform's configuration folder."""
    given = os.environ.get("LOGBOOK_PRACTICE")
    if given:
        return typed_path(given)
    return _config_folder() / "practice.toml"


def nudge_path() -> Path:
    """What the owner chose to be reminded by: a file in the platform's configuration folder."""
    return _config_folder() / "nudge.toml"


def looks_path() -> Path:
    """How the rooms look on this machine: a file in the platform's configuration folder."""
    return _config_folder() / "looks.toml"


def _data_folder() -> Path:
    from platformdirs import user_data_path

    return user_data_path(APP, appauthor=False)


def _config_folder() -> Path:
    from platformdirs import user_config_path

    return user_config_path(APP, appauthor=False)
