"""`logbook calendar`: the file, what is said of it, and what it never writes over."""

from __future__ import annotations

import os
import stat
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import vobject

from tests.cli.running import CAUTION_START, Cli


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "watches.ics"


def events(path: Path) -> dict[str, Any]:
    """The events of a file by their summary."""
    calendar = vobject.readOne(path.read_bytes().decode())
    return {event.summary.value: event for event in calendar.contents.get("vevent", [])}


def test_every_service_is_an_all_day_event(lone: Cli, path: Path) -> None:
    text = lone.ok("calendar", str(path))
    found = events(path)
    assert set(found) == {
        "Lone: pressure test", "Lone: service: gaskets, strap and bars", "Lone: movement service",
    }  # fmt: skip
    assert found["Lone: pressure test"].dtstart.value == date(2026, 6, 10)
    assert "3 entries: 3 new." in text
    assert CAUTION_START in text


def test_the_file_is_for_its_owner_alone(lone: Cli, path: Path) -> None:
    lone.ok("calendar", str(path))
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert [each.name for each in path.parent.iterdir() if ".new" in each.name] == []


def test_a_second_run_writes_the_same_bytes(lone: Cli, path: Path) -> None:
    lone.ok("calendar", str(path))
    first = path.read_bytes()
    lone.today = "2026-03-18"
    assert "3 entries: nothing changed." in lone.ok("calendar", str(path))
    assert path.read_bytes() == first
    path.unlink()
    lone.ok("calendar", str(path))
    assert path.read_bytes() == first


def test_what_is_done_is_cancelled_and_the_next_date_is_new(lone: Cli, path: Path) -> None:
    lone.ok("calendar", str(path))
    before = events(path)["Lone: pressure test"]
    lone.ok("done", "1:pressure-test", "--passed", "--bar", "10")
    document = lone.json("calendar", str(path))
    assert {key: document[key] for key in ("entries", "new", "moved", "reworded", "cancelled")} == {
        "entries": 3, "new": 1, "moved": 0, "reworded": 0, "cancelled": 1,
    }  # fmt: skip
    old, new = sorted(
        (e for e in vobject.readOne(path.read_bytes().decode()).vevent_list if "pressure" in e.summary.value),
        key=lambda event: event.dtstart.value,
    )
    assert (old.uid.value, old.status.value, old.sequence.value) == (before.uid.value, "CANCELLED", "1")
    assert (new.dtstart.value, new.status.value, new.sequence.value) == (date(2027, 3, 15), "CONFIRMED", "0")
    lone.ok("undo")
    lone.ok("calendar", str(path))
    back = next(
        e for e in vobject.readOne(path.read_bytes().decode()).vevent_list if e.uid.value == before.uid.value
    )
    assert (back.status.value, back.sequence.value) == ("CONFIRMED", "2")


def test_another_interval_moves_the_event(lone: Cli, path: Path) -> None:
    lone.ok("calendar", str(path))
    lone.ok("watch", "edit", "Lone", "--interval", "pressure-test=24")
    assert "3 entries: 1 moved." in lone.ok("calendar", str(path))
    moved = events(path)["Lone: pressure test"]
    assert (moved.dtstart.value, moved.sequence.value) == (date(2027, 6, 10), "1")


def test_a_retired_watch_has_its_entries_cancelled(lone: Cli, path: Path) -> None:
    lone.ok("calendar", str(path))
    lone.ok("watch", "retire", "Lone")
    assert "0 entries: 3 cancelled." in lone.ok("calendar", str(path))
    assert {event.status.value for event in events(path).values()} == {"CANCELLED"}


def test_a_snoozed_task_alarms_when_the_snooze_ends(lone: Cli, path: Path) -> None:
    lone.ok("snooze", "1:pressure-test", "--until", "2026-06-20")
    lone.ok("calendar", str(path))
    event = events(path)["Lone: pressure test"]
    assert event.dtstart.value == date(2026, 6, 10)
    assert [alarm.trigger.value.days for alarm in event.valarm_list] == [10]


def test_what_is_overdue_at_the_first_run_rings_on_the_next_day(lone: Cli, path: Path) -> None:
    lone.ok("event", "Lone", "opened", "--on", "2026-03-14")
    lone.ok("calendar", str(path))
    event = events(path)["Lone: pressure test"]
    assert event.dtstart.value == date(2026, 3, 14)
    assert [alarm.trigger.value.days for alarm in event.valarm_list] == [2]  # 16 March, the day after the run
    first = path.read_bytes()
    lone.today = "2026-03-20"
    assert "nothing changed" in lone.ok("calendar", str(path))
    assert path.read_bytes() == first


