"""The scenario file: invented through and through, and a fault in it is named by watch and key."""

from __future__ import annotations

import re
import tomllib
from datetime import date, timedelta
from random import Random

import pytest

from logbook import demo
from logbook.demo.scenario import read_scenario
from logbook.demo.waters import spread_days
from logbook.errors import BadInput
from logbook.model.due.tasks import TASKS
from logbook.model.values import DAY_ORDER, POSITIONS

TODAY = date(2026, 5, 20)
SMALL = """
seed = "small"
[home]
salinity = 38
monthly_c = [13, 13, 13, 14, 17, 20, 23, 24, 23, 20, 17, 14]
[profiles.wall]
points = [[0, 0], [50, 100], [100, 0]]
[[watches]]
name = "Blue bezel"
mark = "divers"
bar = 20
seals = "NBR"
fitted = 400
added = 400
worn = 12
{watch}
[[watches.routine]]
activity = "dive"
from = 100
to = 10
times = 4
depth_m = [10, 20]
minutes = 40
{routine}
[[watches.event]]
kind = "pressure-test"
on = 50
passed = true
bar = 20
medium = "air"
{event}
"""


def small(watch: str = "", routine: str = "", event: str = "", **changes: str) -> str:
    """The small scenario with lines added, and `key = value` lines replaced."""
    text = SMALL.format(watch=watch, routine=routine, event=event)
    for key, line in changes.items():
        text, count = re.subn(rf"^{key} = .*$", line, text, count=1, flags=re.MULTILINE)
        assert count == 1
    return text


def texts(value: object, key: str = "") -> list[tuple[str, str]]:
    """Every text in the scenario with its key."""
    if isinstance(value, dict):
        return [found for k, v in value.items() for found in texts(v, k)]
    if isinstance(value, list):
        return [found for v in value for found in texts(v, key)]
    return [(key, value)] if isinstance(value, str) else []


def keys(value: object) -> set[str]:
    """Every key in the scenario; what stands for a place, a task or a shape of its own is left out."""
    if isinstance(value, list):
        return {key for v in value for key in keys(v)}
    if not isinstance(value, dict):
        return set()
    inner = {key for v in value.values() for key in keys(v)}
    return {key for key in value if key not in (*POSITIONS, *TASKS, "reef", "wreck", "slope")} | inner


def test_only_invented_nicknames_begin_with_a_capital_inside_a_sentence():
    """A brand, a person or a place would be a proper name; no text has one."""
    proper = []
    for key, text in texts(tomllib.loads(demo.scenario_text())):
        if key in ("note", "workshop", "reference", "group"):
            for sentence in re.split(r"[.;:!?]\s+", text):
                words = re.findall(r"[^\W\d_][\w'’-]*", sentence)
                proper += [w for w in words[1:] if w[0].isupper()]
                proper += [words[0]] if key in ("workshop", "group") and words[0][0].isupper() else []
    assert proper == []


def test_the_nicknames_are_the_ones_that_were_invented():
    names = [w["name"] for w in tomllib.loads(demo.scenario_text())["watches"]]
    assert sorted(names) == [
        "Blue bezel", "Deep orange", "Gran's chrono", "Green field", "Harbour steel", "Lake bronze",
        "Lido quartz", "Market find", "Night shift", "Old yellow", "Red plastic", "Sunday dress",
        "Top drawer", "Weekday white",
    ]  # fmt: skip


def test_the_file_promises_nothing():
    assert not re.search(r"\b(safe|safely|waterproof)\b", demo.scenario_text(), flags=re.IGNORECASE)


def test_the_comment_at_the_top_explains_every_key_in_use():
    text = demo.scenario_text()
    comment = text[: text.index("\nseed")]
    assert sorted(k for k in keys(tomllib.loads(text)) if not re.search(rf"\b{k}\b", comment)) == []


@pytest.mark.parametrize(
    ("told", "earliest"),
    [
        ("bought = 900", TODAY - timedelta(days=900)),
        ("bought = 900\nmade_from = 2010\nmade_to = 2019", date(2010, 1, 1)),
    ],
)
def test_a_watch_without_a_fitting_date_may_have_one_since_it_was_made_or_bought(practice, told, earliest):
    story = read_scenario(small(fitted=told), TODAY, practice).stories[0]
    assert {s.fitted_earliest for s in story.seals} == {earliest}
    # It came with them, and was tested only later.
    assert {s.fitted_latest for s in story.seals} == {TODAY - timedelta(days=400)}


