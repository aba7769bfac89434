"""The tasks of a watch: what is due, when and how soon, counted from which date by which interval.

Intervals are common practice. The owner may set each one for a watch; the maker's instruction wins.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal

from logbook.model.civil import months_after as months_after
from logbook.model.fitting import is_known
from logbook.model.judge.facts import Facts
from logbook.model.judge.proofs import interval_months
from logbook.model.judge.stands import Unresolved
from logbook.model.judge.stands_words import opening_words, what_began, when
from logbook.model.practice import Interval, Practice
from logbook.model.shown import show_pressure
from logbook.model.values import POSITIONS, EventKind, Position, Use, Watch, WatchRecord
from logbook.model.wear.account import SealWear
from logbook.model.wear.charge import middle

if TYPE_CHECKING:  # the first screen is painted without the forecast
    from logbook.model.predict.forecast import Forecast

Stage = Literal["later", "coming up", "due", "overdue"]
STAGES: tuple[Stage, ...] = ("later", "coming up", "due", "overdue")
TASKS: tuple[EventKind, ...] = ("pressure-test", "gaskets", "battery", "movement", "strap")


@dataclass(frozen=True, slots=True)
class DueItem:
    """One task of one watch: its date, how near it is, and the days to which a visit may be drawn.

    Its identity is the watch, the task and the anchor (the date it counts from), with a mark where an earlier
    snooze of that date must not silence it. All gaskets are one task; `position` is the seal that decides.
    """

    id: str
    watch: str
    task: EventKind
    position: Position | None
    due: date
    stage: Stage
    anchor: date
    interval_months: int
    reach_months: tuple[int, int]  # how far before and after its date a visit may draw it
    why: str
    snoozed_until: date | None = None
    # Identities of this task from when every seal was a task of its own: snoozes, notices and calendar
    # entries kept under them still count.
    formerly: tuple[str, ...] = ()

    @property
    def earliest(self) -> date:
        """The first day to which a visit may draw it."""
        return self._drawn(self.reach_months[0])

    @property
    def latest(self) -> date:
        """The last day to which a visit may put it off."""
        return self._drawn(self.reach_months[1])

    def _drawn(self, months: int) -> date:
        # Counted from the anchor where there is one: adding months one after another loses days.
        if months_after(self.anchor, self.interval_months) == self.due:
            return months_after(self.anchor, self.interval_months + months)
        return months_after(self.due, months)

    @property
    def label(self) -> str:
        """The task in words."""
        words = {"pressure-test": "pressure test", "movement": "movement service", "strap": "strap and bars"}
        return words.get(self.task, self.task)


def stage_of(due: date, on: date, practice: Practice, begins: date | None = None) -> Stage:
    """How near a date is: coming up, due from that day on, or overdue some days later.

    It is coming up from some days before its date, or from the day it `begins`, if that is sooner.
    """
    if on >= due + timedelta(days=practice["overdue_days"]):
        return "overdue"
    if on >= due:
        return "due"
    comes_up = due - timedelta(days=practice["coming_up_days"])
    return "coming up" if on >= min(comes_up, begins or comes_up) else "later"


def pressure_test_interval(watch_use: Use, practice: Practice) -> Interval:
    """The pressure-test interval that a stated use asks for."""
    return practice.intervals[f"pressure-test-{watch_use}"]


def next_items(
    record: WatchRecord,
    facts: Facts,
    wears: Sequence[SealWear],
    practice: Practice,
    on: date,
    forecast: Forecast | None = None,
) -> list[DueItem]:
    """The next date of every task of a watch that is not retired, soonest first.

    With a `forecast`, gaskets are due by its middle date where that comes first. A watch without a mark has
    no pressure test due unless its owner set an interval, or a fault or a failed test stands.
    """
    if record.watch.retired_on is not None:
        return []
    items = list(_service_items(record, practice, on))
    items += _test_items(record, facts, practice, on)
    if wears:
        items.append(_gasket_item(record, wears, practice, on, forecast))
    return sorted(items, key=lambda item: (item.due, item.id))


def asks_now(items: Sequence[DueItem], on: date) -> list[DueItem]:
    """The items that are coming up, due or overdue and not silenced today, soonest first."""
    return [i for i in items if i.stage != "later" and (i.snoozed_until is None or on >= i.snoozed_until)]


def _item(
    record: WatchRecord, task: EventKind, anchor: date, due: date, interval: Interval, practice: Practice,
    on: date, *, why: str, months: int | None = None, mark: str = "", formerly: tuple[str, ...] = (),
) -> DueItem:  # fmt: skip
    """Makes an item; a `mark` makes it a new one, which an earlier snooze does not silence."""
    parts = [str(record.watch.id or 0), task, anchor.isoformat()]
    parts += [mark] if mark else []
    identity = ":".join(parts)
    return DueItem(
        id=identity,
        watch=record.watch.name,
        task=task,
        position=None,
        due=due,
        stage=stage_of(due, on, practice),
        anchor=anchor,
        interval_months=interval.months if months is None else months,
        reach_months=(interval.earliest, interval.latest),
        why=why,
        snoozed_until=_snoozed(record, identity, formerly),
        formerly=formerly,
    )


def _snoozed(record: WatchRecord, identity: str, formerly: Sequence[str]) -> date | None:
    """Until when it is silent: by its own snooze, else by the longest under one of its former names."""
    if identity in record.snoozed:
        return record.snoozed[identity]
    return max((record.snoozed[one] for one in formerly if one in record.snoozed), default=None)


def _test_items(record: WatchRecord, facts: Facts, practice: Practice, on: date) -> Iterator[DueItem]:
    """The next pressure test: at once while something stands, else an interval after the last that counts.

    The last that counts is the newest pass that reaches what the stated use needs. An unmarked watch has no
    test due unless its owner set an interval, or something is wrong with it.
    """
    watch = record.watch
    if watch.mark == "unmarked" and "pressure-test" not in watch.intervals_months and not facts.troubles:
        return
    interval = pressure_test_interval(watch.use, practice)
    months = interval_months(watch, practice)
    last, mark, formerly = facts.last_at(facts.proofs, facts.needs.asked_pa), "", tuple[str, ...]()
    needed = show_pressure(facts.needs.asked_pa)
    if facts.standing:
        asking = _asking(facts.standing)
        first, latest = asking[0], asking[-1]
        why = why_at_once(first) if first is latest else f"{why_at_once(first)}; then {why_at_once(latest)}"
        # It is due since the first of them; the last makes it a new item, which no earlier snooze silences.
        # A slow clock must not put off anything that is on record.
        due, anchor, mark = min(first.on, on), latest.on, _mark_of(asking, facts)
        formerly = _before_its_repair(record, asking)
    elif last is not None:
        due, anchor = months_after(last.on, months), last.on
        whose = "the maker’s test" if last.makers else f"the last test passed at {needed} or more"
        why = f"{months} months after {whose}{_own_words(watch, months)}"
    else:
        anchor = due = watch.added_on
        why = f"no pressure test passed at {needed} or more on record"
    yield _item(
        record, "pressure-test", anchor, due, interval, practice, on, why=why, months=months, mark=mark,
        formerly=formerly,
    )  # fmt: skip


def _asking(standing: Sequence[Unresolved]) -> list[Unresolved]:
    """What asks for a test, oldest first; only the first opening, since one more changes nothing."""
    found = sorted(standing, key=lambda stand: stand.on)
    opened = [stand for stand in found if stand.code == "opened-untested"]
    return [stand for stand in found if stand not in opened[1:]]


def _own_words(watch: Watch, months: int) -> str:
    own = watch.intervals_months.get("pressure-test") or 0
    return f"; of your {own} months, only {months} count for {watch.use}" if own > months else ""


def _mark_of(asking: Sequence[Unresolved], facts: Facts) -> str:
    """The last-logged entry that asks, used as a mark where its date alone may be snoozed already.

    That can be so for any date where a fault asks, for the date of the last pass, and for the day the watch
    came. A plain opening has no mark: whoever snoozed it knows that the case was opened.
    """
    before = facts.last_pass.on if facts.last_pass else facts.watch.added_on
    if asking[-1].on != before and all(stand.code == "opened-untested" for stand in asking):
        return ""
    newest = max(asking, key=lambda stand: stand.entry_id)
    return f"{newest.event.kind if newest.event else newest.code}-{newest.entry_id}"


def _before_its_repair(record: WatchRecord, asking: Sequence[Unresolved]) -> tuple[str, ...]:
    """The task's name before the repair that was logged last: a repair is no reason to ask again."""
    newest = max(asking, key=lambda stand: stand.entry_id).event
    if newest is None or newest.kind != "repaired":
        return ()
    task = f"{record.watch.id or 0}:pressure-test"
    return tuple(
        f"{task}:{stand.on.isoformat()}:{stand.event.kind}-{stand.entry_id}"
        for stand in asking
        if stand.event is not None and stand.event.kind == newest.repaired
    )


