"""The fewest workshop visits that cover what falls due: each task inside its window, one case opened once.

Windows are stabbed greedily by their ends, which gives the fewest days for intervals on a line. What needs
the case of a watch open is drawn together where that costs no further visit, and on the days chosen each case
is opened as rarely as they allow. A visit may serve several watches.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from logbook.reckoning.due import DueItem, months_after

OPENING = ("gaskets", "battery", "movement")  # a strap comes off without opening anything
TEST = "pressure-test"
_ORDER = (*OPENING, "strap", TEST)

# What is due is not put off further than this, and nothing need be done sooner than this.
GRACE = timedelta(days=30)
# Only the next occurrence of a task is planned, and further ahead most of them would have come round again.
HORIZON_MONTHS = 24


Window = tuple[date, date]  # both days included


@dataclass(frozen=True, slots=True)
class Visit:
    """One visit on any day of `window`, both ends included, with what is done for which watch.

    `tests_after_opening` names the watches whose case is opened: each ends the visit with a pressure test,
    its own test among `items` or not. `put_off` names those whose test among `items` falls away once the test
    after the opening on an earlier visit is passed, since its date counts from the last pass.
    """

    window: Window
    items: tuple[DueItem, ...]  # by watch; of one watch what opens it, then the strap, then its test
    tests_after_opening: tuple[str, ...]
    put_off: tuple[str, ...] = ()


def window_of(item: DueItem, on: date) -> Window:
    """First and last day on which a visit may do a task: today or later, with at least 30 days from today."""
    return max(on, item.earliest), max(item.latest, on + GRACE)


def horizon(on: date, months: int = HORIZON_MONTHS) -> date:
    """The last date that a plan made on a day looks at."""
    return months_after(on, months)


def plan_visits(items: Iterable[DueItem], on: date, months: int = HORIZON_MONTHS) -> list[Visit]:
    """The fewest visits, soonest first, for the tasks whose date lies within the horizon.

    A snoozed task is planned as any other: a snooze silences a reminder, not the task.
    """
    last = horizon(on, months)
    near = sorted((i for i in items if i.due <= last), key=lambda i: (i.watch, i.id))
    windows = _drawn_together(near, on)
    days = _days(windows.values())
    placed = _placed(near, windows, days)
    visits: list[Visit] = []
    opened_before: set[str] = set()
    for day in days:
        here = sorted((i for i in near if placed[i.id] == day), key=_place)
        opened = _watches(i for i in here if i.task in OPENING)
        tested_again = (i for i in here if i.task == TEST and i.watch in opened_before - {*opened})
        visits.append(
            Visit(
                window=_shared([window_of(item, on) for item in here]),
                items=tuple(here),
                tests_after_opening=opened,
                put_off=_watches(tested_again),
            )
        )
        opened_before |= {*opened}
    return visits


def _days(windows: Iterable[Window]) -> list[date]:
    """The fewest days such that every window holds one.

    The window that ends first needs a day, and no other day in it serves more of the rest than its last.
    """
    days: list[date] = []
    for first, last in sorted(windows, key=lambda window: window[1]):
        if not days or first > days[-1]:
            days.append(last)
    return days


def _drawn_together(items: Sequence[DueItem], on: date) -> dict[str, Window]:
    """Item id -> its window, drawn in to the days that it shares with what else opens its watch.

    Items come by watch. A watch for which that would cost a further visit keeps the windows it has.
    """
    windows = {item.id: window_of(item, on) for item in items}
    fewest = len(_days(windows.values()))
    for _, own in groupby(items, key=lambda i: i.watch):
        opening = {i.id: windows[i.id] for i in own if i.task in OPENING}
        drawn = dict(windows)
        for day in _days(opening.values()):
            here = [key for key, window in opening.items() if window[0] <= day <= window[1]]
            drawn |= dict.fromkeys(here, _shared([opening.pop(key) for key in here]))
        if drawn != windows and len(_days(drawn.values())) == fewest:
            windows = drawn
    return windows


def _placed(items: Sequence[DueItem], windows: Mapping[str, Window], days: Sequence[date]) -> dict[str, date]:
    """Item id -> its day, such that each watch is opened as rarely as these days allow."""
    may = {key: [day for day in days if first <= day <= last] for key, (first, last) in windows.items()}
    placed: dict[str, date] = {}
    opened: dict[str, set[date]] = {item.watch: set() for item in items}
    for watch, own in groupby(items, key=lambda i: i.watch):
        # From the window that begins last: its soonest day serves most of the others, as above, mirrored.
        waiting = sorted((i for i in own if i.task in OPENING), key=lambda i: (may[i.id][0], i.id))
        while waiting:
            day = may[waiting[-1].id][0]
            placed |= {i.id: day for i in waiting if day in may[i.id]}
            opened[watch].add(day)
            waiting = [i for i in waiting if i.id not in placed]
    placed |= {key: allowed[0] for key, allowed in may.items() if len(allowed) == 1}
    begins = {day: max(windows[key][0] for key, at in placed.items() if at == day) for day in days}
    for item in (i for i in items if i.id not in placed):
        # Where the watch is opened anyway; else where it leaves the others all the days that they have.
        allowed = may[item.id]
        with_an_opening = [day for day in allowed if day in opened[item.watch]]
        unhurried = [day for day in allowed if windows[item.id][0] <= begins[day]]
        placed[item.id] = (with_an_opening or unhurried or allowed)[0]
    return placed


def _shared(windows: Sequence[Window]) -> Window:
    """The days that lie in all of some windows."""
    return max(first for first, _ in windows), min(last for _, last in windows)


def _watches(items: Iterable[DueItem]) -> tuple[str, ...]:
    """The watches of tasks, by nickname, each once."""
    return tuple(sorted({item.watch for item in items}))


def _place(item: DueItem) -> tuple[str, int, str]:
    return item.watch, _ORDER.index(item.task), item.id
