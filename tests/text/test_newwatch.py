"""A new watch from the answers of its owner."""

from __future__ import annotations

from datetime import date

import pytest

from logbook.errors import BadInput
from logbook.model.values import MARK_KINDS
from logbook.record.file.practice_file import load_practice
from logbook.text import newwatch
from logbook.text.newwatch import NOT_KNOWN, Answers, NewWatch

TODAY = date(2026, 11, 25)
PRACTICE = load_practice()


def read(**told: object) -> NewWatch:
    return newwatch.read(Answers(**({"name": "A"} | told)), PRACTICE, TODAY)  # type: ignore[arg-type]


@pytest.mark.parametrize("unknown", NOT_KNOWN)
def test_every_way_to_say_that_one_does_not_know_is_an_answer_and_gives_no_event(unknown: str) -> None:
    new = read(last=f" {unknown.upper()} ", made=unknown)
    assert new.events == ()
    assert (new.watch.mark, new.watch.marked_pa, new.watch.made_from) == ("unknown", None, None)
    assert {(s.fitted_earliest, s.fitted_latest) for s in new.seals} == {(date(1996, 11, 25), TODAY)}


def test_the_mark_is_kept_in_the_unit_of_the_dial() -> None:
    watch = read(says="diver's 200m").watch
    assert (watch.mark, watch.marked_pa, watch.marked_in) == ("divers", 20e5, "m")
    assert (watch.use, watch.crown) == ("diving", "screwed")
    assert read(says="20 bar").watch.marked_in == "bar"


def test_a_use_and_a_crown_that_are_told_win_over_the_usual_ones() -> None:
    watch = read(says="diver's 200m", use="dry", crown="pushed").watch
    assert (watch.use, watch.crown) == ("dry", "pushed")


def test_a_battery_that_was_changed_makes_it_quartz_unless_told_otherwise() -> None:
    assert read(last="battery 2024").watch.movement == "quartz"
    assert read(last="gaskets 2024").watch.movement == "mechanical"
    assert read(last="battery 2024", movement="mechanical").watch.movement == "mechanical"


@pytest.mark.parametrize(
    ("made", "years", "earliest"),
    [
        ("1990s", (1990, 1999), date(1990, 1, 1)),
        ("1994", (1994, 1994), date(1994, 1, 1)),
        ("2020s", (2020, 2026), date(2020, 1, 1)),
    ],
)
def test_where_the_gaskets_are_not_known_they_may_be_as_old_as_the_watch(
    made: str, years: tuple[int, int], earliest: date
) -> None:
    new = read(made=made)
    assert (new.watch.made_from, new.watch.made_to) == years
    assert {(s.fitted_earliest, s.fitted_latest) for s in new.seals} == {(earliest, TODAY)}


def test_gaskets_not_known_are_at_least_as_old_as_the_last_pass_that_is_told() -> None:
    new = read(made="1990s", last="tested 12 jan 2025 at 3 bar")
    assert {(s.fitted_earliest, s.fitted_latest) for s in new.seals} == {
        (date(1990, 1, 1), date(2025, 1, 12))
    }


def test_a_failed_test_says_nothing_about_the_age_of_the_gaskets() -> None:
    new = read(made="1990s", last="failed a test at 3 bar on 12 jan 2025")
    assert {s.fitted_latest for s in new.seals} == {TODAY}
    assert [(e.kind, e.passed, e.test_pa) for e in new.events] == [("pressure-test", False, 3e5)]


def test_a_year_of_gaskets_dates_the_seals_as_a_span_and_the_opening_to_its_end() -> None:
    new = read(last="gaskets 2024")
    span = (date(2024, 1, 1), date(2024, 12, 31))
    assert {(s.fitted_earliest, s.fitted_latest) for s in new.seals} == {span}
    (opening,) = new.events
    assert (opening.kind, opening.on, opening.span) == ("opened", date(2024, 12, 31), span)
    assert opening.note == "given gaskets in 2024"


def test_an_opening_does_not_make_the_seals_new() -> None:
    new = read(last="opened 2026-10-01")
    assert [(event.kind, event.span) for event in new.events] == [("opened", None)]
    assert all(seal.fitted_earliest < date(2026, 10, 1) for seal in new.seals)


def test_an_opening_and_a_test_told_together_are_one_visit_that_ends_with_the_test() -> None:
    opening, test = read(last="battery and tested 2025 at 3 bar in water").events
    assert (opening.kind, opening.on, test.on) == ("battery", date(2025, 1, 1), date(2025, 1, 1))
    assert opening.order < test.order
    assert (test.passed, test.test_pa, test.medium) == (True, 3e5, "water")


def test_gaskets_of_a_visit_that_ended_with_a_pass_were_not_fitted_after_it() -> None:
    new = read(says="diver's 200m", last="gaskets and tested may 2025 at 20 bar")
    assert {(s.fitted_earliest, s.fitted_latest) for s in new.seals} == {(date(2025, 5, 1),) * 2}
    opening, test = new.events
    assert (opening.on, opening.note, test.span) == (
        date(2025, 5, 1), "given gaskets in May 2025", (date(2025, 5, 1), date(2025, 5, 31)),
    )  # fmt: skip