def test_an_unknown_fitting_reaches_no_further_than_the_last_pass(practice):
    story = read_scenario(small(fitted="bought = 900", on="on = 600"), TODAY, practice).stories[0]
    assert {s.fitted_latest for s in story.seals} == {TODAY - timedelta(days=600)}


def test_a_mark_may_be_in_metres_and_a_test_to_it(practice):
    text = small(watch='marked_in = "m"', bar="bar = 20")
    text = text.replace("passed = true\nbar = 20", "passed = true\nto_mark = true")
    story = read_scenario(text, TODAY, practice).stories[0]
    assert (story.watch.marked_pa, story.watch.marked_in) == (20e5, "m")
    assert [(e.to_mark, e.test_pa) for e in story.events] == [(True, 20e5)]


def test_an_event_known_to_a_month_spans_that_month_of_the_calendar(practice):
    text = small(event='[[watches.event]]\nkind = "knock"\nin_month = 60\nmoved = true')
    knock = next(e for e in read_scenario(text, TODAY, practice).stories[0].events if e.kind == "knock")
    assert knock.span == (date(2026, 3, 1), date(2026, 3, 31))
    assert (knock.on, knock.moved) == (date(2026, 3, 31), True)


def test_an_event_of_this_month_ends_today(practice):
    text = small(event='[[watches.event]]\nkind = "knock"\nin_month = 3')
    knock = next(e for e in read_scenario(text, TODAY, practice).stories[0].events if e.kind == "knock")
    assert knock.span == (date(2026, 5, 1), TODAY)


def test_a_fitting_date_may_be_a_range_and_one_seal_may_differ(practice):
    text = small(fitted="fitted = [700, 500]", watch='seal.crown = { material = "FKM", fitted = 90 }')
    seals = {s.position: s for s in read_scenario(text, TODAY, practice).stories[0].seals}
    back, crown = seals["case-back"], seals["crown"]
    assert ((TODAY - back.fitted_earliest).days, (TODAY - back.fitted_latest).days) == (700, 500)
    assert (crown.material, (TODAY - crown.fitted_latest).days) == ("FKM", 90)


def test_events_of_one_day_stand_in_the_order_of_the_day(practice):
    text = small(event='[[watches.event]]\nkind = "gaskets"\non = 50\nseals = "FKM"')
    events = read_scenario(text, TODAY, practice).stories[0].events
    assert [(e.kind, e.order) for e in events] == [
        ("gaskets", DAY_ORDER["gaskets"]), ("pressure-test", DAY_ORDER["pressure-test"]),
    ]  # fmt: skip


def test_a_share_rinsed_is_kept_exactly(practice):
    text = small(times="times = 40", routine="rinsed = 0.75")
    exposures = read_scenario(text, TODAY, practice).stories[0].exposures
    assert sum(e.rinsed for e in exposures) == 30


def test_a_temperature_against_the_home_water_follows_the_month_and_is_measured(practice):
    text = small(routine="home_offset_k = -2", **{"from": "from = 20"}, times="times = 1")
    dive = read_scenario(text, TODAY, practice).stories[0].exposures[0]
    assert dive.starts_on.month == 5
    assert (dive.water_c, dive.water_c_assumed) == (15.0, False)


def test_one_block_more_leaves_the_throws_of_the_others_as_they_were(practice):
    more = '[[watches.routine]]\nactivity = "rain"\nfrom = 90\nto = 5\ntimes = 7'
    before = read_scenario(small(), TODAY, practice).stories[0].exposures
    after = read_scenario(small(routine=more), TODAY, practice).stories[0].exposures
    assert before == tuple(e for e in after if e.activity == "dive")


@pytest.mark.parametrize(("first", "last", "times"), [(800, 4, 36), (246, 241, 12), (10, 10, 3), (5, 1, 5)])
def test_the_days_of_a_routine_lie_in_its_span_in_order_and_evenly(first, last, times):
    days = list(spread_days(first, last, times, Random(3)))
    assert len(days) == times
    assert first >= max(days)
    assert min(days) >= last
    assert days == sorted(days, reverse=True)
    part = (first - last + 1) / times
    assert all(first - (n + 1) * part - 1 <= day <= first - n * part + 1 for n, day in enumerate(days))


