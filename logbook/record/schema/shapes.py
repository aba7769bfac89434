"""The two shapes of everything kept: the value that the reckoning reads and the columns that the tables hold.

One place for both directions, and only the standard library, so that a first screen is painted from it.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, time
from typing import Any

from logbook.model.values import (  # fmt: skip
    BASES,
    CHANNELS,
    CROWNS,
    EVENT_KINDS,
    MARK_KINDS,
    MARK_UNITS,
    MEDIA,
    MOVEMENTS,
    POSITIONS,
    USES,
    WATERS,
    Event,
    Exposure,
    Habit,
    HomeWater,
    ProfilePoint,
    Seal,
    Settings,
    Shares,
    Watch,
    WornStretch,
)
from logbook.record.schema import scale

Columns = dict[str, Any]

_CONTACT = (
    "activity", "water", "depth_mm", "basis", "gauge_pa", "duration_s", "water_mk", "water_assumed",
    "from_mk", "salinity_ppm", "density_g_m3", "dips", "rinsed", "crown_wet", "crown_under", "pusher_wet",
    "pusher_under", "crown_open", "pushers_open", "jump_mm", "note",
)  # fmt: skip
WATCH = (
    "id", "name", "mark", "marked_pa", "added_on", "recorded_from", "crown", "pushers", "gas_valve",
    "case_material", "movement", "stated_use", "bought_on", "new_on", "worn_min", "winds_per_1000_weeks",
    "presses_per_1000_weeks", "reference", "note", "shelf_group", "retired_on", "confirmed_on", "pushers_wet",
    "made_from", "made_to", "marked_in",
)  # fmt: skip
SEAL = ("id", "watch_id", "event_id", "position", "material", "fitted_earliest", "fitted_latest", "day_order")
EVENT = (
    "id", "watch_id", "kind", "happened_on", "day_order", "passed", "test_pa", "medium", "test_s",
    "deflection_nm", "repaired", "crystal_mk", "case_air_mk", "workshop", "note", "span_first", "span_last",
    "to_mark", "moved",
)  # fmt: skip
EXPOSURE = (
    "id", "watch_id", "starts_on", "starts_at", "zone", "utc_offset_s", "planned", "planned_to", *_CONTACT,
)  # fmt: skip
HABIT = ("id", "watch_id", "per_1000_weeks", "from_on", "to_on", *_CONTACT)
STRETCH = ("id", "watch_id", "from_on", "to_on", "worn_min")
PROFILE = ("exposure_id", "seq", "time_ms", "depth_mm", "water_mk")


Fit = tuple[list[tuple[int, str, frozenset[str | None]]], list[tuple[int, str, int, int]]]


def _fits(
    columns: tuple[str, ...], words: Mapping[str, Iterable[str | None]], ranges: Mapping[str, tuple[int, int]]
) -> Fit:
    """Where in a row which words may stand, and between which ends which numbers."""
    return (
        [(columns.index(name), name, frozenset(listed)) for name, listed in words.items()],
        [(columns.index(name), name, *ends) for name, ends in ranges.items()],
    )


# What is read is held against the words and ranges of what is written: another program, or a failing disk,
# may have put there what would pass for a milder exposure.
_CONTACT_WORDS = {"water": WATERS, "basis": BASES}
_WATCH_FITS = _fits(
    WATCH,
    {"mark": MARK_KINDS, "crown": CROWNS, "movement": MOVEMENTS, "stated_use": USES, "marked_in": MARK_UNITS},
    {},
)
_SEAL_FITS = _fits(SEAL, {"position": POSITIONS}, {})
_EVENT_FITS = _fits(
    EVENT, {"kind": EVENT_KINDS, "medium": (*MEDIA, None), "repaired": (*EVENT_KINDS, None)}, {}
)
_EXPOSURE_FITS = _fits(EXPOSURE, _CONTACT_WORDS, scale.LIMITS)
_HABIT_FITS = _fits(HABIT, _CONTACT_WORDS, scale.LIMITS)


def _fit(row: Sequence[Any], fits: Fit) -> None:
    """Raises ValueError for a word or a number that no version of logbook would have written."""
    words, ranges = fits
    for at, name, listed in words:
        if row[at] not in listed:
            raise ValueError(f"{name} is {row[at]!r}")
    for at, name, low, high in ranges:
        if row[at] is not None and not low <= row[at] <= high:
            raise ValueError(f"{name} is {row[at]!r}")


def name_key(name: str) -> str:
    """What makes two nicknames the same: composed, without case."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", name).casefold())


