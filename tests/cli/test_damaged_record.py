"""A damaged record ends every command with one sentence that names the way back, never with a traceback."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.record.file.practice_file import load_practice
from logbook.record.file.store import Store
from tests.cli.running import Answer, Cli
from tests.record.damage import NOT_UTF8, fill_every_table, spoil

WATCH = "Blue bezel"
READING = (
    ("shelf",),
    ("log",),
    ("due",),
    ("score", WATCH),
    ("watch", "show", WATCH),
    ("plan",),
    ("export",),
    ("export", "--csv", "events"),
    ("settings",),
    ("chance", WATCH),
)
WRITING = (("wet", f"{WATCH}: rain"), ("undo",), ("redo",), ("strike", "last"))


@pytest.fixture(scope="session")
def full_record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A record with rows in every table, to make copies of."""
    path = tmp_path_factory.mktemp("full") / "record.logbook"
    with Store.open(path, create=True) as store:
        fill_every_table(store, load_practice())
    return path


def schema(table: str, sql: str) -> str:
    return f"UPDATE sqlite_schema SET sql = {sql} WHERE name = '{table}'"


# What is done to a record -> the commands that cannot do without what it spoils.
DAMAGE: dict[str, tuple[str, str | None, tuple[str, ...]]] = {
    "a text that is no text": (
        f"UPDATE watch SET note = {NOT_UTF8}",
        None,
        ("shelf", "log", "wet", "export"),
    ),
    "a type": ("UPDATE exposure SET depth_mm = 'deep'", "exposure", ("log", "export")),
    "a number in bytes": ("UPDATE seal_total SET salt = x'00'", "seal_total", ("shelf", "score")),
    "a word of water": ("UPDATE exposure SET water = 'wine'", None, ("log", "export", "plan")),
    "a word of a seal": ("UPDATE seal SET position = 'strap' WHERE id = 1", None, ("shelf", "score", "due")),
    "a depth": ("UPDATE exposure SET depth_mm = -5", None, ("log", "export", "plan")),
    "a date": ("UPDATE seal SET fitted_latest = '2026-99-99'", None, ("shelf", "score", "wet")),
    "an altitude": ("UPDATE setting SET altitude_mm = 9223372036854775807", None, ()),
    "a step of undo": ("UPDATE change SET other_rows = '[{'", None, ("undo",)),
    "a table": ("DELETE FROM sqlite_schema WHERE name = 'seal'", None, ("shelf", "wet", "export")),
    "the table of facts": ("DELETE FROM sqlite_schema WHERE name = 'meta'", None, ("shelf", "wet", "undo")),
    "a schema": (schema("watch", "'CREATE TABLE watch (id'"), None, ("shelf", "wet", "undo", "export")),
    "a schema that is no text": (
        schema("exposure", f"REPLACE(sql, ' CHECK ', {NOT_UTF8})"),
        None,
        ("shelf", "wet"),
    ),
    "a column": (schema("exposure", "REPLACE(sql, 'depth_mm', 'depth_xx')"), None, ("log", "wet", "export")),
    "its revision": ("UPDATE alembic_version SET version_num = 'x'", None, ("shelf", "wet", "export")),
}


def damaged(record: Path, what: str) -> tuple[str, ...]:
    statement, table, commands = DAMAGE[what]
    spoil(record, statement, table=table)
    return commands


def assert_plain(answer: Answer, words: tuple[str, ...], *, spoilt: bool = False) -> None:
    """It ended as a command ends; where the record could not be used, with the way to bring one back."""
    said = answer.out + answer.err
    assert "Something went wrong" not in said, (words, answer)
    assert "Traceback" not in said, (words, answer)
    assert answer.code in (0, 1, 2, 3, 4), (words, answer)
    if spoilt or (answer.code == 4 and words[0] != "doctor"):
        assert answer.code in (3, 4), (words, answer)
        assert "logbook restore" in said, (words, answer)


@pytest.mark.parametrize("what", DAMAGE)
def test_every_command_ends_in_one_sentence_on_a_damaged_record(
    full_record: Path, tmp_path: Path, what: str
) -> None:
    cli = Cli(tmp_path / "record.logbook", "2026-03-15")
    shutil.copy(full_record, cli.file)
    spoilt = damaged(cli.file, what)
    hurt = cli.file.read_bytes()
    for words in (*READING, *WRITING):
        answer = cli(*words)
        assert_plain(answer, words, spoilt=words[0] in spoilt)
        if answer.code > 2:
            assert (answer.out, answer.err.count("\n")) == ("", 1), (words, answer)
            document = cli(*words, "--json")
            assert json.loads(document.out)["error"]["message"], words
        cli.file.write_bytes(hurt)
    assert cli("doctor").code == 4
    refused = cli("backup", str(tmp_path / "copy"))
    assert refused.code in (3, 4)
    assert not (tmp_path / "copy").exists()


@settings(max_examples=12, deadline=None)
@given(st.data())
def test_bytes_that_changed_anywhere_end_no_command_in_a_traceback(
    full_record: Path, data: st.DataObject
) -> None:
    whole = bytearray(full_record.read_bytes())
    for _ in range(data.draw(st.integers(1, 8), label="how many")):
        whole[data.draw(st.integers(0, len(whole) - 1), label="where")] = data.draw(st.integers(0, 255))
    cli = Cli(full_record.with_name("hurt.logbook"), "2026-03-15")
    for words in (data.draw(st.sampled_from(READING)), data.draw(st.sampled_from(WRITING)), ("doctor",)):
        cli.file.write_bytes(whole)
        cli.file.chmod(0o600)
        assert_plain(cli(*words), words)


def test_a_record_that_is_cut_short_names_the_way_back(full_record: Path, tmp_path: Path) -> None:
    cli = Cli(tmp_path / "record.logbook", "2026-03-15")
    cli.file.write_bytes(full_record.read_bytes()[:-5000])
    for words in (("shelf",), WRITING[0]):
        assert_plain(cli(*words), words, spoilt=True)


def test_a_header_that_the_database_does_not_know_names_the_way_back(
    full_record: Path, tmp_path: Path
) -> None:
    cli = Cli(tmp_path / "record.logbook", "2026-03-15")
    whole = bytearray(full_record.read_bytes())
    whole[47] = 9  # the format of the schema, of which SQLite has four
    for words in (("shelf",), WRITING[0]):
        cli.file.write_bytes(whole)
        cli.file.chmod(0o600)
        assert_plain(cli(*words), words, spoilt=True)


def test_a_fault_of_the_program_is_not_blamed_on_a_sound_record(
    full_record: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise KeyError("ours")

    cli = Cli(tmp_path / "record.logbook", "2026-03-15")
    shutil.copy(full_record, cli.file)
    monkeypatch.setattr("logbook.record.schema.shapes.WATCH.value", fail)
    answer = cli("shelf")
    assert "Something went wrong in logbook itself (KeyError: 'ours')" in answer.err
