"""What runs each day, and how the files of a scheduler are written and taken back."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from logbook.errors import Refused, SystemTrouble
from logbook.model.text import printable
from logbook.record.file import files

ABOUT = "What is coming up or due on your watches"
MARKER = "Written by `logbook nudge install`; `logbook nudge remove` takes it away."


@dataclass(frozen=True, slots=True)
class Job:
    """A command to run once a day, at a time of the local clock."""

    words: tuple[str, ...]
    hour: int
    minute: int
    surroundings: Mapping[str, str] = field(default_factory=dict)  # environment variables

    def __post_init__(self) -> None:
        """Refuses words that a line of a scheduler's file cannot hold."""
        for word in (*self.words, *self.surroundings.values()):
            if any(unicodedata.category(char) in ("Cc", "Cs", "Zl", "Zp") for char in word):
                sentence = (
                    f"No scheduler can be given {printable(word, 200)!r}: it holds a control character."
                )
                raise Refused(sentence)


@dataclass(frozen=True, slots=True)
class Piece:
    """One thing that installing writes: a file or, where `path` is None, a line of the crontab."""

    path: Path | None
    content: bytes

    @property
    def text(self) -> str:
        return self.content.decode()


@contextmanager
def written(pieces: Sequence[Piece], is_ours: Callable[[bytes], bool]) -> Iterator[None]:
    """Writes files while something else is tried; if that fails, they are restored.

    Raises Refused for an existing file that is not ours, SystemTrouble when a file cannot be written.
    """
    before: dict[Path, bytes | None] = {}
    placed = [(piece.path, piece.content) for piece in pieces if piece.path is not None]
    try:
        for path, _ in placed:
            before[path] = path.read_bytes() if path.exists() else None
            if not is_ours(before[path] or b"") and before[path] is not None:
                raise Refused(f"{path} was not written by logbook; it was left as it is.", where=str(path))
    except OSError as error:
        raise _trouble(error) from None
    try:
        for path, content in placed:
            path.parent.mkdir(parents=True, exist_ok=True)
            _put(path, content)
        yield
    except BaseException as error:
        for path, content_before in before.items():
            _put_back(path, content_before)
        if isinstance(error, OSError):
            raise _trouble(error) from None
        raise


def take_away(paths: Sequence[Path]) -> None:
    """Removes files; raises SystemTrouble where one cannot be removed."""
    try:
        for path in paths:
            path.unlink(missing_ok=True)
    except OSError as error:
        raise _trouble(error) from None


def _put_back(path: Path, content: bytes | None) -> None:
    if content is None:
        path.unlink(missing_ok=True)
    elif path.read_bytes() != content:
        _put(path, content)


def _put(path: Path, content: bytes) -> None:
    draft = files.draft_beside(path)
    try:
        draft.write_bytes(content)
        files.place_over(draft, path)
    finally:
        draft.unlink(missing_ok=True)


def _trouble(error: OSError) -> SystemTrouble:
    where = str(error.filename or "")
    return SystemTrouble(f"{where} could not be written: {error.strerror or error}.", where=where or None)


def holds(path: Path, is_ours: Callable[[bytes], bool]) -> bool:
    """True where a file stands there that logbook wrote."""
    return path.is_file() and is_ours(path.read_bytes())
