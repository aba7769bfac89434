"""Nicknames that what is typed may mean: a part of one, or its letters in order; the best match first."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import prod
from typing import TYPE_CHECKING, TypeVar

from logbook.text.names import folded

if TYPE_CHECKING:
    from textual.fuzzy import Matcher

Meant = TypeVar("Meant")

# Ways to lay letters into a nickname that are weighed against each other; with more they just fit.
MOST_WAYS = 200


def closest(typed: str, meant: Sequence[Meant], words: Callable[[Meant], tuple[str, str]]) -> list[Meant]:
    """Those that may be meant, by nickname or group; of equally good ones the first stays first."""
    if not folded(typed):
        return []
    likeness = Likeness(typed)
    ranked = [(likeness.of(*words(each)), each) for each in meant]
    found = [pair for pair in ranked if pair[0] > (0, 0)]
    found.sort(key=lambda pair: pair[0], reverse=True)
    return [each for _, each in found]


class Likeness:
    """How well a nickname, or else its group, matches what was typed."""

    def __init__(self, typed: str) -> None:
        from textual.fuzzy import Matcher

        self._part = folded(typed)
        self._letters = self._part.replace(" ", "")
        self._of_part, self._of_letters = Matcher(self._part), Matcher(self._letters)

    def of(self, name: str, group: str = "") -> tuple[int, float]:
        """The larger the better: part of the nickname, part of the group, letters in order; else (0, 0)."""
        nickname = folded(name)
        if self._part in nickname:
            return 3, _score(self._of_part, self._part, nickname)
        if self._part in folded(group):
            return 2, 0.0
        if not self._letters_fit(nickname):
            return 0, 0.0
        return 1, _score(self._of_letters, self._letters, nickname)

    def _letters_fit(self, nickname: str) -> bool:
        left = iter(nickname)
        return all(letter in left for letter in self._letters)


def _score(matcher: Matcher, letters: str, nickname: str) -> float:
    """The matcher looks at every way to lay the letters; a nickname of few different ones has millions."""
    ways = prod(nickname.count(letter) for letter in letters)
    return matcher.match(nickname) if ways <= MOST_WAYS else 0.0
