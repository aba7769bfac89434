"""Wear shares under drawn constants: the ledger's own at the medians, and a band about them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model.judge import standing
from logbook.model.predict import bands
from logbook.model.predict.bands import Bands, Outset, bands_of, wear_share_draws
from logbook.model.predict.draws import Draws
from logbook.model.values import Exposure, Seal, WatchRecord
from tests.effort import tries
from tests.model.builders import (
    FITTED,
    ONE_DAY,
    PRACTICE,
    TODAY,
    exposure,
    habit,
    pool,
    practice_with,
    rain,
    record,
    sauna,
    seals,
    shower,
    stretch,
)
from tests.model.outsets import EXACT, outset

SPAN = (TODAY - FITTED).days
MARKS = (("divers", 20e5), ("unknown", None), ("unmarked", None), ("water-resistant", None))


@st.composite
def waters(draw: st.DrawFn) -> Exposure:
    """Any contact with water, or hot air, since the seals were fitted."""
    make: Any = draw(st.sampled_from([exposure, pool, shower, rain, sauna]))
    given_: dict[str, Any] = {
        "starts_on": FITTED + timedelta(days=draw(st.integers(0, SPAN))),
        "water_c": draw(st.floats(1, 40)),
        "from_c": draw(st.sampled_from([32.0, 25.5, 18.0])),
        "rinsed": draw(st.booleans()),
        "dips": draw(st.integers(1, 12)),
        "crown_wet": draw(st.integers(0, 3)),
        "crown_under": draw(st.integers(0, 2)),
        "duration_s": draw(st.integers(60, 7200)),
    }
    if make is exposure:
        depth_m = draw(st.floats(0.5, 60))
        given_ |= {"depth_m": depth_m, "gauge_pa": depth_m * 1e4}
        given_["salinity"] = draw(st.sampled_from([None, 12.0, 35.0, 38.0]))
    return make(**given_)


@st.composite
def records(draw: st.DrawFn) -> WatchRecord:
    """A watch with habits, worn stretches, and perhaps a time before its record."""
    late = draw(st.booleans())
    mark, marked_pa = draw(st.sampled_from(MARKS))
    whole = record(
        mark=mark,
        marked_pa=marked_pa,
        crown=draw(st.sampled_from(["screwed", "pushed"])),
        use=draw(st.sampled_from(["dry", "swimming", "diving"])),
        worn_h=draw(st.sampled_from([0.0, 12.0, 24.0])),
        winds=draw(st.sampled_from([0.0, 1.0, 7.0])),
        recorded_from=FITTED + timedelta(days=100) if late else FITTED,
        seals=seals(draw(st.sampled_from(["NBR", "FKM", "unknown"]))),
    )
    habits = [habit(per_day=0.3, start=FITTED + 20 * ONE_DAY, end=None, depth_m=5.0)]
    stretches = [stretch(FITTED + 30 * ONE_DAY, FITTED + 60 * ONE_DAY, 20.0)]
    return replace(
        whole,
        habits=tuple(habits if draw(st.booleans()) else ()),
        stretches=tuple(stretches if draw(st.booleans()) else ()),
    )


def wears(of: Outset) -> list[standing.SealWear]:
    return standing.wear_of(of.record, of.clockwork.practice, of.on)


def bands_on(of: Outset, count: int = 400) -> Bands:
    found = bands_of(of, wears(of), Draws.random(of.clockwork.practice, count))
    assert found is not None
    return found


@settings(max_examples=tries(60), deadline=None)
@given(whole=records(), dives=st.lists(waters(), max_size=8))
def test_with_the_constants_in_force_every_share_is_the_accounts_own(
    whole: WatchRecord, dives: list[Exposure]
) -> None:
    of = outset(whole, dives)
    for w in wears(of):
        (share,) = wear_share_draws(of, w.seal, Draws.one_at_a_time(PRACTICE, ()))
        assert share == pytest.approx(w.wear_share, rel=1e-9, abs=1e-12)


# What a drawn constant does to the ageing of the exposures themselves is an approximation; the rest is exact.
@settings(max_examples=tries(60), deadline=None)
@given(
    whole=records(),
    dives=st.lists(waters(), min_size=1, max_size=8),
    name=st.sampled_from([
        "Ea", "worn_c", "storage_c", "n_p", "N_p", "n_t", "N_t", "H_salt", "unrinsed", "H_pool", "H_soap",
        "U_dry", "U_wet", "U_under", "p_mark_unnumbered_bar",
    ]),
    high=st.booleans(),
)  # fmt: skip
def test_another_constant_gives_the_share_that_a_new_reckoning_gives(
    whole: WatchRecord, dives: list[Exposure], name: str, high: bool
) -> None:
    row = PRACTICE.constants[name]
    value = row.high if high else row.low
    # The wrist's own temperature before an exposure goes with that on the wrist.
    wrist = (
        f"[constants.from_c]\nvalue = {value}\nlow = {value}\nhigh = {value}\n" if name == "worn_c" else ""
    )
    if name == "worn_c":
        dives = [replace(e, from_c=25.5) for e in dives]
        whole = replace(whole, habits=(), watch=replace(whole.watch, recorded_from=FITTED))
    other = practice_with(f"[constants.{name}]\nvalue = {value}\n{wrist}")
    drawn = outset(whole, dives)
    anew = outset(whole, dives, constants=other)
    for w in wears(anew):
        share = wear_share_draws(drawn, w.seal, Draws.one_at_a_time(PRACTICE, [name]))[2 if high else 1]
        assert share == pytest.approx(w.wear_share, rel=0.004, abs=2e-4)


@settings(max_examples=tries(25), deadline=None)
@given(whole=records(), dives=st.lists(waters(), max_size=5))
def test_a_share_lies_in_its_band_and_a_score_in_its_own(whole: WatchRecord, dives: list[Exposure]) -> None:
    of = outset(whole, dives)
    found = bands_on(of)
    score, _ = standing.account.score(wears(of), TODAY)
    assert 0 <= found.score_low <= score <= found.score_high <= 100
    for w in wears(of):
        band = found.seals[w.seal.position]
        assert band.low <= w.wear_share <= band.high
        assert band.low <= w.history_low <= w.history_high <= band.high or not w.history_is_open


def test_where_nothing_is_uncertain_the_band_is_a_single_number() -> None:
    exact = practice_with(EXACT)
    of = outset(record(), [exposure(starts_on=TODAY - ONE_DAY)], constants=exact)
    found = bands_on(of)
    for w in wears(of):
        band = found.seals[w.seal.position]
        assert (band.low, band.high) == pytest.approx((w.wear_share, w.wear_share), rel=1e-9)
    assert found.score_low == found.score_high


def test_the_band_covers_both_ends_of_an_unknown_fitting_date() -> None:
    exact = practice_with(EXACT)
    unknown = record(seals=seals(fitted=date(2019, 1, 1), latest=FITTED))
    of = outset(unknown, constants=exact)
    band = bands_on(of).seals["crown"]
    ends = [standing.wear_of(replace(unknown, seals=seals(fitted=day)), exact, TODAY)[2].wear_share
            for day in (FITTED, date(2019, 1, 1))]  # fmt: skip
    assert (band.low, band.high) == pytest.approx(ends, rel=1e-6)


def test_a_fitting_date_known_only_as_a_range_is_drawn_evenly_from_it() -> None:
    exact = practice_with(EXACT)
    first = date(2019, 1, 1)
    unknown = record(seals=seals(fitted=first, latest=FITTED))
    of = outset(unknown, constants=exact)
    seal = unknown.seals[2]
    shares = wear_share_draws(of, seal, Draws.random(exact, 1000))
    then = FITTED - (FITTED - first) * 0.25
    quarter = standing.wear_of(replace(unknown, seals=seals(fitted=then)), exact, TODAY)[2].wear_share
    assert np.quantile(shares, 0.25) == pytest.approx(quarter, rel=0.01)


def test_what_is_assumed_of_the_time_before_the_log_widens_the_band() -> None:
    logged = bands_on(outset(record(use="swimming"))).seals["crown"]
    assumed = bands_on(outset(record(use="swimming", recorded_from=TODAY))).seals["crown"]
    assert assumed.high - assumed.low > 1.5 * (logged.high - logged.low)


def test_a_seal_past_its_storage_class_has_no_score_left_at_either_end() -> None:
    found = bands_on(outset(record(seals=seals(fitted=date(2016, 1, 1)))))
    assert (found.score_low, found.score_high) == (0, 0)


def test_a_seal_that_may_be_past_its_storage_class_reaches_nothing_at_the_low_end() -> None:
    open_dates = record(
        worn_h=0.0, winds=0.0, use="dry", seals=seals(fitted=date(2016, 1, 1), latest=date(2023, 1, 1))
    )
    found = bands_on(outset(open_dates))
    assert found.score_low == 0
    assert found.score_high > 50


def test_a_watch_without_a_seal_has_no_band() -> None:
    of = outset(record(seals=()))
    assert bands_of(of, [], Draws.random(PRACTICE, 10)) is None


def test_a_water_that_was_not_measured_widens_the_band() -> None:
    dives = [exposure(starts_on=TODAY - n * ONE_DAY, water_c=15.0) for n in range(1, 120)]
    told = bands_on(outset(record(), dives)).seals["crystal"]
    assumed = bands_on(outset(record(), [replace(d, water_c_assumed=True) for d in dives])).seals["crystal"]
    assert assumed.high > told.high + 0.01


def test_a_band_for_a_change_that_is_only_supposed_reads_the_record_once() -> None:
    asked: list[int] = []
    whole = record()

    def contacts(watch_id: int) -> dict[Any, Any]:
        asked.append(watch_id)
        return {}

    maker = bands.BandMaker(Draws.random(PRACTICE, 50), contacts)
    fresh = replace(whole, seals=(*whole.seals, Seal("crown", "NBR", TODAY, TODAY, id=-1)))
    for each in (whole, whole, fresh):
        assert maker.of(each, standing.wear_of(each, PRACTICE, TODAY), TODAY) is not None
    assert asked == [1]
