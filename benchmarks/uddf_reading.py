"""Time and memory to read a UDDF file, beside expat telling Python of every tag and text for nothing.

Usage: python benchmarks/uddf_reading.py [--mb 50] [--rounds 3]. Two files of invented dives: with three
values in each waypoint, and with six. Both readers run in turn on the same file, each in a process of its
own; the ratio of the fastest rounds counts, since the machine's speed drops out of it.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
from pathlib import Path
from random import Random

EVERY_S = 4
MORE = '\n      <tankpressure ref="t1">{bar}00000.0</tankpressure>\n      <nodecotime>{left}</nodecotime>'
MORE += "\n      <heading>{heading}</heading>"

BARE = """
from xml.parsers import expat
def start(name, attributes): pass
def end(name): pass
def text(data): pass
def read(file):
    parser = expat.ParserCreate()
    parser.buffer_text = True
    parser.StartElementHandler, parser.EndElementHandler = start, end
    parser.CharacterDataHandler = text
    parser.ParseFile(file)
"""
OURS = """
from logbook.files.uddf.reading import read_dives
def read(file):
    for dive in read_dives(file, "bench.uddf"):
        assert not dive.problem and not dive.warnings
"""
MEASURED = """
import resource, sys, time
before, began = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, time.process_time()
with open(sys.argv[1], "rb") as file:
    read(file)
print(time.process_time() - began, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before)
"""


def main(megabytes: int, rounds: int) -> None:
    """Both files, both readers, in turn."""
    with tempfile.TemporaryDirectory() as folder:
        for label, more in (("three values a waypoint", ""), ("six values a waypoint", MORE)):
            path = Path(folder) / "bench.uddf"
            make(path, megabytes * 1_000_000, more)
            bare, ours = [], []
            for _ in range(rounds):
                bare.append(measured(BARE, path))
                ours.append(measured(OURS, path))
            (bare_s, _), (ours_s, _) = min(bare), min(ours)
            ratio, grown = ours_s / bare_s, max(kib for _, kib in ours) / 1024
            print(f"{label}, {path.stat().st_size / 1e6:.0f} MB:")
            print(f"  expat with empty handlers {bare_s:.2f} s, read {ours_s:.2f} s, ratio {ratio:.2f}")
            print(f"  memory grew by at most {grown:.1f} MiB")


def measured(reader: str, path: Path) -> tuple[float, int]:
    """Seconds of the processor and KiB by which the peak of memory rose, in a fresh process."""
    command = [sys.executable, "-c", reader + MEASURED, str(path)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    seconds, kib = done.stdout.split()
    return float(seconds), int(kib)


def make(path: Path, size: int, more: str) -> None:
    """Invented dives of 45 minutes, one after the other, until the file has that many bytes."""
    dice, n = Random(1), 0
    with path.open("w", encoding="utf-8") as file:
        file.write('<?xml version="1.0" encoding="utf-8"?>\n')
        file.write("<uddf xmlns='http://www.streit.cc/uddf/3.2/' version='3.2.1'>\n")
        file.write(" <profiledata>\n  <repetitiongroup id='g'>\n")
        while file.tell() < size:
            n += 1
            file.write(_dive(n, dice, more))
        file.write("  </repetitiongroup>\n </profiledata>\n</uddf>\n")


def _dive(n: int, dice: Random, more: str) -> str:
    points, depth_m = [], 0.0
    for at_s in range(0, 2_701, EVERY_S):
        depth_m = max(0.0, min(30.0, depth_m + dice.uniform(-0.8, 0.9))) if 0 < at_s < 2_700 else 0.0
        extra = more.format(bar=200 - at_s // 20, left=3_000 - at_s, heading=dice.randrange(360))
        points.append(
            f"     <waypoint>\n      <depth>{depth_m:.2f}</depth>\n      <divetime>{at_s}</divetime>\n"
            f"      <temperature>{291.15 - round(depth_m / 5, 1):.2f}</temperature>{extra}\n"
            "     </waypoint>\n"
        )
    return (
        f"   <dive id='d{n}'>\n    <informationbeforedive>\n"
        f"     <datetime>{2000 + n % 25}-05-17T10:30:00</datetime>\n"
        f"    </informationbeforedive>\n    <samples>\n{''.join(points)}    </samples>\n"
        "    <informationafterdive>\n     <greatestdepth>30.0</greatestdepth>\n"
        "     <diveduration>2700</diveduration>\n    </informationafterdive>\n   </dive>\n"
    )


if __name__ == "__main__":
    wanted = argparse.ArgumentParser(description=__doc__)
    wanted.add_argument("--mb", type=int, default=50)
    wanted.add_argument("--rounds", type=int, default=3)
    given = wanted.parse_args()
    main(given.mb, given.rounds)
