"""An open record with what turns dives of a file into its exposures."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from logbook.files.dives_in import Taker
from logbook.model.values import Watch
from logbook.record.file.practice_file import load_practice
from logbook.record.file.store import Store
from logbook.record.reading.glance import read_records, read_settings
from tests.cli.running import TODAY


@contextmanager
def opened(path: Path) -> Iterator[tuple[Store, Taker, list[Watch]]]:
    """The record at a path, on the day of the tests."""
    with Store.open(path) as store:
        settings = read_settings(store.rows)
        taker = Taker(load_practice(), settings, date.fromisoformat(TODAY), settings.zone)
        yield store, taker, [record.watch for record in read_records(store.rows)]
