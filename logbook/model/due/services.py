"""Services: tasks of one watch that fall due within half a year of each other are done together.

A fault or a failed test comes before everything else: the watch goes to a workshop now.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from operator import attrgetter

from logbook.model.due.tasks import STAGES, DueItem, Stage, asks_now, months_after
from logbook.model.judge.facts import Facts, moment
from logbook.model.judge.stands_words import what_began
from logbook.model.values import DAMAGE, DAY_ORDER, Event, EventKind

TOGETHER_MONTHS = 6  # from the first task of a service to its last

# A strap comes off without opening anything.
OPENING: tuple[EventKind, ...] = ("gaskets", "battery", "movement")
OPENED: EventKind = "opened"
TEST: EventKind = "pressure-test"
WORK: tuple[EventKind, ...] = (*OPENING, "strap", TEST)  # in the order in which a workshop does it

NOW = "to a workshop now"
WET_INSIDE = f"{NOW}: open, dry, mend"


@dataclass(frozen=True, slots=True)
class Service:
    """Tasks of one watch that are done together, soonest first.

    `id` is its first task's, marked as a service. `due`, `stage` and `why` come from what asks now; where
    nothing does, from what is silent, else from what is later. `troubles` are the faults and failed tests
    that stand; they put it before all others.
    """

    id: str
    watch: str
    items: tuple[DueItem, ...]
    due: date
    stage: Stage
    why: str
    label: str
    asking: tuple[DueItem, ...]  # coming up, due or overdue, and not silenced today
    snoozed_until: date | None  # by the task that sets its date; of a silent one, the first end
    troubles: tuple[Event, ...] = ()

    @property
    def silent(self) -> bool:
        """True while everything in it that would ask is snoozed."""
        return self.stage != "later" and not self.asking

    @property
    def first(self) -> DueItem:
        """The task that is due first; notes and snoozes of the service are kept under its identity."""
        return self.items[0]

    @property
    def latest(self) -> date:
        """The last day to which a visit may put it off."""
        return min(item.latest for item in self.items)

    @property
    def earliest(self) -> date:
        """The first day to which a visit may draw it, with as many of its tasks as its last day allows."""
        last = self.latest
        return max((item.earliest for item in self.items if item.earliest <= last), default=last)

    @property
    def in_order_of_work(self) -> tuple[DueItem, ...]:
        """Its tasks as a workshop does them: what opens the case, then the strap, then the test."""
        return tuple(sorted(self.items, key=lambda item: WORK.index(item.task)))

    @property
    def leading(self) -> DueItem:
        """The task that gives it its date and its words."""
        return next(item for item in self.asking or self.items if item.due == self.due)

    @property
    def opens(self) -> bool:
        """True when the case is opened for it."""
        return any(item.task in OPENING for item in self.items)

    @property
    def in_full(self) -> str:
        """Its label, and while something stands also every task that goes with it."""
        if not self.troubles:
            return self.label
        return f"{self.label}; due with it: {', '.join(item.label for item in self.in_order_of_work)}"

    @property
    def to_be_told(self) -> tuple[EventKind, ...]:
        """What may have been done besides the test, as only the owner knows, in the order of work.

        While something stands, nobody knows whether the case was opened for it, or what was renewed. Where
        only a test asks, often only the test is done. Empty where the service does just its own tasks.
        """
        own = [item.task for item in self.in_order_of_work if item.task != TEST]
        if self.troubles:
            return (OPENED, "gaskets", *(task for task in own if task != "gaskets"))
        speaking = self.asking or [item for item in self.items if item.stage != "later"]
        return tuple(own) if {item.task for item in speaking} == {TEST} else ()

    @property
    def damage(self) -> tuple[EventKind, ...]:
        """Each kind of damage that stands, once."""
        return tuple(dict.fromkeys(event.kind for event in self.troubles if event.kind in DAMAGE))

    @property
    def urgent(self) -> bool:
        """True when it should be done at once: part of it is overdue, or a fault or failed test stands."""
        return bool(self.troubles) or any(item.stage == "overdue" for item in self.items)


def troubles_of(facts: Facts) -> tuple[Event, ...]:
    """The faults and failed tests that stand, oldest first."""
    return tuple(sorted(facts.troubles, key=moment))


def services_of(items: Iterable[DueItem], on: date, troubles: Sequence[Event] = ()) -> tuple[Service, ...]:
    """Groups the next items of one watch into services, the first to be done in front.

    Items past their date are due today. A service reaches half a year from its first task; `troubles` go
    with the first service.
    """
    groups: list[list[DueItem]] = []
    for item in sorted(items, key=attrgetter("due", "id")):
        if groups and max(item.due, on) <= months_after(max(groups[-1][0].due, on), TOGETHER_MONTHS):
            groups[-1].append(item)
        else:
            groups.append([item])
    return tuple(
        in_order(_service(group, on, () if n else tuple(troubles)) for n, group in enumerate(groups))
    )


def kinds_done(
    tasks: Iterable[EventKind], repaired: Iterable[EventKind] = (), *, tests: bool = False
) -> list[tuple[EventKind, EventKind | None]]:
    """The kinds of event that these tasks become, with what was repaired, in the order of the day.

    An opening is not listed alone where another task opens the case. With `tests`, an opened case is tested
    whether a test is due or not.
    """
    done = set(tasks)
    if done & {*OPENING}:
        done.discard(OPENED)
    if tests and done & {OPENED, *OPENING}:
        done.add(TEST)
    every: list[tuple[EventKind, EventKind | None]] = [(task, None) for task in done]
    every += [("repaired", kind) for kind in dict.fromkeys(repaired)]
    return sorted(every, key=lambda one: (DAY_ORDER[one[0]], one[0], one[1] or ""))


def in_order(services: Iterable[Service]) -> list[Service]:
    """Sorts services of any watches: what asks now, then what is silent, then what is later.

    Within these, faults and failures come first, then what has been due for longest.
    """
    return sorted(services, key=_place)


def _place(service: Service) -> tuple[int, bool, date, str]:
    group = 0 if service.asking else 1 if service.silent else 2
    return group, not service.troubles, service.due, service.id


def _service(items: Sequence[DueItem], on: date, troubles: tuple[Event, ...]) -> Service:
    near = [item for item in items if item.stage != "later"]
    asking = tuple(asks_now(items, on))
    speaking = asking or near or items
    first, ends = speaking[0], [item.snoozed_until for item in near]
    watch_id, rest = items[0].id.split(":", 1)
    return Service(
        id=f"{watch_id}:service:{rest}",
        watch=first.watch,
        items=tuple(items),
        due=first.due,
        stage=max((item.stage for item in speaking), key=STAGES.index),
        why=_trouble_words(troubles) or first.why,
        label=_label(items, troubles),
        asking=asking,
        snoozed_until=first.snoozed_until if asking or not near else min(filter(None, ends)),
        troubles=troubles,
    )


def _label(items: Sequence[DueItem], troubles: Sequence[Event]) -> str:
    if troubles:
        return WET_INSIDE if any(_is_wet(event) for event in troubles) else NOW
    if len(items) == 1:
        return items[0].label
    ordered = sorted(items, key=lambda item: WORK.index(item.task))
    return f"service: {', '.join(item.label for item in ordered)}"


def _is_wet(event: Event) -> bool:
    return event.kind in ("water-inside", "fog", "condensation-test")


def _trouble_words(troubles: Sequence[Event]) -> str:
    return ", ".join(dict.fromkeys(_seen(event) for event in troubles))


def _seen(event: Event) -> str:
    return "a test failed" if event.kind == "pressure-test" else what_began(event)
