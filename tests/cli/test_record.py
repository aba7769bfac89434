"""`logbook export`, `backup`, `restore`, `doctor`."""

from __future__ import annotations

import csv
import io
import json
import sqlite3
from pathlib import Path

import pytest

from logbook.cli.app import run
from tests.cli.running import CAUTION_START, Cli


def test_the_export_is_the_same_with_and_without_json(wet_cli: Cli) -> None:
    assert json.loads(wet_cli.ok("export")) == wet_cli.json("export")


def test_the_export_holds_the_whole_record_and_the_caution(wet_cli: Cli) -> None:
    wet_cli.ok("habit", "paper", "hands", "--per", "day", "2")
    wet_cli.ok("worn", "reed")
    document = wet_cli.json("export")
    assert document["version"] == 1
    counts = {key: len(document[key]) for key in ("watches", "exposures", "events", "worn", "habits")}
    assert counts["watches"] == 3
    assert counts["exposures"] == 2
    assert counts["worn"] == counts["habits"] == 1
    assert document["caution"].startswith(CAUTION_START)


def test_the_export_goes_into_a_private_file_that_is_new(cli: Cli, tmp_path: Path) -> None:
    target = tmp_path / "out.json"
    assert cli.json("export", "--out", str(target)) == {"path": str(target), "watches": 3, "exposures": 0}
    assert json.loads(target.read_text(encoding="utf-8")) == cli.json("export")
    assert target.stat().st_mode & 0o777 == 0o600
    assert "already a file" in cli.refused("export", "--out", str(target))


@pytest.mark.parametrize(
    ("kind", "count"), [("exposures", 2), ("events", 5), ("worn", 1), ("habits", 1), ("watches", 3)]
)
def test_one_kind_of_entry_is_exported_as_a_table(
    wet_cli: Cli, tmp_path: Path, capsys: pytest.CaptureFixture[str], kind: str, count: int
) -> None:
    wet_cli.ok("habit", "paper", "hands", "--per", "day", "2")
    wet_cli.ok("worn", "reed")
    target = tmp_path / f"{kind}.csv"
    rows = f"{count} row" if count == 1 else f"{count} rows"
    assert (
        wet_cli.ok("export", "--csv", kind, "--out", str(target)) == f"Wrote {rows} of {kind} to {target}.\n"
    )
    assert target.stat().st_mode & 0o777 == 0o600
    text = target.read_bytes().decode("utf-8")
    capsys.readouterr()
    assert run(["export", "--csv", kind, "--file", str(wet_cli.file), "--today", wet_cli.today]) == 0
    assert capsys.readouterr().out == text
    assert text.count("\r\n") == text.count("\n") == count + 1
    ids = [line["id"] for line in csv.DictReader(io.StringIO(text, newline=""), strict=True)]
    document = wet_cli.json("export")
    assert ids == [str(entry["id"]) for entry in document[kind]]


def test_a_table_has_its_units_in_its_header_and_no_formulas(wet_cli: Cli) -> None:
    wet_cli.ok("wet", 'reed: dive 21m 38min -1.5C on 2026-02-22 -- =1+1, "cold"')
    lines = list(csv.DictReader(io.StringIO(wet_cli.ok("export", "--csv", "exposures"), newline="")))
    assert (lines[-1]["depth_m"], lines[-1]["duration_s"], lines[-1]["water_c"]) == ("21", "2280", "-1.5")
    assert lines[-1]["note"] == '\'=1+1, "cold"'
    assert lines[0]["watch"] == "Reed green"


def last_pass(cli: Cli, name: str) -> tuple[str, str, str]:
    """Day, pressure in Pa and medium of the last passed test of a watch, as its table has them."""
    lines = csv.DictReader(io.StringIO(cli.ok("export", "--csv", "watches"), newline=""))
    (line,) = [line for line in lines if line["name"] == name]
    return line["tested"], line["tested_pa"], line["tested_medium"]


