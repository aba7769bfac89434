"""Reads the bytes of a file as UTF-8 text, without guessing."""

from __future__ import annotations

import codecs

from logbook.errors import BadInput
from logbook.model.text import printable

_UTF_16 = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


def text_of(data: bytes, name: str) -> str:
    """The text of a file, without its byte order mark; raises BadInput for another encoding."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        shown, line = printable(name), data.count(b"\n", 0, error.start) + 1
        if data.startswith(_UTF_16):
            raise BadInput(f"{shown}: this looks like UTF-16; save it as UTF-8.", where=name) from None
        sentence = f"the byte 0x{data[error.start]:02x} is not UTF-8; save the file as UTF-8."
        raise BadInput(f"{shown}, line {line}: {sentence}", where=f"line {line}") from None
