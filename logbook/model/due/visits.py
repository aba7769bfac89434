"""The fewest workshop visits that cover what falls due, each service inside its window.

Days are chosen greedily by the ends of the windows, which gives the fewest for intervals on a line. Services
that open the same case are drawn together where that costs no further visit, and on the chosen days each case
is opened as rarely as possible. A visit may serve several watches. No watch is away during a trip that is
planned for it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from logbook.model.due.services import TEST, WORK, Service
from logbook.model.due.tasks import DueItem, months_after
from logbook.model.values import Exposure, Watch

# What is due is not put off further than this, and nothing need be done sooner than this.
GRACE = timedelta(days=30)
# What is overdue, or has a fault or a failed test, is for today or tomorrow.
AT_ONCE = timedelta(days=1)
# Only the next occurrence of a task is planned; further ahead, most would have come round again.
HORIZON_MONTHS = 24
_DAY = timedelta(days=1)


Window = tuple[date, date]  # both days included
Trips = Mapping[str, Sequence[Window]]  # nickname -> the days of what is planned for the watch


@dataclass(frozen=True, slots=True)
class Visit:
    """One visit on any day of `window`, both ends included, with what is done for which watch.

    `tests_after_opening` names the watches whose case is opened: each ends the visit with a pressure test,
    whether `items` lists one or not. `put_off` names the watches whose test in `items` is not needed once
    they pass the test after an opening on an earlier visit: its date counts from the last pass.
    """

    window: Window
    services: tuple[Service, ...]  # by watch
    tests_after_opening: tuple[str, ...]
    put_off: tuple[str, ...] = ()

    @property
    def items(self) -> tuple[DueItem, ...]:
        """All tasks, by watch: first what opens the case, then the strap, then the test."""
        return tuple(sorted((item for service in self.services for item in service.items), key=_place))

    @property
    def urgent(self) -> bool:
        """True when part of it should not wait."""
        return any(service.urgent for service in self.services)


def trips_of(plans: Iterable[Exposure], watches: Iterable[Watch], on: date) -> dict[str, list[Window]]:
    """Nickname -> the days of each plan for that watch that is not over."""
    names = {watch.id: watch.name for watch in watches}
    trips: dict[str, list[Window]] = defaultdict(list)
    for plan in plans:
        if plan.last_day >= on and plan.watch_id in names:
            trips[names[plan.watch_id]].append((plan.starts_on, plan.last_day))
    return trips


def window_of(service: Service, on: date, trips: Sequence[Window] = ()) -> Window:
    """First and last day on which a visit may do a service, from today on and outside its trips.

    Where the windows of its tasks share no day, the first task's window counts. Urgent services are for today
    or tomorrow; all others have at least 30 days from today. The days before a trip come first; where a trip
    leaves none, those after it.
    """
    if service.urgent:
        window = on, on + AT_ONCE
    else:
        window = max(on, service.earliest), max(service.latest, on + GRACE)
    return _between(trips, window)


def _between(trips: Sequence[Window], window: Window) -> Window:
    """The first run of days in a window without a trip, or the days after the trips where there is none.

    A window that moves behind a trip keeps its length.
    """
    first, last = window
    for begins, ends in sorted(trips):
        if begins <= first <= ends:
            first = ends + _DAY
            last = max(last, first + (window[1] - window[0])) if first > last else last
        elif first < begins <= last:
            last = begins - _DAY
    return first, last


def horizon(on: date, months: int = HORIZON_MONTHS) -> date:
    """The last date that a plan made on this day looks at."""
    return months_after(on, months)


def plan_visits(
    services: Iterable[Service], on: date, trips: Trips | None = None, months: int = HORIZON_MONTHS
) -> list[Visit]:
    """The fewest visits, soonest first, for the services whose date lies within the horizon.

    A snoozed task is planned like any other: a snooze silences the reminder, not the task.
    """
    away = trips or {}
    last = horizon(on, months)
    near = sorted((s for s in services if s.first.due <= last), key=lambda s: (s.watch, s.id))
    windows = {s.id: window_of(s, on, away.get(s.watch, ())) for s in near}
    drawn = _drawn_together(near, windows)
    days = _days(drawn.values())
    placed = _placed(near, drawn, days)
    visits: list[Visit] = []
    opened_before: set[str] = set()
    for day in days:
        here = [s for s in near if placed[s.id] == day]
        opened = _watches(s for s in here if s.opens)
        tested_again = (s for s in here if _has_test(s) and s.watch in opened_before - {*opened})
        visits.append(
            Visit(
                window=_shared([windows[s.id] for s in here]),
                services=tuple(here),
                tests_after_opening=opened,
                put_off=_watches(tested_again),
            )
        )
        opened_before |= {*opened}
    return visits


def _has_test(service: Service) -> bool:
    return any(item.task == TEST for item in service.items)


def _days(windows: Iterable[Window]) -> list[date]:
    """The fewest days so that every window holds one.

    The window that ends first needs a day, and its last day serves more of the other windows than any other.
    """
    days: list[date] = []
    for first, last in sorted(windows, key=lambda window: window[1]):
        if not days or first > days[-1]:
            days.append(last)
    return days


def _drawn_together(services: Sequence[Service], plain: Mapping[str, Window]) -> dict[str, Window]:
    """Service id -> its window, narrowed to the days it shares with other work that opens its watch.

    Services come by watch. A watch keeps its windows where narrowing them would cost a further visit.
    """
    windows = dict(plain)
    fewest = len(_days(windows.values()))
    for _, own in groupby(services, key=lambda s: s.watch):
        opening = {s.id: windows[s.id] for s in own if s.opens}
        drawn = dict(windows)
        for day in _days(opening.values()):
            here = [key for key, window in opening.items() if window[0] <= day <= window[1]]
            drawn |= dict.fromkeys(here, _shared([opening.pop(key) for key in here]))
        if drawn != windows and len(_days(drawn.values())) == fewest:
            windows = drawn
    return windows


def _placed(
    services: Sequence[Service], windows: Mapping[str, Window], days: Sequence[date]
) -> dict[str, date]:
    """Service id -> its day, chosen so that each watch is opened as rarely as these days allow."""
    may = {key: [day for day in days if first <= day <= last] for key, (first, last) in windows.items()}
    placed: dict[str, date] = {}
    opened: dict[str, set[date]] = {service.watch: set() for service in services}
    for watch, own in groupby(services, key=lambda s: s.watch):
        # The mirror image of the above: from the window that begins last, whose first day serves most others.
        waiting = sorted((s for s in own if s.opens), key=lambda s: (may[s.id][0], s.id))
        while waiting:
            day = may[waiting[-1].id][0]
            placed |= {s.id: day for s in waiting if day in may[s.id]}
            opened[watch].add(day)
            waiting = [s for s in waiting if s.id not in placed]
    placed |= {key: allowed[0] for key, allowed in may.items() if len(allowed) == 1}
    begins = {day: max(windows[key][0] for key, at in placed.items() if at == day) for day in days}
    for service in (s for s in services if s.id not in placed):
        # A day on which the watch is opened anyway; else one that leaves the others all their days.
        allowed = may[service.id]
        with_an_opening = [day for day in allowed if day in opened[service.watch]]
        unhurried = [day for day in allowed if windows[service.id][0] <= begins[day]]
        placed[service.id] = (with_an_opening or unhurried or allowed)[0]
    return placed


def _shared(windows: Sequence[Window]) -> Window:
    """The days that all these windows share."""
    return max(first for first, _ in windows), min(last for _, last in windows)


def _watches(services: Iterable[Service]) -> tuple[str, ...]:
    """The nicknames of the watches in these services, each once."""
    return tuple(sorted({service.watch for service in services}))


def _place(item: DueItem) -> tuple[str, int, str]:
    return item.watch, WORK.index(item.task), item.id
