"""Which watches the Shelf shows, and in which order: a group, what is looked for, a sort order."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from logbook.model.judge.standing import Standing
from logbook.text.names import folded
from logbook.tui.shell.closest import closest

ORDERS: dict[str, Callable[[Standing], Any]] = {
    "nickname": lambda s: 0,  # as the record gives them
    "least left": lambda s: -1 if s.score is None else s.score,  # of unknown ones nothing can be said
    "last water": lambda s: -(s.record.last_exposure_on or date.min).toordinal(),
    "next due": lambda s: s.next_service.due if s.next_service else date.max,
}
USUAL_ORDER = next(iter(ORDERS))


@dataclass(frozen=True, slots=True)
class Choice:
    """What the Shelf was asked to show."""

    group: str = ""  # empty: every watch
    find: str = ""
    order: str = USUAL_ORDER


def groups(standings: Sequence[Standing]) -> list[str]:
    """The groups of the record, each as it was written first."""
    found: dict[str, str] = {}
    for standing in standings:
        name = standing.record.watch.group
        if folded(name):
            found.setdefault(folded(name), name)
    return [found[key] for key in sorted(found)]


def after(name: str, names: Sequence[str]) -> str:
    """The next of a cycle of names; an unknown one starts it anew."""
    return names[(names.index(name) + 1) % len(names)] if name in names else names[0]


def chosen(standings: Sequence[Standing], choice: Choice) -> list[Standing]:
    """The watches that are shown, in order; of those looked for the best match comes first."""
    wanted = folded(choice.group)
    shown = [s for s in standings if not wanted or folded(s.record.watch.group) == wanted]
    shown.sort(key=ORDERS[choice.order])
    if not folded(choice.find):
        return shown
    return closest(choice.find, shown, lambda s: (s.name, s.record.watch.group))
