"""Record → JSON → record → JSON: the same, whatever the record holds; and it can be taken back whole."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings

from logbook.files.json.reading import read_document
from logbook.files.json.writing import record_document
from logbook.model.practice import Practice, parse
from logbook.record.file.practice_file import shipped_path
from logbook.record.file.store import Store
from logbook.record.ledger import ledger
from logbook.record.writing import undo
from logbook.record.writing.merge import bring_in
from tests.effort import tries
from tests.files import valid
from tests.files.valid import TODAY, Story
from tests.record.making import books

PRACTICE = parse(shipped_path().read_text(encoding="utf-8"))
Told = tuple[Any, list[Story]]


@contextmanager
def two_records(blank: Path) -> Iterator[tuple[Store, Store]]:
    """Two empty records."""
    with TemporaryDirectory() as folder:
        paths = [Path(folder) / "one.logbook", Path(folder) / "other.logbook"]
        for path in paths:
            shutil.copy2(blank, path)
        with Store.open(paths[0]) as one, Store.open(paths[1]) as other:
            yield one, other


@pytest.fixture(scope="session")
def blank(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("blank") / "blank.logbook"
    Store.open(path, create=True).close()
    return path


def exported(store: Store) -> dict[str, Any]:
    with store.reading() as rows:
        return record_document(rows)


def as_file(document: dict[str, Any]) -> bytes:
    return json.dumps(document, allow_nan=False).encode()


def goes_round(blank: Path, told: Told, practice: Practice) -> None:
    home, stories = told
    with two_records(blank) as (one, other):
        valid.write(one, home, stories, practice)
        document = exported(one)
        before = exported(other)
        file = read_document(as_file(document), "backup.json", practice, TODAY)
        merged = bring_in(other, file, practice)
        assert exported(other) == document
        assert merged.whole
        assert books(other) == books(one)
        kept = books(other)
        assert bring_in(other, file, practice).nothing or not stories
        assert exported(other) == document
        assert undo.undo(other, practice) == "import backup.json"
        assert exported(other) == before
        undo.redo(other, practice)
        assert exported(other) == document
        assert books(other) == kept
        ledger.refresh_all(other, practice)
        assert books(other) == kept


@settings(max_examples=tries(40), suppress_health_check=list(HealthCheck))
@given(valid.records(PRACTICE))
def test_a_record_goes_through_json_and_comes_back_equal(blank: Path, told: Told) -> None:
    goes_round(blank, told, PRACTICE)


@pytest.mark.release
@settings(max_examples=10_000, suppress_health_check=list(HealthCheck), phases=[Phase.generate])
@given(valid.records(PRACTICE))
def test_ten_thousand_records_go_through_json_and_come_back_equal(blank: Path, told: Told) -> None:
    goes_round(blank, told, PRACTICE)
