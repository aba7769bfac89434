"""docs/csv-and-json.md says of every column what the tables of the program say."""

from __future__ import annotations

from pathlib import Path

import pytest

from logbook.files.csv.columns import EXPOSURES, WATCHES, Column

PAGE = (Path(__file__).parents[3] / "docs" / "csv-and-json.md").read_text(encoding="utf-8")
PARTS = dict(zip(("exposures", "watches"), PAGE.split("## Columns of ")[1:], strict=True))


@pytest.mark.parametrize("column", EXPOSURES, ids=lambda column: column.field)
def test_a_column_of_exposures_is_on_the_page(column: Column) -> None:
    assert is_told(column, PARTS["exposures"])


@pytest.mark.parametrize("column", WATCHES, ids=lambda column: column.field)
def test_a_column_of_watches_is_on_the_page(column: Column) -> None:
    assert is_told(column, PARTS["watches"])


def is_told(column: Column, part: str) -> bool:
    """Whether one line of the page has all names of a column and what it means."""
    names = (*column.names, *column.named)
    return any(
        all(f"`{name}`" in line for name in names) and f"| {column.meaning}" in line
        for line in part.splitlines()
    )