def test_a_day_to_come_is_not_written_as_if_it_had_come(lone: Cli, path: Path) -> None:
    lone.ok("calendar", str(path))
    lone.ok("done", "1:pressure-test", "--passed", "--bar", "10")
    lone.ok("calendar", str(path))
    before = path.read_bytes()
    lone.today, lone.clock = "2028-03-16", "2026-03-15"
    said = lone.refused("calendar", str(path))
    assert "--today 2028-03-16 lies ahead: today is 15 Mar 2026." in said
    assert path.read_bytes() == before


def test_what_could_not_be_written_is_counted_by_the_next_run(lone: Cli, path: Path, tmp_path: Path) -> None:
    lone.ok("calendar", str(path))
    lone.ok("done", "1:pressure-test", "--passed", "--bar", "10")
    # A name may have 255 bytes: the file could be there, the draft beside it, whose name is longer, cannot.
    answer = lone("calendar", str(tmp_path / f"{'x' * 250}.ics"))
    assert (answer.code, answer.out) == (4, "")
    assert "could not be written" in answer.err
    assert "3 entries: 1 new, 1 cancelled." in lone.ok("calendar", str(path))
    assert "Lone: pressure test" in events(path)


def test_a_gasket_date_in_the_calendar_does_not_wander(bare: Cli, path: Path) -> None:
    bare.ok(
        "watch", "add", "Lone", "--bar", "10", "--use", "swimming", "--fitted", "2025-06-01",
        "--recorded-from", "2025-06-01", "--interval", "pressure-test=1", "--interval", "strap=120",
        "--tested", "2026-03-15", "--tested-bar", "10",
    )  # fmt: skip
    bare.ok("habit", "Lone", "shower", "--per", "week", "3", "--from", "2025-06-01")
    bare.ok("calendar", str(path))
    first = gaskets_of(path)
    assert first < date(2028, 6, 1)  # by the forecast, not by the interval of 36 months
    bare.today = "2026-03-29"
    bare.ok("wet", "Lone: swim 10min sea 15C rinsed on 2026-03-29")
    foretold = min(s["p50"] for s in bare.json("forecast", "Lone")["seals"] if s["p50"])
    assert 0 < abs((date.fromisoformat(foretold) - first).days) <= 21  # the reach of a date that was told
    bare.ok("calendar", str(path))
    assert gaskets_of(path) == first


def gaskets_of(path: Path) -> date:
    """The day of the entry of the gaskets alone."""
    day = events(path)["Lone: gaskets"].dtstart.value
    assert isinstance(day, date)
    return day


def test_a_link_is_followed_and_stays(lone: Cli, path: Path, tmp_path: Path) -> None:
    link = tmp_path / "link.ics"
    link.symlink_to(path)
    lone.ok("calendar", str(link))
    assert link.is_symlink()
    assert len(events(path)) == 3


FOREIGN = (
    b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//someone//else//EN\r\nEND:VCALENDAR\r\n",
    b"BEGIN:VCALENDAR\r\nX-NOTE:PRODID:-//seal-logbook//logbook//EN\r\nEND:VCALENDAR\r\n",
    b"my notes\n",
    b"",
    b"\x00\xff" * 5_000,
)


@pytest.mark.parametrize("content", FOREIGN)
def test_a_file_that_is_no_calendar_of_ours_is_left_alone(lone: Cli, path: Path, content: bytes) -> None:
    path.write_bytes(content)
    assert "is not a calendar that logbook wrote" in lone.refused("calendar", str(path))
    assert path.read_bytes() == content


def test_nothing_but_a_file_in_a_folder_is_written_to(lone: Cli, tmp_path: Path) -> None:
    assert "There is no folder" in lone.refused("calendar", str(tmp_path / "nowhere" / "a.ics"))
    assert "is a folder" in lone.refused("calendar", str(tmp_path))
    assert "is not a calendar" in lone.refused("calendar", str(lone.file))
    os.mkfifo(tmp_path / "pipe")
    assert "is not a calendar" in lone.refused("calendar", str(tmp_path / "pipe"))
    ring = tmp_path / "ring.ics"
    ring.symlink_to(ring)
    answer = lone("calendar", str(ring))
    assert (answer.code, len(answer.err.strip().splitlines())) == (4, 1)


def test_without_a_record_there_is_nothing_to_write(bare: Cli, path: Path) -> None:
    answer = bare("calendar", str(path))
    assert answer.code == 4
    assert "watch add" in answer.err
    assert not path.exists()


def test_a_calendar_is_no_step_of_undo(lone: Cli, path: Path) -> None:
    lone.ok("watch", "edit", "Lone", "--note", "from a drawer")
    lone.ok("calendar", str(path))
    lone.ok("undo")
    assert lone.everything()["watches"][0]["note"] == ""
    assert "3 entries: nothing changed." in lone.ok("calendar", str(path))
