"""A fresh record in a temporary folder, and the constants that ship with the package."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from logbook.model.practice import Practice, parse
from logbook.record.file.practice_file import shipped_path
from logbook.record.file.store import Store


@pytest.fixture(scope="session")
def practice() -> Practice:
    return parse(shipped_path().read_text(encoding="utf-8"))


@pytest.fixture(scope="session")
def other_practice() -> Practice:
    """The shipped constants with one changed, as by an owner's override."""
    text = shipped_path().read_text(encoding="utf-8")
    return parse(text, override="[constants.H_salt]\nvalue = 200\n")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "record.logbook"


@pytest.fixture
def store(path: Path, empty_record: Path) -> Iterator[Store]:
    shutil.copy2(empty_record, path)
    with Store.open(path) as opened:
        yield opened


@pytest.fixture(scope="session")
def empty_record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An empty record to make copies of: a copy costs less than a record made anew."""
    path = tmp_path_factory.mktemp("empty") / "record.logbook"
    Store.open(path, create=True).close()
    return path
