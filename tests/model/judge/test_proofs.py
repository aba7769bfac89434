"""What a passed test proves, how high a pass must be for what is asked, and for how long it is in force."""

from __future__ import annotations

import math
from datetime import date

import pytest

from logbook.model.judge import proofs
from logbook.model.judge.proofs import Asked, Proof
from logbook.model.values import Medium, Use
from tests.model.builders import BAR, ONE_DAY, PRACTICE, TESTED, event, passed, practice_with, watch

RAIN, SWIM, DIVE = Asked("rain, hands"), Asked("swim"), Asked("scuba")


def proof(bar: float | None, medium: Medium = "water", on: date = TESTED) -> Proof:
    return Proof(on, None if bar is None else bar * BAR, medium)


# ---------------------------------------------------------------- a proof


@pytest.mark.parametrize("medium", ["water", "air"])
def test_a_pass_is_evidence_up_to_its_pressure(medium: Medium) -> None:
    for splash in (False, True):
        assert proof(6, medium).counts_pa(PRACTICE, splash=splash) == 6 * BAR


def test_a_pass_whose_pressure_is_not_known_counts_as_1_bar() -> None:
    assert proof(None).counts_pa(PRACTICE) == 1 * BAR


@pytest.mark.parametrize(
    ("bar", "splash", "counts"),
    [(0.5, True, 1), (0.9, True, 1), (0.49, True, 0), (0.9, False, 0), (None, True, 0), (None, False, 0)],
)
def test_a_vacuum_of_half_a_bar_covers_rain_and_hands_as_1_bar_would_and_nothing_else(
    bar: float | None, splash: bool, counts: float
) -> None:
    """Half a bar is an assumption of practice.toml."""
    assert proof(bar, "vacuum").counts_pa(PRACTICE, splash=splash) == counts * BAR


def test_only_a_passed_pressure_test_is_a_proof() -> None:
    assert proofs.proof_of(passed(bar=6)) == proof(6)
    assert proofs.proof_of(event("pressure-test", passed=False, test_pa=6 * BAR)) is None
    assert proofs.proof_of(event("condensation-test", passed=True)) is None
    assert proofs.proof_of(event("battery")) is None


def test_a_test_that_names_no_medium_is_taken_to_have_been_in_air() -> None:
    found = proofs.proof_of(passed(medium=None))
    assert found is not None
    assert found.medium == "air"


def test_a_test_to_its_mark_keeps_the_pressure_that_the_mark_had_that_day() -> None:
    found = proofs.proof_of(passed(bar=10, to_mark=True))
    assert found is not None
    assert (found.to_mark, found.counts_pa(PRACTICE)) == (True, 10 * BAR)


@pytest.mark.parametrize("mark", ["divers", "divers-mixed-gas"])
def test_the_maker_tests_each_piece_of_a_divers_mark_to_the_mark(mark: str) -> None:
    """ISO 6425, from memory."""
    found = proofs.makers_proof(watch(mark=mark, new_on=TESTED))
    assert found == Proof(TESTED, 20 * BAR, "water", makers=True, to_mark=True)


@pytest.mark.parametrize("mark", ["water-resistant", "unknown", "unmarked"])
def test_of_other_marks_the_maker_proves_nothing_of_this_piece(mark: str) -> None:
    assert proofs.makers_proof(watch(mark=mark, new_on=TESTED)) is None


def test_a_watch_that_was_not_bought_new_carries_no_makers_proof() -> None:
    assert proofs.makers_proof(watch(bought_on=TESTED)) is None


# ---------------------------------------------------------------- the pass needed


@pytest.mark.parametrize(
    ("asked", "bar"),
    [
        (Asked("rain, hands", 500.0), 1),
        (Asked("rain, hands"), 1),
        (Asked("swim", 0.2 * BAR), 3),
        (Asked("snorkel", 1.0 * BAR), 3),
        (Asked("swim", 2.4 * BAR), 3),
        (Asked("swim", 2.8 * BAR), 3.5),
        (Asked("free dive", 1.2 * BAR), 10),
        (Asked("scuba", 1.8 * BAR), 10),
        (Asked("scuba", 8.0 * BAR), 10),
        (Asked("scuba", 9.6 * BAR), 12),
        (Asked("mixed gas", 15.0 * BAR), 18.75),
        (Asked("scuba", 17.0 * BAR), 20),
        (Asked("scuba", 40.0 * BAR), 20),
    ],
)
def test_the_pass_needed_is_the_plan_with_its_margin_or_the_floor_of_its_class_at_most_the_mark(
    asked: Asked, bar: float
) -> None:
    """1.25: ISO 6425 (from memory), as a margin for all an assumption; 1, 3, 10: common practice."""
    assert proofs.pass_needed_pa(watch(), asked, PRACTICE) == pytest.approx(bar * BAR)


@pytest.mark.parametrize(
    ("mark", "bar", "needed"),
    [
        ("water-resistant", 3, 3),
        ("water-resistant", 5, 5),
        ("water-resistant", None, 2),
        ("unmarked", None, 1),
    ],
)
def test_no_pass_above_the_mark_is_asked_of_a_watch(mark: str, bar: float | None, needed: float) -> None:
    small = watch(mark=mark, marked_pa=None if bar is None else bar * BAR)
    assert proofs.pass_needed_pa(small, DIVE, PRACTICE) == needed * BAR


