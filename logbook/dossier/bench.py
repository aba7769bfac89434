"""What workshops did and found, and what the owner saw, in ready words."""

from __future__ import annotations

from collections.abc import Callable, Collection

from logbook.dossier import words
from logbook.dossier.words import NONE, Table, typed
from logbook.model.judge import facts
from logbook.model.judge.standing import Standing
from logbook.model.judge.stands_words import sentence_of
from logbook.model.values import FAULTS, Event, Units
from logbook.text import quantities
from logbook.text.events import KIND_WORDS, event_words
from logbook.text.phrases import full_date, place

TESTS, EVENTS, FAULTS_LISTED, OPEN_LISTED = 8, 8, 6, 5  # listed at most
WORKSHOP_LENGTH, NOTE_LENGTH = 36, 120
_TESTS = ("pressure-test", "condensation-test")
_SEEN = (*FAULTS, "knock")


def tests(standing: Standing, units: Units) -> Table:
    """The last tests, the newest first."""
    unresolved = _unresolved(standing)
    every = _newest_first(standing, lambda e: e.kind in _TESTS)
    shown = every[:TESTS]
    left_out = len(every) - len(shown)
    heads = ("date", "test", "result", "pressure", "in", "time", "deflection", "by whom, note")
    rows = tuple(
        (
            full_date(e.on),
            e.kind.removesuffix("-test"),
            _result(e, unresolved),
            NONE if e.test_pa is None else words.pressure(e.test_pa, units),
            e.medium or NONE,
            NONE if e.minutes is None else quantities.show_minutes(e.minutes * 60),
            NONE if e.deflection_um is None else f"{e.deflection_um:g} µm",
            _said(e),
        )
        for e in shown
    )
    failed = tuple(n for n, e in enumerate(shown) if e.passed is False)
    return Table("Tests", heads, rows, (3, 5, 6), (7,), failed, left_out, "earlier test")


def _result(test: Event, unresolved: set[int | None]) -> str:
    if test.passed is None:
        return NONE
    if test.passed:
        return "passed"
    return "failed, unresolved" if test.id in unresolved else "failed"


def _unresolved(standing: Standing) -> set[int | None]:
    """The ids of the failures, faults and damage that stand."""
    return {event.id for event in standing.facts.troubles}


def events(standing: Standing) -> Table:
    """The last workshop events other than tests, the newest first."""
    every = _newest_first(standing, lambda e: e.kind not in _TESTS and e.kind not in _SEEN)
    shown = every[:EVENTS]
    rows = tuple((full_date(e.on), _what(e), _said(e)) for e in shown)
    heads, left_out = ("date", "what was done", "by whom, note"), len(every) - len(shown)
    return Table("Workshop events", heads, rows, (), (1, 2), (), left_out, "earlier event")


def _what(event: Event) -> str:
    if event.kind != "gaskets":
        return typed(event_words(event, "metric"), 80)
    materials: dict[str, list[str]] = {}
    for position, material in event.seals:
        materials.setdefault(typed(material, 20), []).append(place(position))
    told = "; ".join(f"{material}: {', '.join(where)}" for material, where in materials.items())
    return f"{KIND_WORDS['gaskets']}, {told}" if told else KIND_WORDS["gaskets"]


def faults(standing: Standing, units: Units) -> Table:
    """Faults and knocks that the owner saw, the unresolved ones first, then the newest first."""
    still_open = {s.event.id for s in standing.facts.standing if s.event}
    every = _newest_first(standing, lambda e: e.kind in _SEEN)
    every.sort(key=lambda e: e.id not in still_open)
    shown = every[:FAULTS_LISTED]
    rows = tuple(
        (
            full_date(e.on),
            "UNRESOLVED" if e.id in still_open else "resolved",
            typed(event_words(e, units), 90),
            typed(e.note, NOTE_LENGTH),
        )
        for e in shown
    )
    left_out = len(every) - len(shown)
    open_rows = tuple(n for n, e in enumerate(shown) if e.id in still_open)
    heads = ("date", "state", "what", "note")
    return Table("Faults seen by the owner", heads, rows, (), (2, 3), open_rows, left_out, "other fault")


def stands_open(standing: Standing) -> tuple[str, ...]:
    """What stands until proven, as the stop rules say it, the newest first."""
    newest = sorted(standing.facts.standing, key=lambda stand: stand.on, reverse=True)
    lines = [sentence_of(stand, standing.facts.needs)[0] for stand in newest[:OPEN_LISTED]]
    more = words.left_out(len(newest) - OPEN_LISTED, "other")
    return (*lines, *([more] if more else []))


def last_of(standing: Standing, units: Units) -> tuple[tuple[str, str], ...]:
    """When it was last opened, and last passed a dry and a wet pressure test."""
    opened = _newest_first(standing, facts.opens)
    last = f"{full_date(opened[0].on)}, {KIND_WORDS[opened[0].kind]}" if opened else "not on record"
    return (
        ("Last opened", last),
        ("Last passed dry test", _last_passed(standing, units, ("air", "vacuum"))),
        ("Last passed wet test", _last_passed(standing, units, ("water",))),
    )


def _last_passed(standing: Standing, units: Units, media: Collection[str]) -> str:
    found = [proof for proof in standing.facts.proofs if proof.medium in media]
    if not found:
        return "none on record"
    at = found[-1]
    bar = "pressure not known" if at.test_pa is None else words.pressure(at.test_pa, units)
    marked = " (to its mark)" if at.to_mark and not at.makers else ""
    return f"{full_date(at.on)}, {bar} in {at.medium}{marked}{' (the maker’s own)' if at.makers else ''}"


def _newest_first(standing: Standing, wanted: Callable[[Event], bool]) -> list[Event]:
    found = [e for e in standing.record.events if e.on <= standing.on and wanted(e)]
    return sorted(found, key=facts.moment, reverse=True)


def _said(event: Event) -> str:
    parts = [typed(event.workshop, WORKSHOP_LENGTH), typed(event.note, NOTE_LENGTH)]
    return ": ".join(part for part in parts if part != NONE) or NONE
