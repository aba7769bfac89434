"""What a calculator asks: its questions, and how an answer in words becomes a number."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Protocol

from logbook.errors import BadInput
from logbook.model.practice import Practice
from logbook.model.ranges import in_range
from logbook.model.values import HomeWater, Units
from logbook.text import quantities


class Read(Protocol):
    """Reads a text as a number in SI units (but °C and minutes); a bare one is in `default_unit`."""

    def __call__(self, text: str, where: str, /, *, default_unit: str | None = None) -> float: ...


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of answer: its word in help, how it is read, and the units of a bare number, metric first."""

    word: str
    read: Read | None = None  # None: it is named, not measured
    bare: tuple[str, str] = ("", "")
    unit: str = ""  # that it is read in


def bare_number(example: str, strip: str = "") -> Read:
    """Reads a number without a unit, but for the signs in `strip`."""

    def read(text: str, where: str, /, *, default_unit: str | None = None) -> float:
        kind, value = quantities.measure(text.rstrip(strip), where)
        if kind != quantities.BARE:
            raise BadInput(f"The {where} takes a number without a unit, such as {example}.", where=where)
        return value

    return read


def _minutes(text: str, where: str, /, *, default_unit: str | None = None) -> float:
    return quantities.parse_duration_s(text, where, default_unit=default_unit) / 60


def _of_a_place(text: str, where: str, /, *, default_unit: str | None = None) -> float:
    return quantities.parse_length_m(text, where, default_unit=default_unit or "m")


HEIGHT = Kind("HEIGHT", quantities.parse_length_m, ("m", "ft"), "m")
PLACE_HEIGHT = Kind("HEIGHT", _of_a_place, ("m", "ft"), "m")
LENGTH = Kind("LENGTH", quantities.parse_length_m, ("mm", "in"), "m")
PRESSURE = Kind("PRESSURE", quantities.parse_pressure_pa, ("bar", "psi"), "Pa")
MINUTES = Kind("TIME", _minutes, ("min", "min"), "min")
SPEED = Kind("SPEED", quantities.parse_speed_m_s, ("m/s", "ft/s"), "m/s")
DEGREES = Kind("DEGREES", bare_number("45", "°"))
PERCENT = Kind("PERCENT", bare_number("50", "% "))
TEMPERATURE = Kind("TEMPERATURE", quantities.parse_temperature_c, ("C", "F"), "°C")


@dataclass(frozen=True, slots=True)
class Ask:
    """One question, as the command and the room put it.

    `example` is what stands in the room at first, in metric and imperial units; `usual` is what the command
    takes where nothing is said. Beyond `most` an answer means nothing, and the arithmetic would run out of
    numbers.
    """

    name: str
    label: str
    hint: str
    kind: Kind
    example: tuple[str, str] = ("", "")
    needed: bool = False
    argument: bool = False
    usual: str | None = None
    said: str = ""  # the hint in the command's help, where that is another
    quantity: str = ""  # whose range the answer must lie in
    most: float = math.inf
    below_zero: bool = True
    what: str = ""  # what it is in a refusal, where the label is not enough
    choices: Callable[[Practice], Iterable[str]] | None = None  # None: it is answered in writing

    def first(self, units: Units) -> str:
        """What stands there at first."""
        return self.example[units == "imperial"]

    @property
    def help(self) -> str:
        """The hint as a sentence."""
        return self.said or f"{self.hint[0].upper()}{self.hint[1:]}."

    def read(self, text: str, units: Units | None) -> float:
        """The answer in SI units; raises BadInput whose `where` is the name of the question."""
        if self.kind.read is None:
            raise TypeError(f"{self.name} is no number")
        bare = None if units is None else self.kind.bare[units == "imperial"] or None
        value = self.kind.read(text, self.name, default_unit=bare)
        what = self.what or self.name
        if value < 0 and not self.below_zero:
            sentence = f"A {what} below zero cannot be; leave out the minus sign."
            raise BadInput(sentence, where=self.name)
        if value > self.most:
            sentence = f"The {what} must be {self.most:g} {self.kind.unit} or less, not {value:g}."
            raise BadInput(sentence, where=self.name)
        return in_range(self.quantity, value, self.name) if self.quantity else value


@dataclass(frozen=True, slots=True)
class Around:
    """What fills in where an answer is silent."""

    home: Callable[[], HomeWater]  # asked only by those calculators that need a water
    month: int  # whose home temperature counts
    units: Units | None = None  # of a number without a unit; None: it is refused


@dataclass(frozen=True, slots=True)
class Answers:
    """Answers to the questions of a calculator, by name."""

    asks: Mapping[str, Ask]
    texts: Mapping[str, str | None]
    around: Around

    def said(self, name: str) -> str | None:
        """What was answered, stripped; None where nothing was."""
        return (self.texts.get(name) or "").strip() or None

    def __getitem__(self, name: str) -> float:
        """The number that was answered, in SI units; raises BadInput for none, or one that cannot be read."""
        found = self.get(name)
        if found is None:
            raise BadInput(f"The {name.replace('_', ' ')} is needed here.", where=name)
        return found

    def get(self, name: str) -> float | None:
        """The same; None where nothing was answered."""
        said = self.said(name)
        return None if said is None else self.asks[name].read(said, self.around.units)