def _maybe(convert: Any, value: Any) -> Any:
    return None if value is None else convert(value)


def watch_columns(watch: Watch) -> Columns:
    name = unicodedata.normalize("NFC", watch.name)
    return {
        "id": watch.id, "name": name, "name_key": name_key(name), "mark": watch.mark,
        "marked_pa": _maybe(round, watch.marked_pa), "added_on": watch.added_on,
        "recorded_from": watch.recorded_from, "crown": watch.crown, "pushers": int(watch.pushers),
        "gas_valve": int(watch.gas_valve), "case_material": watch.case_material, "movement": watch.movement,
        "stated_use": watch.use, "bought_on": watch.bought_on, "new_on": watch.new_on,
        "worn_min": scale.minutes(watch.worn_h), "winds_per_1000_weeks": scale.per_1000_weeks(watch.winds),
        "presses_per_1000_weeks": scale.per_1000_weeks(watch.presses), "reference": watch.reference,
        "note": watch.note, "shelf_group": watch.group, "retired_on": watch.retired_on,
        "confirmed_on": watch.confirmed_on, "pushers_wet": int(watch.pushers_wet),
        "made_from": watch.made_from, "made_to": watch.made_to, "marked_in": watch.marked_in,
    }  # fmt: skip


def watch_of(row: Sequence[Any], intervals: Mapping[str, int]) -> Watch:
    _fit(row, _WATCH_FITS)
    day = date.fromisoformat
    return Watch(
        id=row[0], name=row[1], mark=row[2], marked_pa=_maybe(float, row[3]), added_on=day(row[4]),
        recorded_from=day(row[5]), crown=row[6], pushers=bool(row[7]), gas_valve=bool(row[8]),
        case_material=row[9], movement=row[10], use=row[11], bought_on=_maybe(day, row[12]),
        new_on=_maybe(day, row[13]), worn_h=scale.hours(row[14]), winds=scale.from_milli(row[15]),
        presses=scale.from_milli(row[16]), reference=row[17], note=row[18], group=row[19],
        retired_on=_maybe(day, row[20]), confirmed_on=_maybe(day, row[21]), intervals_months=intervals,
        pushers_wet=bool(row[22]), made_from=row[23], made_to=row[24], marked_in=row[25],
    )  # fmt: skip


def seal_columns(seal: Seal, watch_id: int) -> Columns:
    return {
        "id": seal.id, "watch_id": watch_id, "event_id": seal.event_id, "position": seal.position,
        "material": seal.material, "fitted_earliest": seal.fitted_earliest,
        "fitted_latest": seal.fitted_latest, "day_order": seal.order,
    }  # fmt: skip


def seal_of(row: Sequence[Any]) -> Seal:
    _fit(row, _SEAL_FITS)
    return Seal(
        id=row[0], event_id=row[2], position=row[3], material=row[4],
        fitted_earliest=date.fromisoformat(row[5]), fitted_latest=date.fromisoformat(row[6]), order=row[7],
    )  # fmt: skip


def event_columns(event: Event) -> Columns:
    span_first, span_last = event.span or (None, None)
    return {
        "id": event.id, "watch_id": event.watch_id, "kind": event.kind, "happened_on": event.on,
        "day_order": event.order, "passed": _maybe(int, event.passed),
        "test_pa": _maybe(round, event.test_pa), "medium": event.medium,
        "test_s": _maybe(scale.seconds, event.minutes),
        "deflection_nm": _maybe(scale.milli, event.deflection_um), "repaired": event.repaired,
        "crystal_mk": _maybe(scale.millikelvin, event.crystal_c),
        "case_air_mk": _maybe(scale.millikelvin, event.case_air_c), "workshop": event.workshop,
        "note": event.note, "span_first": span_first, "span_last": span_last, "to_mark": int(event.to_mark),
        "moved": int(event.moved),
    }  # fmt: skip


