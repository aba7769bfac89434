"""Whether the owner of an older record was told which watches read otherwise."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.schema import revision
from logbook.record.writing.rules_told import rules_told
from tests.record.making import content

FIXTURES = Path(__file__).parents[1] / "fixtures"


def test_of_a_new_record_nothing_is_to_be_told(store: Store) -> None:
    assert glance.rules_are_told(store.rows)


@pytest.mark.parametrize("number", revision.REVISIONS[:-1])
def test_of_an_older_record_it_is_to_be_told_until_it_was(number: str, path: Path) -> None:
    shutil.copyfile(FIXTURES / f"record-{number}.logbook", path)
    path.chmod(0o600)
    with glance.open_rows(path) as rows:
        assert not glance.rules_are_told(rows)
    with Store.open(path) as store:
        before, steps = content(store), store.rows("SELECT * FROM action")
        assert not glance.rules_are_told(store.rows)
        rules_told(store)
        assert content(store) == before
        assert store.rows("SELECT * FROM action") == steps  # no step of undo
    with glance.open_rows(path) as rows:
        assert glance.rules_are_told(rows)
