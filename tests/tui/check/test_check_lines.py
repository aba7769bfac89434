"""The answer before water as lines and the texts of its form; no screen."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from logbook.caution import LIFE_SUPPORT
from logbook.errors import BadInput
from logbook.model.judge.check import Verdict
from logbook.model.judge.rules import KEEP_DRY, NO_OBJECTION, THINK_TWICE, VERDICTS, Reason
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Exposure, Settings, Watch
from logbook.record.file.practice_file import load_practice
from logbook.tui.check import form as check_form
from logbook.tui.check import lines as check_lines
from logbook.tui.check import plan as check_plan
from logbook.tui.water.form import Around
from tests.tui.helpers import text_of, words

PRACTICE = load_practice()
TODAY = date(2026, 11, 25)
PLAN = make_exposure(
    PRACTICE, Settings(), activity="dive", starts_on=date(2026, 11, 26), today=TODAY, depth_m=30,
    duration_s=2400, water_c=12, planned=True,
)  # fmt: skip
REASONS = (
    Reason("over-mark", "31.00 bar is above the mark of 20 bar", "31.00 bar", "20 bar", KEEP_DRY),
    Reason(
        "test-overdue", "pressure test was due on 2 Apr, 60 days ago", "60 days", "12 months", THINK_TWICE
    ),
    Reason("never-tested", "no passed pressure test on record", "none", "a pass on record", THINK_TWICE),
)
VERDICT = Verdict(
    "Blue bezel",
    KEEP_DRY,
    REASONS,
    ("score 64",),
    3e5,
    3e5,
    10e5,
    False,
    date(2026, 11, 26),
    "It would read “think twice” after that.",
)  # fmt: skip


def shown(verdict: Verdict = VERDICT, width: int = 80, plan: Exposure = PLAN) -> list[str]:
    return text_of(check_lines.answer(verdict, plan, TODAY, "metric", width)).splitlines()


def test_the_answer_starts_with_the_verdict_and_what_was_asked() -> None:
    assert words(shown()[0]) == "KEEP IT DRY dive 30 m, 40 min, sea 12 °C, tomorrow"


def test_what_speaks_stands_under_its_verdict_with_limit_and_value() -> None:
    text = words("\n".join(shown()))
    assert (
        "keep it dry, because 1 31.00 bar is above the mark of 20 bar limit: 20 bar think twice, because 2"
        in text
    )
    assert "3 no passed pressure test on record" in text
    assert "a pass on record" not in text  # a limit in words says nothing that the sentence does not


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
    plan = replace(PLAN, jump_m=4.0, starts_on=TODAY, crown_open=True)
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


@pytest.mark.parametrize("ahead", [0, 1, 40, 364, 366, 800])
@pytest.mark.parametrize("days", [0, 1, 8, 40, 400])
def test_the_days_of_a_plan_read_back_from_the_field(ahead: int, days: int) -> None:
    first = TODAY + timedelta(days=ahead)
    last = first + timedelta(days=days) if days else None
    text = check_form.when_text(first, last, TODAY)
    _, plan = check_form.read({"what": "dive", "depth": "20", "minutes": "30", "when": text}, around())
    assert plan is not None, text
    assert (plan.starts_on, plan.planned_to) == (first, last), text


def test_a_trip_is_asked_about_with_its_days_and_how_many_they_are() -> None:
    trip = replace(PLAN, starts_on=date(2027, 6, 28), planned_to=date(2027, 7, 3))
    assert check_lines.plan_words(trip, TODAY, "metric").endswith(", 28 Jun to 3 Jul 2027 (6 days)")


def test_a_plan_as_texts_is_the_same_plan_again() -> None:
    trip = replace(
        PLAN,
        jump_m=2.0,
        water="brackish",
        salinity=12.0,
        planned_to=date(2026, 12, 3),
        crown_under=2,
    )
    texts = check_form.texts_of(trip, around())
    _, plan = check_form.read(texts, around())
    assert plan is not None
    assert plan.crown_open
    same = ("activity", "depth_m", "duration_s", "water", "salinity", "water_c", "jump_m", "starts_on")
    assert all(getattr(plan, name) == getattr(trip, name) for name in (*same, "planned_to"))
    assert "pushers" not in texts


def test_a_plan_that_is_past_or_kept_already_is_refused_in_words() -> None:
    texts = {"what": "dive", "depth": "20", "minutes": "30"}
    with pytest.raises(BadInput, match=r"A plan for 24 Nov 2026 is past: today is") as refused:
        check_plan.planned(texts | {"when": "yesterday"}, around())
    assert refused.value.where == "when"
    plan, said = check_plan.planned(texts | {"when": "12 to 14 dec", "crown": "open"}, around())
    assert "Blue bezel: dive 20 m, 30 min, sea 15 °C, crown open, 12 to 14 Dec 2026 (3 days)" in said
    assert plan.crown_open
    with pytest.raises(BadInput, match="has this plan already"):
        check_plan.planned(texts | {"when": "12 to 14 dec", "crown": "open"}, around(), [replace(plan, id=4)])
    check_plan.planned(texts | {"when": "12 to 14 dec"}, around(), [replace(plan, id=4)])  # is another one


def test_plans_ahead_are_each_there_once_whoever_they_are_for() -> None:
    plan, _ = check_plan.planned({"what": "swim", "minutes": "30", "when": "sat"}, around())
    past = replace(plan, starts_on=date(2026, 11, 20))
    under_way = replace(plan, starts_on=date(2026, 11, 20), planned_to=TODAY)
    found = check_plan.ahead([past, under_way, plan, replace(plan, watch_id=2, id=9)], around())
    assert found == [under_way, plan]


@pytest.mark.parametrize("width", [40, 65, 66, 80, 140])
def test_a_row_is_as_wide_as_its_list_and_marks_the_cursor_by_a_sign(width: int) -> None:
    from rich.cells import cell_len

    line = text_of([check_lines.row(VERDICT, width, here=True)])
    assert cell_len(line) <= width
    assert line.startswith("› Blue bezel")
    assert ("31.00 bar" in line) is (width >= check_lines.NARROW)
    assert "keep it dry" in line


def test_the_watch_under_the_cursor_has_its_first_reason_in_full_and_the_number_of_others() -> None:
    text = words(text_of(check_lines.brief(VERDICT, 78)))
    assert text == "Blue bezel: 31.00 bar is above the mark of 20 bar (limit: 20 bar), and 2 more reasons"
    long = replace(VERDICT, reasons=(replace(REASONS[0], sentence="word " * 90),))
    lines = check_lines.brief(long, 78)
    assert len(lines) == check_lines.BRIEF
    assert text_of(lines).endswith("…")
