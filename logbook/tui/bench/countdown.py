"""A countdown that can be held and goes on; it knows no screen and asks a clock for the time."""

from __future__ import annotations

import math
from collections.abc import Callable


class Countdown:
    """Seconds left of `total_s` by a clock that only runs forward, such as `time.monotonic`."""

    def __init__(self, total_s: float, clock: Callable[[], float]) -> None:
        self.total_s = total_s
        self._clock = clock
        self._ran_s = 0.0  # until it was last held
        self._since: float | None = None  # by the clock; None: it is held

    @property
    def left_s(self) -> float:
        """What is left, never below 0."""
        running_s = 0.0 if self._since is None else self._clock() - self._since
        return max(0.0, self.total_s - self._ran_s - running_s)

    @property
    def over(self) -> bool:
        """True once nothing is left."""
        return self.left_s == 0

    @property
    def running(self) -> bool:
        """True while it counts."""
        return self._since is not None and not self.over

    @property
    def fresh(self) -> bool:
        """True before its first start."""
        return self._since is None and self._ran_s == 0

    def start(self) -> None:
        """Count, or go on counting."""
        if self._since is None:
            self._since = self._clock()

    def hold(self) -> None:
        """Stand still until the next start."""
        self._ran_s, self._since = self.total_s - self.left_s, None

    def reset(self, total_s: float) -> None:
        """Back to the beginning, standing still."""
        self.total_s, self._ran_s, self._since = total_s, 0.0, None

    def words(self) -> str:
        """`not started`, `running`, `held` or `over`."""
        if self.fresh:
            return "not started"
        return "over" if self.over else "running" if self.running else "held"


def minutes_and_seconds(duration_s: float) -> str:
    """`0:45`, or `1:02:30` from an hour up; a part of a second counts as a whole one."""
    whole = math.ceil(duration_s)
    hours, rest = divmod(whole, 3600)
    return f"{hours}:{rest // 60:02}:{rest % 60:02}" if hours else f"{rest // 60}:{rest % 60:02}"
