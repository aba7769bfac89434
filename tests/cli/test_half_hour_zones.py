"""Zones that are no whole hours from UTC, from the line that is typed to other machines and back."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest

from tests.cli.running import Cli
from tests.cli.test_import_dives import FIRST, dives

# Offsets in February 2026 by the rules of the tz database.
ZONES = {
    "Asia/Kolkata": (5, 30),
    "Asia/Kathmandu": (5, 45),
    "America/St_Johns": (-3, -30),
    "Australia/Adelaide": (10, 30),  # summer time
    "Pacific/Chatham": (13, 45),  # summer time
}
zones = pytest.mark.parametrize(("zone", "offset"), ZONES.items())
DIVE = "reed: dive 21m 38min sea 17C rinsed on 2026-02-20 10:40"


def seconds(offset: tuple[int, int]) -> int:
    return 3600 * offset[0] + 60 * offset[1]


@zones
def test_a_line_has_the_offset_of_its_zone(cli: Cli, zone: str, offset: tuple[int, int]) -> None:
    cli.ok("settings", "--zone", zone)
    (entry,) = cli.json("wet", DIVE)["entries"]
    assert (entry["zone"], entry["starts_on"], entry["starts_at"]) == (zone, "2026-02-20", "10:40:00")
    assert entry["utc_offset_s"] == seconds(offset)
    (line,) = [line for line in cli.ok("log", "reed").splitlines() if "dive" in line]
    assert "2026-02-20" in line


@zones
def test_an_offset_that_is_written_is_held_against_the_zone(
    cli: Cli, zone: str, offset: tuple[int, int]
) -> None:
    sign = "-" if offset[0] < 0 else "+"
    hours, minutes = abs(offset[0]), abs(offset[1])
    line = "reed: dive 21m 38min on 2026-02-20 10:40{} zone {}"
    (entry,) = cli.json("wet", line.format(f"{sign}{hours:02}:{minutes:02}", zone))["entries"]
    assert entry["utc_offset_s"] == seconds(offset)
    said = cli.refused("wet", line.format(f"{sign}{hours:02}:00", zone))
    assert f"{sign}{hours:02}:{minutes:02}" in said


@zones
def test_a_record_goes_to_another_machine_and_a_table_comes_back(
    cli: Cli, tmp_path: Path, zone: str, offset: tuple[int, int]
) -> None:
    cli.ok("settings", "--zone", zone)
    cli.ok("wet", DIVE, "lido: pool 60min on 2026-02-21 00:10")
    cli.ok("export", "--out", str(tmp_path / "all.json"))
    other = Cli(tmp_path / "other.logbook")
    other.ok("import", str(tmp_path / "all.json"))
    mine, theirs = cli.everything()["exposures"], other.everything()["exposures"]
    assert [{**one, "id": 0} for one in theirs] == [{**one, "id": 0} for one in mine]
    assert {one["utc_offset_s"] for one in theirs} == {seconds(offset)}
    cli.ok("export", "--csv", "exposures", "--out", str(tmp_path / "wet.csv"))
    cli.ok("settings", "--zone", "UTC")
    answer = cli.json("import", str(tmp_path / "wet.csv"))
    assert [one["state"] for one in answer["arrivals"]] == ["on record", "on record"]


@zones
def test_a_dive_in_the_time_of_utc_is_put_on_the_clock_of_the_zone(
    cli: Cli, tmp_path: Path, zone: str, offset: tuple[int, int]
) -> None:
    path = tmp_path / "utc.uddf"
    path.write_bytes(dives(1, FIRST.replace(tzinfo=UTC)))
    cli.ok("import", str(path), "--watch", "reed", "--zone", zone)
    (dive,) = cli.everything()["exposures"]
    there = FIRST + timedelta(seconds=seconds(offset))
    assert datetime.fromisoformat(f"{dive['starts_on']}T{dive['starts_at']}") == there
    assert (dive["zone"], dive["utc_offset_s"]) == (zone, seconds(offset))


@zones
def test_a_dive_with_its_own_offset_is_put_on_the_clock_of_utc(
    cli: Cli, tmp_path: Path, zone: str, offset: tuple[int, int]
) -> None:
    path = tmp_path / "there.uddf"
    there = timezone(timedelta(seconds=seconds(offset)))
    path.write_bytes(dives(1, FIRST.replace(tzinfo=there)))
    cli.ok("import", str(path), "--watch", "reed", "--zone", "UTC")
    (dive,) = cli.everything()["exposures"]
    assert datetime.fromisoformat(f"{dive['starts_on']}T{dive['starts_at']}") == FIRST - timedelta(
        seconds=seconds(offset)
    )
