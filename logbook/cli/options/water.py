"""The water that a calculator is asked about: options, and what fills in where they are silent."""

from __future__ import annotations

from pathlib import Path

from logbook.bench.calculators import split_water
from logbook.cli.asked import Asked
from logbook.cli.options.event import number_of
from logbook.errors import LogbookError
from logbook.model.values import Settings
from logbook.record.reading.glance import open_rows, read_settings


def home_of(asked: Asked) -> Settings:
    """The owner's settings where there is a record that can be read, else the defaults."""
    location = asked.location
    if not isinstance(location, Path) or not location.exists():
        return Settings()
    try:
        with open_rows(location) as rows:
            return read_settings(rows)
    except LogbookError:
        return Settings()  # a calculator works without any record


def water_of(water: str | None, salinity: str | None) -> tuple[str | None, float | None]:
    """The kind of water and its practical salinity, as far as they were said; `brackish 12` says both."""
    kind, given = split_water(water, salinity, "--salinity")
    return kind, None if given is None else number_of(given, "--salinity")
