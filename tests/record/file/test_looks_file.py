"""The owner's `looks.toml`: kept whole and privately, and told of in one sentence when it cannot be used."""

from __future__ import annotations

import os
import stat

import pytest

from logbook.errors import BadInput, RecordTrouble
from logbook.record.file.looks_file import THEMES, keep_theme, kept_theme
from logbook.record.file.places import looks_path


def given(text: str | bytes) -> None:
    path = looks_path()
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text.encode() if isinstance(text, str) else text)


def test_without_a_file_or_in_an_empty_one_none_is_kept() -> None:
    assert kept_theme() is None
    given("# nothing yet\n")
    assert kept_theme() is None


@pytest.mark.parametrize("theme", THEMES)
def test_what_is_kept_is_found_again_in_a_private_file(theme: str) -> None:
    given("what stood = here")
    path = keep_theme(theme)
    assert kept_theme() == theme
    assert path == looks_path()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert [each.name for each in path.parent.iterdir()] == ["looks.toml"]


def test_a_link_to_a_file_elsewhere_stays_a_link(a_home_of_its_own: os.PathLike[str]) -> None:
    given("")
    elsewhere = looks_path().parent.parent / "mine.toml"
    elsewhere.write_text('theme = "deep"\n', encoding="utf-8")
    looks_path().unlink()
    looks_path().symlink_to(elsewhere)
    keep_theme("sand")
    assert looks_path().is_symlink()
    assert elsewhere.read_text(encoding="utf-8") == 'theme = "sand"\n'


def test_a_theme_that_there_is_not_is_refused_and_nothing_is_written() -> None:
    sentence = r"'sant' is no choice of colours; there are deep, sand and terminal\. Did you mean sand"
    with pytest.raises(BadInput, match=sentence):
        keep_theme("sant")
    assert not looks_path().exists()


FAULTS = (
    ('theme = "sant"\n', "line 1, theme: 'sant' is no choice of colours"),
    ('\n\ntheme = ["sand"]\n', "line 3, theme: it must be a name in quotes"),
    ('theme = "\\u001b[31m"\n', r"'\x1b[31m' is no choice of colours"),
    ('# mine\ntheem = "sand"\n', "line 2, theem: there is no such key, only `theme`. Did you mean theme?"),
    ("theme = sand\n", "is not valid TOML"),
    ("theme = " + "[" * 5_000, "is not valid TOML: it is nested too deeply"),
)


@pytest.mark.parametrize(("text", "words"), FAULTS)
def test_a_file_with_a_fault_is_told_in_one_sentence(text: str, words: str) -> None:
    given(text)
    with pytest.raises(BadInput) as caught:
        kept_theme()
    assert words in caught.value.message
    assert caught.value.message.startswith(str(looks_path()))
    assert "\x1b" not in caught.value.message
    assert "\n" not in caught.value.message


@pytest.mark.parametrize(
    ("content", "words"), [(b"\xff\xfe", "not UTF-8 text"), (b"#" * 10_001, "longer than 10,000 bytes")]
)
def test_a_file_that_cannot_be_such_a_file_is_told(content: bytes, words: str) -> None:
    given(content)
    with pytest.raises(RecordTrouble, match=words):
        kept_theme()


def test_a_pipe_in_its_place_is_not_waited_on() -> None:
    looks_path().parent.mkdir(parents=True)
    os.mkfifo(looks_path())
    with pytest.raises(RecordTrouble, match="it is not a file"):
        kept_theme()