def event_of(row: Sequence[Any], seals: Sequence[Seal] = ()) -> Event:
    """The event, with the seals that it brought in the order in which they were given."""
    _fit(row, _EVENT_FITS)
    return Event(
        id=row[0], watch_id=row[1], kind=row[2], on=date.fromisoformat(row[3]), order=row[4],
        passed=_maybe(bool, row[5]), test_pa=_maybe(float, row[6]), medium=row[7],
        minutes=_maybe(scale.from_seconds, row[8]), deflection_um=_maybe(scale.from_milli, row[9]),
        repaired=row[10], crystal_c=_maybe(scale.celsius, row[11]), case_air_c=_maybe(scale.celsius, row[12]),
        workshop=row[13], note=row[14], span=_span(row[15], row[16]), to_mark=bool(row[17]),
        moved=bool(row[18]), seals=tuple((s.position, s.material) for s in seals),
    )  # fmt: skip


def _span(first: str | None, last: str | None) -> tuple[date, date] | None:
    return (date.fromisoformat(first), date.fromisoformat(last)) if first and last else None


def _contact_columns(e: Exposure) -> Columns:
    return {
        "activity": e.activity, "water": e.water, "depth_mm": scale.milli(e.depth_m), "basis": e.basis,
        "gauge_pa": round(e.gauge_pa), "duration_s": e.duration_s, "water_mk": scale.millikelvin(e.water_c),
        "water_assumed": int(e.water_c_assumed), "from_mk": scale.millikelvin(e.from_c),
        "salinity_ppm": _maybe(scale.milli, e.salinity),
        "density_g_m3": _maybe(scale.milli, e.density_kg_m3), "dips": e.dips, "rinsed": int(e.rinsed),
        "crown_wet": e.crown_wet, "crown_under": e.crown_under, "pusher_wet": e.pusher_wet,
        "pusher_under": e.pusher_under, "crown_open": int(e.crown_open), "pushers_open": int(e.pushers_open),
        "jump_mm": scale.milli(e.jump_m), "note": e.note,
    }  # fmt: skip


def exposure_columns(exposure: Exposure) -> Columns:
    return {
        "id": exposure.id, "watch_id": exposure.watch_id, "starts_on": exposure.starts_on,
        "starts_at": exposure.starts_at, "zone": exposure.zone, "utc_offset_s": exposure.utc_offset_s,
        "planned": int(exposure.planned), "planned_to": exposure.planned_to, **_contact_columns(exposure),
    }  # fmt: skip


def _exposure(
    row: Sequence[Any], at: int, *, id: int | None, watch_id: int, starts_on: date,
    starts_at: time | None = None, zone: str = "UTC", utc_offset_s: int | None = None, planned: bool = False,
    planned_to: date | None = None, profile: tuple[ProfilePoint, ...] = (),
) -> Exposure:  # fmt: skip
    """An exposure whose contact columns begin at `at`."""
    salinity, density = row[at + 9], row[at + 10]
    return Exposure(
        activity=row[at], water=row[at + 1], depth_m=row[at + 2] / 1000, basis=row[at + 3],
        gauge_pa=float(row[at + 4]), duration_s=row[at + 5], water_c=(row[at + 6] - scale.ZERO_C_MK) / 1000,
        water_c_assumed=bool(row[at + 7]), from_c=(row[at + 8] - scale.ZERO_C_MK) / 1000,
        salinity=None if salinity is None else salinity / 1000,
        density_kg_m3=None if density is None else density / 1000, dips=row[at + 11],
        rinsed=bool(row[at + 12]), crown_wet=row[at + 13], crown_under=row[at + 14], pusher_wet=row[at + 15],
        pusher_under=row[at + 16], crown_open=bool(row[at + 17]), pushers_open=bool(row[at + 18]),
        jump_m=row[at + 19] / 1000, note=row[at + 20], id=id, watch_id=watch_id, starts_on=starts_on,
        starts_at=starts_at, zone=zone, utc_offset_s=utc_offset_s, planned=planned, planned_to=planned_to,
        profile=profile,
    )  # fmt: skip


