"""What stands until proven: each row of the table, what raises it, what lifts it and what does not."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.model import marks
from logbook.model.judge import facts, history, stands
from logbook.model.judge.proofs import Asked
from logbook.model.judge.stands import KEEP_DRY, STANDS, THINK_TWICE
from logbook.model.values import DAMAGE, EVENT_KINDS, Event, EventKind, Exposure, Raised, WatchRecord
from tests.model.builders import (
    BAR,
    ONE_DAY,
    PRACTICE,
    TESTED,
    TODAY,
    event,
    exposure,
    passed,
    pool,
    rain,
    record,
    sauna,
    shower,
    untested,
    watch,
)

DAY = date(2024, 7, 1)
RAIN, SWIM, DIVE = Asked("rain, hands", 500.0), Asked("swim", 0.2 * BAR), Asked("scuba", 1.8 * BAR)


def day(n: int) -> date:
    return DAY + n * ONE_DAY


def failed(on: date = DAY, bar: float | None = 25, **more: Any) -> Event:
    """A failed pressure test in water."""
    return event(
        "pressure-test", on, passed=False, test_pa=None if bar is None else bar * BAR,
        **({"medium": "water"} | more),
    )  # fmt: skip


def dry_air(on: date) -> Event:
    """A passed condensation test."""
    return event("condensation-test", on, passed=True)


def speaking(
    *told: Event, asked: Asked = DIVE, whole: WatchRecord | None = None, **given_: Any
) -> dict[str, str]:
    """What stands on the watch with these events, and how it speaks."""
    of = whole or (record(*told, **given_) if told else untested(**given_))
    known = facts.gather(of, TODAY, PRACTICE, asked)
    spoken = [(s.code, STANDS[s.way].speaks(s, known.needs)) for s in known.standing]
    return {code: verdict for code, verdict in spoken if verdict is not None}


# ---------------------------------------------------------------- a failed test


def test_a_failure_of_an_opened_watch_is_lifted_by_a_pass_at_its_pressure_in_any_medium() -> None:
    opened = event("opened", day(1))
    assert speaking(failed()) == {"failed-test": KEEP_DRY}
    for medium in ("air", "water"):
        assert speaking(failed(bar=10), opened, passed(day(2), 10, medium=medium)) == {}
    found = speaking(failed(bar=10), opened, passed(day(2), 9.9))
    assert found["failed-test"] == KEEP_DRY


def test_no_more_than_the_mark_is_asked_after_a_failure() -> None:
    assert speaking(failed(bar=25), event("opened", day(1)), passed(day(2), 20)) == {}


def test_a_failure_of_a_watch_that_was_not_opened_needs_two_days_of_passes() -> None:
    assert speaking(failed(), passed(day(1), 25)) == {"failed-test": THINK_TWICE}
    assert speaking(failed(), passed(day(1), 25), passed(day(1), 25, id=2)) == {"failed-test": THINK_TWICE}
    assert speaking(failed(), passed(day(1), 25), passed(day(2), 25)) == {}


def test_air_does_not_answer_a_failure_in_water_and_water_answers_one_in_air() -> None:
    in_air = [passed(day(n), 25, medium="air") for n in (1, 2)]
    assert speaking(failed(medium="water"), *in_air) == {"failed-test": KEEP_DRY}
    assert speaking(failed(medium="air"), *in_air) == {}
    assert speaking(failed(medium="air"), passed(day(1), 25), in_air[1]) == {}


def test_a_failure_at_a_pressure_not_written_down_is_lifted_at_the_pass_needed_by_the_stated_use() -> None:
    """10 bar for diving; for a watch kept dry at least a swim's, 3 bar."""
    for use, low, enough in (("diving", 9, 10), ("swimming", 2.9, 3), ("dry", 2.9, 3)):
        told = (failed(bar=None), event("opened", day(1)))
        assert "failed-test" in speaking(*told, passed(day(2), low), use=use)
        assert "failed-test" not in speaking(*told, passed(day(2), enough), use=use)


def test_a_failure_in_vacuum_is_lifted_by_one_as_deep_or_by_the_stated_use_s_pass() -> None:
    told = (failed(bar=0.7, medium="vacuum"), event("opened", day(1)))
    assert "failed-test" not in speaking(*told, passed(day(2), 0.7, medium="vacuum"))
    assert "failed-test" in speaking(*told, passed(day(2), 0.6, medium="vacuum"))
    assert "failed-test" not in speaking(*told, passed(day(2), 10, medium="air"))
    assert "failed-test" in speaking(*told, passed(day(2), 9, medium="air"))


