"""What bands and forecasts start from, made from exposures as a ledger would keep them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from logbook.model.practice import Practice
from logbook.model.predict import tally
from logbook.model.predict.bands import Outset
from logbook.model.predict.tally import ContactRow
from logbook.model.values import Exposure, Position, WatchRecord
from logbook.model.wear import charge, wear
from logbook.model.wear.account import Clockwork
from tests.model.builders import PRACTICE, TODAY, charged

# Every range without width: what is drawn is then what is in force.
EXACT = "".join(
    f"[constants.{name}]\nlow = {value}\nhigh = {value}\n"
    for name in (
        "Ea", "worn_c", "storage_c", "n_p", "N_p", "n_t", "N_t", "H_salt", "unrinsed", "H_pool", "H_soap",
        "H_hot_tub", "U_dry", "U_wet", "U_under", "home_c",
    )
    for value in [PRACTICE[name]]
) + "[constants.m_spread]\nvalue = 1\nlow = 1\nhigh = 1\n" + (
    "[constants.assumed_spread]\nvalue = 1\nlow = 1\nhigh = 1\n"
) + "".join(
    f"[materials.{name}]\nlow = {row.years}\nhigh = {row.years}\n" for name, row in PRACTICE.materials.items()
)  # fmt: skip


def outset(
    whole: WatchRecord, exposures: Iterable[Exposure] = (), on: date = TODAY, constants: Practice = PRACTICE,
    plans: Iterable[Exposure] = (),
) -> Outset:  # fmt: skip
    """The outset of a record with these exposures charged to it."""
    numbered = [replace(e, id=n) for n, e in enumerate(exposures, start=1)]
    by_id = {e.id: e for e in numbered}
    place: dict[int, Position] = {s.id or 0: s.position for s in whole.seals}
    rows: dict[Position, list[ContactRow]] = defaultdict(list)
    for exposure_id, by_seal in charge.charge_exposures(whole, numbered, constants).items():
        e = by_id[exposure_id]
        for seal_id, what in by_seal.items():
            row = tally.row_of(e, place[seal_id], what.shares, constants)
            rows[place[seal_id]].append(
                row._replace(day=e.starts_on.toordinal(), seal=seal_id, counted=int(what.counted))
            )
    contacts = {position: tally.contacts_of(found) for position, found in rows.items()}
    ledger = charged(whole, numbered, constants)
    doubtful = {}
    for by_seal in charge.charge_exposures(whole, numbered, constants).values():
        for seal_id, what in by_seal.items():
            if not what.counted:
                doubtful[seal_id] = doubtful.get(seal_id, wear.Shares()).plus(what.shares)
    kept = replace(ledger, doubtful=doubtful)
    return Outset(Clockwork.of(kept, constants), contacts, tuple(plans), on)
