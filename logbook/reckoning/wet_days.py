"""Days with water: what was logged on each, what it cost, and round steps to tell them apart by."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

LEAST_SHARE = 5e-6  # of an interval; below, a day's cost is 0 in words too
LEVELS = 4


@dataclass(frozen=True, slots=True)
class WetDay:
    """What was logged of a watch on one civil day; `share` is what it added to the seal in one place."""

    on: date
    count: int
    duration_s: int
    share: float = 0.0


@dataclass(frozen=True, slots=True)
class Year:
    """A calendar year of a watch's days with water, oldest first."""

    year: int
    days: tuple[WetDay, ...]

    @property
    def by_cost(self) -> bool:
        """True when the days differ by what they cost; else by their minutes."""
        return any(day.share > LEAST_SHARE for day in self.days)

    @property
    def share(self) -> float:
        """What the days added in all."""
        return sum(day.share for day in self.days)

    @property
    def duration_s(self) -> int:
        """How long it was in water in all."""
        return sum(day.duration_s for day in self.days)

    def size(self, day: WetDay) -> float:
        """What a day is measured by: parts of 100, or minutes."""
        return 100 * day.share if self.by_cost else day.duration_s / 60

    @property
    def greatest(self) -> WetDay | None:
        """The costliest day, or the longest; of equal ones the first."""
        return max(self.days, key=self.size, default=None)

    @property
    def steps(self) -> tuple[float, ...]:
        """Where the second, third and fourth level begin: round, and the last one reached by some day."""
        greatest = self.greatest
        return round_steps(self.size(greatest)) if greatest else ()

    def level(self, day: WetDay) -> int:
        """1 for the days that cost least, to 4."""
        return 1 + sum(self.size(day) >= step for step in self.steps)

    @property
    def most_in(self) -> tuple[int, int]:
        """The month with the most days of water and how many; of equal ones the first. (0, 0) without any."""
        months = Counter(day.on.month for day in self.days)
        return max(months.items(), key=lambda found: (found[1], -found[0]), default=(0, 0))


def round_steps(greatest: float) -> tuple[float, ...]:
    """Once, twice and three times a number of one digit, the last at or below `greatest`."""
    if greatest <= 0:
        return ()
    ladder = (float(f"{digit}e{power}") for power in range(-5, 6) for digit in (1, 2, 3, 4, 5, 6, 8))
    step = max((step for step in ladder if step * (LEVELS - 1) <= greatest), default=0.0)
    return tuple(float(f"{step * n:.6g}") for n in range(1, LEVELS)) if step else ()


def weeks_of(year: int) -> Sequence[Sequence[date | None]]:
    """The weeks of a calendar year, each from Monday to Sunday; None for days of the years around it."""
    first, last = date(year, 1, 1).toordinal(), date(year, 12, 31).toordinal()
    monday = first - (first - 1) % 7  # ordinal 1 is a Monday
    return [
        [date.fromordinal(day) if first <= day <= last else None for day in range(begin, begin + 7)]
        for begin in range(monday, last + 1, 7)
    ]