def test_a_pass_of_the_same_day_without_an_opening_is_the_first_of_two_only_at_the_failed_pressure() -> None:
    assert speaking(failed(bar=10), passed(DAY, 10)) == {"failed-test": THINK_TWICE}
    assert speaking(failed(bar=10), passed(DAY, 9)) == {"failed-test": KEEP_DRY}
    assert speaking(failed(bar=25), passed(DAY, 20)) == {"failed-test": KEEP_DRY}
    assert speaking(failed(bar=10), passed(DAY, 10), passed(day(1), 10)) == {}


def test_a_failure_an_opening_and_a_pass_of_one_day_are_one_visit_that_mends() -> None:
    assert speaking(passed(DAY, 25), event("gaskets", DAY), failed(DAY)) == {}


# ---------------------------------------------------------------- water inside

SEEN: dict[str, Event] = {
    "fog": event("fog", DAY),
    "a failed condensation test": event("condensation-test", DAY, passed=False),
    "water": event("water-inside", DAY),
}


@pytest.mark.parametrize("what", SEEN)
def test_water_inside_stands_until_opened_and_then_tested(what: str) -> None:
    seen, opened = SEEN[what], event("opened", day(1))
    assert speaking(seen) == {"water-inside": KEEP_DRY}
    assert speaking(seen, passed(day(2), 25)) == {"water-inside": KEEP_DRY}  # never opened
    assert "water-inside" in speaking(seen, opened)  # never tested
    assert "water-inside" in speaking(seen, passed(day(1), 25), event("opened", day(2)))
    assert speaking(seen, opened, passed(day(2), 25)) == {}
    assert speaking(seen, event("battery", day(1)), passed(day(1), 25)) == {}


@pytest.mark.parametrize(
    ("what", "lifts"), [("fog", True), ("a failed condensation test", True), ("water", False)]
)
def test_a_later_condensation_test_stands_for_an_opening_but_never_for_water_that_was_seen(
    what: str, lifts: bool
) -> None:
    found = speaking(SEEN[what], dry_air(day(1)), passed(day(2), 25))
    assert ("water-inside" not in found) == lifts


def test_a_condensation_test_of_the_same_day_or_after_the_pass_is_none() -> None:
    failed_then = event("condensation-test", DAY, passed=False)
    assert "water-inside" in speaking(failed_then, dry_air(DAY), passed(day(1), 25))
    assert "water-inside" in speaking(event("fog", DAY), passed(day(1), 25), dry_air(day(2)))


def test_water_inside_asks_at_least_for_a_swims_pass_by_the_stated_use() -> None:
    for use, low, enough in (("diving", 9, 10), ("swimming", 2.9, 3), ("dry", 2.9, 3)):
        told = (event("water-inside", DAY), event("opened", day(1)))
        assert "water-inside" in speaking(*told, passed(day(2), low), use=use, asked=RAIN)
        assert "water-inside" not in speaking(*told, passed(day(2), enough), use=use, asked=RAIN)


def test_fog_that_sealed_air_explains_makes_think_twice_and_takes_no_proof() -> None:
    """Sealed at 21 °C and 50 % the dew point is 10.18 °C (WMO form): a crystal of 5 °C fogs, of 15 not."""
    explained = event("fog", DAY, crystal_c=5.0, case_air_c=21.0)
    assert speaking(passed(TESTED), explained) == {"water-inside": THINK_TWICE}
    assert facts.gather(record(passed(TESTED), explained), TODAY, PRACTICE, DIVE).proved is not None
    assert not stands.is_explained(event("fog", DAY, crystal_c=-300.0, case_air_c=21.0))  # no such air
    for leaky in (event("fog", DAY, crystal_c=15.0, case_air_c=21.0), event("fog", DAY, crystal_c=5.0)):
        assert speaking(passed(TESTED), leaky) == {"water-inside": KEEP_DRY}
        assert facts.gather(record(passed(TESTED), leaky), TODAY, PRACTICE, DIVE).in_force == ()