def test_an_unknown_mark_sets_no_limit() -> None:
    unknown = watch(mark="unknown", marked_pa=None)
    assert proofs.cap_pa(unknown, PRACTICE) == math.inf
    assert proofs.pass_needed_pa(unknown, Asked("scuba", 20 * BAR), PRACTICE) == 25 * BAR


@pytest.mark.parametrize(("use", "bar"), [("diving", 10), ("swimming", 3), ("dry", 1)])
def test_the_stated_use_needs_a_pass_of_its_own(use: Use, bar: float) -> None:
    assert proofs.pass_needed_by_use_pa(watch(use=use), PRACTICE) == bar * BAR


def test_the_margin_and_the_floors_are_the_owners_to_change() -> None:
    stricter = practice_with(
        "[constants.test_margin]\nvalue = 1.5\nhigh = 1.5\n"
        "[constants.least_test_swim_bar]\nvalue = 5\nhigh = 5\n"
    )
    assert proofs.pass_needed_pa(watch(), SWIM, stricter) == 5 * BAR
    assert proofs.pass_needed_pa(watch(), Asked("scuba", 10 * BAR), stricter) == 15 * BAR


# ---------------------------------------------------------------- its age


@pytest.mark.parametrize(("use", "months"), [("diving", 12), ("swimming", 12), ("dry", 36)])
def test_the_stated_use_sets_the_interval(use: Use, months: int) -> None:
    """12, 12 and 36 months: common practice, no source."""
    assert proofs.interval_months(watch(use=use), PRACTICE) == months


def test_what_is_asked_can_shorten_the_interval_of_the_stated_use_and_never_lengthens_it() -> None:
    assert proofs.interval_months(watch(use="dry"), PRACTICE, "swimming") == 12
    assert proofs.interval_months(watch(use="diving"), PRACTICE, "dry") == 12


@pytest.mark.parametrize(
    ("use", "asked", "own", "months"),
    [
        ("diving", "diving", 6, 6),
        ("diving", "diving", 24, 12),
        ("swimming", "swimming", 24, 24),
        ("swimming", "swimming", 30, 24),
        ("swimming", "diving", 24, 12),
        ("dry", "dry", 48, 48),
        ("dry", "dry", 90, 60),
        ("dry", "swimming", 48, 24),
        ("dry", "diving", 3, 3),
        ("diving", "dry", 48, 12),
    ],
)
def test_an_interval_of_the_owners_own_counts_up_to_what_common_practice_bears(
    use: Use, asked: Use, own: int, months: int
) -> None:
    """At most 12 months for diving, 24 for swimming (common practice), 60 for rain and hands (assumption)."""
    mine = watch(use=use, intervals_months={"pressure-test": own})
    assert proofs.interval_months(mine, PRACTICE, asked) == months


def test_a_proof_lapses_on_the_anniversary_of_its_day() -> None:
    assert proofs.lapses_on(proof(25), watch(), DIVE, PRACTICE) == date(2025, 6, 1)
    leap = proof(25, on=date(2024, 2, 29))
    assert proofs.lapses_on(leap, watch(), DIVE, PRACTICE) == date(2025, 2, 28)


def test_snorkelling_counts_as_swimming_and_a_free_dive_as_diving() -> None:
    dry = watch(use="dry", intervals_months={"pressure-test": 24})
    asked = {
        name: proofs.lapses_on(proof(25), dry, Asked(name), PRACTICE) for name in ("snorkel", "free dive")
    }
    assert asked == {"snorkel": date(2026, 6, 1), "free dive": date(2025, 6, 1)}


# ---------------------------------------------------------------- which of several


def test_the_highest_proof_is_the_one_that_reaches_furthest_the_newest_of_equal_ones() -> None:
    low, old, new = proof(6, on=TESTED + 2 * ONE_DAY), proof(10), proof(10, on=TESTED + ONE_DAY)
    assert proofs.highest([low, new, old], PRACTICE) == new
    assert proofs.highest([], PRACTICE) is None


def test_a_vacuum_is_the_highest_only_for_a_splash() -> None:
    vacuum, weak = proof(0.8, "vacuum"), proof(0.5, "air")
    assert proofs.highest([vacuum, weak], PRACTICE) == weak
    assert proofs.highest([vacuum, weak], PRACTICE, splash=True) == vacuum


def test_the_last_proof_at_a_pressure_is_the_newest_that_reaches_it() -> None:
    first, second, low = proof(10), proof(10, on=TESTED + ONE_DAY), proof(3, on=TESTED + 2 * ONE_DAY)
    every = [low, second, first]
    assert proofs.last_at(every, 10 * BAR, PRACTICE, splash=False) == second
    assert proofs.last_at(every, 3 * BAR, PRACTICE, splash=False) == low
    assert proofs.last_at(every, 10 * BAR + 1, PRACTICE, splash=False) is None


def test_part_of_a_pascal_is_no_reason_to_test_again() -> None:
    """Pressures are kept in whole pascals: a pass needed of 1.25 × 800 000.3 Pa is met by 1 000 000."""
    assert proofs.last_at([proof(10)], 1.25 * 800_000.3, PRACTICE, splash=False) is not None