_AT_ONCE = {
    "failed-test": "a test failed",
    "overstressed": "it met more than it is made for",
    "beyond-proof": "it met more than it was tested to",
    "knocked": "it was knocked",
}


def why_at_once(stand: Unresolved) -> str:
    """Why a workshop or a test is asked for: a few words with the date."""
    event = stand.event
    if stand.code == "opened-untested":
        words = f"opened ({opening_words(stand)}), not tested since"
    else:
        words = _AT_ONCE.get(stand.code) or (what_began(event) if event else stand.code)
    return f"{words}, {when(stand).removeprefix('on ')}"


@dataclass(frozen=True, slots=True)
class _Gasket:
    """When one seal is due, and the first day on which its interval may be used up."""

    wear: SealWear
    due: date
    window_from: date | None
    why: str


def _gasket_item(
    record: WatchRecord, wears: Sequence[SealWear], practice: Practice, on: date, forecast: Forecast | None
) -> DueItem:
    """One task for all seals of a watch, dated by the seal that is due first.

    Its identity counts from the oldest fitting, so it stays the same whichever seal decides.
    """
    interval = practice.intervals["gaskets"]
    months = record.watch.intervals_months.get("gaskets", interval.months)
    each = [_gasket(wear, record, months, practice, forecast, on) for wear in wears]
    first = min(each, key=lambda g: (g.due, -g.wear.wear_share, POSITIONS.index(g.wear.seal.position)))
    mark = "used-up" if any(wear.wear_share >= 1 for wear in wears) else ""
    item = _item(
        record, "gaskets", min(wear.seal.fitted_earliest for wear in wears), first.due, interval, practice,
        on, why=first.why, months=months, mark=mark, formerly=_formerly(record, wears, mark),
    )  # fmt: skip
    item = replace(item, position=first.wear.seal.position, anchor=first.wear.seal.fitted_earliest)
    named = [record.named[one] for one in (item.id, *item.formerly) if one in record.named]
    item = _as_named(item, named, practice)
    starts = [g.window_from for g in each if g.window_from is not None]
    begins = max(min(starts), months_after(item.due, interval.earliest)) if starts else None
    return replace(item, stage=stage_of(item.due, on, practice, begins))


