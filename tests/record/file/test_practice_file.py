"""The constants in force: the shipped file, and over it the owner's own."""

from __future__ import annotations

from pathlib import Path

import pytest

from logbook.errors import BadInput, RecordTrouble
from logbook.record.file.places import override_path
from logbook.record.file.practice_file import load_practice

OVERRIDE = "[constants.H_salt]\nvalue = 200\n"


def test_without_an_override_the_shipped_constants_are_in_force() -> None:
    practice = load_practice()
    assert practice["H_salt"] == 300
    assert practice.overridden == ()


def test_the_owners_file_lies_over_the_shipped_one(a_home_of_its_own: Path) -> None:
    shipped = load_practice()
    path = override_path()
    assert path.is_relative_to(a_home_of_its_own)
    path.parent.mkdir(parents=True)
    path.write_text(OVERRIDE, encoding="utf-8")
    practice = load_practice()
    assert practice["H_salt"] == 200
    assert practice.fingerprint != shipped.fingerprint


def test_the_environment_names_another_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(OVERRIDE, encoding="utf-8")
    monkeypatch.setenv("LOGBOOK_PRACTICE", str(path))
    assert load_practice()["H_salt"] == 200


def test_a_mistake_in_the_owners_file_names_file_and_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "mine.toml"
    path.write_text("[constants.H_salt]\nvalue = 'much'\n", encoding="utf-8")
    monkeypatch.setenv("LOGBOOK_PRACTICE", str(path))
    with pytest.raises(BadInput, match=r"mine\.toml, line 2"):
        load_practice()


@pytest.mark.parametrize("spoil", ["missing", "folder", "not text"])
def test_a_file_that_cannot_be_read_is_one_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, spoil: str
) -> None:
    path = tmp_path / "mine.toml"
    if spoil == "folder":
        path.mkdir()
    elif spoil == "not text":
        path.write_bytes(b"\xff\xfe")
    monkeypatch.setenv("LOGBOOK_PRACTICE", str(path))
    with pytest.raises(RecordTrouble, match=r"The constants in .*mine\.toml could not be read"):
        load_practice()
