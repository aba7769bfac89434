"""The settings as the texts of a form, and back; what was not touched stays exactly as it was."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from logbook.errors import BadInput
from logbook.model.ranges import one_of
from logbook.model.text import listed, printable
from logbook.model.validate.exposure import check_settings
from logbook.model.values import UNITS, HomeWater, Settings, Units
from logbook.text import quantities

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
UNIT_WORDS = (("metric", "metric: m, bar, °C"), ("imperial", "imperial: ft, psi, °F"))
SALINITY, LATITUDE, ALTITUDE, ZONE = "salinity", "latitude", "altitude", "zone"
_FIELD_OF_HOME = {SALINITY: "salinity", LATITUDE: "latitude_deg", ALTITUDE: "altitude_m"}
_BARE = {"metric": ("m", "C"), "imperial": ("ft", "F")}  # what a number without a unit is in
OFFERED_ZONES = 4


@dataclass(frozen=True, slots=True)
class Reading:
    """What the texts say: the settings, or what is wrong by the name of its field."""

    settings: Settings | None = None
    wrong: Mapping[str, str] = field(default_factory=dict)


def texts_of(settings: Settings, units: Units) -> dict[str, str]:
    """What stands in each field; an empty one is of something not said."""
    home = settings.home
    months = home.monthly_c or ()
    return {
        "units": settings.units,
        ZONE: settings.zone,
        SALINITY: _short(home.salinity),
        LATITUDE: _short(home.latitude_deg),
        ALTITUDE: quantities.show_depth(home.altitude_m, units),
        **dict.fromkeys(MONTHS, ""),
        **{
            month: quantities.show_temp(celsius, units).replace(" ", "")  # room is scarce
            for month, celsius in zip(MONTHS, months, strict=False)
        },
    }


def units_of(picked: str) -> Units:
    """The units that were picked."""
    return one_of(picked, UNITS, "system of units", "units")


def bare_words(units: Units) -> str:
    """In what a number without a unit is taken."""
    length, temperature = _BARE[units]
    return f"A number alone is °{temperature} in the months and {length} of altitude."


def shown_words(picked: Units, kept: Units, asked: Units | None) -> str:
    """What to say of units that `--units` asked for in place of those kept; empty where they agree."""
    if asked is None or asked == kept or picked != kept:
        return ""
    return f"Shown in {asked} while this window is open; {kept} is what the record keeps."


def read(texts: Mapping[str, str], before: Settings, stood: Mapping[str, str], own_zone: str) -> Reading:
    """The settings that a form says.

    `stood` is what the form was filled with from `before`: a text that is still the same stands for the value
    behind it, which may have more figures than are shown. An empty zone is `own_zone`.
    """
    wrong: dict[str, str] = {}
    units = units_of(texts["units"])

    def answer(name: str, kept: Any, change: Callable[[str], Settings]) -> Settings | None:
        """The settings with one answer changed, or None, and what is wrong with it."""
        text = texts[name].strip()
        if kept is not None and text == stood[name].strip():
            return None
        try:
            return check_settings(change(text))
        except BadInput as error:
            wrong[name] = error.message
            return None

    found = replace(before, units=units)
    zone = answer(ZONE, before.zone, lambda text: replace(before, zone=text or own_zone))
    home = before.home
    for name, part in _FIELD_OF_HOME.items():
        said = answer(name, getattr(home, part), _with_home(before, name, part, units))
        if said is not None:
            home = replace(home, **{part: getattr(said.home, part)})
    degrees = _months(texts, before, units, answer)
    if not wrong and 0 < len(degrees) < len(MONTHS):
        missing = listed([month for month in MONTHS if month not in degrees], "and")
        wrong["months"] = (
            f"All twelve months, or none: {missing} {'has' if missing in MONTHS else 'have'} none."
        )
    if wrong:
        return Reading(wrong=wrong)
    home = replace(home, monthly_c=tuple(degrees[month] for month in MONTHS) if degrees else None)
    return Reading(check_settings(replace(found, zone=zone.zone if zone else before.zone, home=home)))


def _months(
    texts: Mapping[str, str],
    before: Settings,
    units: Units,
    answer: Callable[[str, Any, Callable[[str], Settings]], Settings | None],
) -> dict[str, float]:
    """°C of each month that has an answer which can be taken."""

    def at(text: str) -> Settings:
        celsius = quantities.parse_temperature_c(text, "month", default_unit=_BARE[units][1])
        return replace(before, home=replace(before.home, monthly_c=(celsius,) * len(MONTHS)))

    found: dict[str, float] = {}
    for nth, month in enumerate(MONTHS):
        kept = before.home.monthly_c[nth] if before.home.monthly_c else None
        if not texts[month].strip():
            continue
        said = answer(month, kept, at)
        if said is not None and said.home.monthly_c is not None:
            found[month] = said.home.monthly_c[0]
        elif kept is not None:
            found[month] = kept
    return found


def _with_home(before: Settings, name: str, part: str, units: Units) -> Callable[[str], Settings]:
    def change(text: str) -> Settings:
        if not text:
            value = getattr(HomeWater(), part)
        elif name == ALTITUDE:
            value = quantities.parse_length_m(text, name, default_unit=_BARE[units][0])
        else:
            value = _number(text, name)
        return replace(before, home=replace(before.home, **{part: value}))

    return change


def _number(text: str, name: str) -> float:
    bare = text.rstrip("° ") if name == LATITUDE else text
    example = "43.5, or -33.9 in the south" if name == LATITUDE else "38"
    try:
        kind, value = quantities.measure(bare, name)
    except BadInput:
        kind, value = "", 0.0
    if kind != quantities.BARE:
        sentence = f"'{printable(text, 30)}' is no {name}: a number without a unit, such as {example}."
        raise BadInput(sentence, where=name)
    return value


def _short(value: float) -> str:
    """A number without needless zeros."""
    return f"{value:.6f}".rstrip("0").rstrip(".")


def zones_like(text: str, zones: Sequence[str]) -> list[str]:
    """The zones that may be meant, likeliest first: by a beginning, then by a part, then by likeness."""
    wanted = "_".join(text.casefold().replace("_", " ").split())
    if not wanted or wanted in (zone.casefold() for zone in zones):
        return []
    places = {zone: zone.casefold() for zone in zones}
    begin = [zone for zone, place in places.items() if place.rpartition("/")[2].startswith(wanted)]
    hold = [zone for zone, place in places.items() if wanted in place]
    found = list(dict.fromkeys((*begin, *hold)))
    if len(found) < OFFERED_ZONES:
        names: dict[str, str] = {}
        for zone, place in places.items():
            names.setdefault(place, zone)
            names.setdefault(place.rpartition("/")[2], zone)
        alike = difflib.get_close_matches(wanted[:80], names, n=OFFERED_ZONES, cutoff=0.7)
        found = list(dict.fromkeys((*found, *(names[each] for each in alike))))
    return found[:OFFERED_ZONES]
