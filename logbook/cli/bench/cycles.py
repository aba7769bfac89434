"""`logbook bench cycles`: the cycles of a series in a file, counted by rainflow."""

from __future__ import annotations

import csv
import io
from math import isfinite
from typing import Annotated

import typer

from logbook.cli.command import asked_of
from logbook.cli.inputs import text_of
from logbook.cli.output import answer, table
from logbook.errors import BadInput
from logbook.model.wear.cycles import count_cycles
from logbook.physics.worked import plain

SOURCE = "ASTM E1049-85 (reapproved 2017), section 5.4.4, rainflow, with the rainflow library"
LARGEST = 1e100  # ranges and means of larger ones would overflow


def cycles(
    ctx: typer.Context,
    file: Annotated[
        str, typer.Argument(metavar="FILE", help="CSV with the columns time_s,value; - reads the input.")
    ],
) -> None:
    """The cycles of a series by rainflow: range, mean and count."""
    found = count_cycles(read_series(text_of(file), file))

    def text() -> str:
        rows = [(plain(c.range), plain(c.mean), plain(c.count)) for c in found]
        body = (
            table(("range", "mean", "count"), rows, right=(0, 1, 2)) if rows else "No cycle in this series."
        )
        return f"{body}\nsource: {SOURCE}"

    listed = [{"range": c.range, "mean": c.mean, "count": c.count} for c in found]
    answer(asked_of(ctx), {"cycles": listed, "source": SOURCE}, text)


def read_series(text: str, name: str) -> list[float]:
    """The values of a series; raises BadInput with the row and column of what is wrong."""
    reader = csv.reader(io.StringIO(text, newline=""))
    values: list[float] = []
    before_s = float("-inf")
    try:
        heads = [head.strip() for head in next(reader, [])]
        if not {"time_s", "value"} <= set(heads):
            raise BadInput(f"{name} needs the columns time_s and value in its first row.", where=f"{name}:1")
        at = heads.index("time_s"), heads.index("value")
        for row in reader:
            if not any(cell.strip() for cell in row):
                continue
            time_s, value = (_number(row, n, heads[n], f"{name}:{reader.line_num}") for n in at)
            if time_s <= before_s:
                way = "repeats a time" if time_s == before_s else "goes back in time"
                sentence = f"Row {reader.line_num} {way}: {time_s:g} s after {before_s:g} s."
                raise BadInput(sentence, where=f"{name}:{reader.line_num}")
            before_s = time_s
            values.append(value)
    except csv.Error as error:
        raise BadInput(f"{name} is no CSV: {error}.", where=f"{name}:{reader.line_num}") from None
    return values


def _number(row: list[str], at: int, column: str, where: str) -> float:
    cell = row[at].strip() if at < len(row) else ""
    try:
        value = float(cell)
    except ValueError:
        value = float("nan")
    line = where.rpartition(":")[2]
    if not isfinite(value):
        raise BadInput(f"Row {line}, column {column}: {cell[:40]!r} is not a number.", where=where)
    if abs(value) > LARGEST:
        raise BadInput(f"Row {line}, column {column}: {value:g} is beyond {LARGEST:g}.", where=where)
    return value
