"""What looking ahead costs: bands, forecast and chance of one watch, beside reading it alone.

Run: python benchmarks/foresight.py. Prints the fastest of several runs, and ratios within this run.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path

TODAY = date(2026, 11, 25)
RUNS = 7


def fastest_ms(do: Callable[[], object]) -> float:
    """The shortest of some runs, in milliseconds."""
    times = []
    for _ in range(RUNS):
        begun = time.perf_counter()
        do()
        times.append(time.perf_counter() - begun)
    return 1e3 * min(times)


def main() -> None:
    """Builds the demo and times its most logged watch."""
    from logbook import demo
    from logbook.model.judge.standing import stand, wear_of
    from logbook.model.predict.bands import bands_of
    from logbook.model.predict.draws import Draws
    from logbook.model.predict.forecast import forecast_of
    from logbook.model.predict.levers import levers_of
    from logbook.record.file.practice_file import load_practice
    from logbook.record.reading import glance
    from logbook.record.reading.foresight import read_foresight
    from logbook.record.reading.insight import read_outset

    practice = load_practice()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "demo.logbook"
        demo.build(path, TODAY, practice)
        with glance.open_rows(path) as rows:
            record = max(
                glance.read_records(rows),
                key=lambda r: glance.count_exposures(rows, watch_id=r.watch.id, planned=False),
            )
            count = glance.count_exposures(rows, watch_id=record.watch.id, planned=False)
            draws = Draws.random(practice)
            outset = read_outset(rows, record, practice, TODAY)
            wears = wear_of(record, practice, TODAY)
            foresight = read_foresight(rows, practice, TODAY)
            jobs: dict[str, Callable[[], object]] = {
                "standing alone": lambda: stand(record, practice, TODAY),
                "reading what it met": lambda: read_outset(rows, record, practice, TODAY),
                "bands": lambda: bands_of(outset, wears, draws),
                "forecast, 3 years": lambda: forecast_of(outset, draws, years=3),
                "forecast, 10 years": lambda: forecast_of(outset, draws),
                "what moves it most": lambda: levers_of(outset, record.seals[-1], practice),
                "what all tests teach": lambda: read_foresight(rows, practice, TODAY),
                "chance": lambda: foresight.chance_of(record, wears, TODAY),
            }
            found = {name: fastest_ms(do) for name, do in jobs.items()}
    bare = found["standing alone"]
    print(f"{len(wears)} seals, {count} exposures, {draws.count} sets of constants and paths")
    for name, took in found.items():
        print(f"{name:<24}{took:8.1f} ms   {took / bare:6.1f} × standing alone")


if __name__ == "__main__":
    main()
