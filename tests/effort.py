"""How hard a property is tried: with a part of its examples every day, with all of them before a release.

`pytest --hypothesis-profile=release` tries all of them; without it the daily part is tried.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import islice
from typing import TypeVar

from hypothesis import settings

Case = TypeVar("Case")
DAILY, RELEASE = "daily", "release"
PART = 6  # one example of so many is tried every day
FEWEST = 15

# Without a time limit for one example, since the machine may be busy.
settings.register_profile(RELEASE, deadline=None, max_examples=100)
settings.register_profile(DAILY, deadline=None, max_examples=100 // PART)


def tries(full: int) -> int:
    """How many examples are tried in this run of those that are tried before a release."""
    return full if _in_full() else min(full, max(FEWEST, full // PART))


def part_of(cases: Iterable[Case]) -> Iterator[Case]:
    """The cases that are tried in this run: all before a release, otherwise some from all over them."""
    return islice(cases, 0, None, 1 if _in_full() else PART)


def _in_full() -> bool:
    return settings.get_current_profile_name() == RELEASE
