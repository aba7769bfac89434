"""Sentences about workshop visits, the same at the command line and in the room."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import groupby

from logbook.model.due.services import TEST
from logbook.model.due.tasks import DueItem
from logbook.model.due.visits import Visit
from logbook.text import phrases


def summary(count: int, last: date) -> str:
    """How many visits cover what falls due."""
    number = "No workshop visit is" if not count else "1 visit is" if count == 1 else f"{count} visits are"
    enough = "needed" if not count else "enough"
    return f"{number} {enough} for all that falls due by {phrases.full_date(last)}."


def left_out(later: int) -> str:
    """How many tasks lie beyond the plan; empty when none does."""
    if not later:
        return ""
    return (
        f"{later} task{'s' if later > 1 else ''} with a later date {'are' if later > 1 else 'is'} left out."
    )


def when(visit: Visit) -> str:
    """The days on which a visit covers everything; for an urgent one, the sooner the better."""
    first, last = visit.window
    days = f"between {phrases.full_date(first)} and {phrases.full_date(last)}"
    if first == last:
        days = f"on {phrases.full_date(first)}"
    return f"{days}; the sooner the better" if visit.urgent else days


def by_watch(visit: Visit) -> list[tuple[str, str]]:
    """Each watch of a visit with what is done to it, the pressure test last."""
    return [
        (watch, _work(watch, [*items], visit))
        for watch, items in groupby(visit.items, key=lambda item: item.watch)
    ]


def _work(watch: str, items: Sequence[DueItem], visit: Visit) -> str:
    troubled = [s.label for s in visit.services if s.watch == watch and s.troubles]
    words = [*troubled, *(item.label for item in items if item.task != TEST)]
    if watch in visit.tests_after_opening:
        return f"{', '.join(words)}; then a pressure test"
    if any(item.task == TEST for item in items):
        words.append("pressure test")
    said = ", ".join(words)
    if watch in visit.put_off:
        said += " (not needed yet once the test on the earlier visit is passed)"
    return said
