"""Where the record and the owner's own constants are kept."""

from __future__ import annotations

import os
from pathlib import Path

APP = "seal-logbook"
FILE_NAME = "record.logbook"


def default_path() -> Path:
    """`LOGBOOK_FILE`, else a file in the platform's data folder."""
    given = os.environ.get("LOGBOOK_FILE")
    if given:
        return Path(given).expanduser()
    from platformdirs import user_data_path

    return user_data_path(APP, appauthor=False) / FILE_NAME


def default_location() -> Path | str:
    """`LOGBOOK_FILE`, else the database of `LOGBOOK_URL`, else the file in the platform's data folder."""
    if not os.environ.get("LOGBOOK_FILE") and (url := os.environ.get("LOGBOOK_URL")):
        return url
    return default_path()


def override_is_named() -> bool:
    """True when the owner named the file, so that it must be there."""
    return bool(os.environ.get("LOGBOOK_PRACTICE"))


def override_path() -> Path:
    """The owner's constants: `LOGBOOK_PRACTICE`, else a file in the platform's configuration folder."""
    given = os.environ.get("LOGBOOK_PRACTICE")
    if given:
        return Path(given).expanduser()
    from platformdirs import user_config_path

    return user_config_path(APP, appauthor=False) / "practice.toml"
