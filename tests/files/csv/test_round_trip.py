"""Exposures → CSV → exposures, and watches likewise: equal, whatever people wrote into names and notes."""

from __future__ import annotations

import csv
import io
import shutil
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, Phase, given, settings

from logbook.files.csv.guard import FORMULA_STARTS, guarded, unguarded
from logbook.files.csv.reading import kind_of_table, read_exposures
from logbook.files.csv.watches import read_watches
from logbook.files.csv.writing import write_table
from logbook.model import values as v
from logbook.model.practice import parse
from logbook.model.wear.charge import current_seals
from logbook.record.file.practice_file import shipped_path
from logbook.record.file.store import Store
from logbook.record.reading import glance
from tests.effort import tries
from tests.files import valid
from tests.files.valid import TODAY, Story
from tests.hostile import HOSTILE

PRACTICE = parse(shipped_path().read_text(encoding="utf-8"))


@pytest.fixture(scope="session")
def blank(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("blank") / "blank.logbook"
    Store.open(path, create=True).close()
    return path


def goes_round(blank: Path, told: tuple[v.Settings, list[Story]], folder: Path) -> None:
    path = folder / "one.logbook"
    shutil.copy2(blank, path)
    with Store.open(path) as store:
        valid.write(store, *told, PRACTICE)
        with store.reading() as rows:
            wet = write_table(rows, "exposures")
            shelf = write_table(rows, "watches")
            kept = glance.read_exposures(rows)
            records = glance.read_records(rows, retired=True)
    watches = [record.watch for record in records]
    assert (wet.rows, shelf.rows) == (len(kept), len(watches))
    if kept:
        assert kind_of_table(wet.text, "wet.csv") == "exposures"
        found = read_exposures(
            wet.text, "wet.csv", practice=PRACTICE, settings=told[0], today=TODAY, watches=watches
        )
        assert [one.exposure for one in found] == [replace(one, id=None) for one in kept]
        assert len({(one.exposure.watch_id, one.origin) for one in found}) == len(found)
    if watches:
        assert kind_of_table(shelf.text, "shelf.csv") == "watches"
        again = read_watches(shelf.text, "shelf.csv", practice=PRACTICE, today=TODAY)
        assert [new.watch for new in again] == [replace(w, id=None, intervals_months={}) for w in watches]
        for new, record in zip(again, records, strict=True):
            assert sorted(map(fitted, new.seals)) == sorted(map(fitted, current_seals(record.seals)))


def fitted(seal: v.Seal) -> tuple[object, ...]:
    return seal.position, seal.material, seal.fitted_earliest, seal.fitted_latest


@settings(max_examples=tries(40), suppress_health_check=list(HealthCheck))
@given(valid.records(PRACTICE))
def test_tables_come_back_equal(blank: Path, told: tuple[v.Settings, list[Story]]) -> None:
    with TemporaryDirectory() as folder:
        goes_round(blank, told, Path(folder))


@pytest.mark.release
@settings(max_examples=10_000, suppress_health_check=list(HealthCheck), phases=[Phase.generate])
@given(valid.records(PRACTICE))
def test_ten_thousand_tables_come_back_equal(blank: Path, told: tuple[v.Settings, list[Story]]) -> None:
    with TemporaryDirectory() as folder:
        goes_round(blank, told, Path(folder))


def test_there_are_more_than_sixty_hostile_texts() -> None:
    assert len(set(HOSTILE)) >= 60


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_a_guarded_text_is_no_formula_and_comes_back_from_the_cell(text: str) -> None:
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerow(["first", guarded(text), "last"])
    (cells,) = csv.reader(io.StringIO(out.getvalue(), newline=""), strict=True)
    assert not cells[1].startswith(FORMULA_STARTS)
    assert unguarded(cells[1]) == text


def test_an_apostrophe_of_other_tables_stays_before_a_word() -> None:
    assert unguarded("'tis the season") == "'tis the season"
    assert unguarded("'=1+1") == "=1+1"
