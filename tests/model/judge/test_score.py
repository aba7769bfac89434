"""The score and the calendar cap; what replacing, testing and opening do to the wear."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from logbook.model.judge import standing
from logbook.model.values import Habit, Shares
from logbook.model.wear import account
from logbook.model.wear.account import SealWear
from tests.model.builders import (
    FITTED,
    ONE_DAY,
    PRACTICE,
    charged,
    event,
    exposure,
    passed,
    record,
    seal,
    seals,
    shower,
    stretch,
    wear_on,
)
from tests.model.simulation import rate

START = date(2023, 3, 15)
END = date(2023, 9, 1)

# ---------------------------------------------------------------- score and cap


def with_wear(share: float, **given_: Any) -> SealWear:
    shown = seal(**given_)
    cap = date(2031, 1, 1)
    return SealWear(shown, Shares(salt=share), Shares(), cap, cap, lambda: (share, share))


@pytest.mark.parametrize(
    ("share", "score"),
    [(0.0, 100), (0.3, 70), (0.301, 69), (0.299, 70), (0.1, 90), (0.7, 30), (0.9, 10), (0.58, 42), (0.29, 71),
     (0.999, 0), (0.99, 1), (1.0, 0), (1.7, 0), (0.005, 99)],
)  # fmt: skip
def test_a_score_is_what_is_left_rounded_down(share: float, score: int) -> None:
    assert account.score([with_wear(share)], FITTED)[0] == score


def test_every_hundredth_of_an_interval_is_one_point() -> None:
    assert [account.score([with_wear(n / 100)], FITTED)[0] for n in range(101)] == list(range(100, -1, -1))


def test_the_most_worn_seal_limits_the_score() -> None:
    worn, fresh = with_wear(0.6, position="crystal"), with_wear(0.1)
    assert account.score([fresh, worn], FITTED) == (40, worn)


def test_a_watch_without_seals_scores_nothing() -> None:
    assert account.score([], FITTED) == (0, None)


def test_past_its_storage_class_a_seal_scores_nothing_and_limits() -> None:
    old = replace(with_wear(0.2, position="crystal"), cap_on=date(2030, 5, 1))
    other = with_wear(0.6)
    assert account.score([old, other], date(2030, 4, 30)) == (40, other)
    assert account.score([old, other], date(2030, 5, 1)) == (0, old)


@pytest.mark.parametrize(
    ("material", "years"), [("NBR", 7), ("FKM", 10), ("NR", 5), ("unknown", 5), ("VMQ", 10)]
)
def test_the_cap_falls_on_the_anniversary_of_the_fitting(material: str, years: int) -> None:
    whole = record(seals=(seal(material=material, fitted=date(2024, 2, 29)),))
    found = wear_on(whole, FITTED)
    assert found.cap_on == date(2024 + years, 2, 28)  # no leap year among these
    assert wear_on(record(seals=(seal(material=material),)), FITTED).cap_on == date(2024 + years, 1, 1)


def test_the_shown_cap_counts_from_the_middle_and_the_strict_one_from_the_earliest() -> None:
    found = wear_on(record(seals=(seal(fitted=date(2020, 1, 1), latest=date(2020, 1, 31)),)), FITTED)
    assert (found.cap_at_the_earliest, found.cap_on) == (date(2027, 1, 1), date(2027, 1, 16))


def test_a_part_of_a_year_is_counted_in_days() -> None:
    assert account.later_by_years(date(2024, 1, 1), 2.5) == date(2026, 1, 1) + timedelta(days=183)
    assert account.later_by_years(date(2024, 2, 29), -4) == date(2020, 2, 29)


# ---------------------------------------------------------------- replacing and testing


def test_a_replaced_seal_starts_again_at_zero() -> None:
    replaced = END - timedelta(days=20)
    dives = [exposure(id=n, starts_on=START + n * ONE_DAY) for n in range(30)]
    before = charged(record(seals=seals(fitted=START), recorded_from=START), dives)
    after = replace(before, seals=(*before.seals, seal("crown", "FKM", replaced, id=9)))
    assert wear_on(after, replaced).wear_share == 0
    assert wear_on(after, replaced).seal.material == "FKM"
    assert wear_on(before, replaced).wear_share > 0.1


def test_replacing_one_seal_leaves_the_others_as_they_were() -> None:
    before = record(seals=seals(fitted=START), recorded_from=START)
    after = replace(before, seals=(*before.seals, seal("crown", fitted=END, id=9)))
    for position in ("case-back", "crystal"):
        one, other = (
            next(w for w in standing.wear_of(r, PRACTICE, END) if w.seal.position == position)
            for r in (before, after)
        )
        assert one == other


def test_a_passed_test_resets_no_wear() -> None:
    plain, tested = (
        record(passed(START), seals=seals(fitted=START)),
        record(passed(END), seals=seals(fitted=START)),
    )
    assert standing.wear_of(plain, PRACTICE, END) == standing.wear_of(tested, PRACTICE, END)
    assert standing.stand(plain, PRACTICE, END).score == standing.stand(tested, PRACTICE, END).score


def test_opening_the_case_resets_no_wear() -> None:
    opened = record(passed(), event("battery"), event("movement"), event("opened"))
    assert standing.wear_of(opened, PRACTICE, END) == standing.wear_of(record(), PRACTICE, END)


def test_a_daily_shower_is_charged_from_its_first_to_its_last_day() -> None:
    first, last = date(2024, 2, 1), date(2024, 2, 29)
    whole = record(habits=(Habit(shower(), 1.0, first, last),))
    share = 8 / 60 / 120
    for on, days in (
        (first, 0),
        (first + ONE_DAY, 1),
        (last, 28),
        (last + ONE_DAY, 29),
        (date(2025, 1, 1), 29),
    ):
        assert wear_on(whole, on).shares.chemicals == pytest.approx(days * share)


def test_a_worn_stretch_of_nothing_is_a_drawer() -> None:
    one = (seal("crown", fitted=START),)
    worn = wear_on(record(seals=one, recorded_from=START), END).shares.ageing
    kept = record(seals=one, recorded_from=START, stretches=(stretch(START, END, 0.0),))
    assert wear_on(kept, END).shares.ageing == pytest.approx(worn * rate(21) / (0.5 * (rate(32) + rate(21))))
