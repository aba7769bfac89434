"""The one place where an exposure is made: what is silent filled in, ranges and contradictions judged.

Form, line, CSV and file imports all come through `make_exposure`. The checks of watches, events, habits,
stretches and settings are in `validate_watch` and may be called from here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, time
from typing import Any

from logbook.errors import BadInput
from logbook.model.civil import checked_offset_s, checked_zone
from logbook.model.fields import checked
from logbook.model.practice import Activity, Practice
from logbook.model.ranges import RANGES, Range, check_day, in_range, number, one_of
from logbook.model.text import clean, did_you_mean, listed, printable
from logbook.model.validate.watch import (
    check_bought_new,
    check_event,
    check_habit,
    check_seal,
    check_settings,
    check_stretch,
    check_watch,
)
from logbook.model.values import BASES, SALTY, WATERS, Exposure, ProfilePoint, Settings, Watch, Water

__all__ = [
    "BRINE_ABOVE", "RANGES", "Range", "activity_row", "check_bought_new", "check_event", "check_habit",
    "check_seal", "check_settings", "check_stretch", "check_watch", "checked_density", "gauge_pa",
    "make_exposure",
]  # fmt: skip

BRINE_ABOVE = RANGES["salinity"].high  # practical salinity at which the equation of sea water ends


def make_exposure(practice: Practice, settings: Settings, *, activity: str, starts_on: date, today: date,
                  depth_m: float | None = None, basis: str | None = None, duration_s: float | None = None,
                  water: str | None = None, salinity: float | None = None,
                  density_kg_m3: float | None = None, water_c: float | None = None,
                  water_c_assumed: bool = False, from_c: float | None = None, dips: int | None = None,
                  starts_at: time | None = None, zone: str | None = None, utc_offset_s: int | None = None,
                  note: str = "", profile: Iterable[ProfilePoint] = (), planned: bool = False,
                  planned_to: date | None = None, watch: Watch | None = None,
                  **plain: Any) -> Exposure:  # fmt: skip
    """An exposure as the record keeps it, or BadInput with the field at fault in `where`.

    None means silent: the activity's row of the practice, the home water of the month, the wrist's
    temperature and the owner's zone fill in. A profile gives depth and duration where they are silent.
    `plain` are the fields that nothing fills in.
    Values are rounded to what is stored: mm, mK, whole seconds, 0.001 of practical salinity, 1 Pa.
    `water_c_assumed` marks a given temperature as assumed; it is set where the home water fills in.
    """
    row = activity_row(practice, activity)
    first_on = watch.first_on if watch else None
    check_day(starts_on, f"The {row.name}", "starts_on", today=today, first_on=first_on, ahead=planned)
    _check_trip(starts_on, planned_to, planned)
    at = _Water.of(row, water, salinity, density_kg_m3, settings)
    celsius, assumed = _temperature(at, row, water_c, water_c_assumed, starts_on, practice, settings)
    points = _profile(profile, at.temperature)
    place = settings.zone if zone is None else zone
    start = None if starts_at is None else starts_at.replace(microsecond=0, fold=0)
    told = checked(Exposure, {
        **plain, "depth_m": _depth_m(depth_m, points, row), "dips": row.dips if dips is None else dips,
        "from_c": practice["from_c"] if from_c is None else from_c,
    })  # fmt: skip
    exposure = Exposure(
        activity=row.name, water=at.kind, salinity=at.salinity, density_kg_m3=at.density_kg_m3,
        water_c=celsius, water_c_assumed=assumed,
        basis=one_of(row.basis if basis is None else basis, BASES, "basis of a depth", "basis"),
        gauge_pa=0.0,  # known once the rest is
        duration_s=_whole_seconds(_duration_s(duration_s, points, row)),
        starts_on=starts_on, starts_at=start,
        zone=place if zone is None and start is None else checked_zone(place),
        utc_offset_s=checked_offset_s(starts_on, start, place, utc_offset_s),
        note=clean(note, "note", "note"), profile=points,
        planned=planned, planned_to=planned_to, watch_id=watch.id if watch else None, **told,
    )  # fmt: skip
    contradiction = next(_contradictions(exposure, watch), None)
    if contradiction is not None:
        raise BadInput(contradiction[1], where=contradiction[0])
    return replace(exposure, gauge_pa=gauge_pa(exposure, settings))


def activity_row(practice: Practice, activity: str) -> Activity:
    """The row of an activity by its name or another word for it; raises BadInput with the nearest one."""
    name = practice.activity_words.get(activity)
    if name is None:
        sentence = (
            f"'{printable(activity, 40)}' is no activity; there are {listed(practice.activities, 'and')}."
        )
        raise BadInput(sentence + did_you_mean(activity, practice.activity_words), where="activity")
    return practice.activities[name]


def gauge_pa(exposure: Exposure, settings: Settings) -> float:
    """Gauge pressure in whole Pa at an exposure's depth, at the latitude of the home water; 0 in air.

    A true depth is in the exposure's own water (TEOS-10, a brine's own density); else the convention of the
    basis counts.
    """
    from logbook.physics.water import WaterColumn, gauge_pa_for

    if exposure.water == "air" or exposure.depth_m == 0:
        return 0.0
    column = None
    if exposure.basis == "true":
        column = WaterColumn(
            exposure.salinity or 0.0, exposure.water_c, settings.home.latitude_deg, exposure.density_kg_m3
        )
    return float(round(gauge_pa_for(exposure.depth_m, exposure.basis, column)))


@dataclass(frozen=True, slots=True)
class _Water:
    """The water of an entry, and the range its temperature lies in."""

    kind: Water
    salinity: float | None
    density_kg_m3: float | None
    temperature: str

    @classmethod
    def of(cls, row: Activity, water: str | None, salinity: float | None, density_kg_m3: float | None,
           settings: Settings) -> _Water:  # fmt: skip
        kind = one_of(row.water if water is None else water, WATERS, "water", "water")
        if kind == "air" and row.water != "air":
            raise BadInput(
                f"{_a(row.name)} is not in air: give its water, such as {row.water}.", where="water"
            )
        if kind != "air" and row.water == "air":
            raise BadInput(f"{_a(row.name)} is in air: log the {kind} water after it apart.", where="water")
        salinity = _salinity(kind, salinity, settings)
        density_kg_m3 = checked_density(salinity, density_kg_m3)
        return cls(kind, salinity, density_kg_m3, "air_c" if kind == "air" else "water_c")


def _salinity(kind: Water, salinity: float | None, settings: Settings) -> float | None:
    if kind not in SALTY:
        if salinity:
            hint = f"write 'brackish {number(salinity)}' for water with some salt"
            raise BadInput(
                f"Only sea and brackish water have a salinity, not {kind}: {hint}.", where="salinity"
            )
        return None if kind == "air" else 0.0
    if salinity is None and kind == "brackish":
        sentence = "How salty was it? Brackish water needs its salinity, such as 'brackish 12'."
        raise BadInput(sentence, where="salinity")
    in_range("brine", settings.home.salinity if salinity is None else salinity, "salinity")
    return round(settings.home.salinity if salinity is None else salinity, 3) + 0.0


def checked_density(
    salinity: float | None, density_kg_m3: float | None, where: str = "density_kg_m3"
) -> float | None:
    """The density of a brine in kg/m³, which must be given; None up to salinity 42, where none may be.

    Up to there the equation of sea water gives it. Raises BadInput.
    """
    if salinity is not None and salinity > BRINE_ABOVE:
        if density_kg_m3 is None:
            sentence = (
                f"Above salinity {number(BRINE_ABOVE)} the equation of sea water ends: a brine of "
                f"{number(salinity)} needs its density too, such as 'density 1190' in kg/m³."
            )
            raise BadInput(sentence, where=where)
        return round(in_range("density_kg_m3", density_kg_m3, where), 3)
    if density_kg_m3 is not None:
        sentence = (
            f"Only a brine above salinity {number(BRINE_ABOVE)} takes a density: leave out "
            f"{number(density_kg_m3)} kg/m³, or give its salinity, such as 280."
        )
        raise BadInput(sentence, where=where)
    return None


def _temperature(at: _Water, row: Activity, water_c: float | None, assumed: bool, on: date,
                 practice: Practice, settings: Settings) -> tuple[float, bool]:  # fmt: skip
    """Degrees Celsius, and whether they are assumed: given, of the activity, of the home water, or 15.

    In another water than its own an activity has that water's temperature: a swim in a pool the pool's, a
    shower in the sea the home water's.
    """
    if water_c is None:
        namesake = practice.activities.get(at.kind, row) if at.kind != row.water else row
        salted = at.kind in SALTY and at.kind != row.water
        water_c, assumed = (None if salted else namesake.water_c), False
    if water_c is None:
        monthly_c = settings.home.monthly_c
        water_c, assumed = (monthly_c[on.month - 1] if monthly_c else practice["home_c"]), True
    return round(in_range(at.temperature, water_c, "water_c"), 3) + 0.0, assumed


def _whole_seconds(seconds: float) -> int:
    in_range("minutes", seconds / 60, "duration_s")
    in_range("minutes", round(seconds) / 60, "duration_s")  # a blink rounds to nothing
    return round(seconds)


def _depth_m(depth_m: float | None, points: tuple[ProfilePoint, ...], row: Activity) -> float:
    deepest_m = max((point.depth_m for point in points), default=row.depth_m)
    if depth_m is not None:
        return depth_m
    if deepest_m is None:
        sentence = f"How deep was it? {_a(row.name)} needs its depth, such as 21m."
        raise BadInput(sentence, where="depth_m")
    return deepest_m


def _duration_s(duration_s: float | None, points: tuple[ProfilePoint, ...], row: Activity) -> float:
    if duration_s is not None:
        return duration_s
    if points:
        return points[-1].time_s
    if row.minutes is None:
        sentence = f"How long was it? {_a(row.name)} needs its minutes, such as 38min."
        raise BadInput(sentence, where="duration_s")
    return row.minutes * 60


def _profile(points: Iterable[ProfilePoint], temperature: str) -> tuple[ProfilePoint, ...]:
    """The points, of each instant the deepest; raises BadInput where time runs back."""
    kept: list[ProfilePoint] = []
    before_s, longest_s = 0.0, RANGES["minutes"].high * 60
    for n, point in enumerate(points, 1):
        if not before_s <= point.time_s <= longest_s:
            here = f"Point {n} of the profile is at {number(point.time_s)} s"
            sentence = f"{here}; the times run forward, here from {number(before_s)} s, to at most two days."
            raise BadInput(sentence, where="profile")
        before_s = point.time_s
        rounded = _point(n, point, temperature)
        if not kept or rounded.time_s > kept[-1].time_s:
            kept.append(rounded)
            continue
        deeper, other = sorted((kept[-1], rounded), key=lambda p: -p.depth_m)
        kept[-1] = replace(deeper, water_c=other.water_c if deeper.water_c is None else deeper.water_c)
    return tuple(kept)


def _point(n: int, point: ProfilePoint, temperature: str) -> ProfilePoint:
    """A point to the millisecond, millimetre and millikelvin; raises BadInput that names it."""
    try:
        water_c = point.water_c
        if water_c is not None:
            water_c = round(in_range(temperature, water_c, "profile"), 3) + 0.0
        depth_m = round(in_range("depth_m", point.depth_m, "profile"), 3) + 0.0
    except BadInput as error:
        raise BadInput(f"Point {n} of the profile: {error.message}", where="profile") from None
    return ProfilePoint(round(point.time_s, 3) + 0.0, depth_m, water_c)


def _check_trip(starts_on: date, planned_to: date | None, planned: bool) -> None:
    if planned_to is None:
        return
    if not planned:
        raise BadInput(
            "Only a planned trip has a last day: log what happened day by day.", where="planned_to"
        )
    check_day(planned_to, "The last day", "planned_to", today=starts_on, ahead=True)
    if planned_to < starts_on:
        order = f"The trip ends on {planned_to}, before it starts on {starts_on}"
        raise BadInput(f"{order}: give the later day last.", where="planned_to")


def _contradictions(e: Exposure, watch: Watch | None) -> Iterator[tuple[str, str]]:
    """Field and sentence of every two things that were said and cannot both be true."""
    air, dry = e.water == "air", e.water == "air" or e.depth_m == 0
    if air and e.depth_m > 0:
        yield "depth_m", f"There is no depth in air: leave out {number(e.depth_m)} m."
    if air and e.jump_m > 0:
        yield "jump_m", "There is no jump into air: log the water that came after it."
    if dry and e.crown_under > 0:
        yield "crown_under", "Nothing is under water at no depth: write 'crown wet', or give the depth."
    if dry and e.pusher_under > 0:
        yield "pusher_under", "Nothing is under water at no depth: write 'pusher wet', or give the depth."
    if watch is not None and not watch.pushers and (e.pusher_wet or e.pusher_under or e.pushers_open):
        where = "pusher_under" if e.pusher_under else "pusher_wet" if e.pusher_wet else "pushers_open"
        yield (
            where,
            f"{printable(watch.name)} has no pushers: leave it out, or give the watch its pushers first.",
        )
    if e.profile:
        deepest_m, last_s = max(point.depth_m for point in e.profile), e.profile[-1].time_s
        if deepest_m > e.depth_m:
            given = f"The profile goes to {deepest_m} m, deeper than the {e.depth_m} m given"
            yield "depth_m", f"{given}: the depth is that of the deepest point, or more."
        if last_s - e.duration_s >= 1:  # durations are whole seconds
            given = f"The profile lasts {last_s:.0f} s, longer than the {e.duration_s} s given"
            yield "duration_s", f"{given}: the duration is that of the last point, or more."


def _a(activity: str) -> str:
    return f"{'An' if activity[:1] in 'aeiou' else 'A'} {activity}"
