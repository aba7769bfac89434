"""How far the predictor is right about invented owners, beside the rule of fixed intervals.

Usage: python benchmarks/calibration.py [--owners 2000] [--draws 1000] [--seed 1] [--markdown] [--write].
Owners and their water are invented (`calibration_lives`), charged and foretold by the program's own code, and
compared with what laws of our own and foreign ones make of them (`calibration_worlds`). Same options, same
figures.
"""

from __future__ import annotations

import argparse
import os
import sys
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

os.environ.setdefault("OMP_NUM_THREADS", "1")  # each process keeps to one core
sys.path.insert(0, str(Path(__file__).parent))

from calibration_dates import Row, rows_of
from calibration_lives import owner_of
from calibration_tables import SELF_CONSISTENCY, Table, tables_of
from calibration_tests import Foretold, Workshop
from calibration_worlds import WORLDS, Truths

from logbook.model.practice import parse
from logbook.model.predict.draws import Draws
from logbook.record.file.practice_file import shipped_path

OWNERS, DRAWS, SEED = 2000, 1000, 1
CHUNK = 10
PAGE = Path(__file__).parent.parent / "docs" / "calibration.md"
START, END = "<!-- figures -->", "<!-- /figures -->"

Found = tuple[list[Row], list[list[Foretold]]]


def calibrate(owners: int, draws: int, seed: int, *, processes: int = 2) -> list[Table]:
    """All tables for so many owners."""
    rows: list[Row] = []
    tests: list[list[Foretold]] = [[] for _ in WORLDS]
    started = time.monotonic()
    for done, (found, foretold) in enumerate(_each(owners, draws, seed, processes), start=1):
        rows += found
        for of_all, of_chunk in zip(tests, foretold, strict=True):
            of_all += of_chunk
        _progress(min(done * CHUNK, owners), owners, time.monotonic() - started)
    return tables_of(rows, tests)


def _each(owners: int, draws: int, seed: int, processes: int) -> Iterator[Found]:
    chunks = [range(first, min(first + CHUNK, owners)) for first in range(0, owners, CHUNK)]
    work = partial(_chunk, owners, draws, seed)
    if processes == 1:
        yield from map(work, chunks)
        return
    with ProcessPoolExecutor(processes) as pool:
        yield from pool.map(work, chunks)


_MADE: dict[tuple[int, int, int], tuple[Draws, Truths]] = {}  # once for each process


def _chunk(owners: int, draws: int, seed: int, numbers: Sequence[int]) -> Found:
    """Some owners: their seals, and their tests in each world."""
    if (owners, draws, seed) not in _MADE:
        practice = parse(shipped_path().read_text(encoding="utf-8"))
        # The predictor's draws are the program's own; the truths have random numbers of their own.
        _MADE[owners, draws, seed] = Draws.random(practice, draws), Truths(practice, owners, seed)
    drawn, truths = _MADE[owners, draws, seed]
    rows: list[Row] = []
    tests: list[list[Foretold]] = [[] for _ in WORLDS]
    for number in numbers:
        owner = owner_of(number, seed, truths.practice)
        rows += rows_of(owner, drawn, truths)
        workshop = Workshop(owner, truths, seed)
        for of_world, world in zip(tests, WORLDS, strict=True):
            of_world += workshop.foretold(world)
    return rows, tests


def _progress(done: int, owners: int, seconds: float) -> None:
    left = seconds / done * (owners - done)
    end = "\n" if done == owners else ""
    print(f"\r{done} of {owners} owners, {left:.0f} s to go ", end=end, file=sys.stderr, flush=True)


def report(tables: Sequence[Table], owners: int, draws: int, seed: int, *, markdown: bool) -> str:
    """The tables with what they rest on."""
    basis = f"{owners} invented owners, {draws} sets of constants for each forecast, seed {seed}."
    parts = [table.markdown() if markdown else table.plain() for table in tables]
    return "\n\n".join([basis, SELF_CONSISTENCY, *parts])


def written(page: str, figures: str) -> str:
    """The page with these figures between its two marks."""
    before, rest = page.split(START, 1)
    return f"{before}{START}\n\n{figures}\n\n{END}{rest.split(END, 1)[1]}"


def main() -> None:
    """Reads the options, calibrates and prints."""
    parser = argparse.ArgumentParser(description="Holds the predictor against invented owners.")
    parser.add_argument("--owners", type=int, default=OWNERS)
    parser.add_argument("--draws", type=int, default=DRAWS)
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--markdown", action="store_true", help="as Markdown")
    parser.add_argument("--write", action="store_true", help="put the figures into docs/calibration.md")
    given = parser.parse_args()
    if min(given.owners, given.draws, given.processes) < 1:
        parser.error("--owners, --draws and --processes must be 1 or more")
    tables = calibrate(given.owners, given.draws, given.seed, processes=given.processes)
    if given.write:
        figures = report(tables, given.owners, given.draws, given.seed, markdown=True)
        PAGE.write_text(written(PAGE.read_text(encoding="utf-8"), figures), encoding="utf-8")
    print(report(tables, given.owners, given.draws, given.seed, markdown=given.markdown))


if __name__ == "__main__":
    main()
