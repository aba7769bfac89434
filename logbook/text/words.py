"""The words of a one-line entry: where each stands, what it means, and which fields it gives.

Every word sets one or more fields of an exposure; a field may be given once. A word that is not understood
raises NotUnderstood with its line and column.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from logbook.errors import BadInput
from logbook.model.text import did_you_mean, listed, printable
from logbook.text import quantities
from logbook.text.words_of_time import CLOCK, DAY_WORDS, SYNONYMS, Fields, TimeWords, Word
from logbook.text.words_of_time import NOTE_MARK as NOTE_MARK
from logbook.text.words_of_time import not_understood as not_understood
from logbook.text.words_of_time import split_words as split_words

SURE = "sure"  # the depth and length are meant, however deep or long

_WATERS = {
    "sea": "sea, salt, sea water, salt water",
    "fresh": "fresh, fresh water, lake, river",
    "brackish": "brackish, brackish water",  # its practical salinity may follow
    "pool": "pool",
    "soap": "soap",
    "hot tub": "hot tub",
    "air": "air",
}
# Phrases that are complete by themselves.
FIXED: Mapping[tuple[str, ...], Mapping[str, Any]] = MappingProxyType(
    {
        tuple(words.split()): {"water": water}
        for water, every in _WATERS.items()
        for words in every.split(", ")
    }
    | {
        ("rinsed",): {"rinsed": True},
        ("not", "rinsed"): {"rinsed": False},
        ("unrinsed",): {"rinsed": False},
        ("no", "jump"): {"jump_m": 0.0},
        ("no", "time"): {"starts_at": None},
        ("once",): {"dips": 1},
        ("twice",): {"dips": 2},
        ("crown", "open"): {"crown_open": True},
        ("crown", "closed"): {"crown_open": False},
        ("crown", "untouched"): {"crown_wet": 0, "crown_under": 0},
        ("pusher", "open"): {"pushers_open": True},
        ("pusher", "closed"): {"pushers_open": False},
        ("pusher", "untouched"): {"pusher_wet": 0, "pusher_under": 0},
        (SURE,): {"sure": True},
        ("basis", "true"): {"basis": "true"},
        ("basis", "fresh"): {"basis": "fresh"},
        ("basis", "en", "13319"): {"basis": "EN 13319"},
    }
)
# Phrases that may be followed by how often: "3 times", "twice".
COUNTED: Mapping[tuple[str, ...], str] = MappingProxyType(
    {
        (part, *how): f"{part}_{field}"
        for part in ("crown", "pusher")
        for field, hows in (("wet", [("wet",)]), ("under", [("under", "water"), ("under",)]))
        for how in hows
    }
)
_TIMES = {"once": 1, "twice": 2}
_FIELD_WORDS = {
    "density_kg_m3": "density",
    "depth_m": "depth", "duration_s": "duration", "water_c": "temperature", "from_c": "temperature before",
    "starts_on": "date", "starts_at": "time", "jump_m": "jump", "dips": "number of dips", "rinsed": "rinse",
    "crown_wet": "crown", "crown_under": "crown", "pusher_wet": "pusher", "pusher_under": "pusher",
    "crown_open": "crown", "pushers_open": "pushers",
}  # fmt: skip
_BY_KIND = {quantities.LENGTH: "depth_m", quantities.TIME: "duration_s", quantities.TEMPERATURE: "water_c"}
_STARTS_NUMBER = re.compile(r"~?[+\-\u2212]?[.,]?[0-9]")
_TIMES_WORD = re.compile(r"([0-9]{1,3})x|x([0-9]{1,3})")
_COUNT = re.compile(r"[0-9]{1,6}")


@dataclass(slots=True)
class Reader(TimeWords):
    """Reads the words of one line from left to right into the fields of an exposure."""

    def read(self) -> dict[str, Any]:
        """Reads every field that the words give; raises NotUnderstood at the first word without a meaning."""
        given: dict[str, Any] = {}
        while self.at < len(self.words):
            start = self.at
            fields = self._phrase()
            if not fields:
                raise self.wrong(_meaningless(self.words[start]), start)
            words = " ".join(word.text for word in self.words[start : self.at])
            for name in fields:
                if name in self.said:
                    raise self.wrong(_said_twice(name, self.said[name][0]), start)
                self.said[name] = words, start
            given |= fields
        return given

    def _phrase(self) -> Fields | None:
        """Reads past the next phrase and returns its meaning; None where there is none."""
        for length in (3, 2, 1):
            phrase = self._peek(length)
            if phrase in FIXED:
                self.at += len(phrase)
                return self._brackish() if FIXED[phrase] == {"water": "brackish"} else FIXED[phrase]
            if phrase in COUNTED:
                self.at += len(phrase)
                return {COUNTED[phrase]: self._times()}
        word = self.words[self.at]
        if word.folded in INTRODUCED:
            self.at += 1
            return INTRODUCED[word.folded](self)
        return self._bare_days() or (self._numbered() if _STARTS_NUMBER.match(word.text) else self._times_x())

    def _brackish(self) -> Fields:
        here = self.at < len(self.words) and _STARTS_NUMBER.match(self.words[self.at].text)
        if here and self._longest()[0] == quantities.BARE:
            return {"water": "brackish", "salinity": self._number()}
        return {"water": "brackish"}

    def _times(self) -> int:
        """Reads how often, if the next words say so; else once."""
        following = self._peek(2)
        if following and following[0] in _TIMES:
            self.at += 1
            return _TIMES[following[0]]
        if len(following) == 2 and following[1] in ("times", "time") and _COUNT.fullmatch(following[0]):
            self.at += 2
            return int(following[0])
        dips: int = self._times_x().get("dips", 1)
        return dips

    def _times_x(self) -> Fields:
        """Reads how often, as `2x` or `x2`: the number of dips where nothing else is counted."""
        match = _TIMES_WORD.fullmatch(self.words[self.at].folded) if self.at < len(self.words) else None
        if match is None:
            return {}
        self.at += 1
        return {"dips": int(match[1] or match[2])}

    def _measured(self, text: str) -> tuple[str, float]:
        try:
            return quantities.measure(text)
        except BadInput as error:
            raise self.wrong(error.message) from None

    def _number(self) -> float:
        if self.at >= len(self.words):
            raise self.wrong("A number belongs here, at the end.")
        word = self.words[self.at].text
        kind, value = self._measured(word)
        if kind != quantities.BARE:
            raise self.wrong(f"A number without a unit belongs here, not '{printable(word, 40)}'.")
        self.at += 1
        return value

    def _density(self) -> float:
        """A number of kg/m³, with its unit or without."""
        if self.at < len(self.words):
            text, here = self.words[self.at].folded, self.words[self.at].column
            bare = text.removesuffix("kg/m³").removesuffix("kg/m3")
            self.words[self.at] = Word(bare or text, bare or text, here)
        found = self._number()
        if self._peek(1) in (("kg/m³",), ("kg/m3",)):
            self.at += 1
        return found

    def _longest(self) -> tuple[str, float, int]:
        """Kind, value and number of words of the quantity here: `21m`, `21 m`, `1 h 10 min`."""
        for length in (4, 3, 2, 1):
            here = self.words[self.at : self.at + length]
            # An uncommon unit costs loading pint, and a known word is never one.
            last = here[-1].folded
            rare = length == 2 and last.isalpha() and last not in VOCABULARY and last not in DAY_WORDS
            try:
                kind, value = quantities.measure(" ".join(word.text for word in here), pint=rare)
            except BadInput:
                continue
            if kind != quantities.BARE and len(here) == length:
                return kind, value, length
        return (*self._measured(self.words[self.at].text), 1)

    def _numbered(self) -> Fields:
        """Reads what begins with a number: how often, a time of day, a length of time, another quantity."""
        if CLOCK.match(self.words[self.at].text):
            return self._clock_or_length()
        return self._times_x() or self._h_and_m() or self._quantity()

    def _quantity(self) -> Fields:
        word = self.words[self.at]
        if self._peek(2)[1:] in (("dips",), ("dip",)):
            dips = self._number()
            self.at += 1
            return {"dips": dips}
        assumed = word.text.startswith("~")
        if assumed:
            self.words[self.at] = Word(word.text[1:], word.folded[1:], word.column)
        kind, value, length = self._longest()
        if kind == quantities.BARE:
            shown = printable(word.text, 20)
            units = f"{shown}m is a depth, {shown}min minutes, {shown}C a temperature"
            raise self.wrong(f"{shown} needs its unit: {units}.")
        if kind not in _BY_KIND:
            raise self.wrong(
                f"A {kind} has no place here: write depth as 21m, minutes as 38min, heat as 17C."
            )
        if assumed and kind != quantities.TEMPERATURE:
            raise self.wrong("Only a temperature is marked as assumed, such as ~15C.")
        self.at += length
        return {_BY_KIND[kind]: value} | ({"water_c_assumed": True} if assumed else {})

    def _quantity_of(self, kind: str, unit: str, example: str) -> float:
        """Reads a quantity of one kind; a plain number is metric if the owner uses metric units."""
        if self.at >= len(self.words) or not _STARTS_NUMBER.match(self.words[self.at].text):
            raise self.wrong(f"A number with its unit belongs here, such as {example}.")
        found, value, length = self._longest()
        if found == quantities.BARE and self.metric:
            found, value = self._measured(f"{self.words[self.at].text} {unit}")
        if found != kind:
            raise self.wrong(f"A {kind} belongs here, such as {example}.")
        self.at += length
        return value


def _meaningless(word: Word) -> str:
    """The error for a word without meaning here, with phrases that it belongs to, else the nearest word."""
    shown, plain = printable(word.text, 40), SYNONYMS.get(word.folded, word.folded)
    phrases = [" ".join(phrase) for phrase in (*FIXED, *COUNTED) if plain in phrase and len(phrase) > 1]
    if phrases:
        return f"'{shown}' is not understood by itself: write {listed(phrases)}."
    return f"'{shown}' is not understood here.{did_you_mean(word.folded, VOCABULARY)}"


def _said_twice(name: str, first: str) -> str:
    hint = "; minutes are written 38min" if name == "depth_m" else ""
    return f"The {_FIELD_WORDS.get(name, name)} was already given by '{printable(first, 40)}'{hint}."


# Words that announce what follows them.
INTRODUCED: Mapping[str, Callable[[Reader], Fields]] = MappingProxyType(
    {
        "density": lambda r: {"density_kg_m3": r._density()},
        "from": lambda r: {"from_c": r._quantity_of(quantities.TEMPERATURE, "C", "32C")},
        "jump": lambda r: {"jump_m": r._quantity_of(quantities.LENGTH, "m", "3m")},
        "salinity": lambda r: {"salinity": r._number()},
        "on": Reader._days_said,
        "at": Reader._clock,
        "zone": lambda r: {"zone": r._zone()},
    }
)
_MORE = ("dips", "times", "pushers", "underwater")
VOCABULARY: frozenset[str] = frozenset(
    word for phrase in (*FIXED, *COUNTED, INTRODUCED, _MORE) for word in phrase if word.isalpha()
)


def phrase_at_start(words: list[Word], phrases: Iterable[str]) -> tuple[str, int] | None:
    """The longest of `phrases` with which the words begin, and its number of words."""
    best: tuple[str, int] | None = None
    for phrase in phrases:
        parts = phrase.casefold().split()
        if [word.folded for word in words[: len(parts)]] == parts and (best is None or len(parts) > best[1]):
            best = phrase, len(parts)
    return best
