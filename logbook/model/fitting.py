"""The seals a watch comes with: their places, their material and when they were fitted."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from logbook.model.practice import Practice
from logbook.model.values import Event, Position, Seal, Watch, WatchRecord
from logbook.model.wear.account import later_by_years

UNKNOWN_YEARS = 30  # how far back a fitting may lie when nothing is known of it: assumption


@dataclass(frozen=True, slots=True)
class Fitted:
    """A seal as its owner describes it; no dates: not known. Material None: that of the others."""

    material: str | None = None
    earliest: date | None = None
    latest: date | None = None


def places(watch: Watch) -> tuple[Position, ...]:
    """The sealing places of a watch, in the order in which they are listed."""
    found: list[Position] = ["case-back", "crystal", "crown"]
    if watch.pushers:
        found.append("pushers")
    if watch.gas_valve:
        found.append("gas-valve")
    return tuple(found)


def initial_seals(
    watch: Watch,
    material: str,
    fitted: Fitted,
    single: Mapping[Position, Fitted],
    *,
    last_pass: date | None = None,
) -> tuple[Seal, ...]:
    """The seals of a new watch: all of `material`, fitted as `fitted` says, except those given one by one.

    On a watch bought new they date from that day. An unknown date reaches back to the year the watch was
    made, else to its purchase, else `UNKNOWN_YEARS`; and forward to the `last_pass` if there is one, at most
    to the day the watch was added.
    """
    seals = []
    for position in places(watch):
        told = single.get(position, Fitted())
        stuff = told.material or material
        days = _days(watch, told if told.earliest else fitted, last_pass)
        seals.append(Seal(position, stuff, *days))
    return tuple(seals)


def is_known(seal: Seal, record: WatchRecord, practice: Practice) -> bool:
    """False for a span of days that only means "not known": its owner gave neither end."""
    if seal.fitted_earliest == seal.fitted_latest or seal.event_id is not None:
        return True
    watch = record.watch
    ends = {watch.added_on, *(e.on for e in record.events if e.kind == "pressure-test" and e.passed)}
    before = later_by_years(watch.added_on, -practice.material(seal.material).cap_years)  # of older records
    return seal.fitted_latest not in ends or seal.fitted_earliest not in (*_oldest_days(watch), before)


def last_pass_on(events: Iterable[Event]) -> date | None:
    """The day of the last passed pressure test: gaskets of unknown date were in place by then."""
    return max((e.on for e in events if e.kind == "pressure-test" and e.passed), default=None)


def _days(watch: Watch, fitted: Fitted, last_pass: date | None) -> tuple[date, date]:
    """First and last day on which a seal may have been fitted."""
    if fitted.earliest is not None:
        return fitted.earliest, fitted.latest or fitted.earliest
    if watch.new_on is not None:
        return watch.new_on, watch.new_on
    latest = min(last_pass or watch.added_on, watch.added_on)  # it came with them
    return min(_oldest_days(watch)[0], latest), latest


def _oldest_days(watch: Watch) -> list[date]:
    """How far back an unknown fitting may lie, by the first of these dates that is known."""
    made = [] if watch.made_from is None else [date(watch.made_from, 1, 1)]
    bought = [] if watch.bought_on is None else [watch.bought_on]
    return [*made, *bought, later_by_years(watch.added_on, -UNKNOWN_YEARS)]
