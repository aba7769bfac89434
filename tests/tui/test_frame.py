"""What stands around every room: two rows of keys at most, and a sentence where the window is too small."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.caution import CAUTION_LINE
from logbook.tui.app import LogbookApp
from logbook.tui.book import Book
from logbook.tui.widgets.frame import key_rows
from tests.tui.helpers import raw_controls, screen_lines, shows, wait_for, wait_for_room, wait_for_text
from tests.tui.rooms import ROOMS, opened

KEYS = [(letter, words, f"do_{letter}") for letter, words in (("a", "amend"), ("b", "bench"), ("c", "check"))]
HELP, BACK = ("?", "help", "help"), ("esc", "back", "back")


def test_keys_that_fit_stand_in_one_row() -> None:
    assert key_rows([*KEYS, BACK, HELP], 60) == [[*KEYS, BACK, HELP]]


def test_where_one_row_is_too_short_the_keys_go_on_in_a_second() -> None:
    assert key_rows([*KEYS, HELP], 16) == [KEYS[:2], [KEYS[2], HELP]]


def test_where_two_rows_are_too_short_the_last_keys_are_left_to_help() -> None:
    assert key_rows([*KEYS, BACK, HELP], 17) == [KEYS[:2], [BACK, HELP]]


words_of_keys = st.text("abcdefgh ", min_size=1, max_size=16)


@given(st.lists(st.tuples(st.just("k"), words_of_keys, words_of_keys), max_size=20), st.integers(20, 200))
def test_help_and_the_way_back_are_in_two_rows_whatever_the_keys_and_the_width(
    keys: list[tuple[str, str, str]], width: int
) -> None:
    rows = key_rows([*keys, BACK, HELP], width)
    assert len(rows) <= 2
    assert {BACK, HELP} <= {key for row in rows for key in row}
    for row in rows:
        assert len(row) == 1 or len("  ".join(f"{key} {said}" for key, said, _ in row)) <= width


@pytest.mark.parametrize("name", ["ShelfRoom", *ROOMS])
async def test_a_small_window_says_so_and_the_room_goes_on_working(book: Book, name: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=(60, 20)) as pilot:
        await opened(pilot, book, name)
        await wait_for_text(pilot, "60 by 20 characters are few", "laid out for 80 by 24", CAUTION_LINE)
        assert not raw_controls(app)
        assert all(len(line) <= 60 for line in screen_lines(app))
        await pilot.resize_terminal(80, 24)
        await wait_for(pilot, lambda: not shows(app, "characters are few"), "the sentence goes")
        await pilot.resize_terminal(40, 14)
        await wait_for_text(pilot, "40 by 14 characters are few")
        await pilot.press("f1")
        await wait_for_room(pilot, "HelpRoom")
