"""A dive of a UDDF file, made of its texts and its waypoints: what is taken, doubtful or impossible."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime

from logbook.files.uddf.samples import TOO_DEEP, Samples
from logbook.files.uddf.values import (
    CELSIUS,
    DEEPEST_M,
    LONGEST_S,
    Reading,
    read_celsius,
    read_number,
    read_water,
    read_when,
    when_of_parts,
)
from logbook.model.ranges import number
from logbook.model.text import printable
from logbook.model.values import ProfilePoint, Water

SITE_LENGTH = 200  # characters of a site's name that are kept
ID_LENGTH = 200  # a longer id is no use for telling dives apart
# Displays round to a decimetre and a minute; a profile that goes further than that says something else.
_ROUNDING_M, _ROUNDING_S = 0.1, 60.0
_GLITCHES = 0.01  # the share of waypoints below every depth that may be a gauge's fault, not another unit


@dataclass(frozen=True, slots=True)
class Notice:
    """A sentence about something in a dive, with the line of the file."""

    line: int
    sentence: str


@dataclass(frozen=True, slots=True)
class FileDive:
    """One dive as the file has it; where `problem` says something it cannot be taken."""

    line: int  # of <dive>, 1-based
    dive_id: str  # the file's own, or nothing
    starts: datetime | None  # aware where the file has an offset or Z, else naive
    has_time: bool  # False where only a date was written
    duration_s: float | None
    depth_m: float | None  # greatest
    lowest_c: float | None
    points: tuple[ProfilePoint, ...]  # strictly forward
    point_count: int  # also of a dive whose points were let go
    site: str  # one line without control characters
    water: Water | None
    warnings: tuple[Notice, ...]
    problem: str


@dataclass(frozen=True, slots=True)
class Site:
    """What a dive site says about a dive there."""

    name: str
    water: Water | None


@dataclass(slots=True)
class Stated:
    """What a dive or a site states: the texts by element, each with its line, and its references."""

    line: int = 0
    id: str = ""
    texts: dict[str, list[tuple[str, int]]] = field(default_factory=dict)
    links: list[str] = field(default_factory=list)

    def first(self, name: str) -> str:
        """The first text of that element that is not blank."""
        return next((text for text, _ in self.texts.get(name, ()) if text.strip()), "")


def make_dive(stated: Stated, samples: Samples, sites: Mapping[str, Site]) -> FileDive:
    """The dive from what it states and what its waypoints show; `samples` are those of this dive."""
    points = tuple(samples.points)
    notices = list(_left_out(samples))
    depths = list(_values(stated, samples, "greatestdepth", "greatest depth", _plain, notices))
    durations = list(_values(stated, samples, "diveduration", "duration", _plain, notices))
    heats = list(_values(stated, samples, "lowesttemperature", "lowest temperature", read_celsius, notices))
    notices += _odd_temperatures(samples)
    shown_m = samples.deepest_m
    shown_s = points[-1].time_s if points else 0.0
    depth_m, duration_s = max([shown_m, *depths]), max([shown_s, *durations])
    if depths and shown_m > max(depths) + _ROUNDING_M:
        says = f"The waypoints go to {number(shown_m)} m, deeper than the {number(max(depths))} m stated"
        notices.append(Notice(stated.line, f"{says}; {number(shown_m)} m is taken."))
    if durations and shown_s > max(durations) + _ROUNDING_S:
        says = f"The waypoints last {number(shown_s)} s, longer than the {number(max(durations))} s stated"
        notices.append(Notice(stated.line, f"{says}; {number(shown_s)} s is taken."))
    if samples.lowest_c is not None:
        heats.append(samples.lowest_c)
    starts, has_time, when_problem = _starts(stated)
    site = _site(stated, sites, notices)
    problem = when_problem or _problem(depth_m, duration_s, samples)
    return FileDive(
        line=stated.line, dive_id=stated.id if len(stated.id) <= ID_LENGTH else "",
        starts=starts, has_time=has_time, duration_s=duration_s or None, depth_m=depth_m or None,
        lowest_c=min(heats, default=None), points=points, point_count=len(points),
        site=site.name, water=site.water,
        warnings=tuple(sorted(notices, key=lambda notice: notice.line)), problem=problem,
    )  # fmt: skip


def _left_out(samples: Samples) -> Iterator[Notice]:
    """A notice for every reason for which waypoints were left out."""
    for reason, count in samples.left_out.items():
        are, first = ("is", "it") if count.times == 1 else ("are", "the first")
        of = f"{count.times:,} of {samples.waypoints:,} waypoints {are} left out"
        yield Notice(count.line, f"{of}, {first} ends in line {count.line}: {reason}.")


def _odd_temperatures(samples: Samples) -> Iterator[Notice]:
    """A notice for every doubt about temperatures, those in °C counted together."""
    for reason, count in samples.doubts.items():
        temperatures, are, first = ("temperatures", "are", "the first")
        if count.times == 1:
            temperatures, are, first = ("temperature", "is", "it is")
        says = f"{count.times:,} {temperatures} {are} {_TAKEN_AS_C if reason == CELSIUS else 'left out'}"
        told = "" if reason == CELSIUS else f": {reason}"
        yield Notice(count.line, f"{says}, {first} near line {count.line}{told}.")


_TAKEN_AS_C = "below 200 K and taken as °C"


def _values(stated: Stated, samples: Samples, name: str, label: str, read: Callable[[str], Reading],
            notices: list[Notice]) -> Iterator[float]:  # fmt: skip
    """The usable values of an element; a notice for each doubtful one."""
    for text, line in stated.texts.get(name, ()):
        if not text.strip():
            continue
        value, doubt = read(text)
        if doubt == CELSIUS:
            samples.count_celsius(line)
        elif doubt:
            shown = f"The {label}, '{printable(text.strip(), 20)}' in line {line},"
            notices.append(Notice(line, f"{shown} is left out: {doubt}."))
        if value is not None:
            yield value


def _plain(text: str) -> Reading:
    """A number from zero up, to three decimals; what is too much of it is judged with the whole dive."""
    value, doubt = read_number(text, "it")
    if value is not None and value < 0:
        return None, "it is below zero"
    return (None if value is None else round(value, 3) + 0.0), doubt


def _starts(stated: Stated) -> tuple[datetime | None, bool, str]:
    """When the dive starts, whether a time is written, and what is wrong with it."""
    text = stated.first("datetime")
    if not text:
        text = when_of_parts({part: stated.first(part) for part in PARTS})
    if not text:
        return None, False, "It has no date."
    found = read_when(text)
    if isinstance(found, str):
        return None, False, f"{found[0].upper()}{found[1:]}."
    return *found, ""


PARTS = ("date", "year", "month", "day", "time", "hour", "minute", "second")


def _problem(depth_m: float, duration_s: float, samples: Samples) -> str:
    """Why the dive cannot be taken, or nothing."""
    feet = "UDDF has depths in metres: are these feet?"
    if depth_m > DEEPEST_M:
        return f"It goes to {number(depth_m)} m, and no diver has been deeper than {DEEPEST_M} m. {feet}"
    beyond = samples.left_out.get(TOO_DEEP)
    if beyond is not None and beyond.times > _GLITCHES * samples.waypoints:
        of = f"{beyond.times:,} of its {samples.waypoints:,} waypoints are deeper than {DEEPEST_M} m"
        return f"{of}, the first ends in line {beyond.line}. {feet}"
    if not depth_m:
        return "It has no depth: neither a greatest depth nor a waypoint that goes below the surface."
    if duration_s > LONGEST_S:
        return f"It lasts {number(duration_s)} s, more than the two days that a dive may last at most."
    if round(duration_s) < 1:
        return "It has no duration: neither a stated one nor waypoints after its start."
    return ""


def _site(stated: Stated, sites: Mapping[str, Site], notices: list[Notice]) -> Site:
    """Name and water: of the site that the dive refers to, else as the dive itself has them."""
    found = next((sites[ref] for ref in stated.links if ref in sites), Site("", None))
    raw = found.name or stated.first("place")
    name = _tidy(raw)
    if name != " ".join(raw.split()):
        what = "cut to fit" if len(raw) > SITE_LENGTH else "freed from characters that rearrange a screen"
        notices.append(Notice(stated.line, f"The name of the site is {what}: {printable(name, 60)}."))
    own = read_water("", stated.first("density"))
    return Site(name, own if own is not None and found.water is None else found.water)


def _tidy(text: str) -> str:
    """On one line, without the characters that a note may not have."""
    kept = "".join(char if _is_shown(char) else "" for char in " ".join(text.split()))
    return " ".join(kept.split())[:SITE_LENGTH].strip()


def _is_shown(char: str) -> bool:
    return unicodedata.category(char) not in ("Cc", "Cs") and char not in _REORDERING


_REORDERING = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
