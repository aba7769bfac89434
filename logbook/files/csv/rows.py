"""CSV from outside as rows of cells, each with its place: RFC 4180, and what spreadsheets make of it.

Commas, semicolons and tabs are told apart by the header line. The whole file is refused at the first thing
that is wrong with its form: NUL, a quote that is never closed, a row that is too long or too short, more rows
or longer cells than any table of this kind has.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import NoReturn

from logbook.errors import BadInput
from logbook.files.csv.guard import unguarded
from logbook.model.text import listed, printable

MOST_ROWS = 200_000
MOST_COLUMNS = 200
LONGEST_CELL = 20_000  # characters
DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab"}
_SAID = re.compile(r'"?sep=([^"\r\n])"?[ ,;\t]*(?:\r\n|\n|\r|\Z)', re.IGNORECASE)  # as spreadsheets write it


@dataclass(frozen=True, slots=True)
class Row:
    """One row below the header: where it stands, and its cells by position."""

    place: str  # `row 3`: the line on which an editor shows it begin
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """The header and the rows of one file."""

    file: str
    header: tuple[str, ...]
    rows: tuple[Row, ...]

    def wrong(self, place: str, sentence: str) -> NoReturn:
        """Raises BadInput that names the file and the place in it."""
        raise BadInput(f"{printable(self.file)}, {place}: {sentence}", where=place)


def read_table(text: str, name: str, known: Iterable[str]) -> Table:
    """The table in a text; `known` are the column names by which its delimiter is told.

    Raises BadInput for what is wrong with its form.
    """
    text = text.removeprefix("\ufeff")
    bare = Table(name, (), ())
    if not text.strip():
        sentence = "is empty; a table begins with a line of column names"
        raise BadInput(f"{printable(name)} {sentence}.", where=name)
    delimiter, found = _opened(text, known, bare)
    first = next(found, None)
    if first is None:
        bare.wrong("row 1", "it says how cells are separated, but no line of column names follows.")
    place, header = first
    if len(header) > MOST_COLUMNS:
        bare.wrong(place, f"there are {len(header):,} columns; at most {MOST_COLUMNS} are read.")
    rows: list[Row] = []
    for place, cells in found:
        if len(rows) >= MOST_ROWS:
            bare.wrong(place, f"a table has at most {MOST_ROWS:,} rows here; split it.")
        _check_length(bare, place, header, cells, delimiter)
        rows.append(Row(place, tuple(unguarded(cell) for cell in cells)))
    return Table(name, tuple(unguarded(cell).strip() for cell in header), tuple(rows))


def header_of(text: str, name: str, known: Iterable[str]) -> tuple[str, ...]:
    """The column names alone; raises BadInput where there is no line that could hold them."""
    text = text.removeprefix("\ufeff")
    _, records = _opened(text, known, Table(name, (), ()))
    found = next(records, None)
    if found is None:
        raise BadInput(f"{printable(name)} is empty; a table begins with a line of column names.", where=name)
    return tuple(cell.strip() for cell in found[1])


def _opened(text: str, known: Iterable[str], bare: Table) -> tuple[str, Iterator[tuple[str, list[str]]]]:
    """The delimiter, as the file says it or by its header, and the records."""
    if "\x00" in text:
        row = text.count("\n", 0, text.index("\x00")) + 1
        sentence = "here stands a NUL character, which no text has; if it is UTF-16, save it as UTF-8."
        bare.wrong(f"row {row}", sentence)
    said = _SAID.match(text)
    if said is None:
        delimiter = _delimiter(text, frozenset(known))
        return delimiter, _records(text, delimiter, bare)
    if said[1] not in DELIMITERS:
        bare.wrong(
            "row 1", f"cells are separated by {listed(DELIMITERS.values())}, not by '{printable(said[1])}'."
        )
    return said[1], _records(text[said.end() :], said[1], bare, after=1)


def _delimiter(text: str, known: frozenset[str]) -> str:
    """The one by which most cells of the header are columns known here; else by which there are most."""
    line = text.lstrip("\r\n").split("\n", 1)[0].split("\r", 1)[0][: LONGEST_CELL * 2]

    def fit(delimiter: str) -> tuple[int, int]:
        try:
            cells = next(csv.reader([line], delimiter=delimiter), [])
        except csv.Error:
            return 0, 0
        return sum(header_key(cell) in known for cell in cells), len(cells)

    return max(DELIMITERS, key=fit)


def header_key(cell: str) -> str:
    """A column name as it is compared: `Depth (ft)` is `depth_ft`."""
    folded = unguarded(cell.strip()).casefold()
    return "_".join("".join(char if char.isalnum() else " " for char in folded).split())


def _records(text: str, delimiter: str, bare: Table, *, after: int = 0) -> Iterator[tuple[str, list[str]]]:
    """Place and cells of every record that is not blank; `after` are the lines before the text."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    number, line = after, after + 1
    while True:
        number += 1
        place = f"row {line}" if line == number else f"row {line} (record {number})"
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            bare.wrong(place, _form(str(error)))
        line = after + reader.line_num + 1
        if any(cells):
            if any(len(cell) > LONGEST_CELL for cell in cells):
                bare.wrong(place, f"a cell has more than {LONGEST_CELL:,} characters; is a quote missing?")
            yield place, cells


def _form(error: str) -> str:
    """What the parser says, in words about the file."""
    if "unexpected end" in error:
        return 'a quotation mark (") is opened here and never closed.'
    if "field larger" in error:
        return 'a cell is longer than any text; is a quotation mark (") missing?'
    return 'after the quotation mark (") that closes a cell the next cell begins; write "" for one inside.'


def _check_length(
    bare: Table, place: str, header: Sequence[str], cells: Sequence[str], delimiter: str
) -> None:
    if len(cells) == len(header):
        return
    more = "more" if len(cells) > len(header) else "fewer"
    sentence = f"the row has {len(cells)} cells, {more} than the {len(header)} columns of the header."
    if more == "more":
        sentence += f" A cell with a {DELIMITERS[delimiter]} in it stands in quotation marks."
    bare.wrong(place, sentence)
