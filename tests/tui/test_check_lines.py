"""The answer before water as lines and the texts of its form; no screen."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from logbook.caution import LIFE_SUPPORT
from logbook.keeping.practice_file import load_practice
from logbook.reckoning.check import Verdict
from logbook.reckoning.planrules import Plan
from logbook.reckoning.rules import KEEP_DRY, NO_OBJECTION, THINK_TWICE, VERDICTS, Reason
from logbook.reckoning.validate import make_exposure
from logbook.reckoning.values import Settings, Watch
from logbook.tui import check_form, check_lines
from logbook.tui.exposure_form import Around
from tests.tui.helpers import text_of, words

PRACTICE = load_practice()
TODAY = date(2026, 11, 25)
PLAN = Plan(
    make_exposure(
        PRACTICE, Settings(), activity="dive", starts_on=date(2026, 11, 26), today=TODAY, depth_m=30,
        duration_s=2400, water_c=12, planned=True,
    )
)  # fmt: skip
REASONS = (
    Reason("over-mark", "31.00 bar is above the mark of 20 bar", "31.00 bar", "20 bar", KEEP_DRY),
    Reason(
        "test-overdue", "pressure test was due on 2 Apr, 60 days ago", "60 days", "12 months", THINK_TWICE
    ),
    Reason("never-tested", "no passed pressure test on record", "none", "a pass on record", THINK_TWICE),
)
VERDICT = Verdict(
    "Blue bezel", KEEP_DRY, REASONS, ("score 64",), 3e5, 3e5, "It would read “think twice” after that."
)


def shown(verdict: Verdict = VERDICT, width: int = 80, plan: Plan = PLAN) -> list[str]:
    return text_of(check_lines.answer(verdict, plan, TODAY, "metric", width)).splitlines()


def test_the_answer_starts_with_the_verdict_and_what_was_asked() -> None:
    assert words(shown()[0]) == "KEEP IT DRY dive 30 m, 40 min, sea 12 °C, tomorrow"


def test_what_speaks_stands_under_its_verdict_with_limit_and_value() -> None:
    text = words("\n".join(shown()))
    assert (
        "keep it dry, because 1 31.00 bar is above the mark of 20 bar limit: 20 bar think twice, because 2"
        in text
    )
    assert (
        "3 no passed pressure test on record none; limit: a pass on record" in text
    )  # the value is not in it


def test_what_would_change_it_stands_before_the_context() -> None:
    text = "\n".join(shown())
    assert text.index("It would read") < text.index("for context") < text.index("score 64")
    assert words(text).endswith(LIFE_SUPPORT)


@pytest.mark.parametrize("verdict", VERDICTS)
def test_every_verdict_is_a_word_before_it_is_a_colour(verdict: str) -> None:
    assert verdict.upper() in shown(replace(VERDICT, verdict=verdict, reasons=()))[0]


@pytest.mark.parametrize("width", [60, 79, 120])
def test_no_line_is_wider_than_its_place(width: int) -> None:
    long = Reason("x", "word " * 40, "a value", "a limit that takes many words to say " * 3, KEEP_DRY)
    assert max(map(len, shown(replace(VERDICT, reasons=(*REASONS, long)), width))) <= width


def test_a_row_of_the_list_has_the_first_reason_or_says_that_there_is_none() -> None:
    assert "31.00 bar is above the mark" in text_of([check_lines.row(VERDICT, 100)])
    quiet = replace(VERDICT, verdict=NO_OBJECTION, reasons=())
    assert "nothing on record speaks against it" in text_of([check_lines.row(quiet, 100)])


def test_an_open_crown_and_a_jump_are_part_of_what_was_asked() -> None:
    plan = Plan(replace(PLAN.exposure, jump_m=4.0, starts_on=TODAY), crown_open=True)
    assert (
        check_lines.plan_words(plan, TODAY, "metric")
        == "dive 30 m, 40 min, sea 12 °C, jump 4 m, crown open, today"
    )
    assert "dive 98 ft" in check_lines.plan_words(plan, TODAY, "imperial")


def around(use: str = "diving") -> Around:
    watch = Watch("Blue bezel", "divers", 20e5, date(2025, 1, 1), date(2025, 1, 1), use=use)  # type: ignore[arg-type]
    return Around(PRACTICE, Settings(), "metric", TODAY, watch, ahead=True)


@pytest.mark.parametrize(
    ("text", "is_open"),
    [("", False), ("closed", False), ("c", False), ("screwed down", False), ("open", True), ("o", True),
     ("Unlocked", True), ("unscrewed", True)],
)  # fmt: skip
def test_crown_and_pushers_are_closed_unless_they_are_said_to_be_open(text: str, is_open: bool) -> None:
    _, plan = check_form.read({"what": "dive", "depth": "20", "minutes": "30", "crown": text}, around())
    assert plan is not None
    assert plan.crown_open is is_open


def test_a_crown_that_is_neither_is_asked_about_again() -> None:
    reading, plan = check_form.read(
        {"what": "dive", "depth": "20", "minutes": "30", "crown": "maybe"}, around()
    )
    assert plan is None
    assert "neither closed nor open" in reading.wrong["crown"]


def test_without_a_last_time_the_stated_use_fills_in_depth_and_minutes() -> None:
    dive = PRACTICE.activities["dive"]
    texts = check_form.prefilled(dive, None, around("diving"))
    assert (texts["depth"], texts["minutes"]) == ("18 m", "45 min")
    assert check_form.prefilled(dive, None, around("dry"))["depth"] == ""