def test_explained_fog_is_lifted_by_dry_air_or_a_pass_without_any_opening() -> None:
    explained = event("fog", DAY, crystal_c=5.0, case_air_c=21.0)
    assert speaking(explained, dry_air(day(1))) == {}
    assert speaking(explained, passed(day(1), 10)) == {}
    assert speaking(explained, passed(day(1), 9)) == {"water-inside": THINK_TWICE}


def test_a_condensation_test_lifts_nothing_but_explained_fog() -> None:
    for told in (failed(), event("water-inside", DAY), event("crystal-damaged", DAY), event("battery", DAY),
                 event("knock", DAY)):  # fmt: skip
        assert speaking(passed(TESTED), told, dry_air(day(1))) == speaking(passed(TESTED), told) != {}


# ---------------------------------------------------------------- damage


@pytest.mark.parametrize("kind", DAMAGE)
def test_damage_stands_until_its_own_repair_and_a_test_after_it(kind: EventKind) -> None:
    other: EventKind = "crown-damaged" if kind != "crown-damaged" else "crystal-damaged"
    damage, repair = event(kind, DAY), event("repaired", day(2), repaired=kind)
    alone = {"damaged": KEEP_DRY}
    assert speaking(damage, passed(day(1))) == alone  # tested, not repaired
    assert speaking(damage, repair)["damaged"] == KEEP_DRY  # repaired, not tested
    assert speaking(damage, passed(day(1)), repair)["damaged"] == KEEP_DRY  # tested before the repair
    assert speaking(damage, event("repaired", day(2), repaired=other), passed(day(3))) == alone
    assert speaking(damage, event("opened", day(2)), passed(day(3))) == alone
    assert speaking(damage, repair, passed(day(3), 9))["damaged"] == KEEP_DRY
    assert speaking(damage, repair, passed(day(3), 10)) == {}


def test_a_repair_before_the_damage_does_not_mend_it() -> None:
    earlier = event("repaired", day(-1), repaired="crystal-damaged")
    assert speaking(earlier, event("crystal-damaged", DAY), passed(day(1))) == {"damaged": KEEP_DRY}


# ---------------------------------------------------------------- openings, overstress, beyond proof, knocks


@pytest.mark.parametrize("kind", ["battery", "opened", "movement", "gaskets"])
def test_an_opening_stands_until_the_pass_needed_for_what_is_asked(kind: EventKind) -> None:
    told = (passed(TESTED), event(kind, DAY))
    assert speaking(*told) == {"opened-untested": KEEP_DRY}
    assert speaking(*told, asked=RAIN) == {"opened-untested": THINK_TWICE}
    assert speaking(*told, passed(day(1), 3)) == {"opened-untested": THINK_TWICE}  # 1.25 × 1.8 bar
    assert speaking(*told, passed(day(1), 2.2)) == {"opened-untested": KEEP_DRY}
    assert speaking(*told, passed(day(1), 3), asked=SWIM) == {}
    assert speaking(*told, passed(day(1), 10)) == {}


def test_a_vacuum_answers_an_opening_for_rain_and_for_nothing_else() -> None:
    told = (event("battery", DAY), passed(day(1), 0.7, medium="vacuum"))
    assert speaking(*told, asked=RAIN) == {}
    assert speaking(*told, asked=SWIM) == {"opened-untested": KEEP_DRY}


@pytest.mark.parametrize("kind", DAMAGE)
def test_a_repair_opens_the_watch(kind: EventKind) -> None:
    assert speaking(passed(TESTED), event("repaired", DAY, repaired=kind)) == {"opened-untested": KEEP_DRY}


def test_an_unmarked_watch_asks_for_no_test_after_an_opening_unless_its_owner_does() -> None:
    bare: dict[str, Any] = {"mark": "unmarked", "marked_pa": None, "use": "dry"}
    battery = event("battery", DAY)
    assert speaking(battery, asked=RAIN, **bare) == {}
    mine = bare | {"intervals_months": {"pressure-test": 12}}
    assert speaking(battery, asked=RAIN, **mine) == {"opened-untested": THINK_TWICE}


@pytest.mark.parametrize(
    "opening", [event("opened", day(1)), event("repaired", day(1), repaired="crystal-damaged")]
)
def test_what_stands_on_an_unmarked_watch_ends_with_an_opening_or_repair(opening: Event) -> None:
    bare: dict[str, Any] = {"mark": "unmarked", "marked_pa": None, "use": "dry"}
    for told in (event("water-inside", DAY), event("crystal-damaged", DAY), event("knock", DAY), failed()):
        assert speaking(told, asked=RAIN, **bare) != {}
        assert speaking(told, opening, asked=RAIN, **bare) == {}


