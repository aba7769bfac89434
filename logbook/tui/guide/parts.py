"""What the Guide is made of: chapters of sections of entries, and constants as sentences print them."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, fields
from functools import cache
from pathlib import Path
from typing import Any

import logbook
from logbook.model.fitting import UNKNOWN_YEARS
from logbook.model.judge import rules
from logbook.model.marks import DIVING, SPLASH
from logbook.model.practice import Practice
from logbook.model.text import listed
from logbook.model.values import Watch
from logbook.physics import tests_behind_marks
from logbook.physics.worked import plain, quantity


@dataclass(frozen=True, slots=True)
class Entry:
    """What the cursor stands on: a title, or the cells of a row; its paragraphs; and what opens beneath."""

    title: str = ""
    body: tuple[str, ...] = ()
    cells: tuple[str, ...] = ()
    more: tuple[str, ...] = ()
    yours: bool = False  # the owner's own file sets something of it

    @property
    def shown(self) -> str:
        """What is read without opening it."""
        return " ".join((self.title, *self.cells, *self.body, "yours" if self.yours else ""))

    @property
    def text(self) -> str:
        """All that can be found in it."""
        return " ".join((self.shown, *self.more))


@dataclass(frozen=True, slots=True)
class Section:
    """Entries under one heading, of a table with the heads of its columns."""

    title: str
    entries: tuple[Entry, ...]
    heads: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Chapter:
    """A chapter with the short name that the contents show."""

    name: str
    title: str
    sections: tuple[Section, ...]


class _Shown(str):
    """A constant with its unit; its bare value and the ends of its range by name."""

    value: str
    low: str
    high: str


Say = Callable[[str], str]


@cache
def sentences() -> dict[str, Any]:
    """The Guide's own sentences, by chapter."""
    return tomllib.loads(Path(__file__).with_name("guide.toml").read_text(encoding="utf-8"))


@cache
def word_list() -> dict[str, Any]:
    """The words of logbook and the meanings of its keys, read when the Guide is opened."""
    return tomllib.loads(Path(logbook.__file__).with_name("words.toml").read_text(encoding="utf-8"))


def teller(practice: Practice) -> Say:
    """A function that puts the constants in force into a sentence, on one line."""
    words: dict[str, str] = {
        "no_objection": rules.NO_OBJECTION,
        "think_twice": rules.THINK_TWICE,
        "keep_dry": rules.KEEP_DRY,
        "splash": SPLASH,
        "diving": listed(DIVING, "and"),
        "caps": ", ".join(f"{name} {plain(m.cap_years)} years" for name, m in practice.materials.items()),
        "unknown_years": f"{UNKNOWN_YEARS}",
        "least_divers_depth": quantity(tests_behind_marks.LEAST_DIVERS_DEPTH_M, "m"),
    }
    for name, constant in practice.constants.items():
        shown = _Shown(quantity(constant.value, constant.unit))
        shown.value, shown.low = plain(constant.value), plain(constant.low)
        shown.high = quantity(constant.high, constant.unit)
        words[name] = shown
    words |= {f"interval-{name}": f"{i.months} months" for name, i in practice.intervals.items()}
    usual = {field.name: field.default for field in fields(Watch)}
    words |= {name: f"{usual[name]:g}" for name in ("worn_h", "winds")}
    return lambda text: " ".join(text.format_map(words).split())


def prose(text: str, say: Say) -> tuple[Entry, ...]:
    """A paragraph without a title."""
    return (Entry(body=(say(text),)),)


def titled(items: Iterable[Mapping[str, str]], say: Say) -> tuple[Entry, ...]:
    """One entry for each title with its words."""
    return tuple(Entry(say(item["title"]), (say(item["words"]),)) for item in items)
