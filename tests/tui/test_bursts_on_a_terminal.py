"""Keys that arrive in one burst, through a real pty: each lands where it would have gone alone."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from logbook.model.values import Exposure
from logbook.record.record import Book
from tests.tui.conftest import TODAY
from tests.tui.terminal import Terminal

TAB, ENTER, CTRL_S, UP = "\t", "\r", "\x13", "\x1b[A"


def test_a_first_watch_is_told_in_one_burst(empty_book: Book) -> None:
    with Terminal(empty_book.path, TODAY) as terminal:
        terminal.wait_for("What do you call it?")
        terminal.type(f"Harbour{ENTER}200m{ENTER}{CTRL_S}")
        terminal.wait_for("Harbour is on the shelf")
        terminal.leave()
    watch = Book(empty_book.path, TODAY).watches()[0]
    assert (watch.name, watch.marked_pa) == ("Harbour", 20e5)


def test_an_exposure_is_logged_from_the_shelf_in_one_burst(book: Book) -> None:
    with Terminal(book.path, TODAY) as terminal:
        terminal.wait_for("Gran's chrono")
        terminal.type(f"/blue{ENTER}")
        terminal.type(f"w{UP}snorkel{TAB}4{TAB}25{ENTER}r")
        terminal.wait_for("Logged")
        terminal.leave()
    newest = _newest(book.path, "Blue bezel")
    assert (newest.activity, newest.depth_m, newest.duration_s, newest.rinsed) == ("snorkel", 4, 1500, True)


def test_a_check_is_filled_in_and_kept_as_a_plan_in_one_burst(book: Book) -> None:
    with Terminal(book.path, TODAY) as terminal:
        terminal.wait_for("Gran's chrono")
        terminal.type(f"/blue{ENTER}")
        terminal.type(f"cdive{TAB}18m{TAB}42{TAB}tomorrow{TAB}sea{TAB}16C{CTRL_S}")
        terminal.wait_for("Planned")
        terminal.leave()
    [plan] = Book(book.path, TODAY).all_plans()
    assert (plan.activity, plan.depth_m, plan.duration_s, plan.water_c) == ("dive", 18, 2520, 16)
    assert plan.starts_on == TODAY + timedelta(days=1)


def _newest(path: Path, name: str) -> Exposure:
    book = Book(path, TODAY)
    watch_id = next(watch.id for watch in book.watches() if watch.name == name)
    found = book.last_exposure(watch_id or 0)
    assert found is not None
    return found
