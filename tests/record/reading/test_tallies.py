"""What bands and forecast read from the ledger: for each sealing place the contacts charged to it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model import values as v
from logbook.model.practice import Practice
from logbook.model.predict import tally
from logbook.model.predict.tally import ContactRow, Contacts
from logbook.model.wear import wear
from logbook.record.file.store import Store
from logbook.record.reading import charged, glance
from logbook.record.reading.tallies import read_contacts
from logbook.record.writing import events, exposures, watches
from logbook.record.writing.strike import strike
from tests.effort import tries
from tests.record import making
from tests.record.making import ADDED, a_copy_of, a_dive, a_watch, gaskets, its_seals, record_of

DAY = date(2024, 5, 1)
FOUR: tuple[v.Position, ...] = ("case-back", "crystal", "crown", "pushers")
TEXT = {"water"}


@pytest.fixture
def watch_id(store: Store, practice: Practice) -> int:
    return watches.add(store, a_watch(pushers=True), four_seals(), [], practice)


def four_seals(fitted: date = ADDED, latest: date | None = None) -> list[v.Seal]:
    """Case back, crystal, crown and pushers of NBR."""
    return [v.Seal(place, "NBR", fitted, latest or fitted) for place in FOUR]


def contacts_of(store: Store, watch_id: int, practice: Practice) -> dict[v.Position, Contacts]:
    with store.reading() as rows:
        return read_contacts(rows, watch_id, practice)


def columns(contacts: Contacts) -> list[list[object]]:
    """Row by row what stands in it, in the order of its columns."""
    return [list(row) for row in zip(*(getattr(contacts, name) for name in ContactRow._fields), strict=True)]


@pytest.fixture(scope="module")
def one_watch(tmp_path_factory: pytest.TempPathFactory, practice: Practice) -> Path:
    """A record of a watch with seals at four places; the pushers' fitting is known only as a range."""
    path = tmp_path_factory.mktemp("one-watch") / "record.logbook"
    seals = [*four_seals()[:3], v.Seal("pushers", "FKM", date(2023, 12, 15), date(2024, 3, 15))]
    with Store.open(path, create=True) as store:
        watches.add(store, a_watch(pushers=True, recorded_from=date(2023, 1, 1)), seals, [], practice)
    return path


@settings(max_examples=tries(40))
@given(st.lists(making.exposures(planned=None), min_size=1, max_size=8), st.booleans())
def test_every_place_has_what_the_ledger_charged_to_its_seals(
    one_watch: Path, practice: Practice, given_: list[v.Exposure], replaced: bool
) -> None:
    with a_copy_of(one_watch) as store:
        exposures.add(store, [replace(e, watch_id=1) for e in given_], practice)
        if replaced:
            events.add(store, [gaskets(1, date(2024, 2, 15), ("crown", "FKM"))], practice)
        record, contacts = record_of(store, 1), contacts_of(store, 1, practice)
        with store.reading() as rows:
            kept = list(rows("SELECT seal_id, counted FROM ledger_share", ()))
    assert sum(map(len, contacts.values())) == len(kept)
    for seal in record.seals:
        at_its_place = contacts.get(seal.position)
        for counted, ledger in ((1, record.totals), (0, record.doubtful)):
            shares = ledger.get(seal.id or 0, v.Shares())
            if at_its_place is None:
                assert shares == v.Shares()
                continue
            own = at_its_place.where((at_its_place.seal == seal.id) & (at_its_place.counted == counted))
            assert len(own) == kept.count((seal.id, counted))
            read = (own.ageing.sum(), own.pressure.sum(), own.temperature.sum())
            assert read == pytest.approx((shares.ageing, shares.pressure, shares.temperature), abs=1e-12)
            assert priced(own, seal, record.watch, practice) == pytest.approx(
                (shares.salt, shares.chemicals, shares.handling), abs=1e-11
            )


def priced(own: Contacts, seal: v.Seal, watch: v.Watch, practice: Practice) -> tuple[float, float, float]:
    """Salt, chemicals and handling of contacts, by the hour and the use, as docs/method.md prices them."""
    m = wear.factors(watch, seal.position, practice)
    left = np.where(own.rinsed == 1, 1.0, practice["unrinsed"])
    hours_of = {"pool": "H_pool", "soap": "H_soap", "hot tub": "H_hot_tub"}
    chemicals = sum(own.hours[own.water == of].sum() / practice[name] for of, name in hours_of.items())
    handling = own.wet.sum() / practice["U_wet"] + own.under.sum() / practice["U_under"]
    salt = (own.hours * own.strength * left).sum() / practice["H_salt"]
    return m.m_s * salt, m.m_c * chemicals, m.m_h * handling


def test_a_contact_has_every_column_of_the_exposure(store: Store, practice: Practice, watch_id: int) -> None:
    dive = a_dive(
        watch_id, DAY, water_c_assumed=True, crown_wet=2, crown_under=1, pusher_wet=5, pusher_under=4
    )
    (key,) = exposures.add(store, [dive], practice)
    record = record_of(store, watch_id)
    with store.reading() as rows:
        shares = charged.ledger_of(rows, key)
    for place, contacts in contacts_of(store, watch_id, practice).items():
        seal = next(s for s in record.seals if s.position == place)
        wanted = tally.row_of(dive, place, shares[seal.id or 0], practice)
        wanted = wanted._replace(day=DAY.toordinal(), seal=seal.id or 0)
        (row,) = columns(contacts)
        for name, found, given_ in zip(ContactRow._fields, row, wanted, strict=True):
            assert found == given_ if name in TEXT else found == pytest.approx(given_, abs=1e-12), name


