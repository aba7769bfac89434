"""What an owner says of a watch in a few words: its mark, and its past."""

from __future__ import annotations

from datetime import date

import pytest

from logbook.errors import BadInput
from logbook.text.own_words import NOT_KNOWN, Mark, Past, past_words, read_mark, read_past

TODAY = date(2026, 11, 25)
MAY_2025 = (date(2025, 5, 1), date(2025, 5, 31))


def year(number: int) -> tuple[date, date]:
    return date(number, 1, 1), date(number, 12, 31)


@pytest.mark.parametrize(
    ("text", "mark"),
    [
        ("200m", Mark("water-resistant", 20e5, "m")),
        ("200 metres", Mark("water-resistant", 20e5, "m")),
        ("20 bar", Mark("water-resistant", 20e5, "bar")),
        ("3 ATM", Mark("water-resistant", 3e5, "bar")),
        ("Water resistant 5 ATM", Mark("water-resistant", 5e5, "bar")),
        ("WR 100m", Mark("water-resistant", 10e5, "m")),
        ("water resistant", Mark("water-resistant")),
        ("Water-Resistant", Mark("water-resistant")),
        ("diver's 200m", Mark("divers", 20e5, "m")),
        ("Diver’s watch 30 bar", Mark("divers", 30e5, "bar")),
        ("DIVERS 200M", Mark("divers", 20e5, "m")),
        ("diver's 300m for mixed gas", Mark("divers-mixed-gas", 30e5, "m")),
        ("660ft = 200m", Mark("water-resistant", 20e5, "m")),
        ("200m/660ft", Mark("water-resistant", 20e5, "m")),
        ("nothing", Mark("unmarked")),
        ("none", Mark("unmarked")),
        ("don't know", Mark("unknown")),
        ("Don’t know", Mark("unknown")),
        ("", Mark("unknown")),
        ("?", Mark("unknown")),
    ],
)
def test_what_a_dial_says_about_water_is_understood(text: str, mark: Mark) -> None:
    assert read_mark(text) == mark


def test_feet_alone_are_read_by_the_trades_ten_metres_to_the_bar() -> None:
    assert read_mark("660 ft").marked_pa == pytest.approx(20.1168e5)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("200", "Is it 200 m or 200 bar"),
        ("diver's 200", "Is it 200 m or 200 bar"),
        ("deep", "is not a number with a unit"),
        ("20 kg", "is not a unit known here"),
    ],
)
def test_a_mark_that_says_nothing_clear_is_asked_back(text: str, said: str) -> None:
    with pytest.raises(BadInput, match=said) as refused:
        read_mark(text, "says")
    assert refused.value.where == "says"


@pytest.mark.parametrize("text", NOT_KNOWN)
def test_not_to_know_is_an_answer_and_makes_nothing_up(text: str) -> None:
    assert read_past(text.upper(), TODAY) == Past()


def told(text: str) -> list[tuple[tuple[str, ...], tuple[date, date]]]:
    return [(visit.kinds, visit.span) for visit in read_past(text, TODAY).visits]


@pytest.mark.parametrize(
    ("text", "visits"),
    [
        ("battery 2023", [(("battery",), year(2023))]),
        ("battery changed in 2023", [(("battery",), year(2023))]),
        ("opened 12 mar 2024", [(("opened",), (date(2024, 3, 12),) * 2)]),
        ("gaskets 2024", [(("opened",), year(2024))]),
        ("new gaskets in may 2025", [(("opened",), MAY_2025)]),
        ("serviced 2022", [(("movement",), year(2022))]),
        ("tested in may 2025 at 10 bar", [(("pressure-test",), MAY_2025)]),
        ("gaskets 2024, tested 2025-05", [(("opened",), year(2024)), (("pressure-test",), MAY_2025)]),
        ("battery and gaskets, tested in may 2025 at 10 bar",
         [(("battery", "opened", "pressure-test"), MAY_2025)]),
        ("battery 2023-01-01..2024-06-30", [(("battery",), (date(2023, 1, 1), date(2024, 6, 30)))]),
        ("battery yesterday", [(("battery",), (date(2026, 11, 24),) * 2)]),
    ],
)  # fmt: skip
def test_what_was_done_is_told_with_its_days(
    text: str, visits: list[tuple[tuple[str, ...], tuple[date, date]]]
) -> None:
    assert told(text) == visits


@pytest.mark.parametrize(
    ("text", "new", "bought"),
    [
        ("new in 2021", year(2021), None),
        ("bought new 2025-06-01", (date(2025, 6, 1),) * 2, None),
        ("bought 2015", None, year(2015)),
    ],
)
def test_a_purchase_is_told_as_new_or_not(
    text: str, new: tuple[date, date] | None, bought: tuple[date, date] | None
) -> None:
    assert read_past(text, TODAY) == Past((), new, bought)


@pytest.mark.parametrize(
    ("text", "passed", "pressure", "to_mark", "medium"),
    [
        ("tested may 2025 at 10 bar", True, "10 bar", False, "air"),
        ("pressure test passed in may 2025 to 3bar in water", True, "3bar", False, "water"),
        ("tested may 2025 to its mark", True, "", True, "air"),
        ("tested may 2025", True, "", False, "air"),
        ("failed a test at 5 bar in may 2025", False, "5 bar", False, "air"),
        ("tested in vacuum may 2025 at 0.7 bar", True, "0.7 bar", False, "vacuum"),
    ],
)
def test_a_test_is_told_with_its_end_and_its_pressure(
    text: str, passed: bool, pressure: str, to_mark: bool, medium: str
) -> None:
    (visit,) = read_past(text, TODAY).visits
    assert (visit.kinds, visit.span) == (("pressure-test",), MAY_2025)
    assert (visit.passed, visit.pressure, visit.to_mark, visit.medium) == (passed, pressure, to_mark, medium)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("2023", "is not understood here: write new in 2021"),
        ("battery", "When was that?"),
        ("gaskets long ago", "is not understood here"),
        ("battery 03/04/2025", "can be read day first or month first"),
        ("battery tomorrow", "lies in the future"),
        ("battery 2027", "lies in the future"),
        ("battery 2025-02-01..2024-01-01", "runs backwards"),
        ("battery 2023 " + "and more " * 40, "more than 200 characters"),
    ],
)
def test_what_is_not_understood_is_refused_with_what_would_be_right(text: str, said: str) -> None:
    with pytest.raises(BadInput, match=said) as refused:
        read_past(text, TODAY, "last")
    assert refused.value.where == "last"


def test_what_was_understood_is_said_back() -> None:
    text = "bought 2015, gaskets and test may 2025 at 10 bar, battery 12 mar 2026"
    assert past_words(read_past(text, TODAY)) == (
        "Taken for: bought 2015; new gaskets and test passed at 10 bar, May 2025; "
        "battery changed, 12 Mar 2026."
    )
    assert past_words(Past()) == "Taken for: not known."
