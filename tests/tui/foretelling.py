"""What the tests of bands and forecasts in the rooms share: waiting for them, or holding them up."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from textual.pilot import Pilot

from logbook.model.judge.standing import Standing
from logbook.model.predict.forecast import Forecast
from logbook.record.record import Book
from tests.tui.helpers import all_done
from tests.tui.watching import opened


def looked_ahead(pilot: Pilot[Any]) -> bool:
    """True once the room in front shows bands and forecasts of what is on record.

    The Shelf those of all watches, the Watch room those of its own.
    """
    app: Any = pilot.app
    if app.behind.busy or app.ahead.busy:
        return False
    screen: Any = app.screen
    shown: list[Standing] = screen.standings if hasattr(screen, "standings") else [screen.standing]
    return all(standing.insight is not None for standing in shown)


async def wait_for_what_is_ahead(pilot: Pilot[Any]) -> None:
    """Go on once bands and forecasts are in the room in front."""
    await all_done(pilot)
    assert looked_ahead(pilot)


async def opened_ahead(pilot: Pilot[Any], watch_id: int, shows: str = "of 100 left") -> None:
    """The Watch room of one watch, with its bands and its forecast."""
    await opened(pilot, watch_id, shows)
    await wait_for_what_is_ahead(pilot)


def forecast_of(book: Book, watch_id: int) -> Forecast:
    """The forecast that was worked out for what is now on record."""
    insight = book.standing(watch_id).insight
    assert insight is not None
    assert insight.forecast is not None
    return insight.forecast


@contextmanager
def held_up(book: Book, monkeypatch: pytest.MonkeyPatch) -> Iterator[threading.Event]:
    """Looking ahead waits in its thread until the event is set, at the latest at the end."""
    go = threading.Event()
    look = book.look_ahead

    def wait_and_look() -> bool:
        go.wait()
        return look()

    monkeypatch.setattr(book, "look_ahead", wait_and_look)
    try:
        yield go
    finally:
        go.set()
