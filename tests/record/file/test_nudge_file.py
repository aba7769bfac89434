"""The owner's `nudge.toml`: what it may say, and where a fault in it stands."""

from __future__ import annotations

import pytest

from logbook.errors import BadInput, RecordTrouble
from logbook.record.file.nudge_file import nudge_command
from logbook.record.file.places import nudge_path


def given(text: str | bytes) -> None:
    path = nudge_path()
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text.encode() if isinstance(text, str) else text)


def test_without_a_file_or_a_command_there_is_none() -> None:
    assert nudge_command() is None
    given("# nothing yet\n")
    assert nudge_command() is None


def test_a_command_is_a_program_and_its_arguments_as_they_are() -> None:
    given('command = ["pager", "--to", "$HOME; *"]\n')
    assert nudge_command() == ("pager", "--to", "$HOME; *")


FAULTS = (
    ('command = "pager"\n', 1, "list of texts"),
    ('\n\ncommand = ["pager", 3]\n', 3, "list of texts"),
    ("command = []\n", 1, "names no program"),
    ('command = [" "]\n', 1, "names no program"),
    ('command = ["a\\u0000b"]\n', 1, "NUL"),
    ('# mine\ncomand = ["pager"]\n', 2, "Did you mean command?"),
    ('[mail]\nto = "me"\n', 1, "no such key"),
)


@pytest.mark.parametrize(("text", "line", "words"), FAULTS)
def test_a_fault_is_named_with_its_file_line_and_key(text: str, line: int, words: str) -> None:
    given(text)
    with pytest.raises(BadInput) as caught:
        nudge_command()
    assert caught.value.where == f"{nudge_path()}:{line}"
    assert words in caught.value.message
    assert f"line {line}, " in caught.value.message


def test_what_is_no_toml_is_said_with_its_line() -> None:
    given('command = ["pager"\n\n[x\n')
    with pytest.raises(BadInput, match=r"is not valid TOML: .*line \d"):
        nudge_command()


def test_what_is_no_text_cannot_be_read() -> None:
    given(b"\xff\xfe")
    with pytest.raises(RecordTrouble, match="not UTF-8"):
        nudge_command()
