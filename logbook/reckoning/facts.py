"""What the events of a watch say up to a day: the last pass, what was opened since, what is still open.

Within one date the order of the events counts: a battery change after the day's test leaves the watch
opened and untested, before it the test covers it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from logbook.reckoning.values import DAMAGE, FAULTS, Event, Watch, WatchRecord

OPENINGS = ("opened", "battery", "movement", "gaskets")
WET_USES = ("diving", "swimming")


@dataclass(frozen=True, slots=True)
class Pass:
    """A passed pressure test, or the maker's own on a watch bought new."""

    on: date
    test_pa: float | None
    medium: str
    makers: bool


@dataclass(frozen=True, slots=True)
class Facts:
    """What the events say up to a day, oldest first where there are several."""

    watch: Watch
    on: date
    last_pass: Pass | None  # the owner's, or the maker's of a diver's watch
    sampled_on: date | None  # bought new without a diver's mark: the maker tested samples only
    open_faults: tuple[Event, ...]
    failed: Event | None  # a failed test with no passed pressure test after it
    opened: Event | None  # the first opening since the last passed pressure test
    highest_pass: Pass | None  # the highest since the last opening or failure
    last_water_on: date | None  # last exposure, confirmation, or the start of the record

    @property
    def asking_for_a_test(self) -> list[Event]:
        """All that asks for a pressure test at once, oldest first."""
        asking = [e for e in (self.failed, self.opened, *self.open_faults) if e is not None]
        return sorted(asking, key=moment)


def moment(event: Event) -> tuple[date, int, int]:
    """Sorts events: date, order inside the day, and the order in which they were entered."""
    return event.on, event.order, event.id or 0


def gather(record: WatchRecord, on: date) -> Facts:
    """The facts of a watch on a day, from its events up to that day."""
    watch = record.watch
    events = sorted((e for e in record.events if e.on <= on), key=moment)
    passes = [e for e in events if e.kind == "pressure-test" and e.passed]
    last = passes[-1] if passes else None
    after_last = events[events.index(last) + 1 :] if last else events
    makers = _makers_pass(watch, on)
    return Facts(
        watch=watch,
        on=on,
        last_pass=_as_pass(last) if last else makers,
        sampled_on=watch.new_on if watch.new_on and makers is None else None,
        open_faults=_open_faults(events, passes),
        failed=next((e for e in reversed(after_last) if _failed(e)), None),
        opened=next((e for e in after_last if opens(e)), None),
        highest_pass=_highest(events, makers),
        last_water_on=max(
            d
            for d in (record.last_exposure_on, watch.confirmed_on, watch.recorded_from, watch.added_on)
            if d is not None
        ),
    )


def opens(event: Event) -> bool:
    """True for an event after which the watch needs a pressure test."""
    return event.kind in OPENINGS or (event.kind == "repaired" and event.repaired in DAMAGE)


def _failed(event: Event) -> bool:
    return event.kind in ("pressure-test", "condensation-test") and event.passed is False


def _as_pass(event: Event) -> Pass:
    return Pass(event.on, event.test_pa, event.medium or "air", makers=False)


def _makers_pass(watch: Watch, on: date) -> Pass | None:
    """Each diver's watch was tested by its maker; of other marks only samples were (ISO 6425, ISO 22810)."""
    if watch.new_on is None or watch.new_on > on or watch.mark not in ("divers", "divers-mixed-gas"):
        return None
    return Pass(watch.new_on, watch.marked_pa, "water", makers=True)


def _open_faults(events: Sequence[Event], passes: Sequence[Event]) -> tuple[Event, ...]:
    """Faults that no later passed pressure test closes; damage needs its repair before that test."""
    still_open = []
    for fault in (e for e in events if e.kind in FAULTS):
        since = moment(fault)
        if fault.kind in DAMAGE:
            repairs = [moment(e) for e in events if e.kind == "repaired" and e.repaired == fault.kind]
            since = next((at for at in repairs if at > since), (date.max, 0, 0))
        if not any(moment(test) > since for test in passes):
            still_open.append(fault)
    return tuple(still_open)


def _highest(events: Sequence[Event], makers: Pass | None) -> Pass | None:
    """The pass with the greatest pressure since the last opening or failure."""
    breaks = [moment(e) for e in events if opens(e) or _failed(e) or e.kind in FAULTS]
    since = breaks[-1] if breaks else None
    found = [
        _as_pass(e)
        for e in events
        if e.kind == "pressure-test" and e.passed and (since is None or moment(e) > since)
    ]
    if makers is not None and (since is None or since[0] < makers.on):
        found.append(makers)
    with_pressure = [p for p in found if p.test_pa is not None]
    return max(with_pressure, key=lambda p: p.test_pa or 0.0, default=None)
