"""Reads what an owner says about a watch: its mark, and when it was opened, given gaskets or tested."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import cast

from logbook.errors import BadInput
from logbook.model.ranges import check_day, number
from logbook.model.text import listed, printable
from logbook.model.values import EventKind, MarkKind, MarkUnit, Medium
from logbook.text import quantities
from logbook.text.dates import NoDate
from logbook.text.phrases import span_words
from logbook.text.spans import parse_span

Span = tuple[date, date]

NOT_KNOWN = ("", "unknown", "not known", "don't know", "don’t know", "dont know", "no idea", "never", "no",
             "none", "?", "-", "–")  # fmt: skip
NOTHING = ("nothing", "none", "no", "unmarked", "no mark", "it says nothing", "-", "–")
LONGEST = 200  # characters: more than anybody needs here
PAST_EXAMPLES = "new in 2021; tested in may 2025 at 10 bar; battery 2023; gaskets 2024; don’t know"

_DIVERS = re.compile(r"\b(?:divers?(?:['’]s|['’])?|scuba)(?: watch)?(?![a-z])")
_MIXED = re.compile(r"\b(?:(?:for )?mixed[- ]gas(?:es)?|saturation)\b,?")
_RESISTANT = re.compile(r"\bwater[- ]?(?:resistant|resistance|resist|proof)\b|\bw\.?r\.?(?![a-z])")
_FEET = re.compile(r"[0-9.,]+ ?(?:ft|feet|foot)\b\.?")


@dataclass(frozen=True, slots=True)
class Mark:
    """What the dial says about water, in its own unit."""

    kind: MarkKind
    marked_pa: float | None = None
    marked_in: MarkUnit = "bar"


def read_mark(text: str, where: str = "marked") -> Mark:
    """`200m`, `3 ATM`, `diver’s 200 m`, `water resistant`, `nothing`, `don’t know`; raises BadInput."""
    words = " ".join(text[:LONGEST].casefold().split())
    if words in NOTHING:
        return Mark("unmarked")
    if words in NOT_KNOWN:
        return Mark("unknown")
    left, mixed = _MIXED.subn(" ", words)
    left, divers = _DIVERS.subn(" ", left)
    left, _ = _RESISTANT.subn(" ", left)
    kind: MarkKind = "divers-mixed-gas" if mixed else "divers" if divers else "water-resistant"
    stated = _stated(left)
    return Mark(kind, marked_pa(stated, where), marked_in(stated, where))


def _stated(words: str) -> str:
    """The number of a dial that states it twice, such as `660 ft = 200 m`: the one not in feet."""
    left = " ".join(re.sub(r"[/=()]", " ", words).split())
    return _FEET.sub(" ", left).strip() or left


def marked_pa(text: str, where: str = "marked") -> float | None:
    """The marked pressure in Pa from bar or, by the trade's 10 m = 1 bar, metres; None without a number.

    ATM on a dial means bar in the trade: common practice, no source.
    """
    if text.strip().casefold() in NOT_KNOWN:
        return None
    kind, value = quantities.measure(text, where)
    if kind == quantities.BARE:
        shown = number(value)
        sentence = f"Is it {shown} m or {shown} bar? Write {shown}m or {shown}bar, as the watch does."
        raise BadInput(sentence, where=where)
    if text.casefold().rstrip(". ").endswith("atm"):
        return value / quantities.ATMOSPHERE_PA * quantities.BAR_PA
    return quantities.parse_marked_pa(text, where)


def marked_in(text: str, where: str = "marked") -> MarkUnit:
    """The unit in which a dial states its mark, from a text that `marked_pa` reads; bar without a number."""
    return "bar" if text.strip().casefold() in NOT_KNOWN else quantities.marked_in(text, where)


@dataclass(frozen=True, slots=True)
class Visit:
    """What was done to a watch at one time, as its owner tells it, and how a test ended."""

    kinds: tuple[EventKind, ...]
    span: Span
    gaskets: bool = False
    passed: bool = True
    pressure: str = ""  # as it was written; empty: not said
    to_mark: bool = False
    medium: Medium = "air"

    @property
    def ended_with_pass(self) -> bool:
        """True when it ended with a passed test: all of it then counts on the day of the pass."""
        return "pressure-test" in self.kinds and self.passed

    @property
    def fitted(self) -> Span:
        """The days on which gaskets of this visit may have been fitted."""
        return (self.span[0], self.span[0]) if self.ended_with_pass else self.span


@dataclass(frozen=True, slots=True)
class Past:
    """All that is known about a watch before it came on record; nothing is made up."""

    visits: tuple[Visit, ...] = ()
    new: Span | None = None
    bought: Span | None = None


_KIND_WORDS: Mapping[str, str] = {
    "gaskets": r"gaskets?|seals?|o-?rings?",
    "battery": r"batter(?:y|ies)",
    "movement": r"serviced?|movement|overhaul(?:ed)?",
    "pressure-test": r"(?:pressure[- ])?test(?:ed|s)?",
    "opened": r"opened|opening",
    "bought": r"bought|purchased",
    "new": r"(?:brand[- ])?new",
}
_KINDS = {kind: re.compile(rf"\b(?:{words})\b") for kind, words in _KIND_WORDS.items()}
_PRESSURE = re.compile(r"(?:\b(?:at|to) )?(?<![0-9.,-])([0-9][0-9.,]* ?(?:bars?|psi|atm|kpa|mpa|m))\b")
_TO_MARK = re.compile(r"\b(?:at|to) (?:its|the) mark\b")
_MEDIUM = re.compile(r"\bin (?:an? )?(air|vacuum|water)\b")
_FAILED = re.compile(r"\bfail(?:ed)?\b")
_FILLING = re.compile(
    r"\b(?:in|on|at|it|its|was|were|had|has|got|given|the|with|case|passed|changed|replaced|done"
    r"|(?:last|an?)(?! (?:day|week|month|year)))\b"
)


def read_past(text: str, today: date, where: str = "last") -> Past:
    """`new in 2021`, `gaskets 2024, tested in may 2025 at 10 bar`, `don’t know`; raises BadInput.

    Kinds without a date of their own belong to the next date in the text: one visit.
    """
    words = " ".join(text.casefold().replace("’", "'").split())
    if words.rstrip(".") in NOT_KNOWN:
        return Past()
    if len(words) > LONGEST:
        sentence = f"That is more than {LONGEST} characters: the last of each kind is enough."
        raise BadInput(sentence, where=where)
    visits: list[Visit] = []
    found: dict[str, Span] = {}
    waiting: list[str] = []
    for kinds, clause in _clauses(words, where):
        waiting += kinds
        visit, rest = _visit(clause)
        if not rest:
            continue
        span = _days(rest, clause, today, where)
        for kind in ("new", "bought"):
            if kind in waiting:
                found[kind] = span
        if done := [kind for kind in waiting if kind not in ("new", "bought")]:
            visits.append(_of(visit, done, span))
        waiting = []
    if waiting:
        what = waiting[-1].replace("-", " ")
        raise BadInput(f"When was that? A year is enough, such as {what} 2023.", where=where)
    return Past(tuple(visits), found.get("new"), found.get("bought"))


def _clauses(words: str, where: str) -> Iterator[tuple[list[str], str]]:
    """Each part of a sentence with its kinds; a part that names no kind belongs to the part before."""
    parts: list[str] = []
    for part in re.split(r"[,;]| and | & |\+", words):
        if parts and not _kinds(part):
            parts[-1] += f" {part}"
        elif part.strip(" ."):
            parts.append(part.strip(" ."))
    for part in parts:
        kinds = _kinds(part)
        if not kinds:
            shown = printable(part, 40)
            raise BadInput(f"'{shown}' is not understood here: write {PAST_EXAMPLES}.", where=where)
        yield kinds, part


def _kinds(part: str) -> list[str]:
    """The kinds that a part of a sentence names; `new gaskets` means gaskets, `bought new` means new."""
    found = [kind for kind, words in _KINDS.items() if words.search(part)]
    if len(found) > 1 and "new" in found:
        return ["new"] if found == ["bought", "new"] else [kind for kind in found if kind != "new"]
    return found


def _visit(clause: str) -> tuple[Visit, str]:
    """What a part says about a test, and the rest of it: its date."""
    rest = clause
    for words in _KINDS.values():
        rest = words.sub(" ", rest)
    rest, to_mark = _TO_MARK.subn(" ", rest)
    medium, pressure = _MEDIUM.search(rest), _PRESSURE.search(rest)
    rest = _PRESSURE.sub(" ", _MEDIUM.sub(" ", rest))
    rest, failed = _FAILED.subn(" ", rest)
    rest = " ".join(_FILLING.sub(" ", rest).split()).strip(" .")
    nowhen = (date.min, date.min)
    said = Visit(
        (), nowhen, passed=not failed, pressure=pressure[1] if pressure else "", to_mark=bool(to_mark),
        medium=cast("Medium", medium[1]) if medium else "air",
    )  # fmt: skip
    return said, rest


def _days(rest: str, clause: str, today: date, where: str) -> Span:
    try:
        span = parse_span(rest, today, where)
    except NoDate as error:
        if "can be read" in error.message:  # a date, in two ways
            raise
        shown = printable(clause, 40)
        raise BadInput(f"'{shown}' is not understood here: write {PAST_EXAMPLES}.", where=where) from error
    for day in span:
        check_day(day, "What was done", where, today=today)
    return span


def _of(visit: Visit, kinds: list[str], span: Span) -> Visit:
    done = tuple(dict.fromkeys("opened" if kind == "gaskets" else kind for kind in kinds))
    return Visit(
        cast("tuple[EventKind, ...]", done), span, "gaskets" in kinds, visit.passed, visit.pressure,
        visit.to_mark, visit.medium,
    )  # fmt: skip


_SHOWN: Mapping[str, str] = {"battery": "battery changed", "movement": "movement serviced"}


def past_words(past: Past) -> str:
    """What was understood, in the order typed: `new gaskets and test passed at 10 bar, May 2025`."""
    bought = (("bought new", past.new), ("bought", past.bought))
    told = [f"{words} {_when(span)}" for words, span in bought if span is not None]
    told += [f"{_done(visit)}, {_when(visit.span)}" for visit in past.visits]
    return f"Taken for: {'; '.join(told)}." if told else "Taken for: not known."


def in_words(what: str, span: Span) -> str:
    """`given gaskets in 2024`, `given gaskets between 1 Feb and 1 Mar 2025`, no more exact than was told."""
    first, last = span
    if first == last:
        return what
    when = _when(span)
    return f"{what} in {when}" if " to " not in when else f"{what} between {when.replace(' to ', ' and ')}"


def _when(span: Span) -> str:
    """The name of a month or year where no day is known, else the days."""
    first, last = span
    if (first.day, (last + timedelta(days=1)).day) == (1, 1):
        if (first.year, first.month) == (last.year, last.month):
            return f"{first:%b %Y}"
        if (first.year, first.month, last.month) == (last.year, 1, 12):
            return f"{first.year}"
    return span_words(first, last)


def _done(visit: Visit) -> str:
    test = f"test {'passed' if visit.passed else 'failed'}"
    if visit.pressure or visit.to_mark:
        test += f" at {visit.pressure or 'its mark'}"
    opened = "new gaskets" if visit.gaskets else "opened"
    shown = {"pressure-test": test, "opened": opened, **_SHOWN}
    return listed([shown[kind] for kind in visit.kinds], "and")