def raised(code: Any, over: Exposure | None = None, *told: Event, **given_: Any) -> WatchRecord:
    """A record on which an exposure of `DAY` is known to have raised a code."""
    by = replace(over or exposure(crown_under=1), starts_on=DAY)
    given_["raised"] = (Raised(code, by),)
    return record(passed(TESTED), *told, **given_)


def test_overstress_stands_until_the_pass_needed_and_ten_bar_at_the_least() -> None:
    for asked, verdict in ((DIVE, KEEP_DRY), (SWIM, KEEP_DRY), (RAIN, THINK_TWICE)):
        assert speaking(whole=raised("overstressed"), asked=asked) == {"overstressed": verdict}
        low = raised("overstressed", None, passed(day(1), 9))
        assert speaking(whole=low, asked=asked) == {"overstressed": THINK_TWICE}
        assert speaking(whole=raised("overstressed", None, passed(day(1), 10)), asked=asked) == {}


def test_overstress_asks_at_most_for_the_mark_and_ten_bar_of_an_unknown_one() -> None:
    small: dict[str, Any] = {"mark": "water-resistant", "marked_pa": 5 * BAR, "use": "swimming"}
    assert speaking(whole=raised("overstressed", None, passed(day(1), 5), **small), asked=SWIM) == {}
    unknown: dict[str, Any] = {"mark": "unknown", "marked_pa": None, "use": "dry"}
    assert speaking(whole=raised("overstressed", None, passed(day(1), 10), **unknown), asked=RAIN) == {}
    assert speaking(whole=raised("overstressed", None, passed(day(1), 9), **unknown), asked=RAIN) != {}


def test_water_beyond_every_proof_makes_think_twice_and_rain_on_a_mark_of_3_bar_nothing() -> None:
    beyond = raised("beyond-proof", exposure(depth_m=60.0))
    assert speaking(whole=beyond) == {"beyond-proof": THINK_TWICE}
    assert speaking(whole=beyond, asked=RAIN) == {}
    for mark, bar in (("unmarked", None), ("water-resistant", 2)):
        small: dict[str, Any] = {"mark": mark, "marked_pa": None if bar is None else bar * BAR, "use": "dry"}
        assert speaking(whole=raised("beyond-proof", **small), asked=RAIN) == {"beyond-proof": THINK_TWICE}


def test_a_knock_makes_think_twice_and_one_that_moved_something_keeps_dry() -> None:
    for asked in (DIVE, RAIN):
        assert speaking(event("knock", DAY), asked=asked) == {"knocked": THINK_TWICE}
        assert speaking(event("knock", DAY, moved=True), asked=asked) == {"knocked": KEEP_DRY}
    assert speaking(event("knock", DAY, moved=True), passed(day(1), 3)) == {"knocked": KEEP_DRY}
    assert speaking(event("knock", DAY, moved=True), passed(day(1), 10)) == {}


def test_a_pass_that_only_covers_the_plan_lowers_no_failure_water_or_damage() -> None:
    for told in (failed(), event("fog", DAY), event("crystal-damaged", DAY)):
        assert list(speaking(told, passed(day(1), 3)).values()) == [KEEP_DRY]


# ---------------------------------------------------------------- what raises


@pytest.mark.parametrize("kind", EVENT_KINDS)
def test_every_kind_of_event_raises_what_the_table_says(kind: EventKind) -> None:
    bad = event(kind, DAY, passed=False if kind.endswith("-test") else None)
    expected = {
        "pressure-test": "failed-test", "condensation-test": "water-inside", "fog": "water-inside",
        "water-inside": "water-inside", "knock": "knocked", "strap": None,
    } | dict.fromkeys(DAMAGE, "damaged")  # fmt: skip
    assert stands.way_of(bad, watch()) == expected.get(kind, "opened-untested")
    assert stands.way_of(passed(), watch()) is stands.way_of(dry_air(DAY), watch()) is None