def _gasket(
    wear: SealWear, record: WatchRecord, months: int, practice: Practice, forecast: Forecast | None, on: date
) -> _Gasket:
    seal = wear.seal
    place = seal.position.replace("-", " ")
    if not is_known(seal, record, practice):
        return _Gasket(wear, record.watch.added_on, None, f"{place} seal: nobody knows when it was fitted")
    due, why = months_after(seal.fitted_earliest, months), f"{months} months after it was fitted"
    if wear.cap_at_the_earliest < due:
        due, why = wear.cap_at_the_earliest, "past its storage age"
    ahead = forecast.of(seal.position) if forecast else None
    if ahead and ahead.p50 and ahead.p50 < due:
        due, why = ahead.p50, _half_words(ahead.p50, on)
    used_up = _used_up_on(wear, on)
    if used_up is not None:
        due, why = min(due, used_up), "its service interval is used up"
    return _Gasket(wear, due, ahead.p10 if ahead else None, f"{place} seal: {why}")


def _formerly(record: WatchRecord, wears: Sequence[SealWear], mark: str) -> tuple[str, ...]:
    """The names that tasks of single seals had, for the seals with the same mark."""
    tail = f":{mark}" if mark else ""
    return tuple(
        f"{record.watch.id or 0}:gaskets:{wear.seal.position}:{wear.seal.fitted_earliest.isoformat()}{tail}"
        for wear in wears
        if not mark or wear.wear_share >= 1
    )


def _as_named(item: DueItem, named: Sequence[date], practice: Practice) -> DueItem:
    """The item at the date its owner was last told, unless the new date differs by more than some days.

    A forecast wanders a little from day to day; a notice or a calendar entry must not.
    """
    reach = timedelta(days=practice["named_reach_days"])
    near = [day for day in named if abs(day - item.due) <= reach]
    return replace(item, due=near[0]) if near else item


def _half_words(half: date, on: date) -> str:
    if half <= on:
        return "its service interval is likely used up already"
    return "half the ways ahead have its service interval used up by then"


def _used_up_on(wear: SealWear, on: date) -> date | None:
    """When the wear share passed 1, at its average pace; None while it is below 1. A best estimate."""
    if wear.wear_share < 1:
        return None
    fitted = middle(wear.seal)
    return fitted + timedelta(days=int((on - fitted).days / wear.wear_share))


_SINCE: Mapping[EventKind, tuple[str, str]] = {  # task -> what was done, and what is missing from the record
    "battery": ("battery was changed", "battery change"),
    "movement": ("movement was serviced", "movement service"),
    "strap": ("strap was changed", "strap change"),
}


def _service_items(record: WatchRecord, practice: Practice, on: date) -> Iterator[DueItem]:
    watch = record.watch
    tasks: list[EventKind] = ["battery" if watch.movement == "quartz" else "movement", "strap"]
    for task in tasks:
        interval = practice.intervals[task]
        months = watch.intervals_months.get(task, interval.months)
        done = [e.on for e in record.events if e.kind == task and e.on <= on]
        anchor = max(done) if done else (watch.new_on or watch.bought_on or watch.added_on)
        last, none = _SINCE[task]
        words = f"since the {last}" if done else f"since the watch came: no {none} on record"
        due = months_after(anchor, months)
        yield _item(
            record, task, anchor, due, interval, practice, on, why=f"{months} months {words}", months=months
        )
