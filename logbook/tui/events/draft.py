"""A workshop event as a form asks for it: the fields of each kind, what they mean, its place in the day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, cast

from logbook.errors import BadInput
from logbook.model.fitting import places
from logbook.model.judge.facts import moment
from logbook.model.practice import Practice
from logbook.model.ranges import one_of
from logbook.model.text import printable
from logbook.model.validate.make_event import make_event
from logbook.model.validate.watch import counts_on
from logbook.model.values import DAY_ORDER, FAULTS, POSITIONS, Event, EventKind, Position, Units, WatchRecord
from logbook.model.wear.charge import current_seals
from logbook.text import exactly, quantities
from logbook.text.events import KIND_WORDS
from logbook.text.own_words import NOT_KNOWN
from logbook.text.spans import parse_span

# What each kind is asked beside its date, its place in the day and a note; of all but faults also who did it.
ASKED: Mapping[EventKind, tuple[str, ...]] = {
    "gaskets": ("seals", "material"),
    "pressure-test": ("result", "pressure", "medium", "minutes", "deflection"),
    "condensation-test": ("result", "minutes"),
    "repaired": ("repaired",),
    "fog": ("crystal", "case-air"),
    "knock": ("moved",),
}
RESULTS = (("passed", "passed"), ("failed", "failed"))
TO_MARK, PRESSURE_NOT_KNOWN = "to its mark", "not known"
_TO_MARK = (TO_MARK, "its mark", "to the mark", "at its mark", "to mark", "mark")
_EVERY = ("", "all", "every", "all of them")
_AS_BEFORE = ("", "as before", "same", "the same")


@dataclass(frozen=True, slots=True)
class Around:
    """What the texts of a form are read against."""

    record: WatchRecord
    practice: Practice
    units: Units
    today: date


def fields_of(kind: EventKind) -> tuple[str, ...]:
    """The questions of a kind, in the order in which they are asked."""
    by_whom = () if kind in (*FAULTS, "knock") else ("workshop",)
    return ("on", "place", *ASKED.get(kind, ()), *by_whom, "note")


def kinds_for(records: Sequence[WatchRecord]) -> list[EventKind]:
    """The kinds that these watches can have: no fault of pushers or of a gas valve that one has not got."""
    missing = {
        "pushers-damaged": not all(record.watch.pushers for record in records),
        "gas-valve-damaged": not all(record.watch.gas_valve for record in records),
    }
    return [kind for kind in KIND_WORDS if not missing.get(kind, False)]


def read_each(kind: EventKind, texts: Mapping[str, str], around: Sequence[Around]) -> list[Event]:
    """The event of each watch; what only some refuse is told with a nickname."""
    events: list[Event] = []
    refused: list[tuple[str, BadInput]] = []
    for each in around:
        try:
            events.append(read(kind, texts, each))
        except BadInput as error:
            refused.append((printable(each.record.watch.name), error))
    if refused:
        name, first = refused[0]
        if len(refused) == len(around) and len({error.message for _, error in refused}) == 1:
            raise first
        told = first.message if name in first.message else f"{name}: {first.message}"
        raise BadInput(told, where=first.where)
    return events


def read(kind: EventKind, texts: Mapping[str, str], around: Around) -> Event:
    """The event that the texts describe; raises BadInput whose `where` is a field of an event."""
    asked = fields_of(kind)
    first, last = days_told(texts["on"], around.today)
    fields: dict[str, Any] = {"on": first} if first == last else {"span": (first, last)}
    for name in asked:
        if name in _READ and (name == "seals" or texts.get(name, "").strip()):
            fields |= _READ[name](texts[name].strip(), texts, around)
    if fields.keys() & {"test_pa", "to_mark"}:
        fields["medium"] = texts["medium"]
    elif kind == "pressure-test" and not fields["passed"]:
        fields["pressure_unknown"] = True
    return make_event(
        kind,
        around.record.watch,
        around.today,
        around.practice,
        order=int(texts.get("place") or DAY_ORDER[kind]),
        workshop=texts["workshop"] if "workshop" in asked else "",
        note=texts["note"],
        **fields,
    )


def days_told(text: str, today: date) -> tuple[date, date]:
    """First and last day of an answer: twice the same for a day, which is today where nothing is said."""
    return parse_span(text.strip() or "today", today, where="on")


def day_that_counts(kind: EventKind, text: str, today: date, *, passed: bool) -> date:
    """Of an answer that is a span the day that counts: a pass on its first, all else on its last."""
    event = Event(kind, today, 0, passed=passed if "result" in fields_of(kind) else None)
    return counts_on(event, *days_told(text, today))


def texts_of(event: Event, units: Units) -> dict[str, str]:
    """Every question of an event on record with the answer that reads back as what is there."""
    kept = {
        "on": event.on.isoformat() if event.span is None else "..".join(map(str, event.span)),
        "place": str(event.order),
        "result": "failed" if event.passed is False else "passed",
        "repaired": event.repaired or "",
        "seals": ", ".join(f"{position.replace('-', ' ')}={material}" for position, material in event.seals),
        "pressure": _pressure_told(event, units),
        "moved": "yes" if event.moved else "no",
        "medium": event.medium or "air",
        "minutes": _exactly(event.minutes, 60, 0, " s"),
        "deflection": _exactly(event.deflection_um, 1, 3, ""),
        "crystal": _degrees(event.crystal_c, units),
        "case-air": _degrees(event.case_air_c, units),
        "workshop": event.workshop,
        "note": event.note,
    }
    if event.minutes is not None and event.minutes == round(event.minutes):
        kept["minutes"] = f"{event.minutes:.0f}"
    return {name: kept.get(name, "") for name in fields_of(event.kind)}


def _pressure_told(event: Event, units: Units) -> str:
    if event.to_mark:
        return TO_MARK
    if event.kind == "pressure-test" and event.test_pa is None:
        return PRESSURE_NOT_KNOWN
    return "" if event.test_pa is None else exactly.pressure_text(event.test_pa, units)


def _degrees(celsius: float | None, units: Units) -> str:
    return "" if celsius is None else exactly.temp_text(celsius, units)


def _exactly(value: float | None, factor: float, places: int, unit: str) -> str:
    """A stored value without any rounding that would be read back as another one; empty when not said."""
    if value is None:
        return ""
    text = f"{value * factor:.{places}f}"
    return (text.rstrip("0").rstrip(".") if places else text) + unit


def _seals(text: str, texts: Mapping[str, str], around: Around) -> dict[str, Any]:
    """Place and material of each new gasket: `all`, or `crown, case back=FKM`."""
    fitted = {seal.position: seal.material for seal in current_seals(around.record.seals)}
    stuff = texts["material"].strip()
    every = None if stuff.casefold() in _AS_BEFORE else _material(stuff, around, "material")

    def of(position: Position) -> str:
        return every or fitted.get(position, "unknown")

    if text.casefold() in _EVERY:
        return {"seals": tuple((position, of(position)) for position in places(around.record.watch))}
    found = []
    for part in text.split(","):
        place, _, own = (piece.strip() for piece in part.partition("="))
        position = one_of("-".join(place.casefold().split()), POSITIONS, "sealing place", "seals")
        found.append((position, _material(own, around, "seals") if own else of(position)))
    return {"seals": tuple(found)}


def _material(text: str, around: Around, where: str) -> str:
    by_folded = {known.casefold(): known for known in around.practice.materials}
    return one_of(by_folded.get(text.casefold(), text), tuple(around.practice.materials), "material", where)


def _pressure(text: str, texts: Mapping[str, str], around: Around) -> dict[str, Any]:
    words = " ".join(text.casefold().split())
    if words in _TO_MARK:
        return {"to_mark": True}
    if words in NOT_KNOWN:
        return {"pressure_unknown": True}
    unit = "psi" if around.units == "imperial" else "bar"
    return {"test_pa": quantities.parse_pressure_pa(text, "test_pa", default_unit=unit)}


def _minutes(text: str, texts: Mapping[str, str], around: Around) -> dict[str, Any]:
    return {"minutes": quantities.parse_duration_s(text, "minutes", default_unit="min") / 60}


def _deflection(text: str, texts: Mapping[str, str], around: Around) -> dict[str, Any]:
    kind, value = quantities.measure(text.removesuffix("µm").removesuffix("um").strip(), "deflection_um")
    if kind != quantities.BARE:
        raise BadInput("The deflection is a number of micrometres, such as 12.", where="deflection_um")
    return {"deflection_um": value}


def _temperature(name: str) -> Any:
    def reader(text: str, texts: Mapping[str, str], around: Around) -> dict[str, Any]:
        unit = "F" if around.units == "imperial" else "C"
        return {name: quantities.parse_temperature_c(text, name, default_unit=unit)}

    return reader


_READ: Mapping[str, Any] = {
    "seals": _seals,
    "result": lambda text, texts, around: {"passed": text == "passed"},
    "pressure": _pressure,
    "moved": lambda text, texts, around: {"moved": text == "yes"},
    "minutes": _minutes,
    "deflection": _deflection,
    "repaired": lambda text, texts, around: {"repaired": cast("EventKind", text)},
    "crystal": _temperature("crystal_c"),
    "case-air": _temperature("case_air_c"),
}


def places_in_day(kind: EventKind, on: date, events: Sequence[Event], wet: bool) -> list[tuple[str, str]]:
    """Where a new event can stand among those of its day, as (order, words); what is taken comes first.

    That is the usual place, but for a fault or a knock the last one, which keeps the watch drier. Empty when
    it is alone on that day. `wet`: there was water on it, which comes after workshop and test.
    """
    there = [(e.order, KIND_WORDS[e.kind]) for e in sorted((e for e in events if e.on == on), key=moment)]
    if wet:
        there = sorted([*there, (DAY_ORDER["exposure"], "the water")], key=lambda thing: thing[0])
    if not there:
        return []
    usual, last = DAY_ORDER[kind], there[-1][0]
    drier_last = kind in (*FAULTS, "knock") and last > usual
    taken = len(there) if drier_last else sum(order <= usual for order, _ in there)
    found: dict[int, tuple[str, str]] = {}
    for n in range(len(there) + 1):
        order = _order_between(there[n - 1][0] if n else None, there[n][0] if n < len(there) else None)
        if n == taken and not drier_last:
            order = usual
        if order is not None:
            found[n] = (str(order), f"after {there[n - 1][1]}" if n else f"before {there[0][1]}")
    return [found.pop(taken), *found.values()]


def _order_between(before: int | None, after: int | None) -> int | None:
    """An order that sorts a new event between two things of a day; None where there is none.

    Of two things with one order nothing says which came first.
    """
    if before is None:
        return None if after is None or after == 0 else after - 1
    return before + 1 if after is None or before + 1 < after else None
