"""Text that people type: shown without control bytes, tidied, and matched to the nearest known word."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable
from datetime import date

from logbook.errors import BadInput

NAME_LENGTH = 80
NOTE_LENGTH = 2_000

# Embeddings, overrides and isolates reorder the text around them on a screen.
_REORDERING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_JOINERS = frozenset("\u200c\u200d")  # needed inside words of some scripts and inside emoji
_SPACING = frozenset("\t\n\r")
_IN_BACKQUOTES = re.compile(r"(?:[^\s`]*`[^`]*`)+[^\s`]*")  # with the signs attached to it, such as a bracket


def printable(text: str, limit: int | None = None) -> str:
    r"""`text` on one line with controls, separators and invisible marks escaped (`\x1b`, `\u202e`).

    With a `limit` in characters, longer text ends in "…".
    """
    if limit is not None and len(text) > limit:
        text = text[: limit - 1] + "…"
    return "".join(_escaped(char) if _is_hidden(char) else char for char in text)


def clean(text: str, what: str, where: str, limit: int = NOTE_LENGTH) -> str:
    """`text` on one line, each run of blanks one space; raises BadInput for control characters or length.

    Tabs and line ends count as blanks. It refuses characters that reorder a screen, too.
    """
    for char in text:
        if char in _REORDERING or (unicodedata.category(char) in ("Cc", "Cs") and char not in _SPACING):
            shown = _escaped(char)
            raise BadInput(f"The {what} contains the control character {shown}; leave it out.", where=where)
    tidy = " ".join(text.split())
    if len(tidy) > limit:
        raise BadInput(f"The {what} has {len(tidy):,} characters; at most {limit:,} fit.", where=where)
    return tidy


def kept_whole(text: str, room: int, measure: Callable[[str], int] = len) -> str:
    """Text in which backquoted parts do not break across lines, where they fit `room` columns.

    People copy a command as it stands, so it belongs on one line.
    """
    return _IN_BACKQUOTES.sub(
        lambda found: found[0].replace(" ", "\u00a0") if measure(found[0]) <= room else found[0], text
    )


def full_date(day: date) -> str:
    """`22 Nov 2026`."""
    return f"{day.day} {day:%b %Y}"


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that looks most like `word`, or None if none is close; never `word` itself."""
    import difflib

    # A long word matches nothing and only costs time.
    others = [each for each in known if each != word]
    found = difflib.get_close_matches(word[:NAME_LENGTH], others, n=1, cutoff=0.6)
    return found[0] if found else None


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """A question that offers the nearest known word, with a space before it; empty where there is none."""
    found = nearest(word, known)
    return f" Did you mean {found}?" if found else ""


def listed(words: Iterable[str], last: str = "or") -> str:
    """`a, b or c`."""
    every = list(words)
    return f"{', '.join(every[:-1])} {last} {every[-1]}" if len(every) > 1 else "".join(every)


def _is_hidden(char: str) -> bool:
    if char.isascii():
        return not " " <= char <= "~"
    return unicodedata.category(char) in ("Cc", "Cs", "Cf", "Zl", "Zp") and char not in _JOINERS


def _escaped(char: str) -> str:
    code = ord(char)
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"


def likely(low: int | None, high: int | None) -> str:
    """`, likely 58–80` after a score, or nothing where its band is not computed."""
    return "" if low is None or high is None else f", likely {low}–{high}"