def test_a_test_of_which_no_pressure_is_told_is_one_of_a_pressure_not_known() -> None:
    (test,) = read(last="tested in 2025").events
    assert (test.passed, test.test_pa, test.to_mark) == (True, None, False)


def test_told_apart_an_opening_counts_on_its_last_day_and_a_pass_on_its_first() -> None:
    test, opening = read(last="tested 2025 at 3 bar, battery 2024").events
    assert (test.on, opening.on) == (date(2025, 1, 1), date(2024, 12, 31))


def test_a_test_to_its_mark_is_one_at_the_pressure_of_the_mark() -> None:
    (test,) = read(says="diver's 200m", last="tested may 2025 to its mark").events
    assert (test.test_pa, test.to_mark) == (20e5, True)


def test_a_watch_bought_new_has_seals_of_that_day() -> None:
    new = read(says="diver's 200m", last="new on 2025-06-01", pushers=True, gas_valve=True)
    assert {seal.fitted_earliest for seal in new.seals} == {date(2025, 6, 1)}
    assert [seal.position for seal in new.seals] == ["case-back", "crystal", "crown", "pushers", "gas-valve"]
    assert (new.watch.new_on, new.watch.note) == (date(2025, 6, 1), "")


def test_of_a_year_in_which_it_was_bought_new_the_first_day_counts_and_the_year_is_kept() -> None:
    watch = read(last="new in 2021").watch
    assert (watch.new_on, watch.note) == (
        date(2021, 1, 1), "bought new in 2021",
    )  # fmt: skip


def test_pushers_that_are_not_there_are_not_used_in_water() -> None:
    assert not read(pushers=False, pushers_wet=True).watch.pushers_wet
    assert read(pushers=True, pushers_wet=True).watch.pushers_wet


@pytest.mark.parametrize(
    ("told", "where"),
    [
        ({"name": ""}, "name"),
        ({"name": "a:b"}, "name"),
        ({"says": "diver's"}, "marked_pa"),
        ({"says": "diver's 5 bar"}, "marked_pa"),
        ({"says": "200"}, "says"),
        ({"says": "9000 bar"}, "marked_pa"),
        ({"material": "leather"}, "material"),
        ({"last": "opened 2027-01-01"}, "last"),
        ({"last": "tested 2024-01-01 at 2 bar in vacuum"}, "last"),
        ({"last": "tested 2024-01-01 at 3 kg"}, "last"),
        ({"last": "tested may 2025 to its mark"}, "last"),
        ({"last": "new 2025-01-01, battery 2024-12-01"}, "last"),
        ({"made": "long ago"}, "made"),
        ({"made": "2030"}, "made"),
    ],
)
def test_a_refusal_names_the_answer_at_fault(told: dict[str, object], where: str) -> None:
    with pytest.raises(BadInput) as refused:
        read(**told)
    assert refused.value.where == where


def test_use_and_crown_are_suggested_for_every_mark() -> None:
    suggested = {mark: (newwatch.usual_use(mark, 20e5), newwatch.usual_crown(mark)) for mark in MARK_KINDS}
    assert suggested == {
        "unmarked": ("dry", "pushed"),
        "unknown": ("dry", "pushed"),
        "water-resistant": ("swimming", "pushed"),
        "divers": ("diving", "screwed"),
        "divers-mixed-gas": ("diving", "screwed"),
    }
    assert newwatch.usual_use("water-resistant", 5e5) == "dry"
    assert newwatch.usual_use("water-resistant", None) == "dry"


@pytest.mark.parametrize(
    ("says", "use", "allowed", "verdict"),
    [
        ("3 bar", "diving", "Its mark allows rain and washing hands by", "keep it dry"),
        (
            "10 bar",
            "diving",
            "Its mark allows rain and washing hands, swimming and snorkelling by",
            "keep it dry",
        ),
        (
            "5 bar",
            "swimming",
            "Its mark allows rain and washing hands, and swimming lightly, by",
            "think twice",
        ),
        ("nothing", "dry", "An unmarked watch allows rain and washing hands lightly, by", "think twice"),
    ],
)
def test_a_stated_use_beyond_the_mark_is_said_in_one_sentence(
    says: str, use: str, allowed: str, verdict: str
) -> None:
    new = read(says=says, use=use)
    said = newwatch.use_beyond_mark(new.watch, PRACTICE)
    rest = f"common practice; its stated use is {use}: the check will say {verdict} there."
    assert said == f"{allowed} {rest}"


@pytest.mark.parametrize(
    ("says", "use"),
    [
        ("3 bar", "dry"),
        ("10 bar", "swimming"),
        ("diver's 20 bar", "diving"),
        ("", "diving"),
    ],
)
def test_a_stated_use_within_the_mark_or_beside_an_unknown_one_needs_no_word(says: str, use: str) -> None:
    new = read(says=says, use=use)
    assert newwatch.use_beyond_mark(new.watch, PRACTICE) == ""
