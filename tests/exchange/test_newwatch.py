"""A new watch from the answers of its owner."""

from __future__ import annotations

from datetime import date

import pytest

from logbook.errors import BadInput
from logbook.exchange import newwatch
from logbook.exchange.newwatch import NOT_KNOWN, Answers, NewWatch
from logbook.keeping.practice_file import load_practice
from logbook.reckoning.values import MARK_KINDS

TODAY = date(2026, 11, 25)
PRACTICE = load_practice()


def read(**told: object) -> NewWatch:
    return newwatch.read(Answers(**({"name": "A", "mark": "unknown"} | told)), PRACTICE, TODAY)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "pressure_pa"),
    [
        ("200m", 20e5),
        ("20 bar", 20e5),
        ("660 ft", 20.1168e5),
        ("3 bar", 3e5),
        ("", None),
        ("don't know", None),
    ],
)
def test_a_mark_is_read_in_bar_or_by_ten_metres_to_the_bar(text: str, pressure_pa: float | None) -> None:
    found = newwatch.marked_pa(text)
    assert found == (None if pressure_pa is None else pytest.approx(pressure_pa))


def test_a_mark_without_a_unit_is_asked_back() -> None:
    with pytest.raises(BadInput, match="Is it 200 m or 200 bar") as refused:
        newwatch.marked_pa("200")
    assert refused.value.where == "marked"


@pytest.mark.parametrize("unknown", NOT_KNOWN)
def test_every_way_to_say_that_one_does_not_know_is_an_answer(unknown: str) -> None:
    new = read(opened=unknown, gaskets=unknown.upper(), tested=f" {unknown} ", marked=unknown, new_on=unknown)
    assert new.events == ()
    assert new.watch.marked_pa is None
    assert all(seal.fitted_earliest < seal.fitted_latest == TODAY for seal in new.seals)


@pytest.mark.parametrize(
    ("told", "first", "last"),
    [
        ("2024", date(2024, 1, 1), date(2024, 12, 31)),
        ("may 2024", date(2024, 5, 1), date(2024, 5, 31)),
        ("spring 2024..2025-02", date(2024, 3, 1), date(2025, 2, 28)),
        ("2026", date(2026, 1, 1), TODAY),
    ],
)
def test_a_date_known_roughly_is_a_span_an_opening_on_its_last_day_a_pass_on_its_first(
    told: str, first: date, last: date
) -> None:
    opening, test = read(gaskets=told, tested=told, passed_at="3 bar").events
    assert (opening.kind, opening.on, opening.span) == ("opened", last, (first, last))
    assert (test.kind, test.on, test.span) == ("pressure-test", first, (first, last))
    known, passed = read(gaskets="2024-05-03", tested="2024-05-03", passed_at="3 bar").events
    assert (known.span, passed.span) == (None, None)


def test_a_span_of_gaskets_dates_the_seals_as_a_span_and_the_opening_to_its_end() -> None:
    new = read(gaskets="2024-01-01..2024-06-30")
    assert {(s.fitted_earliest, s.fitted_latest) for s in new.seals} == {
        (date(2024, 1, 1), date(2024, 6, 30))
    }
    (opening,) = new.events
    assert (opening.kind, opening.on) == ("opened", date(2024, 6, 30))
    assert opening.note == "given gaskets between 1 Jan 2024 and 30 Jun 2024"


def test_an_opening_does_not_make_the_seals_new() -> None:
    new = read(opened="2026-10-01")
    assert [event.kind for event in new.events] == ["opened"]
    assert all(seal.fitted_earliest < date(2026, 10, 1) for seal in new.seals)


def test_opening_and_test_of_one_day_stand_in_the_usual_order() -> None:
    opening, test = read(opened="2026-10-01", tested="2026-10-01", passed_at="3 bar", medium="water").events
    assert (opening.order, test.order) == (10, 40)
    assert (test.passed, test.test_pa, test.medium) == (True, 3e5, "water")


def test_a_watch_bought_new_has_seals_of_that_day() -> None:
    new = read(mark="divers", marked="200m", new_on="2025-06-01", pushers=True, gas_valve=True)
    assert {seal.fitted_earliest for seal in new.seals} == {date(2025, 6, 1)}
    assert [seal.position for seal in new.seals] == ["case-back", "crystal", "crown", "pushers", "gas-valve"]


@pytest.mark.parametrize(
    ("told", "where"),
    [
        ({"name": ""}, "name"),
        ({"name": "a:b"}, "name"),
        ({"mark": "divers"}, "marked_pa"),
        ({"mark": "safe to dive"}, "mark"),
        ({"material": "leather"}, "material"),
        ({"opened": "2027-01-01"}, "opened"),
        ({"gaskets": "2027-01-01"}, "gaskets"),
        ({"tested": "2027-01-01", "passed_at": "3 bar"}, "tested"),
        ({"tested": "after 2024", "passed_at": "3 bar"}, "tested"),
        ({"tested": "2024..2023", "passed_at": "3 bar"}, "tested"),
        ({"new_on": "2024"}, "new_on"),
        ({"tested": "2024-01-01", "passed_at": "2 bar", "medium": "vacuum"}, "passed_at"),
        ({"tested": "2024-01-01", "passed_at": "3 kg"}, "passed_at"),
        ({"passed_at": "3 bar"}, "tested"),
        ({"new_on": "2025-01-01", "gaskets": "2024-12-01"}, "gaskets"),
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
    ("mark", "marked", "use", "allowed", "verdict"),
    [
        ("water-resistant", "3 bar", "diving", "Its mark allows rain and washing hands by", "keep it dry"),
        (
            "water-resistant",
            "10 bar",
            "diving",
            "Its mark allows rain and washing hands, swimming and snorkelling by",
            "keep it dry",
        ),
        (
            "water-resistant",
            "5 bar",
            "swimming",
            "Its mark allows rain and washing hands, and swimming lightly, by",
            "think twice",
        ),
        ("unmarked", "", "dry", "An unmarked watch allows rain and washing hands lightly, by", "think twice"),
    ],
)
def test_a_stated_use_beyond_the_mark_is_said_in_one_sentence(
    mark: str, marked: str, use: str, allowed: str, verdict: str
) -> None:
    new = read(mark=mark, marked=marked, use=use)
    said = newwatch.use_beyond_mark(new.watch, PRACTICE)
    rest = f"common practice; its stated use is {use}: the check will say {verdict} there."
    assert said == f"{allowed} {rest}"


@pytest.mark.parametrize(
    ("mark", "marked", "use"),
    [
        ("water-resistant", "3 bar", "dry"),
        ("water-resistant", "10 bar", "swimming"),
        ("divers", "20 bar", "diving"),
        ("unknown", "", "diving"),
    ],
)
def test_a_stated_use_within_the_mark_or_beside_an_unknown_one_needs_no_word(
    mark: str, marked: str, use: str
) -> None:
    new = read(mark=mark, marked=marked, use=use)
    assert newwatch.use_beyond_mark(new.watch, PRACTICE) == ""
