"""No test reads or writes what belongs to the person who runs it: home, settings, locale, time zone."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

# Without a time limit for one example, since the machine may be busy.
settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")

FOLDERS = ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_STATE_HOME", "XDG_RUNTIME_DIR")


@pytest.fixture(autouse=True)
def a_home_of_its_own(
    tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Path]:
    """An empty home in a temporary folder, UTC, the plain locale and no LOGBOOK_* in the environment."""
    home = tmp_path_factory.mktemp("home")
    monkeypatch.setenv("HOME", str(home))
    for name in FOLDERS:
        monkeypatch.setenv(name, str(home / name.lower()))
    for name in [name for name in os.environ if name.startswith(("LOGBOOK_", "LC_"))]:
        monkeypatch.delenv(name)
    monkeypatch.setenv("LANG", "C.UTF-8")
    monkeypatch.setenv("TZ", "UTC")
    time.tzset()
    yield home
    monkeypatch.undo()
    time.tzset()
