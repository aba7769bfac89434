"""A real record in a temporary folder, and a surrounding that knows nothing of the developer's own."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from shutil import copyfile
from typing import Any

import pytest

from logbook.model.fitting import Fitted, initial_seals
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Event, Exposure, HomeWater, Seal, Settings, Watch
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.shell import background
from tests.once import work_out_once
from tests.tui import quick
from tests.tui.helpers import PATIENCE_S

TODAY = date(2026, 11, 25)  # a Wednesday
RECORDED = date(2025, 1, 1)

# name -> mark, bar, use, crown, pushers, seals fitted
WATCHES: dict[str, dict[str, Any]] = {
    "Blue bezel": {"mark": "divers", "bar": 20, "use": "diving", "crown": "screwed",
                   "confirmed_on": date(2026, 11, 20)},
    "Gran's chrono": {"mark": "water-resistant", "bar": 3, "use": "dry", "pushers": True},
    "Lido quartz": {"mark": "water-resistant", "bar": 10, "use": "swimming", "movement": "quartz"},
    "Sunday dress": {"mark": "unknown", "bar": None, "use": "dry"},
}  # fmt: skip


@pytest.fixture(autouse=True)
def _own_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """A terminal with all colours and no animation."""
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TEXTUAL_ANIMATIONS", "none")
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLORTERM", "truecolor")


@pytest.fixture(autouse=True)
def _keys_wait_for_what_is_written(monkeypatch: pytest.MonkeyPatch) -> None:
    """Keys wait for the effect of the one before, however busy the machine is."""
    monkeypatch.setattr(background, "KEYS_WAIT_S", PATIENCE_S)


@pytest.fixture(autouse=True)
def _looking_ahead_is_asked_for(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Bands and forecasts are worked out where a test is marked `looks_ahead`: they cost more than the rest.

    What a closed app leaves can be collected: an app that people use keeps what it loaded out of the way.
    """
    monkeypatch.setattr("gc.freeze", lambda: None)
    work_out_once(monkeypatch)
    if request.node.get_closest_marker("looks_ahead") is None:
        monkeypatch.setattr(LogbookApp, "look_ahead", lambda app: None)


@pytest.fixture(autouse=True)
def _what_an_app_does_for_nobody_is_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """Style sheets are parsed once for all apps; a screen is drawn when it is looked at; rests are short."""
    quick.leave_out(monkeypatch)


def a_watch(name: str, *, mark: str = "water-resistant", bar: float | None = None, **more: Any) -> Watch:
    """A watch whose water is on record since `RECORDED`."""
    known = {"added_on": RECORDED, "recorded_from": RECORDED} | more
    return Watch(name=name, mark=mark, marked_pa=None if bar is None else bar * 1e5, **known)  # type: ignore[arg-type]


def seals_of(watch: Watch, fitted: date | None = date(2026, 3, 1), material: str = "NBR") -> tuple[Seal, ...]:
    """Its seals, fitted on one day, or at an unknown time."""
    return initial_seals(watch, material, Fitted(None, fitted, fitted), {})


def passed_test(on: date, bar: float) -> Event:
    """A pressure test that was passed."""
    return Event("pressure-test", on, 40, passed=True, test_pa=bar * 1e5, medium="water")


@pytest.fixture
def empty_book(tmp_path: Path) -> Book:
    """A book whose record does not exist yet."""
    return Book(tmp_path / "record.logbook", TODAY)


@pytest.fixture(scope="session")
def four_watches(surrounding: object, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of a record with the four watches, made once and then copied."""
    made = Book(tmp_path_factory.mktemp("four") / "record.logbook", TODAY)
    for name, told in WATCHES.items():
        watch = a_watch(name, **told)
        events = [passed_test(date(2026, 5, 1), 20)] if name == "Blue bezel" else []
        made.add_watch(watch, seals_of(watch, None if name == "Sunday dress" else date(2026, 3, 1)), events)
    return made.path


@pytest.fixture
def book(empty_book: Book, four_watches: Path) -> Book:
    """A record with four watches; nothing speaks against the diver's, the others were never tested."""
    copyfile(four_watches, empty_book.path)
    return empty_book


@pytest.fixture
def id_of(book: Book) -> Callable[[str], int]:
    """Nickname -> id."""
    return lambda name: next(w.id or 0 for w in book.watches() if w.name == name)


@pytest.fixture
def log(book: Book, id_of: Callable[[str], int]) -> Callable[..., Exposure]:
    """Write an exposure into the record: nickname, activity, and fields of `make_exposure`."""

    def write(name: str, activity: str, **fields: Any) -> Exposure:
        watch = book.standing(id_of(name)).record.watch
        exposure = make_exposure(
            book.practice, book.settings, activity=activity, today=TODAY, watch=watch,
            **({"starts_on": date(2026, 11, 22)} | fields),
        )  # fmt: skip
        book.log([exposure])
        return exposure

    return write


@pytest.fixture
def set_home(book: Book) -> Callable[..., None]:
    """Write the settings: monthly °C of the home water, units."""

    def write(monthly_c: tuple[float, ...] | None = None, units: Any = "metric") -> None:
        from logbook.record.writing import settings

        with book.writing() as store:
            settings.write(store, Settings(home=HomeWater(monthly_c=monthly_c), units=units))

    return write


@pytest.fixture
def newest(book: Book, id_of: Callable[[str], int]) -> Callable[[str], Exposure | None]:
    """The newest exposure of a watch."""
    return lambda name: book.last_exposure(id_of(name))