@pytest.mark.parametrize(
    ("text", "where", "says"),
    [
        (small(watch='colour = "blue"'), "watch 'Blue bezel', colour", "no such key"),
        (small(watch='grup = "sea box"'), "watch 'Blue bezel', grup", "Did you mean group?"),
        (small(mark=""), "watch 'Blue bezel', mark", "missing"),
        (small(mark='mark = "diver"'), "watch 'Blue bezel', mark", "Did you mean divers?"),
        (small(worn='worn = "all day"'), "watch 'Blue bezel', worn", "a number belongs"),
        (small(worn="worn = 25"), "watch 'Blue bezel', worn", "out of range"),
        (small(added="added = -3"), "watch 'Blue bezel', added", "a whole number of days"),
        (small(fitted="fitted = [300, 500]"), "watch 'Blue bezel', fitted", "[the earlier, the later]"),
        (small(seals='seals = "cork"'), "watch 'Blue bezel', seals", "NBR"),
        (small(watch='seal.pushers = { material = "NBR" }'), "watch 'Blue bezel', seal.pushers", "case-back"),
        (small(watch="seal.crown = { fited = 3 }"), "watch 'Blue bezel', seal.crown, fited", "Did you mean"),
        (small(watch="seal.crown = 3"), "watch 'Blue bezel', seal", "a table"),
        (small(watch="intervals = { strap = 1.5 }"), "watch 'Blue bezel', intervals", "a whole number"),
        (small(watch="intervals = { strap = 900 }"), "watch 'Blue bezel', intervals", "out of range"),
        (small(added="added = 99999999"), "watch 'Blue bezel', added", "a whole number of days"),
        (small(watch="snoozed = { polish = 3 }"), "watch 'Blue bezel', snoozed.polish", "battery"),
        (small(watch="wore = { from = 5, to = 1, times = 9 }"), "watch 'Blue bezel', wore, times", "not fit"),
        (small(activity='activity = "diving"'), "watch 'Blue bezel', routine 1, activity", "mean dive?"),
        (small(minutes=""), "watch 'Blue bezel', routine 1, minutes", "How long was it?"),
        (small(minutes="minutes = 4000"), "watch 'Blue bezel', routine 1, minutes", "out of range"),
        (small(depth_m="depth_m = 900"), "watch 'Blue bezel', routine 1, depth_m", "out of range"),
        (small(depth_m="depth_m = [20, 10]"), "watch 'Blue bezel', routine 1, depth_m", "[low, high]"),
        (small(times="times = 0"), "watch 'Blue bezel', routine 1, times", "at least once"),
        (small(to="to = 200"), "watch 'Blue bezel', routine 1, from", "the earlier belongs here"),
        (small(routine="pusher_wet = 1"), "watch 'Blue bezel', routine 1, pusher_wet", "no pushers"),
        (small(routine='profile = "wal"\nwater_c = 9'), "watch 'Blue bezel', routine 1, profile", "wall"),
        (small(routine='profile = "wall"'), "watch 'Blue bezel', routine 1, profile", "beside it"),
        (
            small(routine="water_c = 9\nhome_offset_k = 1"),
            "watch 'Blue bezel', routine 1, home_offset_k", "no water_c",
        ),
        (small(routine="rinsed = 7"), "watch 'Blue bezel', routine 1, rinsed", "a share from 0 to 1"),
        (small(kind='kind = "testing"'), "watch 'Blue bezel', event 1, kind", "pressure-test"),
        (small(passed=""), "watch 'Blue bezel', event 1, passed", "needs its result"),
        (small(on=""), "watch 'Blue bezel', event 1, on", "in_month"),
        (small(event="in_month = 50"), "watch 'Blue bezel', event 1, on", "in_month"),
        (small(event="to_mark = true"), "watch 'Blue bezel', event 1, bar", "one pressure"),
        (small(event="pressure_unknown = true"), "watch 'Blue bezel', event 1, bar", "one pressure"),
        (small(event="moved = true"), "watch 'Blue bezel', event 1, moved", "knock"),
        (small(watch='marked_in = "ft"'), "watch 'Blue bezel', marked_in", "unit of a mark"),
        (small(watch="made_from = 1970"), "watch 'Blue bezel', made_to", "first and the last year"),
        (small(medium='medium = "vacuum"'), "watch 'Blue bezel', event 1, bar", "vacuum"),
        (small(salinity="salinity = 90"), "home, salinity", "out of range"),
        (small(monthly_c="monthly_c = [13, 14]"), "home, monthly_c", "12"),
        ("seed = 3\n" + small(seed=""), "the file, seed", "text belongs"),
        ("seed = [", "scenario", "TOML"),
    ],
)  # fmt: skip
def test_a_fault_is_named_by_watch_and_key(practice, text, where, says):
    with pytest.raises(BadInput) as caught:
        read_scenario(text, TODAY, practice)
    assert caught.value.where == where
    assert says in caught.value.message
    assert where == "scenario" or where in caught.value.message
