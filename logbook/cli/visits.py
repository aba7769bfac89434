"""`logbook visits`: the fewest workshop visits that cover what falls due."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import groupby
from typing import Any

import typer

from logbook.cli.clock import clock_document, with_clock
from logbook.cli.command import Commands, asked_of
from logbook.cli.due import item_document
from logbook.cli.opening import reading
from logbook.cli.output import answer, iso, wrapped
from logbook.model.due.services import TEST
from logbook.model.due.visits import Visit, horizon, plan_visits, trips_of
from logbook.model.text import printable
from logbook.record.reading.glance import read_exposures
from logbook.text import visiting


def add_to(app: Commands) -> None:
    """Registers the command."""
    app.command()(visits)


def visits(ctx: typer.Context) -> None:
    """The fewest workshop visits for all watches, and what is done for which watch on each."""
    asked = asked_of(ctx)
    with reading(asked) as book:
        services, today = book.services(), book.today
        trips = trips_of(read_exposures(book.rows, planned=True), book.all_watches(), today)
    plan, last = plan_visits(services, today, trips), horizon(today)
    later = sum(len(service.items) for service in services) - sum(len(visit.items) for visit in plan)
    document = {"visits": [_document(visit) for visit in plan], "up_to": iso(last), "later": later}
    answer(
        asked,
        document | clock_document(book),
        lambda: with_clock(_text(plan, last, later), book),
        caution=True,
    )


def _document(visit: Visit) -> dict[str, Any]:
    """A visit as JSON; a watch whose case is opened has a pressure test as its last item, due or not."""
    items: list[dict[str, Any]] = []
    for watch, own in groupby(visit.items, key=lambda item: item.watch):
        listed = [item_document(item) | {"after_opening": False} for item in own]
        if watch in visit.tests_after_opening:
            if listed[-1]["task"] == TEST:
                listed[-1]["after_opening"] = True
            else:
                listed.append(_test_after_opening(watch, visit))
        items += listed
    return {
        "window": [iso(day) for day in visit.window],
        "services": [service.id for service in visit.services],
        "items": items,
        "tests_after_opening": list(visit.tests_after_opening),
        "put_off": list(visit.put_off),
    }


def _test_after_opening(watch: str, visit: Visit) -> dict[str, Any]:
    """The test that closes a visit; nothing on the due list asks for it, so that it has no id or date."""
    first, last = visit.window
    unknown = dict.fromkeys(("due", "stage", "anchor", "interval_months", "snoozed_until"))
    return {
        "id": None,
        "watch": watch,
        "task": TEST,
        "seal": None,
        "earliest": iso(first),
        "latest": iso(last),
        "why": "its case is opened on this visit",
        "after_opening": True,
        **unknown,
    }


def _text(plan: Sequence[Visit], last: date, later: int) -> str:
    lines = [visiting.summary(len(plan), last)]
    for number, visit in enumerate(plan, start=1):
        lines += ["", f"{number}  {visiting.when(visit)}"]
        lines += [
            wrapped(f"{printable(watch)}: {work}", "   ", "     ") for watch, work in visiting.by_watch(visit)
        ]
    if later:
        lines += ["", visiting.left_out(later)]
    return "\n".join(lines)
