"""`logbook import` of a UDDF file: dives with their profiles, for the watch that was worn."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from logbook.model.values import ProfilePoint
from tests.cli.running import Cli
from tests.files.uddf.writing import Written, uddf

FIRST = datetime(2026, 2, 20, 9, 30)
SQUARE = (
    ProfilePoint(0.0, 0.0, 18.0), ProfilePoint(90.0, 18.0, 15.0),
    ProfilePoint(2300.0, 18.0, 14.5), ProfilePoint(2460.0, 0.0, 17.0),
)  # fmt: skip


def dives(count: int = 10, start: datetime = FIRST, **changes: object) -> bytes:
    """So many dives, one a day."""
    told = {"depth_m": 18.0, "duration_s": 2460.0, "points": SQUARE, "site": "North wall", **changes}
    return uddf(
        Written(f"d{n}", start + timedelta(days=n), **told)  # type: ignore[arg-type]
        for n in range(count)
    )


@pytest.fixture
def trip(tmp_path: Path) -> str:
    path = tmp_path / "trip.uddf"
    path.write_bytes(dives())
    return str(path)


def test_ten_dives_come_in_go_again_and_come_back(cli: Cli, trip: str) -> None:
    before = cli.everything()
    assert "10 came in." in cli.ok("import", trip, "--watch", "reed")
    after = cli.everything()
    assert len(after["exposures"]) == len(before["exposures"]) + 10
    cli.ok("import", "--undo")
    assert cli.everything() == before
    cli.ok("import", trip, "--watch", "reed")
    again = cli.everything()
    numbers = {e["id"] for e in before["exposures"]}
    new = [e for e in again["exposures"] if e["id"] not in numbers]
    plain = [{k: v for k, v in e.items() if k != "id"} for e in new]
    assert plain == [
        {k: v for k, v in e.items() if k != "id"} for e in after["exposures"] if e["id"] not in numbers
    ]


def test_a_dive_keeps_its_profile_its_temperature_and_its_site(cli: Cli, trip: str) -> None:
    cli.ok("import", trip, "--watch", "reed", "--rinsed")
    dive = cli.everything()["exposures"][0]
    assert (dive["activity"], dive["basis"], dive["rinsed"]) == ("dive", "EN 13319", True)
    assert (dive["starts_on"], dive["starts_at"]) == ("2026-02-20", "09:30:00")
    assert (dive["depth_m"], dive["duration_s"], dive["water_c"]) == (18.0, 2460, 14.5)
    assert dive["water_c_assumed"] is False
    assert [point["time_s"] for point in dive["profile"]] == [0.0, 90.0, 2300.0, 2460.0]
    assert dive["note"] == "North wall"


def test_the_same_dives_twice_give_nothing_new_even_amended(cli: Cli, trip: str) -> None:
    cli.ok("import", trip, "--watch", "reed")
    cli.ok("amend", "last", "rinsed on 2026-03-10")
    once = cli.everything()
    again = cli.json("import", trip, "--watch", "reed")
    assert {a["state"] for a in again["arrivals"]} == {"on record"}
    assert cli.everything() == once


def test_another_zone_or_another_id_does_not_make_them_new(cli: Cli, tmp_path: Path, trip: str) -> None:
    cli.ok("import", trip, "--watch", "reed")
    assert cli.json("import", trip, "--watch", "reed", "--zone", "Asia/Tokyo")["entries"] == []
    other = tmp_path / "other.uddf"
    other.write_bytes(dives().replace(b'dive id="d', b'dive id="x'))
    assert cli.json("import", str(other), "--watch", "reed")["entries"] == []


def test_the_watch_is_asked_for(cli: Cli, trip: str) -> None:
    said = cli.refused("import", trip)
    assert "Which watch was worn? trip.uddf does not say it: give --watch NAME." in said


def test_with_one_watch_on_the_shelf_it_was_that_one(bare: Cli, trip: str) -> None:
    bare.ok("watch", "add", "Only one", "--mark", "divers", "--bar", "20", "--use", "diving")
    assert bare.json("import", trip)["arrivals"][0]["watch"] == "Only one"


def test_a_time_with_an_offset_is_put_on_the_clock_of_the_zone(cli: Cli, tmp_path: Path) -> None:
    path = tmp_path / "utc.uddf"
    path.write_bytes(dives(1, FIRST.replace(tzinfo=UTC)))
    cli.ok("import", str(path), "--watch", "reed", "--zone", "Asia/Tokyo")
    dive = cli.everything()["exposures"][0]
    assert (dive["starts_at"], dive["zone"], dive["utc_offset_s"]) == ("18:30:00", "Asia/Tokyo", 32_400)


def test_a_time_without_one_is_of_the_zone_that_is_named(cli: Cli, trip: str) -> None:
    cli.ok("import", trip, "--watch", "reed", "--zone", "Asia/Tokyo")
    dive = cli.everything()["exposures"][0]
    assert (dive["starts_at"], dive["zone"]) == ("09:30:00", "Asia/Tokyo")
    assert "not a time zone" in cli.refused("import", trip, "--watch", "reed", "--zone", "Nowhere")


def test_what_cannot_come_in_is_left_out_with_its_line_and_why(cli: Cli, tmp_path: Path) -> None:
    path = tmp_path / "mixed.uddf"
    future = datetime(2027, 1, 1, 10, 0)
    path.write_bytes(
        uddf(
            [
                Written("a", FIRST, 18.0, 2460.0),
                Written("b", future, 18.0, 2460.0),
                Written("c", FIRST, 900.0, 60.0),
            ]
        )
    )
    answer = cli.json("import", str(path), "--watch", "reed")
    assert len(answer["entries"]) == 1
    assert len(answer["left_out"]) == 2
    assert all(one["place"].startswith("line ") for one in answer["left_out"])
    assert "2027-01-01" in answer["left_out"][0]["sentence"]
    assert "900" in answer["left_out"][1]["sentence"]


def test_what_was_put_right_is_said(cli: Cli, tmp_path: Path) -> None:
    path = tmp_path / "celsius.uddf"
    path.write_bytes(dives(1).replace(b"<temperature>291.150<", b"<temperature>18.0<"))
    (warning,) = cli.json("import", str(path), "--watch", "reed")["warnings"]
    assert "below 200 K and taken as °C" in warning
    assert warning.startswith("line ")


def test_a_time_that_the_clocks_skipped_is_of_a_watch_left_on_winter_time(cli: Cli, tmp_path: Path) -> None:
    path = tmp_path / "spring.uddf"
    path.write_bytes(dives(1, datetime(2025, 3, 30, 2, 30)))
    answer = cli.json("import", str(path), "--watch", "reed", "--zone", "Europe/Berlin")
    assert answer["arrivals"][0]["starts_at"] == "03:30:00"
    assert "02:30 did not exist in Europe/Berlin" in answer["warnings"][0]


def test_two_dives_of_one_day_without_times_are_two(cli: Cli, tmp_path: Path) -> None:
    path = tmp_path / "dates.uddf"
    made = uddf([Written("a", FIRST, 18.0, 3000.0), Written("b", FIRST, 40.0, 3000.0)])
    path.write_bytes(made.replace(b"2026-02-20T09:30:00", b"2026-02-20"))
    assert len(cli.json("import", str(path), "--watch", "reed")["entries"]) == 2


def test_a_file_of_which_nothing_can_come_in_is_not_a_success(cli: Cli, tmp_path: Path) -> None:
    path = tmp_path / "deep.uddf"
    path.write_bytes(uddf([Written("a", FIRST, 900.0, 3000.0)]))
    answer = cli("import", str(path), "--watch", "reed")
    assert answer.code == 3
    assert "0 came in, 1 left out." in answer.out


def test_a_dive_that_a_file_has_twice_names_the_first(cli: Cli, tmp_path: Path) -> None:
    path = tmp_path / "twice.uddf"
    path.write_bytes(uddf([Written("a", FIRST, 18.0, 3000.0), Written("a", FIRST, 18.0, 3000.0)]))
    first, second = cli.json("import", str(path), "--watch", "reed", "--dry-run")["arrivals"]
    assert second["like_place"] == first["place"]
    assert f"as {first['place']}" in cli.ok("import", str(path), "--watch", "reed")


def test_a_file_that_changes_while_it_is_read_brings_nothing(cli: Cli, tmp_path: Path) -> None:
    """What was looked at is what is written: the profiles are read a second time."""
    from dataclasses import replace

    from logbook.errors import BadInput
    from logbook.files.files_in import read
    from logbook.files.inbox import Inbox
    from tests.cli.inboxes import opened

    path = tmp_path / "moving.uddf"
    path.write_bytes(dives(3))
    with opened(cli.file) as (store, taker, watches):
        with path.open("rb") as stream:
            file = read(stream, path.name, taker, watches, reopen=lambda: path.open("rb"))
        inbox = Inbox.of(replace(file), taker, store.rows, watches, watches[0])
        path.write_bytes(dives(3, FIRST + timedelta(minutes=5)))
        with pytest.raises(
            BadInput, match=r"moving\.uddf was changed while it was read; nothing was written"
        ):
            inbox.write(store, taker.practice)
        assert store.rows("SELECT COUNT(*) FROM exposure") == [(0,)]


def test_a_record_that_changes_while_one_looks_is_looked_at_again(cli: Cli, trip: str) -> None:
    from logbook.errors import BadInput
    from logbook.files.files_in import read
    from logbook.files.inbox import Inbox
    from tests.cli.inboxes import opened

    with opened(cli.file) as (store, taker, watches), Path(trip).open("rb") as stream:
        file = read(stream, "trip.uddf", taker, watches)
        inbox = Inbox.of(file, taker, store.rows, watches, watches[0])
        other = Inbox.of(file, taker, store.rows, watches, watches[0])
        assert len(other.write(store, taker.practice)) == 10
        with pytest.raises(BadInput, match="The record was changed while you looked at the file"):
            inbox.write(store, taker.practice)


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"", "bad.uddf"),
        (b"<uddf><profiledata>", "bad.uddf"),
        (b"<?xml version='1.0'?><!DOCTYPE x><uddf/>", "line 1"),
        (b"<html></html>", "uddf"),
        (b"\x89PNG", "bad.uddf"),
    ],
)
def test_a_file_that_is_no_uddf_is_refused_in_a_sentence(
    cli: Cli, tmp_path: Path, content: bytes, sentence: str
) -> None:
    path = tmp_path / "bad.uddf"
    path.write_bytes(content)
    assert sentence in cli.refused("import", str(path), "--watch", "reed")


def test_a_profile_is_charged_as_one(cli: Cli, trip: str) -> None:
    """The same dives without their samples cost about the same: nothing is lost on the way."""
    cli.ok("import", trip, "--watch", "reed")
    with_profile = cli.score("reed")["seals"][0]["channels"]["pressure"]
    cli.ok("import", "--undo")
    bare = Path(trip).with_name("bare.uddf")
    bare.write_bytes(dives(points=()))
    cli.ok("import", str(bare), "--watch", "reed")
    assert cli.score("reed")["seals"][0]["channels"]["pressure"] == pytest.approx(with_profile, rel=0.01)


def test_dives_from_before_the_water_is_on_record_are_said_to_cost_nothing(bare: Cli, trip: str) -> None:
    bare.ok("watch", "add", "Only one", "--mark", "divers", "--bar", "20", "--use", "diving")
    said = " ".join(bare.ok("import", trip, "--dry-run").split())
    assert "10 of Only one are from before 15 Mar 2026" in said
    assert "`logbook watch edit NAME --recorded-from 2026-02-20`" in said
    (told,) = bare.json("import", trip)["not_charged"]
    assert (told["count"], told["first"], told["recorded_from"]) == (10, "2026-02-20", "2026-03-15")
    bare.ok("import", "--undo")
    bare.ok("watch", "edit", "only one", "--recorded-from", "2026-02-20")
    assert bare.json("import", trip)["not_charged"] == []
