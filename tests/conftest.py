"""No test reads or writes what belongs to the person who runs it: home, settings, locale, time zone."""

from __future__ import annotations

import gc
import os
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from shutil import disk_usage, rmtree

import pytest
from hypothesis import settings

from tests.effort import DAILY

# Several tests run at once: the threads of the matrix library would only wait for one another.
os.environ["OPENBLAS_NUM_THREADS"] = "1"

settings.load_profile(DAILY)  # before --hypothesis-profile has its say

# Where there is room in memory, files of the tests lie there: a record waits for the disk at each change.
MEMORY, ROOM = Path("/dev/shm"), 2 * 1024**3
if MEMORY.is_dir() and disk_usage(MEMORY).free > ROOM:
    tempfile.tempdir = str(MEMORY)

FOLDERS = ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_STATE_HOME", "XDG_RUNTIME_DIR")


def pytest_collection_finish() -> None:
    """What is loaded by now stays: the collector need not go through it again, nor come so often."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(5_000, 10, 20)


@pytest.fixture(scope="session")
def surrounding(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, str]]:
    """An empty home, and an environment with UTC, the plain locale and no LOGBOOK_* in it."""
    home = tmp_path_factory.mktemp("home")
    kept = {
        name: value
        for name, value in os.environ.items()
        if not name.startswith(("LOGBOOK_", "LC_", "PYTEST_"))
    }
    own = {"HOME": str(home), "LANG": "C.UTF-8", "TZ": "UTC"}
    environment = kept | own | {name: str(home / name.lower()) for name in FOLDERS}
    _restore(environment)  # what is made once for many tests is made in it, too
    return home, environment


@pytest.fixture(autouse=True)
def a_home_of_its_own(surrounding: tuple[Path, dict[str, str]]) -> Iterator[Path]:
    """The home and the environment as they are before every test, whatever the last one did to them."""
    home, environment = surrounding
    _restore(environment)
    yield home
    _restore(environment)
    for left in home.iterdir():
        rmtree(left) if left.is_dir() and not left.is_symlink() else left.unlink()


def _restore(environment: dict[str, str]) -> None:
    now = {name: value for name, value in os.environ.items() if not name.startswith("PYTEST_")}
    if now == environment:
        return
    for name in now.keys() - environment.keys():
        del os.environ[name]
    os.environ.update(environment)
    time.tzset()
