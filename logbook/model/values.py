"""The plain values that the record keeps and the reckoning reads: SI floats, civil dates, no behaviour.

Everything here is frozen. Times are civil, as the owner saw them; dates of workshop events carry an order
inside the day. Nothing is validated here: `model.validate` does that once, at the edge.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, time
from types import MappingProxyType
from typing import Literal, get_args

from logbook.model.fields import MICRO, MILLI, MILLIKELVIN, PASCAL, PER_1000_WEEKS, SIXTIETH, apart, stored

Position = Literal["case-back", "crystal", "crown", "pushers", "gas-valve"]
MarkKind = Literal["unmarked", "unknown", "water-resistant", "divers", "divers-mixed-gas"]
MarkUnit = Literal["bar", "m"]
Use = Literal["diving", "swimming", "dry"]
Crown = Literal["screwed", "pushed"]
Movement = Literal["mechanical", "quartz"]
Water = Literal["sea", "brackish", "fresh", "pool", "soap", "hot tub", "air"]
Basis = Literal["EN 13319", "fresh", "true"]
Medium = Literal["air", "vacuum", "water"]
Units = Literal["metric", "imperial"]
EventKind = Literal[
    "gaskets", "opened", "battery", "movement", "strap", "pressure-test", "condensation-test", "repaired",
    "fog", "water-inside", "crown-damaged", "crystal-damaged", "pushers-damaged", "gas-valve-damaged",
    "knock",
]  # fmt: skip

POSITIONS: tuple[Position, ...] = get_args(Position)
MARK_KINDS: tuple[MarkKind, ...] = get_args(MarkKind)
MARK_UNITS: tuple[MarkUnit, ...] = get_args(MarkUnit)
USES: tuple[Use, ...] = get_args(Use)
CROWNS: tuple[Crown, ...] = get_args(Crown)
MOVEMENTS: tuple[Movement, ...] = get_args(Movement)
WATERS: tuple[Water, ...] = get_args(Water)
SALTY: tuple[Water, ...] = ("sea", "brackish")  # waters that have a salinity
BASES: tuple[Basis, ...] = get_args(Basis)
MEDIA: tuple[Medium, ...] = get_args(Medium)
UNITS: tuple[Units, ...] = get_args(Units)
EVENT_KINDS: tuple[EventKind, ...] = get_args(EventKind)

# What is damaged, as people call it.
DAMAGED_PART: Mapping[EventKind, str] = MappingProxyType({
    "crown-damaged": "crown", "crystal-damaged": "crystal", "pushers-damaged": "pushers",
    "gas-valve-damaged": "gas valve",
})  # fmt: skip
DAMAGE: tuple[EventKind, ...] = tuple(DAMAGED_PART)
FAULTS: tuple[EventKind, ...] = ("fog", "water-inside", *DAMAGE)

# Within one date things happened in this order unless the owner says otherwise.
DAY_ORDER: Mapping[str, int] = {
    "opened": 10, "battery": 10, "movement": 10, "strap": 10,
    "gaskets": 20,
    "repaired": 30,
    "pressure-test": 40, "condensation-test": 40,
    "exposure": 50,
    **dict.fromkeys(FAULTS, 60),
    "knock": 60,
}  # fmt: skip

CHANNELS = ("ageing", "pressure", "temperature", "salt", "chemicals", "handling")


@dataclass(frozen=True, slots=True)
class Shares:
    """Wear shares by channel, each a dimensionless part of a service interval."""

    ageing: float = 0.0
    pressure: float = 0.0
    temperature: float = 0.0
    salt: float = 0.0
    chemicals: float = 0.0
    handling: float = 0.0

    @property
    def total(self) -> float:
        """The sum of the six channels."""
        return self.ageing + self.pressure + self.temperature + self.salt + self.chemicals + self.handling

    def plus(self, other: Shares) -> Shares:
        """Channel by channel sum."""
        return Shares(*(a + b for a, b in zip(self.as_tuple(), other.as_tuple(), strict=True)))

    def times(self, factor: float) -> Shares:
        """Every channel multiplied by `factor`."""
        return Shares(*(a * factor for a in self.as_tuple()))

    def as_tuple(self) -> tuple[float, float, float, float, float, float]:
        """The channels in the order of `CHANNELS`."""
        return (self.ageing, self.pressure, self.temperature, self.salt, self.chemicals, self.handling)


@dataclass(frozen=True, slots=True)
class Seal:
    """One sealing place as fitted once; equal dates mean that the date is known."""

    position: Position = field(metadata=stored(label="sealing place"))
    material: str
    fitted_earliest: date
    fitted_latest: date
    order: int = field(default=DAY_ORDER["gaskets"], metadata=stored("day_order", within="order"))
    event_id: int | None = None  # the gaskets event that brought it; None for the seals a watch came with
    id: int | None = None


@dataclass(frozen=True, slots=True)
class ProfilePoint:
    """One point of a profile: seconds since the start, depth in metres, water temperature if measured."""

    time_s: float = field(metadata=stored("time_ms", MILLI, kept=(0, 172_800)))
    depth_m: float = field(metadata=stored("depth_mm", MILLI, within="depth_m"))
    water_c: float | None = field(default=None, metadata=stored("water_mk", MILLIKELVIN, kept=(-40, 120)))


def _uses(meaning: str) -> Mapping[str, object]:
    return stored(within="uses", kept=(0, 10_000), meaning=meaning, example="1")


@dataclass(frozen=True, slots=True)
class Exposure:
    """One contact with water (or hot air), or a planned one, as validated at the edge."""

    activity: str
    water: Water
    depth_m: float = field(metadata=stored("depth_mm", MILLI, within="depth_m"))
    basis: Basis
    # At the greatest depth, from depth, basis and water; hydrostatic only.
    gauge_pa: float = field(metadata=stored("gauge_pa", PASCAL, kept=(0, 5_000_000)))
    duration_s: int = field(metadata=stored(kept=(0, 172_800)))
    # Of the air for a sauna; which of the two it is, says its range.
    water_c: float = field(metadata=stored("water_mk", MILLIKELVIN, kept=(-40, 120)))
    # Case temperature before.
    from_c: float = field(metadata=stored("from_mk", MILLIKELVIN, "from_c", kept=(-40, 120)))
    starts_on: date
    starts_at: time | None = None  # civil; None: the owner gave a date only
    zone: str = "UTC"
    # Tells the two readings of a repeated hour apart; None without a time.
    utc_offset_s: int | None = field(default=None, metadata=stored(kept=(-86_400, 86_400)))
    # Practical salinity, of sea and brackish water; g/kg of a brine.
    salinity: float | None = field(default=None, metadata=stored("salinity_ppm", MILLI, "brine"))
    # Of a brine above 42, where the equation of sea water ends.
    density_kg_m3: float | None = field(
        default=None, metadata=stored("density_g_m3", MILLI, "density_kg_m3", kept=(900, 1_400))
    )
    water_c_assumed: bool = field(
        default=False, metadata=stored("water_assumed")
    )  # home water or the 15 °C default, not measured
    dips: int = field(
        default=1,
        metadata=stored(within="dips", kept=(1, 10_000), meaning="how many times in and out", example="2"),
    )
    rinsed: bool = field(default=False, metadata=stored(meaning="yes or no; absent: no"))
    crown_wet: int = field(default=0, metadata=_uses("uses of the crown with wet hands"))  # or a wet watch
    crown_under: int = field(default=0, metadata=_uses("uses of the crown under water"))
    pusher_wet: int = field(default=0, metadata=_uses("uses of a pusher with wet hands"))
    pusher_under: int = field(default=0, metadata=_uses("uses of a pusher under water"))
    crown_open: bool = field(
        default=False,
        metadata=stored(meaning="yes where the crown was not screwed down, or was pulled out, all the while"),
    )
    pushers_open: bool = field(
        default=False, metadata=stored(meaning="yes where pushers were not locked all the while")
    )
    jump_m: float = field(
        default=0.0,
        metadata=stored(
            "jump_mm", MILLI, "jump_m", kept=(0, 100), meaning="height of a jump into the water", example="2m"
        ),
    )
    note: str = ""
    profile: tuple[ProfilePoint, ...] = field(default=(), metadata=apart("its points are rows of their own"))
    planned: bool = False
    planned_to: date | None = None  # last day of a planned trip
    watch_id: int | None = None
    id: int | None = None

    @property
    def last_day(self) -> date:
        """The last day of a planned trip, else the day on which it begins."""
        return self.planned_to or self.starts_on


# What an exposure is beside a contact with water; a habit has none of it.
OF_A_MOMENT = (
    "starts_on", "starts_at", "zone", "utc_offset_s", "profile", "planned", "planned_to", "watch_id", "id",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Habit:
    """An exposure that repeats `per_day` times a day between two dates; no end: it goes on."""

    exposure: Exposure = field(metadata=apart("a contact is fields of its own"))  # its starts_on is not read
    per_day: float = field(
        metadata=stored("per_1000_weeks", PER_1000_WEEKS, "per_day", kept=(1 / 7000, 1_000))
    )
    from_on: date
    to_on: date | None = None
    watch_id: int | None = None
    id: int | None = None


@dataclass(frozen=True, slots=True)
class WornStretch:
    """Hours a day on the wrist from one date to another, both included; the latest entered one wins."""

    from_on: date
    to_on: date
    hours: float = field(metadata=stored("worn_min", SIXTIETH, "hours"))
    watch_id: int | None = None
    id: int | None = None


@dataclass(frozen=True, slots=True)
class Event:
    """A workshop event or a fault, on a date and in an order inside that date."""

    kind: EventKind
    on: date = field(metadata=stored("happened_on"))
    order: int = field(metadata=stored("day_order", within="order"))
    passed: bool | None = None  # tests only
    # Gauge; a vacuum as its positive magnitude, at most 1 bar.
    test_pa: float | None = field(default=None, metadata=stored("test_pa", PASCAL, kept=(0, 400_000_000)))
    medium: Medium | None = None
    minutes: float | None = field(
        default=None, metadata=stored("test_s", SIXTIETH, "test_minutes", kept=(0, 10_000_000 / 60))
    )
    deflection_um: float | None = field(
        default=None, metadata=stored("deflection_nm", MILLI, "deflection_um", kept=(-10_000, 10_000))
    )
    repaired: EventKind | None = None  # which damage was repaired
    crystal_c: float | None = field(  # of a fog sighting
        default=None, metadata=stored("crystal_mk", MILLIKELVIN, "crystal_c", kept=(-60, 100))
    )
    case_air_c: float | None = field(
        default=None, metadata=stored("case_air_mk", MILLIKELVIN, "case_air_c", kept=(-60, 100))
    )
    workshop: str = ""
    note: str = ""
    # Of a gaskets event: position, material.
    seals: tuple[tuple[Position, str], ...] = field(default=(), metadata=apart("seals are rows of their own"))
    # First and last day it may have been on, where only a month, a year or a range is known; `on` is then the
    # day it counts on: passes on the first, failures, openings, faults and knocks on the last.
    span: tuple[date, date] | None = field(default=None, metadata=apart("two columns, both or neither"))
    to_mark: bool = False  # a test "to its mark"; `test_pa` is the pressure that the mark had that day
    moved: bool = False  # of a knock: crystal, crown or bezel moved
    watch_id: int | None = None
    id: int | None = None

    @property
    def days(self) -> tuple[date, date]:
        """First and last day on which it may have been; twice the same where the day is known."""
        return self.span or (self.on, self.on)


Entry = Exposure | Event | Habit | WornStretch  # what a watch's record is made of


@dataclass(frozen=True, slots=True)
class Watch:
    """A watch as its owner describes it."""

    name: str
    mark: MarkKind = field(metadata=stored(label="mark"))
    # Gauge, as stated; None: no number.
    marked_pa: float | None = field(metadata=stored("marked_pa", PASCAL, kept=(0, 200_000_000)))
    added_on: date
    recorded_from: date  # from this day all its water is in the log
    crown: Crown = field(default="pushed", metadata=stored(label="crown"))
    pushers: bool = False
    gas_valve: bool = False
    pushers_wet: bool = False  # its maker allows the pushers to be used in water
    case_material: str = "steel"
    movement: Movement = field(default="mechanical", metadata=stored(label="movement"))
    use: Use = field(default="dry", metadata=stored("stated_use", label="use"))
    bought_on: date | None = None
    new_on: date | None = None  # bought new: seals and maker's test of that date
    # The years in which it may have been made, both included.
    made_from: int | None = field(default=None, metadata=stored(within="made_year"))
    made_to: int | None = field(default=None, metadata=stored(within="made_year"))
    # How the dial states its mark, so that 200 m stays 200 m.
    marked_in: MarkUnit = field(default="bar", metadata=stored(label="unit of a mark"))
    # A day, wherever nothing else is said.
    worn_h: float = field(default=12.0, metadata=stored("worn_min", SIXTIETH, "hours"))
    # Dry uses of the crown, and of the pushers, a week.
    winds: float = field(
        default=1.0, metadata=stored("winds_per_1000_weeks", MILLI, "per_week", kept=(0, 10_000))
    )
    presses: float = field(
        default=0.0, metadata=stored("presses_per_1000_weeks", MILLI, "per_week", kept=(0, 10_000))
    )
    reference: str = ""
    note: str = ""
    group: str = field(default="", metadata=stored("shelf_group"))
    retired_on: date | None = None
    confirmed_on: date | None = None  # nothing else happened up to this day
    intervals_months: Mapping[str, int] = field(  # task -> months, where the owner set one
        default_factory=dict, metadata=apart("rows of their own")
    )
    id: int | None = None

    @property
    def first_on(self) -> date | None:
        """The watch's own first date, if given: nothing can have happened to it before."""
        given = [day for day in (self.bought_on, self.new_on) if day is not None]
        return min(given) if given else None


