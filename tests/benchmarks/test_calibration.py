"""The calibration script on a few owners: its second arithmetic is the ledger's, its figures make sense."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import Path
from types import ModuleType
from typing import Any, NamedTuple

import numpy as np
import pytest

from logbook.caution import CAUTION
from logbook.model.practice import Practice, parse
from logbook.model.predict.draws import RANGED, Draws
from logbook.model.predict.trials import foresee
from logbook.model.values import CHANNELS, Event, Seal, Shares, WatchRecord
from logbook.model.wear import account, charge
from logbook.record.file.practice_file import shipped_path

ROOT = Path(__file__).parent.parent.parent
PRACTICE = parse(shipped_path().read_text(encoding="utf-8"))
SEED = 5


class Script(NamedTuple):
    """The modules of the script."""

    run: ModuleType
    books: ModuleType
    dates: ModuleType
    lives: ModuleType
    tables: ModuleType
    tests: ModuleType
    worlds: ModuleType


@pytest.fixture(scope="module")
def script() -> Iterator[Script]:
    """Imported as the script imports its parts; the path is left as it was."""
    import importlib

    before = list(sys.path)
    sys.path.insert(0, str(ROOT / "benchmarks"))
    names = ("", "_books", "_dates", "_lives", "_tables", "_tests", "_worlds")
    yield Script(*(importlib.import_module(f"calibration{name}") for name in names))
    sys.path[:] = before


@pytest.fixture(scope="module")
def small(script: Script) -> tuple[list[Any], list[list[Any]]]:
    """Twelve owners, foretold with 100 sets of constants."""
    found: tuple[list[Any], list[list[Any]]] = script.run._chunk(12, 100, SEED, range(12))
    return found


class Medians(Draws):
    """Truths of which every constant has its value, so that the ledger as it is must agree."""

    def __init__(self, count: int) -> None:
        super().__init__(PRACTICE, count, lambda name: np.zeros(count))


def truths(script: Script, count: int) -> Any:
    return script.worlds.Truths(PRACTICE, count, SEED)


def with_known_fitting(life: Any) -> Any:
    """The life with its true fitting date told."""
    seals = tuple(
        replace(s, fitted_earliest=life.fitted_on, fitted_latest=life.fitted_on) for s in life.seals
    )
    return replace(life, seals=seals)


def true_share(script: Script, law: Any, life: Any, seal: Seal) -> float:
    days = (life.today - seal.fitted_earliest).days
    shares = script.worlds.course(life, law, seal.position, seal.material, seal.fitted_earliest, days)
    assert len(shares) == days + 1
    return float(shares[days])


def test_with_every_constant_at_its_value_the_truth_is_the_ledger_s(script: Script) -> None:
    them = truths(script, 12)
    them.draws = Medians(12)
    for number in range(12):
        life = with_known_fitting(script.lives.owner_of(number, SEED, PRACTICE).lives[0])
        outset = script.books.outset_of(life, PRACTICE)
        law = script.worlds.Law(them, number, script.worlds.OWN)
        for seal in charge.current_seals(outset.record.seals):
            booked = account.account_of(outset.clockwork, seal, outset.on).wear_share
            assert true_share(script, law, life, seal) == pytest.approx(booked, rel=1e-9)


def practice_of(script: Script, law: Any, life: Any) -> Practice:
    """The true constants of an owner as a file of constants, for the ledger's own code."""
    constants = {
        name: row._replace(value=law.constant(name)) if name in RANGED else row
        for name, row in PRACTICE.constants.items()
    }
    constants["from_c"] = constants["from_c"]._replace(value=law.constant("worn_c"))
    seals = {
        name: row._replace(**{m: law.factor(name, m) for m in ("m_p", "m_t", "m_s", "m_c", "m_h")})
        for name, row in PRACTICE.seals.items()
    }
    material = life.seals[0].material
    years = PRACTICE.materials[material]._replace(years=law.years(material))
    materials = {**PRACTICE.materials, material: years}
    return replace(PRACTICE, constants=constants, seals=seals, materials=materials)


@pytest.mark.parametrize("name", ["own law", "other exponents", "other weights", "ageing at 40 kJ/mol"])
def test_under_other_constants_too_the_truth_is_what_the_ledger_gives_with_them(
    script: Script, name: str
) -> None:
    world = next(world for world in script.worlds.WORLDS if world.name == name)
    for number in range(8):
        life = with_known_fitting(script.lives.owner_of(number, SEED, PRACTICE).lives[0])
        law = script.worlds.Law(truths(script, 8), number, world)
        practice = practice_of(script, law, life)
        life = replace(
            life,
            habits=tuple(
                replace(h, exposure=replace(h.exposure, from_c=practice["from_c"])) for h in life.habits
            ),
        )
        outset = script.books.outset_of(life, practice)
        for seal in charge.current_seals(outset.record.seals):
            wear = account.account_of(outset.clockwork, seal, outset.on)
            booked = wear.wear_share + (law.stated_times() - 1) * wear.assumed.total
            assert true_share(script, law, life, seal) == pytest.approx(booked, rel=1e-9)


