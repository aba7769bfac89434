"""The bytes of a file as text: UTF-8 alone, and the others named."""

from __future__ import annotations

import pytest

from logbook.errors import BadInput
from logbook.text.plain_text import text_of


@pytest.mark.parametrize("data", ["a,b\nä\n".encode(), "a,b\nä\n".encode("utf-8-sig")])
def test_utf_8_is_read_with_its_mark_or_without(data: bytes) -> None:
    assert text_of(data, "swims.csv") == "a,b\nä\n"


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_utf_16_is_called_by_its_name(encoding: str) -> None:
    with pytest.raises(BadInput) as caught:
        text_of("\ufeffa,b\n".encode(encoding), "swims.csv")
    assert caught.value.message == "swims.csv: this looks like UTF-16; save it as UTF-8."


def test_another_encoding_is_said_with_its_line() -> None:
    with pytest.raises(BadInput) as caught:
        text_of("a,b\nä\n".encode("latin-1"), "swims.csv")
    assert caught.value.message.startswith("swims.csv, line 2: the byte 0xe4 is not UTF-8")
    assert caught.value.where == "line 2"
