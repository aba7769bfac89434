"""What the predictor sees of an invented owner: the record, charged by the ledger's own code."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np
from calibration_lives import WATERS, Life
from numpy.typing import NDArray

from logbook.model.practice import Practice
from logbook.model.predict import tally
from logbook.model.predict.bands import Outset
from logbook.model.predict.tally import ContactRow
from logbook.model.values import CHANNELS, Exposure, Position, Seal, Shares, WatchRecord
from logbook.model.wear import account, charge
from logbook.model.wear.account import Clockwork


def exposures_of(life: Life, practice: Practice, first: date, end: date) -> list[Exposure]:
    """The entries of one watch from one day up to another, as its owner made them."""
    met = life.contacts
    a, b = np.searchsorted(met.day, (first.toordinal(), end.toordinal()))
    entries = []
    for n in range(a, b):
        habitat = life.waters[met.kind[n]]
        said = bool(met.said[n])
        entries.append(
            Exposure(
                activity=habitat.activity,
                water=WATERS[met.water[n]],
                depth_m=float(met.depth_m[n]),
                basis=habitat.basis,
                gauge_pa=float(met.gauge_pa[n]),
                duration_s=int(met.seconds[n]),
                water_c=float(met.water_c[n]) if said else practice["home_c"],
                from_c=practice["from_c"],
                starts_on=date.fromordinal(int(met.day[n])),
                salinity=35.0 if habitat.water == "sea" else None,
                water_c_assumed=not said,
                dips=int(met.dips[n]),
                rinsed=bool(met.rinsed[n]),
                crown_wet=int(met.wet[n]),
                crown_under=int(met.under[n]),
                watch_id=life.watch.id,
                id=n + 1,
            )
        )
    return entries


def _renewed(life: Life, seals: Sequence[Seal]) -> tuple[Seal, ...]:
    """The seals with those of a gasket change inside the record, if there was one."""
    if life.renewed_on is None:
        return tuple(seals)
    new = [
        replace(seal, fitted_earliest=life.renewed_on, fitted_latest=life.renewed_on, event_id=1,
                id=(seal.id or 0) + len(seals))
        for seal in seals
    ]  # fmt: skip
    return (*seals, *new)


def outset_of(life: Life, practice: Practice) -> Outset:
    """What bands and forecast start from today, as the record's floor hands it over."""
    record = WatchRecord(life.watch, _renewed(life, life.seals), {}, habits=life.habits)
    entries = exposures_of(life, practice, life.watch.recorded_from, life.today)
    charges = charge.charge_exposures(record, entries, practice)
    place = {seal.id or 0: seal.position for seal in record.seals}
    totals: dict[int, Shares] = {}
    doubtful: dict[int, Shares] = {}
    rows: dict[Position, list[ContactRow]] = defaultdict(list)
    for entry in entries:
        for key, made in charges[entry.id or 0].items():
            into = totals if made.counted else doubtful
            into[key] = into.get(key, Shares()).plus(made.shares)
            row = tally.row_of(entry, place[key], made.shares, practice)
            rows[place[key]].append(
                row._replace(day=entry.starts_on.toordinal(), seal=key, counted=int(made.counted))
            )
    last = entries[-1].starts_on if entries else None
    record = replace(record, totals=totals, doubtful=doubtful, last_exposure_on=last)
    contacts = {position: tally.contacts_of(found) for position, found in rows.items()}
    return Outset(Clockwork.of(record, practice), contacts, (), life.today)


@dataclass(frozen=True, eq=False)
class Books:
    """The ledger of one watch with running totals, so that its wear share can be asked for any day."""

    life: Life
    practice: Practice
    days: Mapping[Position, NDArray[np.int64]]
    sums: Mapping[Position, NDArray[np.float64]]  # by contact and channel, after a row of zeros

    def share(self, seal: Seal, on: date) -> float:
        """The wear share that the books give a seal at the start of a day: a test comes before its water."""
        since = charge.middle(seal).toordinal()
        a, b = np.searchsorted(self.days[seal.position], (since, on.toordinal()))
        total = self.sums[seal.position][b] - self.sums[seal.position][a]
        shares = Shares(**dict(zip(CHANNELS, (float(part) for part in total), strict=True)))
        record = WatchRecord(self.life.watch, (seal,), {seal.id or 0: shares}, habits=self.life.habits)
        return account.seal_wear(record, seal, self.practice, on).wear_share


def books_of(life: Life, practice: Practice) -> Books:
    """The books of a watch from the start of its record to today."""
    record = WatchRecord(life.watch, life.seals, {}, habits=life.habits)
    entries = exposures_of(life, practice, life.watch.recorded_from, life.today + timedelta(days=1))
    charges = charge.charge_exposures(record, entries, practice)
    days = np.array([entry.starts_on.toordinal() for entry in entries], dtype=np.int64)
    sums: dict[Position, NDArray[np.float64]] = {}
    for seal in life.seals:
        each = [charges[entry.id or 0][seal.id or 0].shares.as_tuple() for entry in entries]
        table = np.array(each).reshape(-1, len(CHANNELS))
        sums[seal.position] = np.vstack([np.zeros(len(CHANNELS)), np.cumsum(table, axis=0)])
    return Books(life, practice, {seal.position: days for seal in life.seals}, sums)