LIDO_TEST = ("event", "lido", "pressure-test", "--medium", "water")


def test_the_last_test_of_a_table_is_the_latest_not_the_one_that_was_typed_last(cli: Cli) -> None:
    cli.ok(*LIDO_TEST, "--passed", "--bar", "9", "--on", "2026-03-10")
    cli.ok(*LIDO_TEST, "--passed", "--bar", "5", "--on", "2026-02-01")
    assert last_pass(cli, "Lido chrono") == ("2026-03-10", "900000", "water")


def test_a_test_to_the_mark_has_the_pressure_of_the_mark_in_a_table(cli: Cli) -> None:
    cli.ok(*LIDO_TEST, "--passed", "--to-mark", "--on", "2026-03-10")
    assert last_pass(cli, "Lido chrono") == ("2026-03-10", "1000000", "water")


def test_a_failed_test_is_never_the_last_passed_one_of_a_table(cli: Cli) -> None:
    cli.ok(*LIDO_TEST, "--passed", "--bar", "9", "--on", "2026-03-10")
    cli.ok(*LIDO_TEST, "--failed", "--bar", "10", "--on", "2026-03-12")
    assert last_pass(cli, "Lido chrono") == ("2026-03-10", "900000", "water")


def test_a_table_is_not_json_and_of_a_kind_that_there_is(wet_cli: Cli, tmp_path: Path) -> None:
    assert "two answers; choose one" in wet_cli("export", "--csv", "worn", "--json").json["error"]["message"]
    answer = wet_cli("export", "--csv", "seals")
    assert (answer.code, answer.out) == (3, "")
    assert "there are exposures, events, worn, habits and watches" in answer.err
    target = tmp_path / "taken.csv"
    target.touch()
    answer = wet_cli("export", "--csv", "worn", "--out", str(target))
    assert (answer.code, target.read_bytes()) == (3, b"")
    assert "already a file" in answer.err


def test_a_backup_restored_is_the_record_it_was(wet_cli: Cli, tmp_path: Path) -> None:
    copy = tmp_path / "copy.logbook"
    before = wet_cli.everything()
    assert wet_cli.json("backup", str(copy)) == {"path": str(copy)}
    wet_cli.ok("wet", "lido: pool")
    document = wet_cli.json("restore", str(copy))
    assert wet_cli.everything() == before
    kept = Path(document["kept"])
    assert kept.exists()
    wet_cli.file = kept
    assert len(wet_cli.everything()["exposures"]) == 3


def test_backup_and_restore_say_what_they_did(cli: Cli, tmp_path: Path) -> None:
    copy = tmp_path / "copy.logbook"
    assert f"copied to {copy}" in cli.ok("backup", str(copy))
    assert "already a file" in cli.refused("backup", str(copy))
    assert "What was there is kept as" in cli.ok("restore", str(copy))


@pytest.mark.parametrize("command", [("backup",), ("export", "--out")])
def test_a_folder_that_is_not_there_is_named_and_not_made(
    cli: Cli, tmp_path: Path, command: tuple[str, ...]
) -> None:
    target = tmp_path / "no" / "such" / "copy"
    said = cli.refused(*command, str(target))
    assert f"There is no folder {tmp_path / 'no'};" in said
    assert not (tmp_path / "no").exists()
    (tmp_path / "no").write_text("a file")
    assert f"{tmp_path / 'no'} is not a folder;" in cli.refused(*command, str(target))


