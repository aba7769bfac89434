"""Civil time: known zones, and the offset of a local time from UTC, through gaps and repeats."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta, tzinfo

from logbook.errors import BadInput
from logbook.model.text import did_you_mean, printable


def checked_zone(zone: str) -> str:
    """Returns a zone's IANA name; raises BadInput with the nearest name when there is no such zone."""
    _zone(zone)
    return zone


def checked_offset_s(on: date, at: time | None, zone: str, given_s: int | None = None) -> int | None:
    """Offset from UTC in s of a civil time in a zone; None without a time.

    Refuses a time that the clocks skipped. Takes the first of a repeated time unless `given_s` says which.
    Raises BadInput for an unknown zone, and for a `given_s` that the zone did not have at that time.
    """
    if at is None:
        if given_s is not None:
            raise BadInput("An offset from UTC needs a time beside it, such as 10:40.", where="utc_offset_s")
        return None
    if at.tzinfo is not None:
        raise BadInput("A time of day is the civil time, without a zone of its own.", where="starts_at")
    place = _zone(zone)
    first_s, second_s = (_offset_s(on, at, place, fold) for fold in (0, 1))
    if first_s < second_s:
        later = datetime.combine(on, at) + timedelta(seconds=second_s - first_s)
        moment = _clock(later.time()) if later.date() == on else f"{later.date()} {_clock(later.time())}"
        sentence = f"{_clock(at)} on {on} did not exist in {zone}: the clocks went forward"
        raise BadInput(f"{sentence}; write {moment} for that moment.", where="starts_at")
    if given_s is None or given_s == first_s:
        return first_s
    if given_s == second_s:
        return second_s
    raise BadInput(
        f"{zone} was not at {offset_text(given_s)} at {_clock(at)} on {on} but at {offset_text(first_s)}; "
        f"leave the offset out.", where="utc_offset_s",
    )  # fmt: skip


def offset_text(offset_s: int) -> str:
    """An offset such as `+02:00`; seconds only where there are any."""
    minutes, seconds = divmod(abs(offset_s), 60)
    text = f"{'-' if offset_s < 0 else '+'}{minutes // 60:02d}:{minutes % 60:02d}"
    return f"{text}:{seconds:02d}" if seconds else text


def _offset_s(on: date, at: time, place: tzinfo, fold: int) -> int:
    offset = datetime.combine(on, at.replace(fold=fold)).replace(tzinfo=place).utcoffset()
    return 0 if offset is None else int(offset.total_seconds())


def _clock(at: time) -> str:
    return at.isoformat(timespec="seconds" if at.second else "minutes")


def _zone(zone: str) -> tzinfo:
    from zoneinfo import ZoneInfo, available_timezones

    try:
        return ZoneInfo(zone)
    except (KeyError, ValueError, OSError):
        sentence = f"'{printable(zone, 40)}' is not a time zone; a zone is an IANA name, such as UTC."
        raise BadInput(sentence + did_you_mean(zone, sorted(available_timezones())), where="zone") from None


def months_after(day: date, months: int) -> date:
    """The same day some months later or earlier, or the last day of a shorter month."""
    from dateutil.relativedelta import relativedelta

    return day + relativedelta(months=months)