def exposure_of(row: Sequence[Any], profile: tuple[ProfilePoint, ...] = ()) -> Exposure:
    _fit(row, _EXPOSURE_FITS)
    return _exposure(
        row, 8, id=row[0], watch_id=row[1], starts_on=date.fromisoformat(row[2]),
        starts_at=None if row[3] is None else time.fromisoformat(row[3]), zone=row[4], utc_offset_s=row[5],
        planned=bool(row[6]), planned_to=_maybe(date.fromisoformat, row[7]), profile=profile,
    )  # fmt: skip


def habit_columns(habit: Habit) -> Columns:
    return {
        "id": habit.id, "watch_id": habit.watch_id,
        "per_1000_weeks": scale.daily_per_1000_weeks(habit.per_day),
        "from_on": habit.from_on, "to_on": habit.to_on, **_contact_columns(habit.exposure),
    }  # fmt: skip


def habit_of(row: Sequence[Any]) -> Habit:
    """The habit; its exposure stands on the first day, without a time of day."""
    _fit(row, _HABIT_FITS)
    first = date.fromisoformat(row[3])
    return Habit(
        exposure=_exposure(row, 5, id=None, watch_id=row[1], starts_on=first),
        id=row[0], watch_id=row[1], per_day=scale.per_day(row[2]), from_on=first,
        to_on=_maybe(date.fromisoformat, row[4]),
    )  # fmt: skip


def stretch_columns(stretch: WornStretch) -> Columns:
    return {
        "id": stretch.id, "watch_id": stretch.watch_id, "from_on": stretch.from_on, "to_on": stretch.to_on,
        "worn_min": scale.minutes(stretch.hours),
    }  # fmt: skip


def stretch_of(row: Sequence[Any]) -> WornStretch:
    return WornStretch(
        id=row[0], watch_id=row[1], from_on=date.fromisoformat(row[2]), to_on=date.fromisoformat(row[3]),
        hours=scale.hours(row[4]),
    )  # fmt: skip


def profile_columns(exposure_id: int, profile: Sequence[ProfilePoint]) -> list[Columns]:
    return [
        {"exposure_id": exposure_id, "seq": seq, "time_ms": scale.milli(p.time_s),
         "depth_mm": scale.milli(p.depth_m), "water_mk": _maybe(scale.millikelvin, p.water_c)}
        for seq, p in enumerate(profile)
    ]  # fmt: skip


def point_of(row: Sequence[Any]) -> ProfilePoint:
    return ProfilePoint(row[2] / 1000, row[3] / 1000, _maybe(scale.celsius, row[4]))


def settings_columns(settings: Settings) -> Columns:
    home = settings.home
    return {
        "id": 1, "salinity_ppm": scale.milli(home.salinity),
        "latitude_udeg": scale.microdegrees(home.latitude_deg),
        "altitude_mm": scale.milli(home.altitude_m), "zone": settings.zone, "units": settings.units,
    }  # fmt: skip


def settings_of(row: Sequence[Any], monthly_mk: Sequence[int]) -> Settings:
    home = HomeWater(
        salinity=scale.from_milli(row[0]), latitude_deg=scale.degrees(row[1]),
        altitude_m=scale.from_milli(row[2]),
        monthly_c=tuple(scale.celsius(mk) for mk in monthly_mk) or None,
    )  # fmt: skip
    return Settings(home=home, zone=row[3], units=row[4])


def share_columns(shares: Shares) -> tuple[int, ...]:
    """Six whole trillionths in the order of `CHANNELS`."""
    return tuple(scale.trillionths(s) for s in shares.as_tuple())


def shares_of(row: Sequence[int]) -> Shares:
    return Shares(*(scale.share(n) for n in row[: len(CHANNELS)]))
