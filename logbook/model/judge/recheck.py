"""Checks an exposure again that was valid once but has since been outside the record: in a file, by hand.

What was worked out when it was logged is kept: the pressure, which depends on the latitude of the home water
of that day, and the offset from UTC, since zone rules change between releases of the zone data. Both only
have to be possible.
"""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import date

from logbook.errors import BadInput
from logbook.model.civil import checked_offset_s, checked_zone
from logbook.model.practice import Practice
from logbook.model.ranges import number
from logbook.model.validate.exposure import gauge_pa, make_exposure
from logbook.model.values import Exposure, HomeWater, Settings, Watch

WIDEST_OFFSET_S = 16 * 3600  # no place was ever further from Greenwich: 15 h 56 min in the zone data
_POLE = Settings(HomeWater(latitude_deg=90.0))
_EQUATOR = Settings(HomeWater(latitude_deg=0.0))
_ROUNDING_PA = 1.0
_OTHER_EQUATIONS = 0.001  # another release of the equations of sea water may differ by so much
_APART = ("gauge_pa", "starts_at", "utc_offset_s", "watch_id", "id")  # checked here, or not for a validator
_GIVEN = tuple(field.name for field in fields(Exposure) if field.name not in _APART)


def recheck_exposure(
    exposure: Exposure, watch: Watch | None, practice: Practice, settings: Settings, today: date
) -> Exposure:
    """The exposure at the resolution at which it is kept; raises BadInput with the field in `where`.

    `watch` is the one that it names: pushers used on a watch without any are refused. Ids stay.
    """
    given = {name: getattr(exposure, name) for name in _GIVEN}
    checked = make_exposure(practice, settings, today=today, watch=watch, **given)
    start = None if exposure.starts_at is None else exposure.starts_at.replace(microsecond=0, fold=0)
    checked = replace(
        checked, zone=checked_zone(exposure.zone), starts_at=start, utc_offset_s=_offset_s(exposure),
        watch_id=exposure.watch_id, id=exposure.id,
    )  # fmt: skip
    return replace(checked, gauge_pa=kept_gauge_pa(checked, exposure.gauge_pa))


def kept_gauge_pa(exposure: Exposure, given_pa: float) -> float:
    """`given_pa` in whole Pa; raises BadInput where an exposure so deep in such water cannot have had it."""
    bounds = sorted(gauge_pa(exposure, at) for at in (_EQUATOR, _POLE))
    slack = _OTHER_EQUATIONS if exposure.basis == "true" else 0.0
    low, high = bounds[0] * (1 - slack) - _ROUNDING_PA, bounds[1] * (1 + slack) + _ROUNDING_PA
    if not low <= given_pa <= high:
        at = "in air" if exposure.water == "air" else f"at {number(exposure.depth_m)} m"
        span = f"{bounds[0]:.0f}" if bounds[0] == bounds[1] else f"{bounds[0]:.0f} to {bounds[1]:.0f}"
        sentence = f"The pressure is {number(given_pa)} Pa, but {at}, {exposure.basis}, it is {span} Pa."
        raise BadInput(sentence, where="gauge_pa")
    return float(round(given_pa)) + 0.0


def _offset_s(exposure: Exposure) -> int | None:
    """The offset as written, or the zone's where a time has none."""
    given_s = exposure.utc_offset_s
    if given_s is None or exposure.starts_at is None:
        return checked_offset_s(exposure.starts_on, exposure.starts_at, exposure.zone, given_s)
    if abs(given_s) > WIDEST_OFFSET_S:
        sentence = f"The offset from UTC is {given_s:,} s; no place is further than {WIDEST_OFFSET_S:,} s."
        raise BadInput(sentence, where="utc_offset_s")
    return given_s
