"""Workshop events and faults in words, the same in rooms and commands."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from logbook.model.judge import facts
from logbook.model.ranges import RANGES
from logbook.model.values import DAMAGED_PART, DAY_ORDER, FAULTS, Event, EventKind, Units, WatchRecord
from logbook.text import phrases, quantities

KIND_WORDS: dict[EventKind, str] = {
    "gaskets": "gaskets replaced",
    "opened": "case opened",
    "battery": "battery changed",
    "movement": "movement service",
    "strap": "strap and bars changed",
    "pressure-test": "pressure test",
    "condensation-test": "condensation test",
    "repaired": "repaired",
    "fog": "fog seen inside",
    "water-inside": "water seen inside",
    **{kind: f"{part} damaged" for kind, part in DAMAGED_PART.items()},
    "knock": "fall or blow",
}


def event_words(event: Event, units: Units) -> str:
    """One event in a phrase: `pressure test passed, 10 bar in air, 5 min`."""
    words = KIND_WORDS[event.kind]
    if event.kind == "repaired":
        words = f"{DAMAGED_PART.get(event.repaired or event.kind, event.repaired)} repaired"
    if event.passed is not None:
        words += " passed" if event.passed else " failed"
    return ", ".join([words, *_details(event, units)])


def told_words(event: Event, units: Units = "metric") -> str:
    """What happened, in a phrase with who did it and the note: `battery changed, Corner bench`."""
    return ", ".join(part for part in (event_words(event, units), event.workshop, event.note) if part)


def when_words(event: Event) -> str:
    """`on 24 Feb 2026`, or the two days between which it happened and the one that counts."""
    if event.span is None:
        return f"on {phrases.full_date(event.on)}"
    first, last = map(phrases.full_date, event.span)
    return f"between {first} and {last}, counted on {phrases.full_date(event.on)}"


def taken_before(event: Event, others: Sequence[Event]) -> Event | None:
    """The day's last pressure test, if it is taken to come after this opening; else None.

    `event` is the latest entry, so it is the later of two with the same order.
    """
    if not facts.opens(event):
        return None
    after = [e for e in others if e.kind == "pressure-test" and e.on == event.on and e.order > event.order]
    return max(after, key=facts.moment, default=None)


def read_after_pass(event: Event, record: WatchRecord) -> tuple[Event, str] | None:
    """A pass and what is read as coming after it on the same day, which takes it away; else None.

    `event` is the latest entry: a pass, a fault or a knock. None where the owner gave an order, or where
    nothing else on the day matters. Nobody was asked, so the order that keeps the watch drier holds.
    """
    same_day = [e for e in record.events if e.on == event.on and e.order == DAY_ORDER[e.kind]]
    if event.order != DAY_ORDER[event.kind]:
        return None
    if event.kind in (*FAULTS, "knock"):
        passed = [e for e in same_day if e.kind == "pressure-test" and e.passed]
        return (passed[-1], KIND_WORDS[event.kind]) if passed else None
    if event.kind == "pressure-test" and event.passed:
        faults = [KIND_WORDS[e.kind] for e in same_day if e.kind in (*FAULTS, "knock")]
        water = [r.exposure.activity for r in record.raised if r.exposure.starts_on == event.on]
        return (event, (faults or water)[0]) if faults or water else None
    return None


def read_after_opening(event: Event, record: WatchRecord) -> Event | None:
    """The fault that is read as coming after an opening on the same day; None where there is none.

    `event` is the latest entry: the fault or the opening. More often a watch is opened because a fault was
    seen, but nobody was asked, so the order that keeps the watch drier holds.
    """
    same_day = [e for e in record.events if e.on == event.on and e.order == DAY_ORDER[e.kind]]
    if event.order != DAY_ORDER[event.kind]:
        return None
    if event.kind in FAULTS:
        return event if any(facts.opens(e) for e in same_day) else None
    if not facts.opens(event):
        return None
    return next((e for e in reversed(same_day) if e.kind in FAULTS), None)


ORDER_FIRST = 5  # the order inside a day that puts a fault before what was done about it


def order_last(event: Event) -> int:
    """The order that puts a test after the day's water and faults."""
    return max(DAY_ORDER["knock"], event.order) + 5


def order_after(test: Event) -> int:
    """The order that puts an event after a test, and before the day's water where possible."""
    usual = (DAY_ORDER["pressure-test"] + DAY_ORDER["exposure"]) // 2
    return min(max(usual, test.order + 1), int(RANGES["order"].high))


def one_visit(events: Sequence[Event]) -> list[Event]:
    """Events told together: where they end with a pass, all of them count on the day of the pass.

    Told separately, with a span of days, an opening counts on the last day and a pass on the first.
    """
    passes = [event for event in events if event.kind == "pressure-test" and event.passed]
    if not passes or passes[-1].span is None:
        return list(events)
    ended = passes[-1]
    told = [replace(event, on=ended.on, span=None) if event.span == ended.span else event for event in events]
    return [ended if event is ended else other for event, other in zip(events, told, strict=True)]


def order_words(event: Event, record: WatchRecord, wet: bool) -> str:
    """The order of one day, where it matters: `pressure test passed, then fog seen inside`; else empty.

    It matters where a test was passed on a day with a fault, a knock or, if `wet`, water; and where a fault
    is read as coming after an opening. `event` is the latest entry; the record may already have it.
    """
    others = [each for each in record.events if each.on == event.on and each.id != event.id]
    events = [*others, event]
    there = [((each.order, each.id or math.inf), _named(each)) for each in events]
    passed = any(each.kind == "pressure-test" and each.passed for each in events)
    against = wet or any(each.kind in (*FAULTS, "knock") for each in events)
    fault = read_after_opening(event, replace(record, events=tuple(others)))
    if not (passed and against) and fault is None:
        return ""
    if wet:
        there.append(((DAY_ORDER["exposure"], 0), "the water"))
    return ", then ".join(words for _, words in sorted(there))


def _named(event: Event) -> str:
    words = KIND_WORDS[event.kind]
    return words if event.passed is None else f"{words} {'passed' if event.passed else 'failed'}"


def _details(event: Event, units: Units) -> list[str]:
    found = []
    if event.seals:
        found.append(" and ".join(f"{phrases.place(place)} ({material})" for place, material in event.seals))
    if event.moved:
        found.append("something moved")
    if event.test_pa is not None:
        pressure = f"{quantities.show_pressure(event.test_pa, units)} in {event.medium}"
        found.append(f"to its mark, {pressure}" if event.to_mark else pressure)
    elif event.kind == "pressure-test":
        found.append("pressure not known")
    if event.minutes is not None:
        found.append(quantities.show_minutes(event.minutes * 60))
    if event.deflection_um is not None:
        found.append(f"deflection {event.deflection_um:g} µm")
    if event.crystal_c is not None:
        found.append(f"crystal {quantities.show_temp(event.crystal_c, units)}")
    if event.case_air_c is not None:
        found.append(f"case air {quantities.show_temp(event.case_air_c, units)}")
    return found
