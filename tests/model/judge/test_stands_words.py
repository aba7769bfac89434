"""What stands in words: what happened, the pass that lifts it, and what is said at once."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from logbook.model.judge import facts, stands_words
from logbook.model.judge.proofs import Asked
from logbook.model.values import Event, Exposure, Habit, Raised, WatchRecord
from tests.model.builders import (
    BAR,
    ONE_DAY,
    PRACTICE,
    TESTED,
    TODAY,
    event,
    exposure,
    habit,
    passed,
    pool,
    rain,
    record,
    seal,
    shower,
    untested,
    watch,
)

DAY = date(2024, 7, 1)
SWIM, DIVE = Asked("swim", 0.2 * BAR), Asked("scuba", 1.8 * BAR)
MAY_TO_JULY = "between 1 May 2024 and 1 Jul 2024"
TEN = "10 bar or more, better at its mark, 20 bar"


def told(*events: Event, asked: Asked = DIVE, **given_: Any) -> tuple[str, str]:
    """The sentence of the one thing that stands, and its limit."""
    whole = record(*events, **given_)
    known = facts.gather(whole, TODAY, PRACTICE, asked)
    (stand,) = known.standing
    return stands_words.sentence_of(stand, known.needs)


def failed(**more: Any) -> Event:
    return event("pressure-test", DAY, **({"passed": False, "test_pa": 25 * BAR, "medium": "water"} | more))


OPENED = event("opened", DAY + ONE_DAY)
SENTENCES: dict[str, tuple[tuple[Event, ...], str, str]] = {
    "a failure": (
        (failed(),),
        (
            "a pressure test at 25 bar in water failed on 1 Jul 2024; "
            "it stands until the watch is opened, mended and passes at 20 bar or more"
        ),
        "a pass at 20 bar",
    ),
    "a failure of which little is known": (
        (failed(test_pa=None, medium=None),),
        (
            "a pressure test failed on 1 Jul 2024; "
            f"it stands until the watch is opened, mended and passes at {TEN}"
        ),
        "a pass at 10 bar",
    ),
    "a failure that passed once": (
        (failed(), passed(DAY + ONE_DAY, 25)),
        (
            "a pressure test at 25 bar in water failed on 1 Jul 2024; "
            "it passed on 2 Jul 2024 with nothing opened: test it again on another day"
        ),
        "a pass at 20 bar",
    ),
    "water": (
        (event("water-inside", DAY),),
        (
            "water was seen inside on 1 Jul 2024: to a workshop within days: what is wet inside corrodes; "
            f"it stands until opened, dried and tested at {TEN}"
        ),
        "a pass at 10 bar",
    ),
    "fog of a leak": (
        (event("fog", DAY),),
        (
            "fog was seen inside on 1 Jul 2024: to a workshop within days: what is wet inside corrodes; "
            f"it stands until opened, dried and tested at {TEN}"
        ),
        "a pass at 10 bar",
    ),
    "a condensation test": (
        (event("condensation-test", DAY, passed=False),),
        (
            "a condensation test failed on 1 Jul 2024: "
            "to a workshop within days: what is wet inside corrodes; "
            f"it stands until opened, dried and tested at {TEN}"
        ),
        "a pass at 10 bar",
    ),
    "fog that is explained": (
        (event("fog", DAY, crystal_c=5.0, case_air_c=21.0),),
        "fog was seen inside on 1 Jul 2024, which sealed air explains; a passed condensation test settles it",
        "a pass at 10 bar",
    ),
    "damage": (
        (event("gas-valve-damaged", DAY),),
        (
            "the gas valve was damaged on 1 Jul 2024; "
            f"it stands until its repair and a pressure test passed at {TEN}"
        ),
        "a pass at 10 bar",
    ),
    "a battery": (
        (passed(), event("battery", DAY)),
        f"opened on 1 Jul 2024 (battery) and not tested since at {TEN}",
        "a pass at 10 bar",
    ),
    "a repair": (
        (passed(), event("repaired", DAY, repaired="gas-valve-damaged")),
        f"opened on 1 Jul 2024 (gas valve repaired) and not tested since at {TEN}",
        "a pass at 10 bar",
    ),
    "gaskets, known to a month": (
        (passed(), event("gaskets", DAY, span=(date(2024, 5, 1), DAY))),
        f"perhaps opened after its last pass, {MAY_TO_JULY} (gaskets) and not tested since at {TEN}",
        "a pass at 10 bar",
    ),
    "a knock": (
        (event("knock", DAY),),
        f"it was knocked on 1 Jul 2024; not tested since at {TEN}",
        "a pass at 10 bar",
    ),
    "a knock that moved something": (
        (event("knock", DAY, moved=True),),
        f"it was knocked on 1 Jul 2024, and crystal, crown or bezel moved; not tested since at {TEN}",
        "a pass at 10 bar",
    ),
}


@pytest.mark.parametrize("what", SENTENCES)
def test_what_stands_is_one_sentence_and_the_pass_that_lifts_it(what: str) -> None:
    events, sentence, limit = SENTENCES[what]
    assert told(*events) == (sentence, limit)


def test_what_is_done_already_is_not_asked_for_again() -> None:
    """Opened since, water and a failure wait for their test alone."""
    for trouble in (failed(), event("water-inside", DAY)):
        known = facts.gather(record(trouble, OPENED), TODAY, PRACTICE, DIVE)
        sentence, _ = stands_words.sentence_of(known.standing[0], known.needs)
        assert "it stands until a pressure test is passed at" in sentence
        assert "corrodes" not in sentence
    repaired = event("repaired", DAY + ONE_DAY, repaired="crown-damaged")
    known = facts.gather(record(event("crown-damaged", DAY), repaired), TODAY, PRACTICE, DIVE)
    sentence, _ = stands_words.sentence_of(known.standing[0], known.needs)
    assert sentence == f"the crown was damaged on 1 Jul 2024; it stands until a pressure test passed at {TEN}"


def test_gaskets_of_a_range_that_reaches_past_the_last_pass_say_perhaps() -> None:
    maybe = seal(fitted=date(2024, 1, 1), latest=DAY)
    assert told(passed(), seals=(maybe,), added_on=date(2024, 8, 1)) == (
        f"its gaskets may have been fitted after its last pass; not tested since at {TEN}",
        "a pass at 10 bar",
    )


# ---------------------------------------------------------------- what exposures raised


def raised(code: Any, by: Exposure, **given_: Any) -> str:
    return told(passed(), raised=(Raised(code, replace(by, starts_on=DAY)),), **given_)[0]


UNTIL = f"; it stands until a pressure test is passed at {TEN}"
SINCE = f"; not tested since at {TEN}"


@pytest.mark.parametrize(
    ("by", "sentence"),
    [
        (exposure(depth_m=230.0), "a dive to 230 m on 1 Jul 2024 went above its mark: 23 bar against 20 bar"),
        (exposure(crown_under=1), "a dive to 18 m on 1 Jul 2024 had its crown used under water"),
        (exposure(crown_open=True), "a dive to 18 m on 1 Jul 2024 had its crown open under water"),
        (exposure(pusher_under=1), "a dive to 18 m on 1 Jul 2024 had its pushers used under water"),
        (exposure(pushers_open=True), "a dive to 18 m on 1 Jul 2024 had its pushers open under water"),
        (rain(crown_under=1), "rain on 1 Jul 2024 had its crown used under water"),
    ],
)  # fmt: skip
def test_overstress_says_what_was_done_and_what_lifts_it(by: Exposure, sentence: str) -> None:
    assert raised("overstressed", by) == sentence + UNTIL


def test_a_jump_is_named_where_it_was_part_of_it() -> None:
    said = raised("overstressed", pool(jump_m=14.0), mark="unmarked", marked_pa=None)
    assert "with a jump from 14 m on 1 Jul 2024 went above its mark: 1.37 bar against 1 bar" in said


def test_water_beyond_proof_says_how_deep_it_went_or_that_its_class_was_not_allowed() -> None:
    assert raised("beyond-proof", exposure(depth_m=60.0)) == (
        f"a dive to 60 m on 1 Jul 2024 brought 6 bar, more than it had been tested to{SINCE}"
    )
    small: dict[str, Any] = {"mark": "water-resistant", "marked_pa": 3 * BAR, "use": "dry", "asked": SWIM}
    assert raised("beyond-proof", shower(), **small) == (
        "a shower on 1 Jul 2024 was more than its mark allows, with no test in force for it; "
        "not tested since at 3 bar or more"
    )


def test_a_habit_is_said_to_go_on() -> None:
    said, _ = told(passed(), habits=(habit(1.0, DAY, crown_under=1),))
    assert said.startswith("the habit of")
    assert said.endswith(f"to 18 m from 1 Jul 2024 had its crown used under water{UNTIL}")


# ---------------------------------------------------------------- the pass, in words


@pytest.mark.parametrize(
    ("bar", "given_", "words"),
    [
        (10, {}, TEN),
        (20, {}, "20 bar or more"),
        (3, {"mark": "unknown", "marked_pa": None}, "3 bar or more"),
        (1, {"mark": "unmarked", "marked_pa": None}, "1 bar or more"),
        (11.25, {}, "11.3 bar or more, better at its mark, 20 bar"),
    ],
)
def test_advice_names_the_pass_needed_and_the_mark_where_that_is_higher(
    bar: float, given_: dict[str, Any], words: str
) -> None:
    assert stands_words.proof_advice(watch(**given_), bar * BAR) == f"a pressure test passed at {words}"


# ---------------------------------------------------------------- said at once


def at_once(by: Exposure, whole: WatchRecord | None = None) -> list[str]:
    return stands_words.at_once(whole or record(), [replace(by, starts_on=DAY)], PRACTICE)


def test_overstress_is_said_at_once_when_it_is_logged() -> None:
    assert at_once(exposure(crown_under=1)) == [
        f"keep it dry: a dive to 18 m on 1 Jul 2024 had its crown used under water{UNTIL}."
    ]
    assert at_once(exposure()) == []


def test_water_beyond_proof_is_said_at_once_as_think_twice() -> None:
    assert at_once(exposure(depth_m=60.0), record(passed(bar=5))) == [
        f"think twice: a dive to 60 m on 1 Jul 2024 brought 6 bar, more than it had been tested to{SINCE}."
    ]


def test_what_is_above_mark_and_proof_is_said_once_by_the_gravest() -> None:
    (said,) = at_once(exposure(depth_m=260.0))
    assert said.startswith("keep it dry: a dive to 260 m on 1 Jul 2024 went above its mark: 26 bar against")


def test_it_is_said_again_of_each_exposure_whatever_stands_already() -> None:
    begun = record(raised=(Raised("overstressed", exposure(crown_under=1, starts_on=TESTED + ONE_DAY)),))
    assert len(at_once(exposure(crown_under=1), begun)) == 1


def test_of_a_watch_kept_dry_it_is_said_for_the_next_swim() -> None:
    """For rain it would be think twice; what is said at once is meant for water."""
    (said,) = at_once(exposure(crown_under=1), record(use="dry"))
    assert said.startswith("keep it dry: ")
    small = untested(mark="water-resistant", marked_pa=5 * BAR, use="dry")
    (said,) = at_once(exposure(), small)
    assert said.startswith("think twice: ")


def test_of_several_exposures_the_gravest_is_said_once_even_where_the_like_stands_already() -> None:
    begun = record(raised=(Raised("overstressed", exposure(crown_under=1, id=1)),))
    many = [exposure(depth_m=260.0, starts_on=DAY, id=7), exposure(depth_m=270.0, starts_on=DAY, id=8)]
    (said,) = stands_words.at_once(begun, many, PRACTICE)
    assert said.startswith("keep it dry: a dive to 270 m on 1 Jul 2024 went above its mark")
    assert stands_words.at_once(begun, [exposure(starts_on=DAY, id=9)], PRACTICE)[1:] == []


def test_what_a_later_pass_lifted_is_not_said_of_an_exposure_before_it() -> None:
    tested = record(passed(on=DAY + ONE_DAY, bar=25))
    assert stands_words.at_once(tested, [exposure(crown_under=1, starts_on=DAY, id=7)], PRACTICE) == []


def test_a_habit_is_said_at_once_as_an_exposure_is() -> None:
    swims = Habit(pool(crown_under=1), 1.0, DAY, id=7)
    (said,) = stands_words.at_once(record(), [swims], PRACTICE)
    assert said.startswith("keep it dry: the habit of swim in the pool to 1.5 m from 1 Jul 2024 had")
    assert stands_words.at_once(record(), [Habit(pool(), 1.0, DAY, id=7)], PRACTICE) == []


def test_what_stands_now_and_did_not_before_is_said_and_nothing_else() -> None:
    knocked = event("knock", DAY, id=4)
    deep = Raised("overstressed", exposure(depth_m=60.0, starts_on=DAY, id=5))
    before, lower = record(knocked), record(knocked, raised=(deep,), marked_pa=5 * BAR)
    (said,) = stands_words.now_stands(before, lower, PRACTICE)
    assert said.startswith("keep it dry: a dive to 60 m on 1 Jul 2024 went above its mark: 6 bar against")
    assert stands_words.now_stands(lower, lower, PRACTICE) == []
    assert len(stands_words.now_stands(None, lower, PRACTICE)) == 2


def test_of_many_watches_the_gravest_come_first_and_the_rest_are_counted() -> None:
    twice, dry = ["think twice: a."], ["keep it dry: b.", "think twice: c."]
    found = [("One", twice), ("Two", dry), ("Three", []), ("Four", dry), ("Five", twice)]
    lines = stands_words.by_watch(found)
    assert [line.partition(": ")[0] for line in lines] == ["Two", "Four", "One", "Five"]
    assert lines[0] == "Two: keep it dry: b."
    assert stands_words.a_few(lines) == [*lines[:3], "and 1 more"]
    assert stands_words.a_few(lines[:3]) == lines[:3]