@pytest.mark.parametrize(
    ("exposed", "given_", "way"),
    [
        (exposure(depth_m=200.0), {}, None),
        (exposure(depth_m=204.0), {}, None),  # 2 %: instruments differ by as much
        (exposure(depth_m=204.1), {}, "mark"),
        (exposure(depth_m=31.0), {"mark": "water-resistant", "marked_pa": 3 * BAR}, "mark"),
        (pool(depth_m=10.3), {"mark": "unmarked", "marked_pa": None}, "mark"),
        (pool(jump_m=10.6), {"mark": "unmarked", "marked_pa": None}, "mark"),
        (pool(depth_m=10.1), {"mark": "unmarked", "marked_pa": None}, None),
        (exposure(depth_m=300.0), {"mark": "unknown", "marked_pa": None}, None),
        (exposure(crown_under=1), {"mark": "unknown", "marked_pa": None}, "crown"),
        (exposure(crown_under=1), {}, "crown"),
        (exposure(crown_open=True), {}, "crown"),
        (rain(crown_open=True), {}, None),
        (exposure(crown_wet=3), {}, None),
        (exposure(pusher_under=1), {}, "pushers"),
        (exposure(pushers_open=True), {}, "pushers"),
        (exposure(pusher_under=1), {"pushers_wet": True}, None),
        (exposure(pusher_wet=2), {}, None),
        (sauna(), {}, None),
    ],
)
def test_a_watch_is_overstressed_above_its_mark_and_by_its_crown_or_pushers_under_water(
    exposed: Exposure, given_: dict[str, Any], way: str | None
) -> None:
    assert stands.overstress(exposed, watch(**given_), PRACTICE) == way


def test_the_arms_speed_overstresses_nothing() -> None:
    """204 m and an arm at 1 m/s are 512.5 Pa above 102 % of 20 bar: the speed is left out of what was met."""
    assert marks.met_pa(exposure(depth_m=204.0)) == 204e4
    assert stands.overstress(exposure(depth_m=204.0), watch(), PRACTICE) is None


def beyond(exposed: Exposure, *told: Event, **given_: Any) -> bool:
    whole = record(*told, **given_) if told else untested(**given_)
    return "beyond-proof" in history.new_by(whole, exposed, PRACTICE)


def test_an_exposure_is_beyond_proof_from_two_per_cent_above_the_highest_proof() -> None:
    tested = passed(TESTED, 5)
    assert not beyond(exposure(depth_m=51.0), tested)
    assert beyond(exposure(depth_m=51.1), tested)
    assert not beyond(
        exposure(depth_m=51.1), passed(date(2022, 6, 1), 25), tested
    )  # any on record, however old


def test_without_any_proof_on_record_only_the_class_counts() -> None:
    assert not beyond(exposure(depth_m=60.0))
    assert beyond(exposure(depth_m=18.0), mark="water-resistant", marked_pa=5 * BAR)
    assert not beyond(exposure(depth_m=60.0), mark="unknown", marked_pa=None)


def test_a_vacuum_is_no_proof_that_water_could_go_beyond() -> None:
    assert not beyond(exposure(), passed(TESTED, 0.7, medium="vacuum"))


def test_a_class_that_the_mark_does_not_allow_is_answered_by_a_proof_in_force_at_the_pass_needed() -> None:
    """A shower with a mark of 3 bar, no by common practice: a pass at 3 bar a month before answers it."""
    small: dict[str, Any] = {"mark": "water-resistant", "marked_pa": 3 * BAR, "use": "dry"}
    assert beyond(shower(), **small)
    assert not beyond(shower(), passed(DAY, 3), **small)
    assert beyond(shower(), passed(DAY, 2), **small)
    assert beyond(shower(), passed(date(2023, 8, 1), 3), **small)  # older than a year
    assert beyond(shower(), passed(DAY, 3), event("battery", day(1)), **small)


def test_heat_without_water_goes_beyond_nothing() -> None:
    assert not beyond(sauna(), mark="unmarked", marked_pa=None)


# ---------------------------------------------------------------- together


@given(
    kinds=st.lists(st.sampled_from([k for k in EVENT_KINDS if not k.endswith("-test")]), max_size=5),
    asked=st.sampled_from([RAIN, SWIM, DIVE]),
)
def test_opening_drying_repairs_and_a_pass_at_the_mark_lift_everything(
    kinds: list[EventKind], asked: Asked
) -> None:
    told = [event(k, day(n), repaired=DAMAGE[0] if k == "repaired" else None) for n, k in enumerate(kinds)]
    mended = [event("repaired", day(20), repaired=kind) for kind in DAMAGE]
    assert speaking(*told, *mended, passed(day(21), 20), asked=asked) == {}