def test_a_law_of_the_root_of_time_leaves_the_rest_of_the_wear_alone(script: Script) -> None:
    life = script.lives.owner_of(0, SEED, PRACTICE).lives[0]
    seal = life.seals[0]
    own, root = (
        script.worlds.Law(truths(script, 1), 0, replace(script.worlds.OWN, age_power=power))
        for power in (1.0, 0.5)
    )
    straight, bent = (
        script.worlds.course(life, law, seal.position, seal.material, life.fitted_on, 4000)
        for law in (own, root)
    )
    assert bent[200] > straight[200]  # young seals age faster
    # Where the ageing channel has reached 1 both laws agree; the difference is A^½ − A.
    apart = bent - straight
    assert apart[0] == 0
    assert apart.max() == pytest.approx(0.25, abs=0.001)


def test_an_owner_does_not_depend_on_how_many_there_are(script: Script) -> None:
    few, many = truths(script, 3), truths(script, 9)
    for name in RANGED:
        assert few.draws.constant(name) == pytest.approx(many.draws.constant(name)[:3], rel=0)
    for a, b in zip(few.tests(), many.tests(), strict=True):
        assert a == pytest.approx(b[:3], rel=0)
    one, same = (script.lives.owner_of(2, SEED, PRACTICE).lives[0] for _ in range(2))
    assert one.watch == same.watch
    assert np.array_equal(one.contacts.day, same.contacts.day)


def test_the_truths_are_not_the_predictor_s_own_draws(script: Script) -> None:
    drawn = Draws.random(PRACTICE, 50).constant("Ea")
    assert not np.isin(truths(script, 50).draws.constant("Ea"), drawn).any()


def test_what_is_foretold_of_a_few_owners_makes_sense(small: tuple[list[Any], list[list[Any]]]) -> None:
    rows, _ = small
    assert {row.owner for row in rows} == set(range(12))
    for number in range(12):
        own = [row for row in rows if row.owner == number]
        assert sum(row.limits for row in own) == 1
        assert sum(row.first for row in own) == 1
    for row in rows:
        assert row.low <= row.drawn_low < row.drawn_high <= row.high
        assert row.p10 <= row.p50 <= row.p90
        assert all(share > 0 for share in row.true_share)
        # A true wear share of 1 or more today was reached before today, a smaller one was not.
        assert all((share >= 1) == (day < 0) for share, day in zip(row.true_share, row.true_day, strict=True))


def test_the_bands_hold_some_truths_and_miss_some(script: Script, small: tuple[list[Any], Any]) -> None:
    seals = script.tables.Seals(small[0])
    shares = [seals.held(n).mean() for n in range(len(script.dates.WEAR_WORLDS))]
    assert 0.5 < shares[0] < 1
    assert min(shares) < shares[0]  # a foreign law is held less often


def test_the_two_chances_of_the_fixed_interval_are_the_best_for_their_tests(
    script: Script, small: tuple[list[Any], list[list[Any]]]
) -> None:
    for rows in small[1]:
        briers = script.tests.briers_of(rows)
        assert briers.fixed <= briers.base
        assert briers.base == pytest.approx(briers.passed * (1 - briers.passed))
        assert briers.truth > 0
        assert briers.tests == len(rows) > 50
        within = np.array([row.gaskets_within for row in rows])
        passed = np.array([row.passed for row in rows], dtype=float)
        by_age = sum(
            (passed[side] * (1 - passed[side].mean())).sum() for side in (within, ~within) if side.any()
        )
        assert briers.fixed <= by_age / len(rows) + 1e-12


def test_the_true_chances_are_the_best_of_all(
    script: Script, small: tuple[list[Any], list[list[Any]]]
) -> None:
    """Over all worlds: in one of them, with its few dozen tests, luck decides."""
    briers = [script.tests.briers_of(rows) for rows in small[1]]
    truth, foretold, base = (
        np.mean([getattr(each, name) for each in briers]) for name in ("truth", "chance", "base")
    )
    assert truth < foretold
    assert truth < base


def test_the_first_test_of_an_owner_is_foretold_from_the_prior(small: tuple[Any, list[list[Any]]]) -> None:
    for rows in small[1]:
        first = [row for row in rows if row.tests_before == 0]
        assert first
        assert all(row.chance == row.prior for row in first)
        assert any(row.chance != row.prior for row in rows)


