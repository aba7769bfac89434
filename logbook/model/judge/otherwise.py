"""Which watches of an older record read differently, and why; their owner is told once.

Formerly any passed pressure test settled any fault, water beyond the mark said nothing, and a used-up
interval kept a watch dry whatever had been tested. Now evidence outranks arithmetic.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from logbook.model.judge.facts import TROUBLES, Facts
from logbook.model.judge.rules import THINK_TWICE, Reason
from logbook.model.judge.standing import Standing
from logbook.model.judge.stands import Unresolved
from logbook.model.judge.stands_words import sentence_of, what_began
from logbook.model.shown import show_pressure
from logbook.model.text import full_date
from logbook.model.values import Event


@dataclass(frozen=True, slots=True)
class Otherwise:
    """One watch that reads differently: the reasons, a sentence each, and the old faults to ask about."""

    standing: Standing
    reasons: tuple[str, ...]
    asks: tuple[Event, ...]  # was it opened then, and when?


def otherwise(standing: Standing) -> Otherwise | None:
    """What reads differently on a watch; None where nothing does."""
    known = standing.facts
    reasons = [*_stands_again(known), *_speaks_now(standing.stops, known)]
    if not reasons:
        return None
    return Otherwise(standing, tuple(reasons), tuple(s.event for s in _reopened(known) if s.event))


def question(event: Event) -> str:
    """The question about an old fault: was the case opened then, and when?"""
    told = "a pressure test failed" if event.kind == "pressure-test" else what_began(event)
    return f"{told} on {full_date(event.on)}: was it opened then, and when?"


def _reopened(known: Facts) -> list[Unresolved]:
    """Faults that stand although a later pass used to settle them."""
    return [s for s in known.standing if s.code in TROUBLES and not s.opened and _pass_after(known, s.on)]


def _stands_again(known: Facts) -> Iterator[str]:
    for stand in known.standing:
        after = _pass_after(known, stand.on)
        if stand.event is not None and after is not None:
            told = sentence_of(stand, known.needs)[0]
            yield f"{told}; the pass of {full_date(after)} used to settle it"
        elif stand.event is None:
            yield f"{sentence_of(stand, known.needs)[0]}; it used to say nothing"


def _pass_after(known: Facts, on: date) -> date | None:
    """The day of the first pass on or after a day."""
    return next((proof.on for proof in known.proofs if proof.on >= on), None)


def _speaks_now(stops: tuple[Reason, ...], known: Facts) -> Iterator[str]:
    said = {reason.code: reason for reason in stops}
    proved = known.proved
    for code in ("seal-too-old", "used-up"):
        if code in said and said[code].verdict == THINK_TWICE and proved is not None:
            yield f"{said[code].sentence}: think twice, where it used to be kept dry"
            break
    if "never-tested" in said and known.proofs:
        asked = show_pressure(known.needs.asked_pa)
        yield f"{said['never-tested'].sentence}; a lower pass used to do, but this use asks for {asked}"
