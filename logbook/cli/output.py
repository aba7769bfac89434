"""Answers on standard output: one JSON document, or plain text of at most 80 columns without any colour."""

from __future__ import annotations

import json
import os
import sys
import textwrap
from collections.abc import Callable, Iterable, Sequence
from datetime import date
from typing import Any, TextIO

from logbook.caution import CAUTION
from logbook.cli.asked import Asked
from logbook.errors import LogbookError
from logbook.model.text import kept_whole, printable

WIDTH = 80
_GAP = "  "


def answer(asked: Asked, document: dict[str, Any], text: Callable[[], str], *, caution: bool = False) -> None:
    """Prints the document when JSON was asked for, else the text; with the caution where one belongs."""
    if asked.as_json:
        write(json.dumps(document | ({"caution": CAUTION} if caution else {}), allow_nan=False))
    else:
        body = tame(text().rstrip("\n"))
        write(f"{body}\n\n{caution_text()}" if caution else body)


class UnsaidError(LogbookError):
    """The answer could not be printed."""

    code = "output"


def write(text: str, stream: TextIO | None = None) -> None:
    """Prints a text; when the reader has gone away, nothing more is said and nothing fails.

    Raises UnsaidError when the answer cannot be printed; what goes to standard error is then lost.
    """
    out = sys.stdout if stream is None else stream
    try:
        out.write(text + "\n")
        out.flush()
    except OSError as error:
        # What is still buffered would be tried again at the end of the process.
        os.dup2(os.open(os.devnull, os.O_WRONLY), out.fileno())
        if out is not sys.stderr and not isinstance(error, BrokenPipeError):
            raise UnsaidError(f"The answer could not be printed: {error.strerror}.") from error


def tame(text: str) -> str:
    """The text with nothing in its lines that a terminal would obey, such as a path may hold."""
    return "\n".join(
        line if line.isascii() and line.isprintable() else printable(line) for line in text.split("\n")
    )


def bars(pressure_pa: float | None) -> float | None:
    """A pressure in bar for JSON."""
    return None if pressure_pa is None else round(pressure_pa / 1e5, 6)


def iso(day: date | None) -> str | None:
    """A date for JSON."""
    return None if day is None else day.isoformat()


def caution_text() -> str:
    """The caution, a sentence a line."""
    return CAUTION.replace(". ", ".\n", 1)


def wrapped(text: str, indent: str = "", hanging: str | None = None) -> str:
    """The text in lines of at most 80 columns; `hanging` indents all but the first.

    What stands in backquotes stays on one line where it fits.
    """
    later = indent if hanging is None else hanging
    filled = textwrap.fill(
        kept_whole(text, WIDTH - max(len(indent), len(later))),
        WIDTH,
        initial_indent=indent,
        subsequent_indent=later,
        break_long_words=False,
        break_on_hyphens=False,
    )
    return filled.replace("\u00a0", " ")


def cells(text: str) -> int:
    """How many columns of a terminal a text takes."""
    if all(char <= "\u02ff" or "\u2010" <= char <= "\u2027" for char in text):
        return len(text)  # letters of Latin scripts and dashes, quotes, points: a column each
    from rich.cells import cell_len

    return cell_len(text)


def clipped(text: str, width: int) -> str:
    """The text in at most `width` columns, its end replaced by `…` where it is longer."""
    if cells(text) <= width:
        return text
    kept = text[: max(0, width - 1)]
    while kept and cells(kept) > width - 1:
        kept = kept[:-1]
    return kept + "…" if width > 0 else ""


def _padded(text: str, width: int, right: bool) -> str:
    blanks = " " * (width - cells(text))
    return blanks + text if right else text + blanks


def table(
    heads: Sequence[str],
    rows: Iterable[Sequence[str]],
    *,
    right: Sequence[int] = (),
    last: Sequence[int] = (),
) -> str:
    """Columns under their heads, in at most 80 columns of the terminal.

    `right` lists the columns that stand to the right, `last` those that are never shortened.
    """
    lines = [list(heads), *([*row] for row in rows)]
    widths = _widths(lines, frozenset(last))
    text = []
    for line in lines:
        parts = [
            _padded(clipped(cell, width), width, n in right)
            for n, (cell, width) in enumerate(zip(line, widths, strict=True))
        ]
        text.append(_GAP.join(parts).rstrip())
    return "\n".join(text)


def _widths(lines: Sequence[Sequence[str]], kept: frozenset[int]) -> list[int]:
    """The width of each column; the widest that may be shortened gives way until all fit."""
    widths = [max(cells(cell) for cell in column) for column in zip(*lines, strict=True)]
    room = WIDTH - len(_GAP) * (len(widths) - 1)
    while sum(widths) > room:
        widest = max((n for n in range(len(widths)) if n not in kept), key=lambda n: widths[n])
        if widths[widest] <= 4:
            break
        widths[widest] -= 1
    return widths


def pairs(rows: Iterable[tuple[str, str]], indent: str = "") -> str:
    """Names and values on lines, the values in one column and folded under themselves."""
    found = list(rows)
    width = max((cells(name) for name, _ in found), default=0)
    lines = []
    for name, value in found:
        start = indent + _padded(name, width, False) + _GAP
        lines.append(wrapped(value, start, " " * cells(start)) if value else start.rstrip())
    return "\n".join(lines)