def test_a_crown_s_uses_are_the_crown_s_and_a_pusher_s_the_pushers_alone(
    store: Store, practice: Practice, watch_id: int
) -> None:
    exposures.add(
        store, [a_dive(watch_id, crown_wet=2, crown_under=1, pusher_wet=5, pusher_under=4)], practice
    )
    found = contacts_of(store, watch_id, practice)
    uses = {place: (float(c.wet.sum()), float(c.under.sum())) for place, c in found.items()}
    assert uses == {"case-back": (0, 0), "crystal": (0, 0), "crown": (2, 1), "pushers": (5, 4)}


@pytest.mark.parametrize(
    ("water", "salinity", "strength"),
    [
        ("sea", 38.0, 38 / 35),
        ("sea", None, 1.0),
        ("brackish", 12.0, 12 / 35),
        ("brackish", 0.0, 0.0),
        ("brackish", None, 0.0),
        ("fresh", None, 0.0),
        ("pool", None, 0.0),
        ("soap", None, 0.0),
        ("hot tub", None, 0.0),
        ("air", None, 0.0),
    ],
)
def test_salt_is_as_strong_as_its_water(
    store: Store, practice: Practice, watch_id: int, water: v.Water, salinity: float | None, strength: float
) -> None:
    # In proportion to practical salinity 35, as which an unknown sea counts: our own model, no source.
    exposures.add(store, [a_dive(watch_id, water=water, salinity=salinity)], practice)
    for contacts in contacts_of(store, watch_id, practice).values():
        assert contacts.strength.tolist() == [pytest.approx(strength)]
        assert contacts.water.tolist() == [water]


def test_each_contact_names_the_seal_that_was_there_then(
    store: Store, practice: Practice, watch_id: int
) -> None:
    exposures.add(store, [a_dive(watch_id, DAY), a_dive(watch_id, date(2024, 8, 1))], practice)
    events.add(store, [gaskets(watch_id, date(2024, 6, 15), ("crown", "FKM"))], practice)
    old, new = (s.id for s in record_of(store, watch_id).seals if s.position == "crown")
    found = contacts_of(store, watch_id, practice)
    assert dict(zip(found["crown"].day, found["crown"].seal, strict=True)) == {
        DAY.toordinal(): old,
        date(2024, 8, 1).toordinal(): new,
    }
    assert len(set(found["crystal"].seal)) == 1


def test_what_came_before_the_middle_fitting_date_is_read_and_not_counted(
    store: Store, practice: Practice
) -> None:
    seals = four_seals(date(2024, 1, 1), date(2024, 12, 31))  # the middle is 1 July
    key = watches.add(store, a_watch("Market find", pushers=True), seals, [], practice)
    exposures.add(store, [a_dive(key, DAY), a_dive(key, date(2024, 9, 1))], practice)
    for contacts in contacts_of(store, key, practice).values():
        assert dict(zip(contacts.day, contacts.counted, strict=True)) == {
            DAY.toordinal(): 0,
            date(2024, 9, 1).toordinal(): 1,
        }


def test_what_is_planned_struck_too_old_or_another_watch_s_is_not_read(
    store: Store, practice: Practice, watch_id: int
) -> None:
    other = watches.add(store, a_watch("Other"), its_seals(), [], practice)
    struck, *_ = exposures.add(
        store,
        [
            a_dive(watch_id, DAY),
            a_dive(watch_id, date(2024, 6, 1), planned=True),
            a_dive(watch_id, date(2020, 1, 1)),
            a_dive(other, DAY),
        ],
        practice,
    )
    strike(store, struck, practice)
    assert contacts_of(store, watch_id, practice) == {}
    assert {place: len(c) for place, c in contacts_of(store, other, practice).items()} == dict.fromkeys(
        ("case-back", "crystal", "crown"), 1
    )


def test_a_watch_that_is_not_there_or_has_no_seal_has_none(store: Store, practice: Practice) -> None:
    bare = watches.add(store, a_watch("No seal"), [], [], practice)
    exposures.add(store, [a_dive(bare)], practice)
    assert contacts_of(store, bare, practice) == {}
    assert contacts_of(store, bare + 1, practice) == {}


def test_a_glance_reads_the_same_as_the_store(
    store: Store, path: Path, practice: Practice, watch_id: int
) -> None:
    exposures.add(store, [a_dive(watch_id, DAY), a_dive(watch_id, date(2024, 8, 1), water_c=4.0)], practice)
    by_store = contacts_of(store, watch_id, practice)
    with glance.open_rows(path) as rows:
        by_glance = read_contacts(rows, watch_id, practice)
    assert by_glance.keys() == by_store.keys()
    for place, contacts in by_glance.items():
        assert sorted(map(repr, columns(contacts))) == sorted(map(repr, columns(by_store[place])))
