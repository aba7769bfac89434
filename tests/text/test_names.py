"""Nicknames: found without case and by their beginning, the nearest offered."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.errors import NotFound
from logbook.text.names import find_watch

NAMES = ("Blue bezel", "Blue hour", "Blue", "Gran's chrono", "Lido quartz", "Été", "Straße", "Sunday  dress")


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Blue bezel", "Blue bezel"),
        ("blue BEZEL", "Blue bezel"),
        ("blue b", "Blue bezel"),
        ("blue h", "Blue hour"),
        ("blue", "Blue"),
        ("BLUE", "Blue"),
        ("  blue   bezel ", "Blue bezel"),
        ("gran's", "Gran's chrono"),
        ("Gran\u2019s Chrono", "Gran's chrono"),
        ("gran\u02bcs", "Gran's chrono"),
        ("l", "Lido quartz"),
        ("e\u0301te\u0301", "Été"),
        ("STRASSE", "Straße"),
        ("sunday dress", "Sunday  dress"),
        ("chrono", "Gran's chrono"),
        ("bez", "Blue bezel"),
        ("hour", "Blue hour"),
    ],
)
def test_a_watch_is_found_by_what_was_typed(typed: str, name: str) -> None:
    assert find_watch(typed, NAMES) == name


def test_a_curly_apostrophe_in_the_name_is_found_by_a_straight_one() -> None:
    assert find_watch("gran's", ["Gran\u2019s chrono"]) == "Gran\u2019s chrono"


def test_an_ambiguous_beginning_lists_the_names_that_are_meant_alike() -> None:
    with pytest.raises(NotFound, match="'blu' begins more than one name: Blue bezel, Blue hour and Blue"):
        find_watch("blu", NAMES)


def test_the_beginning_of_the_name_wins_over_that_of_a_later_word() -> None:
    assert find_watch("dress", ["Sunday dress", "Dress two"]) == "Dress two"
    with pytest.raises(NotFound, match="'dr' begins more than one name: Sunday dress and Old dress"):
        find_watch("dr", ["Sunday dress", "Old dress"])
    with pytest.raises(NotFound, match="There is no watch 'ress'"):
        find_watch("ress", ["Sunday dress", "Old dress"])


def test_of_names_that_differ_in_case_alone_the_exact_one_wins() -> None:
    assert find_watch("blue", ["Blue", "blue"]) == "blue"
    with pytest.raises(NotFound, match="more than one"):
        find_watch("BLUE", ["Blue", "blue"])


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("bule bezel", r"There is no watch 'bule bezel'; did you mean Blue bezel\?"),
        ("grans chrono", r"did you mean Gran's chrono\?"),
        ("zzzzzz", "There is no watch 'zzzzzz'; see the shelf"),
        ("", "nickname is missing"),
        ("   ", "nickname is missing"),
    ],
)
def test_an_unknown_name_offers_the_nearest(typed: str, words: str) -> None:
    with pytest.raises(NotFound, match=words) as caught:
        find_watch(typed, NAMES)
    assert caught.value.where == "watch"
    assert caught.value.exit_code == 3


def test_an_empty_logbook_says_so() -> None:
    with pytest.raises(NotFound, match="none yet"):
        find_watch("blue", [])


def test_a_hostile_name_is_shown_escaped_and_shortened() -> None:
    with pytest.raises(NotFound) as caught:
        find_watch("\x1b[2J" + "x" * 10_000, NAMES)
    assert "\x1b" not in caught.value.message
    assert len(caught.value.message) < 120


def attempt(typed: str, names: list[str]) -> str | NotFound:
    try:
        return find_watch(typed, names)
    except NotFound as error:
        return error


@given(st.text(max_size=40), st.lists(st.text(min_size=1, max_size=20), max_size=5))
def test_a_found_watch_is_always_one_of_the_names(typed: str, names: list[str]) -> None:
    found = attempt(typed, names)
    if isinstance(found, NotFound):
        assert not {"Cc", "Cs"} & {unicodedata.category(char) for char in found.message}
    else:
        assert found in names


@given(st.lists(st.text("abcdeäß '’", min_size=1, max_size=10).filter(str.strip), min_size=1, unique=True))
def test_every_name_finds_itself(names: list[str]) -> None:
    for name in names:
        assert find_watch(name, names) == name
