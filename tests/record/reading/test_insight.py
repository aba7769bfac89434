"""What a forecast starts from, read from a real record."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from logbook.model.predict.draws import Draws
from logbook.model.predict.forecast import forecast_of
from logbook.model.values import Event
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.reading.insight import read_outset
from logbook.record.writing import events, exposures, watches
from tests.model.builders import PRACTICE, TODAY, exposure, seals, watch

BEGUN = date(2022, 6, 1)


def p50(path: Path, fitted: date, *, renewed: bool) -> date:
    """The middle date of the crown with the same water, the gaskets told as renewed or as fitted that day."""
    whole = watch(id=None, added_on=BEGUN, recorded_from=BEGUN)
    own = tuple(replace(s, id=None) for s in seals(fitted=BEGUN if renewed else fitted))
    with Store.open(path, create=True) as store:
        key = watches.add(store, whole, own, (), PRACTICE)
        dives = [
            exposure(starts_on=TODAY - timedelta(days=7 * n + 10), rinsed=False, watch_id=key, id=None)
            for n in range(90)
        ]
        exposures.add(store, dives, PRACTICE)
        if renewed:
            brought = tuple((s.position, s.material) for s in own)
            events.add(store, [Event("gaskets", fitted, 20, seals=brought, watch_id=key)], PRACTICE)
    with glance.open_rows(path) as rows:
        (record,) = glance.read_records(rows)
        found = forecast_of(read_outset(rows, record, PRACTICE, TODAY), Draws.random(PRACTICE, 200))
    assert found is not None
    crown = found.of("crown")
    assert crown is not None
    assert crown.p50 is not None
    return crown.p50


def test_water_before_gaskets_without_any_before_them_tells_how_the_watch_lives(tmp_path: Path) -> None:
    lately = TODAY - timedelta(days=2)
    renewed = p50(tmp_path / "renewed.logbook", lately, renewed=True)
    fitted = p50(tmp_path / "fitted.logbook", lately, renewed=False)
    assert abs((renewed - fitted).days) <= 3
