"""What stands beside a verdict: pressures, swing, jump, score, chance, and how the mark was read."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import Any

from logbook.model.judge import check
from logbook.model.predict.chance import Chance
from logbook.model.values import Exposure, Shares, WatchRecord
from tests.model.builders import (
    BAR,
    FITTED,
    ONE_DAY,
    PRACTICE,
    TODAY,
    check_plan,
    event,
    exposure,
    passed,
    rain,
    record,
    untested,
)


def context(whole: WatchRecord, plan: Exposure, **closed: Any) -> str:
    return "\n".join(check_plan(whole, plan, **closed).context)


def test_the_context_shows_the_pressures_the_pass_needed_and_the_highest_test_in_force() -> None:
    first = check_plan(record(), exposure()).context[0]
    assert first == (
        "1.80 bar at 18 m + arm 0.005 bar = 9 % of the mark; it asks for a pass at 10 bar; "
        "highest in force: 25 bar in water, 1 Jun 2024"
    )


def test_the_context_says_where_no_test_is_in_force() -> None:
    for whole in (untested(), record(passed(), event("battery")), record(passed(date(2023, 6, 1)))):
        assert (
            check_plan(whole, exposure())
            .context[0]
            .endswith("; it asks for a pass at 10 bar, and no test is in force")
        )


def test_a_test_of_the_maker_or_of_no_known_pressure_is_said_to_be_one() -> None:
    makers = check_plan(untested(new_on=FITTED), exposure()).context[0]
    assert makers.endswith("highest in force: its maker’s, 20 bar in water, 1 Jan 2024")
    unknown = check_plan(record(passed(bar=None)), exposure()).context[0]
    assert unknown.endswith("pressure not known, counts as 1 bar in water, 1 Jun 2024")


def test_the_answer_carries_the_pressures_and_the_pass_needed() -> None:
    found = check_plan(record(), exposure())
    assert found.gauge_pa == 1.8 * BAR
    assert found.planned_pa == 1.8 * BAR + 0.5 * 1025
    assert found.pass_needed_pa == 10 * BAR
    assert found.name == "Blue bezel"
    assert check_plan(record(), rain()).pass_needed_pa == 1 * BAR


def test_a_mark_without_a_number_has_no_share() -> None:
    assert "of the mark" not in check_plan(record(marked_pa=None), exposure(depth_m=2.0)).context[0]


def test_a_jump_that_presses_more_than_the_depth_is_what_the_share_is_of() -> None:
    """3 m of fresh water are 0.294 bar, 3 % of 10 bar; 1 m and the arm are 0.12."""
    plan = exposure(activity="pool", water="pool", depth_m=1.0, jump_m=3.0, water_c=27.0)
    lines = check_plan(record(marked_pa=10 * BAR), plan).context
    assert lines[0].startswith(
        "the jump’s steady head of 0.29 bar, more than 0.10 bar at 1 m + arm 0.020 bar, is 3 % of the mark"
    )
    assert any(line.startswith("a jump from 3 m has a steady head of 0.29 bar") for line in lines)


def test_a_swing_inside_its_limit_is_context_and_one_beyond_it_a_reason() -> None:
    assert "swing 32 → 20 °C is 12 K of the 35 K of the thermal-shock test" in context(record(), exposure())
    plain = context(record(mark="water-resistant"), exposure())
    assert "is 12 K of the 20 K of the thermal-shock test of its mark" in plain
    assert "swing" not in context(record(), exposure(from_c=40.0, water_c=2.0))


def test_half_degrees_stand_as_half_degrees() -> None:
    """32 − 19.5 is 12.5."""
    found = context(record(), exposure(water_c=19.5, water_c_assumed=True))
    assert "swing 32 → 19.5 °C is 12.5 K of the 35 K of the thermal-shock test" in found
    assert "water at 19.5 °C is taken from the home water" in found


def test_an_owner_of_feet_reads_no_metre_or_celsius() -> None:
    """1 bar = 14.504 psi, by the exact pound and inch; 21 m = 68.9 ft; 12.5 K = 22.5 °F."""
    plan = exposure(depth_m=21.0, water_c=19.5, water_c_assumed=True, jump_m=2.0)
    found = check.check(record(), plan, PRACTICE, TODAY, units="imperial")
    told = "\n".join([*(reason.sentence for reason in found.reasons), *found.context])
    assert "psi at 69 ft + arm" in told
    assert "swing 89.6 → 67.1 °F is 22.5 °F of the 63 °F of the thermal-shock test" in told
    assert "water at 67 °F is taken" in told
    assert "a jump from 6.6 ft has" in told
    as_marked = re.sub(r"\(row: [^)]*\)", "", told)
    assert re.findall(r"\d (?:m|°C|K)\b", as_marked) == []


def test_an_owner_of_psi_reads_no_bar_but_the_mark_as_it_stands_on_the_watch() -> None:
    """25 bar = 362.6 psi and 10 bar = 145.04 psi, by the exact pound and inch; asked for is rounded up."""
    found = check.check(record(), exposure(), PRACTICE, TODAY, units="imperial")
    assert "it asks for a pass at 146 psi; highest in force: 36" in found.context[0]
    weak = check.check(record(passed(bar=6)), exposure(), PRACTICE, TODAY, units="imperial")
    told = "\n".join([*(r.sentence for r in weak.reasons), *weak.context, weak.would_change])
    assert "146 psi" in told
    assert re.findall(r"\d bar\b", re.sub(r"\(row: [^)]*\)", "", told)) == []


def test_a_jump_inside_its_limit_is_context_and_one_beyond_it_a_reason() -> None:
    assert "a jump from 2 m" in context(record(), exposure(jump_m=2.0))
    assert "a jump from 5 m" not in context(record(), exposure(jump_m=5.0))


def test_a_temperature_that_was_assumed_is_marked() -> None:
    assert "not measured" in context(record(), exposure(water_c_assumed=True))
    assert "not measured" not in context(record(), exposure())


def test_the_context_says_how_the_mark_was_read() -> None:
    plain = context(record(mark="water-resistant", marked_pa=5 * BAR), rain())
    assert "common practice (row: 5 bar)" in plain
    assert "its mark is not known" in context(record(mark="unknown", marked_pa=None), rain())


def test_nothing_is_said_in_the_name_of_a_standard() -> None:
    assert "ISO" not in context(record(mark="water-resistant", marked_pa=5 * BAR), rain())


def test_the_context_carries_the_score_as_a_share_and_not_a_chance() -> None:
    found = context(record(totals={3: Shares(salt=0.2)}), exposure())
    assert re.search(r"score \d+, a share of a service interval, not a chance", found)


@dataclass
class Band:
    score_low: int
    score_high: int


class Bands:
    """Bands that are always the same."""

    def of(self, *_: object) -> Band:
        return Band(58, 80)


def test_the_band_stands_beside_the_score_unless_water_planned_before_comes_on_top() -> None:
    bands: Any = Bands()
    day = check.check(record(), exposure(), PRACTICE, TODAY, bands=bands)
    assert any(", likely 58–80, a share of" in line for line in day.context)
    trip = exposure(planned=True, planned_to=TODAY + 3 * ONE_DAY)
    found = check.check(record(), trip, PRACTICE, TODAY, bands=bands)
    assert not any("likely" in line for line in found.context)


class Foretold:
    """A foresight that always says the same."""

    def chance_of(self, *_: object) -> Chance:
        return Chance(0.95, 0.9, 0.99, 10 * BAR, tests_used=2)


def test_the_chance_is_said_to_be_of_the_day_that_is_judged() -> None:
    foresight: Any = Foretold()
    ahead = date(2025, 5, 1)
    for starts_on, when in ((TODAY - ONE_DAY, "today"), (TODAY, "on that day"), (ahead, "on that day")):
        found = check.check(record(), exposure(starts_on=starts_on), PRACTICE, TODAY, foresight)
        said = f"would pass a pressure test to 10 bar {when}: 95 % (90–99), after 2 tests of yours"
        assert said in found.context


def test_no_chance_is_told_while_something_stands_or_without_the_tests_read() -> None:
    foresight: Any = Foretold()
    opened = record(passed(), event("battery"))
    found = check.check(opened, exposure(), PRACTICE, TODAY, foresight)
    assert "no chance of passing a test while something stands: opened-untested" in found.context
    assert "chance of passing a test: not computed" in check_plan(record(), exposure()).context


def test_the_context_says_that_a_past_day_is_judged_as_of_today() -> None:
    said = "that day is past: judged as of today, 2 Sep 2024"
    assert said in context(record(), exposure(starts_on=TODAY - ONE_DAY))
    assert "judged" not in context(record(), exposure())
