"""The Guide's lines: chapters laid out for a width, as a whole or narrowed to what a search found."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from rich.cells import cell_len

from logbook.tui.guide.parts import Chapter, Entry, Section
from logbook.tui.guide.search import found_in, marked
from logbook.tui.shell.ink import Line, Piece, fit, wrapped
from logbook.tui.widgets.page import Key, Row

WIDEST = 100  # cells; longer lines are hard to read
LEAST_NAME = 12  # cells of the first column of a table
CLOSED, OPEN, PLAIN = "▸ ", "▾ ", "  "
INDENT = "    "


@dataclass(frozen=True, slots=True)
class View:
    """What of the Guide is shown: one chapter, or what holds every one of `words` in all of them."""

    chapter: int
    words: tuple[str, ...]
    opened: Callable[[Key, Entry], bool]


def found(chapters: Sequence[Chapter], words: Sequence[str]) -> list[Key]:
    """Every entry that holds every word, in order."""
    return [
        Key(n, m, e)
        for n, chapter in enumerate(chapters)
        for m, section in enumerate(chapter.sections)
        for e, entry in enumerate(section.entries)
        if _is_found(section, entry, words)
    ]


def _is_found(section: Section, entry: Entry, words: Sequence[str]) -> bool:
    return found_in(f"{section.title} {entry.text}", words)


def opens_by_itself(entry: Entry, words: Sequence[str]) -> bool:
    """True where what was searched for stands in what would have to be opened."""
    return bool(words) and not found_in(entry.shown, words) and found_in(entry.text, words)


def lay_out(chapters: Sequence[Chapter], view: View, width: int) -> list[Row]:
    """Every line, each with the entry that it belongs to; heads belong to none."""
    if not view.words:
        return list(_chapter(view.chapter, chapters[view.chapter], view, width))[1:]
    rows: list[Row] = []
    for n, chapter in enumerate(chapters):
        found = list(_chapter(n, chapter, view, width))
        if found:
            rows += [Row([(f"{n + 1}  {chapter.title}", "title")]), *found[1:], Row([("", "plain")])]
    return rows


def _chapter(n: int, chapter: Chapter, view: View, width: int) -> Iterator[Row]:
    for m, section in enumerate(chapter.sections):
        entries = [
            (Key(n, m, e), entry)
            for e, entry in enumerate(section.entries)
            if not view.words or _is_found(section, entry, view.words)
        ]
        if entries:
            yield Row([("", "plain")])
            yield Row(marked(section.title, "strong", view.words))
            yield from _entries(section, entries, view, width)


def _entries(section: Section, entries: Sequence[tuple[Key, Entry]], view: View, width: int) -> Iterator[Row]:
    columns = _columns(section, width)
    headed = False
    for key, entry in entries:
        if entry.cells and not headed:
            headed = True
            yield from (Row(line) for line in _cells(section.heads, columns, PLAIN, "dim", ()))
        yield from (Row(line, key) for line in _entry(key, entry, columns, view, width))


def _entry(key: Key, entry: Entry, columns: Sequence[int], view: View, width: int) -> Iterator[Line]:
    is_open = bool(entry.more) and view.opened(key, entry)
    mark = OPEN if is_open else CLOSED if entry.more else PLAIN
    own: list[Piece] = [(" yours", "mild")] if entry.yours else []
    wide = min(width, WIDEST)
    if entry.cells:
        first, *rest = _cells(entry.cells, columns, mark, "plain", view.words)
        yield [*first, *own]
        yield from rest
    elif entry.title:
        yield [(mark, "plain"), *marked(entry.title, "title", view.words), *own]
    indent = INDENT if entry.title else PLAIN
    for paragraph in entry.body:
        yield from _paragraph(paragraph, indent, wide, "plain", view.words)
    for paragraph in entry.more if is_open else ():
        yield from _paragraph(paragraph, INDENT, wide, "dim", view.words)


def _paragraph(text: str, indent: str, width: int, role: str, words: Sequence[str]) -> Iterator[Line]:
    tidy = " ".join(text.split())
    for line in wrapped(tidy, max(1, width - len(indent) - 1)):
        yield [(indent, role), *marked(line, role, words)]


# ------------------------------------------------------------------ tables


def _columns(section: Section, width: int) -> list[int]:
    """Cells of each column: as wide as what stands in it, the first one narrower where the window is."""
    rows = [entry.cells for entry in section.entries if entry.cells]
    if not rows:
        return []
    needed = [max(map(cell_len, column)) for column in zip(section.heads, *rows, strict=True)]
    own = len(" yours") if any(entry.yours for entry in section.entries) else 0
    spare = width - len(PLAIN) - own - sum(needed) - (len(needed) - 1)
    return [max(min(LEAST_NAME, needed[0]), needed[0] + min(0, spare)), *needed[1:]]


def _cells(
    cells: Sequence[str], columns: Sequence[int], mark: str, role: str, words: Sequence[str]
) -> Iterator[Line]:
    """A row of a table; a first cell that is too long goes on beneath."""
    name, *below = wrapped(cells[0], columns[0])
    head = "strong" if role == "plain" else role
    line: list[Piece] = [(mark, "plain"), *marked(fit(name, columns[0]), head, words)]
    for cell, cells_wide in zip(cells[1:], columns[1:], strict=True):
        line += [(" ", role), *marked(fit(cell, cells_wide), role, words)]
    yield line
    for more in below:
        yield [(PLAIN, "plain"), *marked(more, head, words)]