def test_shocks_only_ever_lower_the_true_chance_of_a_first_test(
    script: Script, small: tuple[Any, list[list[Any]]]
) -> None:
    named = {world.name: rows for world, rows in zip(script.worlds.WORLDS, small[1], strict=True)}
    plain, shocked = named["own law, tests by true wear"], named["shocks"]
    assert sum(row.passed for row in shocked) <= sum(row.passed for row in plain)
    assert np.mean([row.true_chance for row in shocked]) < np.mean([row.true_chance for row in plain])


def test_the_tests_of_a_watch_are_those_that_its_record_teaches(script: Script) -> None:
    compared = failed = 0
    for number in range(6):
        owner = script.lives.owner_of(number, SEED, PRACTICE)
        workshop = script.tests.Workshop(owner, truths(script, 12), SEED)
        law = script.worlds.Law(workshop.truths, number, script.worlds.OWN)
        if workshop.keeps_intervals:
            continue
        for nth, books in enumerate(workshop.books):
            done = workshop._tests(nth, books, law)
            if not done:
                continue
            record = record_of(books.life, done)
            seen = foresee([record], PRACTICE, partial(sums, books, record), books.life.today)
            assert seen.log_weight == pytest.approx(done[-1].after.log_weight, rel=1e-9, abs=1e-12)
            assert seen.tests_used == len(done)
            compared += len(done)
            failed += sum(not test.passed for test in done)
    assert compared > 20
    assert failed > 0


def record_of(life: Any, done: list[Any]) -> WatchRecord:
    """A record with the tests, openings and new gaskets of a watch."""
    seals, events, order = list(life.seals), [], {}
    for nth, test in enumerate(done):
        at = order.get(test.on, 41)  # its owner's own order, by which a failure comes after the battery
        if test.yearly and len(test.moments) > 1:
            events.append(Event("battery", test.on, 10, id=1000 + nth))
        if not test.yearly:  # after a failed test: new gaskets first
            key = 2000 + nth
            fitted = tuple((s.position, s.material) for s in life.seals)
            events.append(Event("gaskets", test.on, at, seals=fitted, id=key))
            seals += [
                replace(
                    s, fitted_earliest=test.on, fitted_latest=test.on, order=at, event_id=key, id=key * 10 + n
                )
                for n, s in enumerate(life.seals)
            ]
            at += 1
        test_pa = 20e5
        events.append(Event("pressure-test", test.on, at, passed=test.passed, test_pa=test_pa, id=3000 + nth))
        order[test.on] = at + 1
    return WatchRecord(life.watch, tuple(seals), {}, events=tuple(events), habits=life.habits)


def sums(books: Any, record: WatchRecord, seal: int, up_to: date) -> Shares:
    """What the contacts of one seal add up to."""
    own = next(s for s in record.seals if s.id == seal)
    since = charge.middle(own).toordinal()
    days, table = books.days[own.position], books.sums[own.position]
    a, b = np.searchsorted(days, (since, up_to.toordinal() + 1))
    total = table[max(a, b)] - table[a]
    return Shares(**dict(zip(CHANNELS, (float(part) for part in total), strict=True)))


def test_the_same_options_give_the_same_tables(script: Script) -> None:
    first, second = (script.run.calibrate(2, 40, SEED, processes=1) for _ in range(2))
    assert first == second
    shown = script.run.report(first, 2, 40, SEED, markdown=True)
    assert "2 invented owners, 40 sets of constants" in shown
    assert script.tables.SELF_CONSISTENCY in shown
    for table in first:
        assert all(len(row) == len(table.head) for row in table.rows)
        assert table.plain().startswith(table.title)


def test_the_page_says_what_it_rests_on(script: Script) -> None:
    page = (ROOT / "docs" / "calibration.md").read_text(encoding="utf-8")
    flowing = " ".join(page.split())
    assert CAUTION in flowing
    assert script.tables.SELF_CONSISTENCY in flowing
    run = script.run
    assert (
        f"{run.OWNERS} invented owners, {run.DRAWS} sets of constants for each forecast, seed {run.SEED}."
        in page
    )
    for world in script.worlds.WORLDS:
        assert f"| {world.name} |" in page
        assert world.words in page


@pytest.mark.release
def test_the_figures_on_the_page_are_those_of_the_script(script: Script) -> None:
    run = script.run
    page = (ROOT / "docs" / "calibration.md").read_text(encoding="utf-8")
    tables = run.calibrate(run.OWNERS, run.DRAWS, run.SEED)
    for table in tables:
        assert table.markdown() in page, "run: python benchmarks/calibration.py --write"
