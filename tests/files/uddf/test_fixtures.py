"""Every file beside `fixtures.toml` is read as that table says: variations, mistakes, attacks."""

from __future__ import annotations

import tomllib
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest

from logbook.errors import BadInput
from logbook.files.uddf.reading import FileDive, read_dives
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Settings
from logbook.record.file.practice_file import load_practice

HERE = Path(__file__).parent
TABLE: dict[str, dict[str, Any]] = tomllib.loads((HERE / "fixtures.toml").read_text(encoding="utf-8"))
TAKEN = [name for name, row in TABLE.items() if "refusal" not in row]
REFUSED = [name for name, row in TABLE.items() if "refusal" in row]


def read(name: str) -> list[FileDive]:
    path = HERE / "files" / f"{name}.uddf"
    with path.open("rb") as file:
        return list(read_dives(file, path.name))


def test_the_table_has_a_row_for_every_file_and_every_row_says_what_it_shows() -> None:
    assert sorted(TABLE) == sorted(path.stem for path in (HERE / "files").iterdir())
    assert all(row["shows"].endswith(".") for row in TABLE.values())


@pytest.mark.parametrize("name", TAKEN)
def test_a_file_is_read_as_its_row_says(name: str) -> None:
    row, dives = TABLE[name], read(name)
    first = dives[0]
    assert len(dives) == row["dives"]
    assert row.get("problem", "") in first.problem
    assert bool(first.problem) == ("problem" in row)
    for field, value in (("depth_m", first.depth_m), ("duration_s", first.duration_s),
                         ("lowest_c", first.lowest_c), ("id", first.dive_id), ("points", len(first.points)),
                         ("has_time", first.has_time)):  # fmt: skip
        if field in row:
            assert value == row[field], field
    if "starts" in row:
        assert first.starts == datetime.fromisoformat(row["starts"])
        assert first.starts.utcoffset() == datetime.fromisoformat(row["starts"]).utcoffset()
        assert first.has_time == row.get("has_time", True)
        assert (first.site, first.water) == (row.get("site", ""), row.get("water"))
    if row.get("no_temperature"):
        assert first.lowest_c is None


@pytest.mark.parametrize("name", TAKEN)
def test_a_file_warns_of_what_its_row_says_and_of_nothing_else(name: str) -> None:
    if "problem" in TABLE[name]:
        assert read(name)[0].problem.endswith((".", "?"))
        return
    told = sorted(notice.sentence for notice in read(name)[0].warnings)
    expected = sorted(TABLE[name].get("warnings", []))
    assert len(told) == len(expected), told
    assert all(any(part in sentence for sentence in told) for part in expected), told


@pytest.mark.parametrize("name", REFUSED)
def test_a_file_is_refused_as_a_whole_with_one_sentence_that_names_it(name: str) -> None:
    with pytest.raises(BadInput) as caught:
        read(name)
    message = caught.value.message
    assert TABLE[name]["refusal"] in message
    assert message.startswith(f"{name}.uddf cannot be taken")
    assert message.endswith(".")
    assert message.isprintable()
    assert caught.value.where


@pytest.mark.parametrize("name", TAKEN)
def test_a_dive_without_a_problem_is_an_exposure_of_the_record_as_it_stands(name: str) -> None:
    practice = load_practice()
    for dive in read(name):
        times = [point.time_s for point in dive.points]
        assert times == sorted(set(times))
        if dive.problem:
            continue
        exposure = make_exposure(
            practice, Settings(), activity="dive", starts_on=dive.starts.date(), today=date(2199, 1, 1),
            depth_m=dive.depth_m, duration_s=dive.duration_s, water=dive.water, water_c=dive.lowest_c,
            profile=dive.points, note=dive.site,
        )  # fmt: skip
        assert exposure.profile == dive.points
        assert (exposure.depth_m, exposure.note) == (dive.depth_m, dive.site)
