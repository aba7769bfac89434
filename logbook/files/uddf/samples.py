"""The waypoints of one dive, as the parser meets them: kept as points, or left out and counted by reason.

Nine tenths of a UDDF file are waypoints. Inside <samples> the parser therefore tells of closed elements only:
what closed since the last waypoint belongs to the next one, and the text of an element is what stands since
the tag closed before it. In a file of UDDF's structure that is the same as following every tag.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from logbook.files.uddf.values import CELSIUS, DEEPEST_M, Known, read_celsius, read_depth, read_seconds
from logbook.files.uddf.xml import Source
from logbook.model.values import ProfilePoint

ORDER = "its time is before that of the waypoint before it"
TOO_DEEP = read_depth(f"{DEEPEST_M + 1}")[1]
NOT_COLD = float("inf")  # the lowest temperature of no waypoint
MOST_OTHERS = 1_000  # names of elements that are not needed and are known at once
NEEDED = ("depth", "divetime", "temperature", "waypoint", "samples")


@dataclass(slots=True)
class Count:
    """How often something was met in one dive, and the line where it was first."""

    line: int
    times: int = 1


class Samples:
    """Gathers the waypoints of one dive after the other: `begin`, then elements close, then it is read."""

    def __init__(self, source: Source, leave: Callable[[], None]) -> None:
        self._source, self._leave = source, leave
        self.end, self.enter = self._handlers()
        self.begin()

    def begin(self) -> None:
        """Forget the dive before."""
        self.points: list[ProfilePoint] = []
        self.left_out: dict[str, Count] = {}  # waypoints, by what was wrong with them
        self.doubts: dict[str, Count] = {}  # temperatures of waypoints that were kept, by what was wrong
        self.merged = 0  # waypoints that had the time of the one before them
        self.deepest_m = 0.0  # of all waypoints with a depth, those left out for their time too
        self.lowest_c: float | None = None  # of those that were kept

    @property
    def waypoints(self) -> int:
        """How many there were, kept or not."""
        return len(self.points) + self.merged + sum(count.times for count in self.left_out.values())

    def _handlers(self) -> tuple[Callable[[str], None], Callable[[str], None]]:
        """Expat's handler of closed elements inside <samples>, and what prepares it.

        `enter` takes the name of <samples> as written. Closures, because half of all time is spent here.
        """
        texts, clear, join = self._source.texts, self._source.texts.clear, "".join
        depths, times, heats = Known(read_depth), Known(read_seconds), Known(read_celsius)
        depth_tag, time_tag, heat_tag, waypoint_tag, samples_tag = NEEDED
        depth = divetime = temperature = prefix = ""
        last_s, deepest_m, lowest_c, others = -1.0, 0.0, NOT_COLD, set[str]()
        add = list[ProfilePoint]().append

        def enter(name: str) -> None:
            nonlocal depth, divetime, temperature, last_s, deepest_m, lowest_c, add
            nonlocal prefix, depth_tag, time_tag, heat_tag, waypoint_tag, samples_tag
            prefix = name[: -len("samples")]
            depth_tag, time_tag, heat_tag, waypoint_tag, samples_tag = (prefix + tag for tag in NEEDED)
            depth = divetime = temperature = ""
            # A dive has one <samples>; a second one goes on where the first one ended.
            last_s, add = self.points[-1].time_s if self.points else -1.0, self.points.append
            deepest_m, lowest_c = self.deepest_m, NOT_COLD if self.lowest_c is None else self.lowest_c

        def end(name: str) -> None:
            nonlocal depth, divetime, temperature, last_s, deepest_m, lowest_c
            if name == depth_tag:
                depth = join(texts)
            elif name == time_tag:
                divetime = join(texts)
            elif name == heat_tag:
                temperature = join(texts)
            elif name == waypoint_tag:
                depth_m, wrong = depths[depth]
                time_s, when = times[divetime]
                water_c, doubt = heats[temperature]
                depth = divetime = temperature = ""
                if depth_m is None or time_s is None or doubt or time_s <= last_s:
                    last_s = self._unusual(wrong or when, doubt, depth_m, time_s, water_c, last_s)
                else:
                    if depth_m > deepest_m:
                        deepest_m = depth_m
                    if water_c is not None and water_c < lowest_c:
                        lowest_c = water_c
                    last_s = time_s
                    add(ProfilePoint(time_s, depth_m, water_c))
            elif name == samples_tag:
                self._take_in(deepest_m, lowest_c)
                self._leave()
            elif name not in others:
                local = name.rpartition(":")[2]
                if local in NEEDED:  # with another prefix than <samples> has
                    end(prefix + local)
                elif len(others) < MOST_OTHERS:
                    others.add(name)
            clear()

        return end, enter

    def count_celsius(self, line: int) -> None:
        """A temperature in °C beside the waypoints."""
        count = self.doubts.setdefault(CELSIUS, Count(line, 0))
        count.line, count.times = min(count.line, line), count.times + 1

    def _unusual(self, wrong: str, doubt: str, depth_m: float | None, time_s: float | None,
                 water_c: float | None, last_s: float) -> float:  # fmt: skip
        """A waypoint that cannot be kept, that has the time of the one before it, or an odd temperature.

        Hands back the time after which the next one has to be.
        """
        if depth_m is None or time_s is None or time_s < last_s:
            self._count(self.left_out, wrong or ORDER)
            self._take_in(depth_m or 0.0, NOT_COLD)
            return last_s
        if doubt:
            self._count(self.doubts, doubt)
        self._take_in(depth_m, NOT_COLD if water_c is None else water_c)
        point = ProfilePoint(time_s, depth_m, water_c)
        if time_s > last_s:
            self.points.append(point)
        else:
            self.merged += 1
            deeper, other = sorted((self.points[-1], point), key=lambda each: -each.depth_m)
            self.points[-1] = deeper if deeper.water_c is not None else replace(deeper, water_c=other.water_c)
        return time_s

    def _take_in(self, depth_m: float, water_c: float) -> None:
        """The greatest depth and the lowest temperature so far."""
        self.deepest_m = max(self.deepest_m, depth_m)
        if water_c < NOT_COLD:
            self.lowest_c = water_c if self.lowest_c is None else min(self.lowest_c, water_c)

    def _count(self, counts: dict[str, Count], what: str) -> None:
        if what in counts:
            counts[what].times += 1
        else:
            counts[what] = Count(self._source.parser.CurrentLineNumber)
