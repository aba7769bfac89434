"""The whole ledger made anew: exposure by exposure beside one pass over all of them, in one run.

Usage: python benchmarks/recompute.py [PLAIN [PROFILED [ROUNDS]]]. Both ways run in turn on the same records,
one of exposures without profiles and one of dives with them; the ratio counts, since the machine's speed
drops out of it. "reckoning" is the arithmetic alone, "recomputation" reads and writes the record too.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from random import Random

from logbook.model.fitting import Fitted, initial_seals
from logbook.model.practice import Practice
from logbook.model.values import CHANNELS, Event, Exposure, ProfilePoint, Watch
from logbook.model.wear.bulk import charge_all
from logbook.model.wear.charge import charge_exposures, hours_left
from logbook.model.wear.clock import spend
from logbook.model.wear.columns import columns_of
from logbook.record.file.practice_file import load_practice
from logbook.record.file.store import Store
from logbook.record.ledger import bulk, ledger
from logbook.record.reading import glance
from logbook.record.reading.sql import rows_of, run, run_many
from logbook.record.writing import exposures, watches

FIRST, DAYS, EVERY_S = date(2006, 1, 1), 7_000, 10
# activity, water, depth in m, minutes, °C
KINDS = (("dive", "sea", 18.0, 45, 17.0), ("pool", "pool", 1.5, 45, 27.0), ("shower", "soap", 0.1, 8, 38.0),
         ("hands", "fresh", 0.1, 1, 20.0), ("sauna", "air", 0.0, 15, 85.0))  # fmt: skip


def main(plain: int, profiled: int, rounds: int) -> None:
    """Both records, both ways."""
    practice, dice = load_practice(), Random(1)
    with tempfile.TemporaryDirectory() as folder:
        for name, count, shaped in (("without profiles", plain, False), ("with profiles", profiled, True)):
            path = Path(folder) / f"{shaped}.logbook"
            _make(path, [_exposure(dice, shaped) for _ in range(count)], practice)
            with Store.open(path) as store:
                print(f"{count:,} exposures {name}:")
                _compare("reckoning", *_reckonings(store, practice), rounds)
                _compare("recomputation", *_recomputations(store, practice), rounds)


def _compare(what: str, one_by_one: Callable[[], None], in_one_pass: Callable[[], None], rounds: int) -> None:
    """Seconds of the processor that both take, the fastest of several rounds in turn."""
    fastest = []
    for _ in range(rounds):
        fastest.append((_seconds(one_by_one), _seconds(in_one_pass)))
    plain, bulk_ = (min(column) for column in zip(*fastest, strict=True))
    print(f"  {what}: one by one {plain:.3f} s, in one pass {bulk_:.3f} s, ratio {plain / bulk_:.1f}")


def _seconds(do: Callable[[], None]) -> float:
    began = time.process_time()
    do()
    return time.process_time() - began


def _reckonings(store: Store, practice: Practice) -> tuple[Callable[[], None], Callable[[], None]]:
    """What each exposure cost each seal, from values that were read before."""
    with store.reading() as rows:
        read = [
            (record, glance.read_exposures(rows, watch_id=record.watch.id, with_profiles=True))
            for record in glance.read_records(rows)
        ]
    tables = [(record, found, columns_of(found)) for record, found in read]

    def one_by_one() -> None:
        for record, found in read:
            bulk.totals_of(bulk.share_rows(charge_exposures(record, found, practice)))

    def in_one_pass() -> None:
        for record, found, table in tables:
            spent = spend(found, *hours_left(record))
            bulk.block_of(len(table), charge_all(record, table, spent, practice))

    return one_by_one, in_one_pass


def _recomputations(store: Store, practice: Practice) -> tuple[Callable[[], None], Callable[[], None]]:
    """The ledger of a record made anew, reading and writing included."""
    columns = ("exposure_id", "seal_id", *CHANNELS, "counted")
    marks = ", ".join("?" * len(columns))
    add = f"INSERT INTO ledger_share ({', '.join(columns)}) VALUES ({marks})"

    def one_by_one() -> None:
        with store.transaction() as session:
            rows = rows_of(session.connection())
            run(session, "DELETE FROM ledger_share")
            for record in glance.read_records(rows):
                found = glance.read_exposures(rows, watch_id=record.watch.id, with_profiles=True)
                shares = bulk.share_rows(charge_exposures(record, found, practice))
                run_many(session, add, shares)
                bulk.totals_of(shares)

    return one_by_one, lambda: ledger.refresh_all(store, practice)


def _make(path: Path, found: Sequence[Exposure], practice: Practice) -> None:
    """A record of four watches that share the exposures, with a crown seal replaced every three years."""
    with Store.open(path, create=True) as store:
        for n in range(4):
            watch = Watch(f"Watch {n}", "divers", 20e5, FIRST, FIRST, crown="screwed", use="diving")
            seals = initial_seals(watch, "NBR", Fitted(None, FIRST, FIRST), {})
            watch_id = watches.add(store, watch, seals, _gaskets(), practice)
            exposures.add(store, [replace(e, watch_id=watch_id) for e in found[n::4]], practice)


def _gaskets() -> list[Event]:
    days = [FIRST + timedelta(days=1_100 * n) for n in range(1, 6)]
    return [Event("gaskets", day, 20, seals=(("crown", "NBR"),)) for day in days]


def _exposure(dice: Random, shaped: bool) -> Exposure:
    activity, water, depth_m, minutes, water_c = KINDS[0 if shaped else dice.randrange(len(KINDS))]
    on, seconds = FIRST + timedelta(days=dice.randrange(DAYS)), minutes * 60
    return Exposure(
        activity, water, depth_m, "EN 13319", depth_m * 1e4, seconds, water_c, 32.0, on,
        salinity=38.0 if water == "sea" else None, rinsed=dice.random() < 0.5,
        profile=_shape(dice, depth_m, seconds, water_c) if shaped else (),
    )  # fmt: skip


def _shape(dice: Random, depth_m: float, seconds: int, water_c: float) -> tuple[ProfilePoint, ...]:
    """Down in three minutes, slowly up, wavering; the water is 4 K warmer at the surface."""
    points = []
    for at_s in range(0, seconds + 1, EVERY_S):
        share = min(at_s / 180, 1 - 0.3 * at_s / seconds, (seconds - at_s) / 300)
        at_m = round(min(depth_m, max(0.0, depth_m * share + dice.uniform(-0.3, 0.3))), 1)
        points.append(ProfilePoint(float(at_s), at_m, round(water_c + 4 * (1 - at_m / depth_m), 1)))
    return tuple(points)


if __name__ == "__main__":
    given = [int(word) for word in sys.argv[1:]]
    main(*given, *(20_000, 500, 5)[len(given) :])
