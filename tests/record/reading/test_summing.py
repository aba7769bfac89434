"""What the exposures of a watch come to, against a sum made by hand from the exposures themselves."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from logbook.model.values import Exposure, ProfilePoint
from logbook.model.wear import wear
from logbook.record.file.practice_file import load_practice
from logbook.record.file.store import Store
from logbook.record.reading import glance, summing
from logbook.record.writing import exposures, watches
from tests.record.making import a_dive, a_watch, its_seals

LAST = date(2024, 6, 1)


@pytest.fixture
def store(tmp_path: Path) -> Store:
    """Two watches with water of every kind, a plan and what came after the last day."""
    practice = load_practice()
    made = Store.open(tmp_path / "record.logbook", create=True)
    first, other = (watches.add(made, a_watch(name), its_seals(), [], practice) for name in ("One", "Other"))
    points = tuple(ProfilePoint(n * 60.0, min(n, 20 - n) * 1.0) for n in range(21))
    wets = [
        a_dive(first, LAST - timedelta(n), depth_m=10.0 + n, gauge_pa=100_000.0 + n, rinsed=n % 2 == 0)
        for n in range(5)
    ]
    wets += [
        a_dive(first, LAST, activity="sauna", water="air", depth_m=0.0, gauge_pa=0.0, water_c=90.0,
               salinity=None, duration_s=60),
        a_dive(first, LAST, activity="sauna", water="air", depth_m=0.0, gauge_pa=0.0, water_c=85.0,
               salinity=None, duration_s=3600),
        a_dive(first, LAST, activity="pool", water="pool", depth_m=1.5, gauge_pa=15_000.0, salinity=None,
               water_c=27.0),
        a_dive(first, LAST, activity="swim", water="brackish", depth_m=1.5, salinity=8.0, rinsed=False),
        a_dive(first, LAST - timedelta(40), depth_m=10.0, profile=points),
        a_dive(first, LAST - timedelta(41), depth_m=40.0, profile=points[:1]),
        a_dive(first, LAST + timedelta(1), depth_m=99.0),
        a_dive(first, LAST, depth_m=120.0, planned=True),
        a_dive(other, LAST, depth_m=77.0, profile=points),
    ]  # fmt: skip
    exposures.add(made, wets, practice)
    return made


def of(store: Store, until: date = LAST, since: date = date.min) -> list[Exposure]:
    found = glance.read_exposures(store.rows, watch_id=1, planned=False, with_profiles=True)
    return [e for e in found if since <= e.starts_on <= until]


@pytest.mark.parametrize("since", [date.min, LAST - timedelta(2)])
def test_each_activity_is_summed_within_the_dates(store: Store, since: date) -> None:
    found = {s.activity: s for s in summing.read_activity_sums(store.rows, 1, LAST, since)}
    wets = of(store, since=since)
    assert set(found) == {e.activity for e in wets}
    for name, told in found.items():
        mine = [e for e in wets if e.activity == name]
        salt = [e for e in mine if e.water in ("sea", "brackish")]
        assert told.count == len(mine)
        assert told.duration_s == sum(e.duration_s for e in mine)
        assert told.deepest_m == max(e.depth_m for e in mine)
        assert told.in_salt == len(salt)
        assert told.salt_left == len([e for e in salt if not e.rinsed])
        assert told.in_other == len([e for e in mine if e not in salt and e.water != "air"])


def test_the_most_frequent_comes_first(store: Store) -> None:
    counts = [s.count for s in summing.read_activity_sums(store.rows, 1, LAST)]
    assert counts == sorted(counts, reverse=True)


def test_the_deepest_and_the_greatest_pressure_are_found_apart(store: Store) -> None:
    deepest = summing.read_greatest(store.rows, 1, "depth_mm", LAST)
    greatest = summing.read_greatest(store.rows, 1, "gauge_pa", LAST)
    assert deepest is not None
    assert greatest is not None
    assert deepest.depth_m == max(e.depth_m for e in of(store)) == 40.0
    assert greatest.gauge_pa == max(e.gauge_pa for e in of(store))
    assert summing.read_greatest(store.rows, 1, "depth_mm", date(2000, 1, 1)) is None


def test_the_largest_swing_reckons_with_the_lag_in_air(store: Store) -> None:
    practice = load_practice()
    found = summing.read_largest_swing(store.rows, 1, practice, LAST)
    assert found is not None
    exposure, size_k = found
    assert size_k == pytest.approx(max(wear.swing_k(e, practice) for e in of(store)))
    assert (exposure.activity, exposure.duration_s) == ("sauna", 3600)
    assert summing.read_largest_swing(store.rows, 1, practice, date(2000, 1, 1)) is None


def test_only_profiles_with_a_shape_are_given_the_deepest_first(store: Store) -> None:
    (found,) = summing.read_profiled(store.rows, 1, LAST, 3)
    assert found.depth_m == 10.0
    assert len(found.profile) == 21
