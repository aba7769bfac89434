"""Finding words in the Guide: case, accents and kinds of quotation marks and dashes make no difference."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from functools import lru_cache

from logbook.tui.shell.ink import Piece

# As typed on a keyboard for as printed.
_ALIKE = str.maketrans({"’": "'", "‘": "'", "“": '"', "”": '"', "–": "-", "−": "-", "‑": "-", "\u00a0": " "})


@lru_cache(maxsize=4096)
def fold(text: str) -> str:
    """`text` as it is compared."""
    return "".join(_fold_char(char) for char in text)


@lru_cache(maxsize=1024)
def _fold_char(char: str) -> str:
    apart = unicodedata.normalize("NFKD", char).casefold()
    return "".join(c for c in apart if not unicodedata.combining(c)).translate(_ALIKE)


def wanted(query: str) -> tuple[str, ...]:
    """The words of a search, as they are compared; each must be found."""
    return tuple(fold(query).split())


def found_in(text: str, words: Sequence[str]) -> bool:
    """True when every word is somewhere in `text`."""
    folded = fold(text)
    return all(word in folded for word in words)


def marked(text: str, role: str, words: Sequence[str]) -> list[Piece]:
    """`text` in pieces, what was searched for in a role of its own."""
    if not words:
        return [(text, role)]
    origin = [n for n, char in enumerate(text) for _ in _fold_char(char)]  # folded place -> place in `text`
    folded = fold(text)
    hit = [False] * len(text)
    for word in words:
        at = folded.find(word)
        while at >= 0:
            for n in origin[at : at + len(word)]:
                hit[n] = True
            at = folded.find(word, at + len(word))
    pieces: list[Piece] = []
    for char, here in zip(text, hit, strict=True):
        piece_role = "key" if here else role
        if pieces and pieces[-1][1] == piece_role:
            pieces[-1] = (pieces[-1][0] + char, piece_role)
        else:
            pieces.append((char, piece_role))
    return pieces
