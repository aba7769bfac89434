"""What was typed: text from a file or from standard input, words that the shell parted."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from logbook.errors import BadInput, RecordTrouble
from logbook.record.file.places import typed_path

LARGEST = 50_000_000  # bytes; a point a second for half a year


def text_of(file: str) -> str:
    """What a file holds, or standard input for `-`; raises when it is not readable, no text, or too large."""
    name = "The input" if file == "-" else file
    try:
        data = sys.stdin.buffer.read(LARGEST + 1) if file == "-" else _start_of(typed_path(file))
        text = data.decode("utf-8-sig")
    except OSError as error:
        raise RecordTrouble(f"{name} could not be read: {error.strerror}.", where=file) from None
    except UnicodeDecodeError:
        raise BadInput(f"{name} is not UTF-8 text.", where=file) from None
    if len(data) > LARGEST:
        raise BadInput(f"{name} is larger than {LARGEST // 1_000_000} MB.", where=file)
    return text


def _start_of(path: Path) -> bytes:
    with path.open("rb") as stream:
        return stream.read(LARGEST + 1)


def several(words: Sequence[str]) -> str:
    """Words that the shell parted, as the one line that they were."""
    return " ".join(words)


def with_words(line: str, words: str) -> str:
    """The line with more words, put before its note."""
    entry, mark, note = line.partition(" -- ")
    return f"{entry} {words}{mark}{note}"