def test_a_name_without_a_folder_is_of_the_folder_one_is_in(
    cli: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    cli.ok("backup", "copy.logbook")
    cli.ok("export", "--out", "copy.json")
    assert (tmp_path / "copy.logbook").exists()
    assert (tmp_path / "copy.json").exists()


def test_what_is_no_backup_is_refused_and_the_record_left_alone(cli: Cli, tmp_path: Path) -> None:
    empty, foreign = tmp_path / "empty", tmp_path / "foreign"
    empty.touch()
    with sqlite3.connect(foreign) as other:
        other.execute("CREATE TABLE notes (text)")
    for source in (empty, foreign, tmp_path / "missing"):
        assert "left alone" in cli.refused("restore", str(source))


def test_a_sound_record_is_called_sound(cli: Cli) -> None:
    assert cli.json("doctor") == {
        "path": str(cli.file), "sound": True, "findings": [], "clock_behind_by": None,
    }  # fmt: skip
    assert cli.ok("doctor") == f"{cli.file} is sound.\n"


def test_a_ledger_that_does_not_add_up_is_found_and_mended(wet_cli: Cli) -> None:
    before = wet_cli.score("reed")
    with sqlite3.connect(wet_cli.file) as record:
        record.execute("UPDATE seal_total SET salt = salt + 1000000")
    answer = wet_cli("doctor", "--json")
    assert answer.code == 4
    assert answer.json["sound"] is False
    assert [f["about"] for f in answer.json["findings"]] == ["ledger"]
    assert "doctor --mend" in wet_cli("doctor").out
    assert "Mended." in wet_cli.ok("doctor", "--mend")
    assert wet_cli.score("reed") == before
    assert wet_cli.json("doctor")["sound"] is True


def test_a_record_that_others_can_read_is_told(cli: Cli) -> None:
    cli.file.chmod(0o644)
    assert "0600 is private" in cli.ok("doctor")
    assert cli.json("doctor")["sound"] is True


def test_a_record_that_is_not_there_is_not_sound(bare: Cli) -> None:
    answer = bare("doctor", "--json")
    assert answer.code == 4
    assert answer.json["sound"] is False


def test_a_file_that_is_no_record_is_not_sound(bare: Cli) -> None:
    bare.file.write_text("notes of another kind", encoding="utf-8")
    answer = bare("doctor")
    assert answer.code == 4
    assert "not a logbook record" in answer.out


def test_an_empty_or_foreign_file_is_never_taken_for_a_record(bare: Cli) -> None:
    bare.file.touch()
    for words in (("shelf",), ("watch", "add", "New")):
        answer = bare(*words)
        assert answer.code == 3
        assert "empty file is never taken for an empty logbook" in answer.err
    bare.file.unlink()
    with sqlite3.connect(bare.file) as other:
        other.execute("CREATE TABLE notes (text)")
    before = bare.file.read_bytes()
    for words in (("due",), ("watch", "add", "New"), ("backup", str(bare.file.with_name("b")))):
        assert bare(*words).code == 3
    assert bare.file.read_bytes() == before


def test_a_record_that_is_not_there_is_said_with_what_to_do(bare: Cli) -> None:
    for words in (("shelf",), ("due",), ("score", "x"), ("wet", "x: rain"), ("log",), ("undo",)):
        answer = bare(*words)
        assert answer.code == 4, words
        assert "logbook watch add NAME" in answer.err
    assert not bare.file.exists()


@pytest.mark.parametrize("name", ["a\x1b[31mb", "a\x9bb", "a\u202eb", "a\udcffb"])
def test_a_path_is_shown_without_what_a_terminal_obeys(cli: Cli, tmp_path: Path, name: str) -> None:
    said = cli.ok("backup", str(tmp_path / f"{name}.logbook"))
    said += cli.ok("export", "--out", str(tmp_path / f"{name}.json"))
    said += cli.ok("export", "--csv", "worn", "--out", str(tmp_path / f"{name}.csv"))
    said += cli.ok("restore", str(tmp_path / f"{name}.logbook"))
    cli.file = cli.file.rename(tmp_path / f"{name}.other")
    said += cli.ok("doctor") + cli("backup", str(tmp_path / f"{name}.json")).err
    assert said.count("/a\\") >= 6
    assert not {*name} - {*"ab[31m"} & {*said}
