"""The whole ledger in one pass: the same rows, told as it goes, and cancelled without a trace."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

from logbook.errors import BadInput
from logbook.model.practice import Practice, parse
from logbook.model.values import Exposure, ProfilePoint
from logbook.record.file import doctor
from logbook.record.file.practice_file import shipped_path
from logbook.record.file.store import Store
from logbook.record.ledger import bulk, ledger
from logbook.record.writing import events, exposures, watches
from tests.record.ledger.test_ledger import anew, kept
from tests.record.making import a_dive, a_watch, books, content, gaskets, its_seals

MANY = 2 * bulk.BLOCK + 300
SHAPE = tuple(ProfilePoint(300.0 * n, 21.0 if n % 2 else 9.0, 17.0 - n % 3) for n in range(1, 8))


def many_dives(watch_id: int, count: int = MANY) -> list[Exposure]:
    """Several a day, every fifth with a profile."""
    first = date(2024, 1, 1)
    return [
        a_dive(watch_id, first + timedelta(days=n // 3), profile=SHAPE if n % 5 == 0 else ())
        for n in range(count)
    ]


@pytest.fixture(scope="module")
def long_record_kept(empty_record: Path, practice: Practice) -> Path:
    """Two watches with a replaced crown seal each, one with many dives and one with few, to copy."""
    path = empty_record.with_name("long.logbook")
    shutil.copy2(empty_record, path)
    with Store.open(path) as store:
        for name, count in (("Blue bezel", MANY), ("Sunday dress", 7)):
            watch_id = watches.add(store, a_watch(name), its_seals(), [], practice)
            events.add(store, [gaskets(watch_id, date(2024, 6, 1), ("crown", "FKM"))], practice)
            exposures.add(store, many_dives(watch_id, count), practice)
    return path


@pytest.fixture
def long_record(long_record_kept: Path, path: Path) -> Iterator[Store]:
    """A copy of it."""
    shutil.copy2(long_record_kept, path)
    with Store.open(path) as opened:
        yield opened


def test_many_exposures_logged_at_once_cost_what_each_costs_alone(
    long_record: Store, path: Path, practice: Practice
) -> None:
    assert kept(long_record) == anew(long_record, practice)
    assert doctor.examine(path, practice) == []


def test_many_logged_at_once_beside_others_leave_those_as_they_are(
    long_record: Store, practice: Practice
) -> None:
    """Spans with gaps between them: only what begins inside them is charged anew."""
    new = [a_dive(1, date(2024, 1, 5) + timedelta(days=60 * n)) for n in range(4)] * 75
    exposures.add(long_record, new, practice)
    assert kept(long_record) == anew(long_record, practice)


def test_one_watch_with_a_long_record_is_made_anew(long_record: Store, practice: Practice) -> None:
    watches.edit(long_record, a_watch("Blue bezel", crown="pushed", id=1), practice)
    assert kept(long_record) == anew(long_record, practice)


def test_other_constants_charge_all_anew_block_by_block_and_tell_how_far_it_is(
    long_record: Store, practice: Practice, other_practice: Practice
) -> None:
    told: list[tuple[int, int]] = []
    ledger.refresh_all(long_record, other_practice, lambda done, total: told.append((done, total)))
    total = MANY + 7
    assert told == [(n, total) for n in (0, bulk.BLOCK, 2 * bulk.BLOCK, MANY, total)]
    assert kept(long_record) == anew(long_record, other_practice)
    assert not ledger.is_stale(long_record.rows, other_practice)


class EnoughError(Exception):
    """What the one who looks on raises to end it."""


@pytest.mark.parametrize("wave", [EnoughError, KeyboardInterrupt])
@pytest.mark.parametrize("after", [0, bulk.BLOCK, MANY + 7])
def test_a_cancelled_pass_leaves_the_record_as_it_was_and_the_ledger_stale(
    long_record: Store, practice: Practice, other_practice: Practice, wave: type[BaseException], after: int
) -> None:
    before = content(long_record), books(long_record)

    def enough(done: int, total: int) -> None:
        if done >= after:
            raise wave

    with pytest.raises(wave):
        ledger.refresh_all(long_record, other_practice, enough)
    assert (content(long_record), books(long_record)) == before
    assert ledger.is_stale(long_record.rows, other_practice)
    assert not ledger.is_stale(long_record.rows, practice)
    ledger.refresh_all(long_record, other_practice)
    assert kept(long_record) == anew(long_record, other_practice)


@pytest.mark.parametrize("count", [1, MANY], ids=["one", "many"])
def test_a_share_beyond_all_sense_is_refused_and_nothing_is_written(
    store: Store, practice: Practice, count: int
) -> None:
    absurd = parse(
        shipped_path().read_text(encoding="utf-8"),
        override="[constants.N_p]\nvalue = 1e-6\nlow = 1e-6\n[constants.p_mark_unmarked_bar]\nvalue = 1e-6\n"
        "low = 1e-6\n",
    )
    watch_id = watches.add(store, a_watch(mark="unmarked", marked_pa=None), its_seals(), [], practice)
    exposures.add(store, many_dives(watch_id, count), practice)
    before = books(store)
    with pytest.raises(BadInput, match="too large"):
        ledger.refresh_all(store, absurd)
    assert books(store) == before


def test_a_watch_without_water_and_a_record_without_watches_are_made_anew(
    store: Store, practice: Practice, other_practice: Practice
) -> None:
    told: list[tuple[int, int]] = []
    ledger.refresh_all(store, practice, lambda done, total: told.append((done, total)))
    watches.add(store, a_watch(), its_seals(), [], practice)
    ledger.refresh_all(store, other_practice, lambda done, total: told.append((done, total)))
    assert told == [(0, 0), (0, 0)]
    assert kept(store) == anew(store, other_practice)


def test_logging_one_dive_without_a_profile_loads_neither_arrays_nor_the_count_of_cycles(
    path: Path, practice: Practice
) -> None:
    with Store.open(path, create=True) as store:
        watches.add(store, a_watch(), its_seals(), [], practice)
    code = f"""
import sys
from datetime import date
from pathlib import Path
from logbook.record.writing import exposures
from logbook.record.file.practice_file import load_practice
from logbook.record.file.store import Store
from logbook.model.values import Exposure
dive = Exposure("dive", "sea", 21.0, "EN 13319", 210_000.0, 2280, 17.0, 32.0, date(2024, 5, 1), salinity=38.0,
                watch_id=1)
with Store.open(Path({str(path)!r})) as store:
    exposures.add(store, [dive], load_practice())
print("rainflow" in sys.modules, "numpy" in sys.modules)
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "False"]
