"""What stands around every room: two rows of keys at most, and a sentence where the window is too small."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from logbook.tui.widgets.frame import key_rows

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