RaisedCode = Literal["overstressed", "beyond-proof"]
RAISED_CODES: tuple[RaisedCode, ...] = get_args(RaisedCode)


@dataclass(frozen=True, slots=True)
class Raised:
    """What a logged exposure began that stands until a pass; the first of its code since the last event."""

    code: RaisedCode
    exposure: Exposure  # without its profile


@dataclass(frozen=True, slots=True)
class WatchRecord:
    """All that is needed to reckon a watch without reading its exposures one by one."""

    watch: Watch
    seals: tuple[Seal, ...]  # every seal ever fitted, oldest first
    totals: Mapping[int, Shares]  # seal id -> what its charged exposures add up to, from the ledger
    # Seal id -> what exposures add that lie between its earliest and its middle fitting date.
    doubtful: Mapping[int, Shares] = field(default_factory=dict)
    events: tuple[Event, ...] = ()  # oldest first: by date, order, id
    raised: tuple[Raised, ...] = ()  # by exposures, oldest first, from the ledger
    plans: tuple[Exposure, ...] = ()  # what is planned, soonest first; never charged
    habits: tuple[Habit, ...] = ()
    stretches: tuple[WornStretch, ...] = ()  # in the order entered
    last_exposure_on: date | None = None
    snoozed: Mapping[str, date] = field(default_factory=dict)  # due item id -> silent until
    named: Mapping[str, date] = field(default_factory=dict)  # due item id -> the date that was told
    # The day of the newest change in the whole record by the machine's clock; None where a day was asked for.
    changed_on: date | None = None
    clock_right_to: date | None = None  # up to this day its owner said that the clock is right


@dataclass(frozen=True, slots=True)
class HomeWater:
    """The water an owner usually meets: practical salinity, latitude, altitude, °C by month."""

    salinity: float = field(default=35.0, metadata=stored("salinity_ppm", MILLI, "salinity"))
    latitude_deg: float = field(default=45.0, metadata=stored("latitude_udeg", MICRO, "latitude_deg"))
    altitude_m: float = field(
        default=0.0, metadata=stored("altitude_mm", MILLI, "altitude_m", kept=(-500, 9_000))
    )
    monthly_c: tuple[float, ...] | None = field(  # January first; None: not said
        default=None, metadata=apart("twelve rows of their own, or none")
    )


@dataclass(frozen=True, slots=True)
class Settings:
    """What the owner set once: home water, zone, units."""

    home: HomeWater = field(default_factory=HomeWater, metadata=apart("fields of its own"))
    zone: str = "UTC"
    units: Units = field(default="metric", metadata=stored(label="system of units"))
