"""An open record with what turns dives of a file into its exposures."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from logbook.exchange.dives_in import Taker
from logbook.keeping.glance import read_records, read_settings
from logbook.keeping.practice_file import load_practice
from logbook.keeping.store import Store
from logbook.reckoning.values import Watch
from tests.cli.running import TODAY


@contextmanager
def opened(path: Path) -> Iterator[tuple[Store, Taker, list[Watch]]]:
    """The record at a path, on the day of the tests."""
    with Store.open(path) as store:
        settings = read_settings(store.rows)
        taker = Taker(load_practice(), settings, date.fromisoformat(TODAY), settings.zone)
        yield store, taker, [record.watch for record in read_records(store.rows)]
