"""Writes the tables of keys into docs/rooms.md, between their marks.

Run it after a change to the keys of a room: `python docs/write_keys.py`. A test holds the page to it.
"""

from __future__ import annotations

import importlib
import pkgutil
import re
from collections.abc import Iterator
from pathlib import Path

from textual.binding import Binding

from logbook import tui
from logbook.tui.shell.form import FormRoom
from logbook.tui.shell.room import CHANGES, ONE_LINE, REDO, UNDO, Room, key_name

PAGE = Path(__file__).parent / "rooms.md"
END = "<!-- /keys -->"
MARKED = re.compile(rf"<!-- keys: (\w+) -->.*?{END}", re.DOTALL)
SHARED = "shared"  # in the mark of the table of keys that several rooms have
OF_THE_RECORD = (UNDO, REDO, CHANGES, ONE_LINE)
NO_OTHERS = "It has only the keys that every room with questions has."


def rooms() -> dict[str, type[Room]]:
    """Every room that one can stand in, by the name of its class."""
    for module in pkgutil.walk_packages(tui.__path__, f"{tui.__name__}."):
        importlib.import_module(module.name)
    return {kind.__name__: kind for kind in _kinds(Room) if kind.PURPOSE}


def _kinds(kind: type[Room]) -> Iterator[type[Room]]:
    for below in kind.__subclasses__():
        if below.__module__.startswith(f"{tui.__name__}."):
            yield below
            yield from _kinds(below)


def bindings(kind: type[Room]) -> list[Binding]:
    """The keys of a room that have words; one that only its state brings is among them."""
    bare = kind.__new__(kind)  # keys are of the class, so that no record is needed
    return [binding for binding in Room.room_bindings(bare) if binding.description]


def table(name: str, known: dict[str, type[Room]]) -> str:
    """The keys of one room, or those that several share."""
    if name == SHARED:
        return "\n".join(_shared(known))
    common = {_same(each) for each in (*bindings(Room), *bindings(FormRoom), *OF_THE_RECORD)}
    own = [each for each in bindings(known[name]) if _same(each) not in common]
    rows = [f"| {_key(each)} | {_words(each)} |" for each in own]
    return "\n".join(["| key | what it does |", "|---|---|", *rows]) if rows else NO_OTHERS


def _shared(known: dict[str, type[Room]]) -> Iterator[str]:
    yield "| key | what it does | in which rooms |"
    yield "|---|---|---|"
    for binding in OF_THE_RECORD:
        there = [
            kind.TITLE_WORDS
            for kind in known.values()
            if any((each.key, each.action) == (binding.key, binding.action) for each in bindings(kind))
        ]
        yield f"| {_key(binding)} | {_words(binding)} | {', '.join(sorted(set(there)))} |"


def _same(binding: Binding) -> tuple[str, str, str]:
    return binding.key, binding.action, binding.tooltip or binding.description


def _key(binding: Binding) -> str:
    return f"`{binding.key_display or key_name(binding.key)}`"


def _words(binding: Binding) -> str:
    """The word of the key line, and what is said of it unless that begins with the word itself."""
    word, more = binding.description, binding.tooltip
    words = word if not more else more if more.startswith(word) else f"{word}: {more}"
    return words.replace("|", "\\|")


def written(page: str) -> str:
    """The page with its tables replaced."""
    known = rooms()

    def fill(mark: re.Match[str]) -> str:
        return f"<!-- keys: {mark[1]} -->\n\n{table(mark[1], known)}\n\n{END}"

    return MARKED.sub(fill, page)


if __name__ == "__main__":
    PAGE.write_text(written(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
