"""An entry that is being changed, in words: what it says, and what that costs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from logbook.model.practice import Practice
from logbook.model.values import CHANNELS, Exposure, Shares, Units, WatchRecord
from logbook.model.wear import charge
from logbook.text import phrases, quantities
from logbook.tui.shell.ink import Line
from logbook.tui.watch.working import share_words


def says(exposure: Exposure, units: Units) -> str:
    """The exposure with its day, and with all that its line holds."""
    words = phrases.full_date(exposure.starts_on)
    if exposure.planned_to is not None:
        words += f" to {phrases.full_date(exposure.planned_to)}"
    if exposure.starts_at is not None:
        words += f" {exposure.starts_at:%H:%M}"
    words += f": {phrases.exposure_words(exposure, units)}"
    if exposure.jump_m:
        words += f", jump {quantities.show_depth(exposure.jump_m, units)}"
    if exposure.dips != 1:
        words += f", {exposure.dips} dips"
    if exposure.profile:
        words += ", with its profile"
    return f"{words}; note: {exposure.note}" if exposure.note else words


def cost_line(
    before: Mapping[int, Shares], exposure: Exposure, record: WatchRecord, practice: Practice
) -> Line:
    """What the entry took as it stands on record, and what it takes as it is told now, taken alone."""
    now = _costs(exposure, record, practice)
    if exposure.planned:
        return [
            ("it would take ", "plain"),
            (most(now, record), "strong"),
            (" once it has happened", "plain"),
        ]
    if not now:
        began = phrases.full_date(record.watch.recorded_from)
        if exposure.starts_on < record.watch.recorded_from:
            return [(f"not charged: its water is on record from {began} only", "plain")]
        return [("not charged: before its seals were fitted", "plain")]
    took = most(before, record) if before else "nothing"
    other = f": {said}" if (said := _channels(before, now)) else ""
    return [(f"took {took}; now it takes ", "plain"), (most(now, record), "strong"), (other, "plain")]


def _channels(before: Mapping[int, Shares], now: Mapping[int, Shares]) -> str:
    """What another part has in it of the seal that costs most now: `pressure 0.020 of 100, was 0.014`."""
    seal_id = max(now, key=lambda seal_id: now[seal_id].total)
    if seal_id not in before:
        return ""
    pairs = zip(CHANNELS, before[seal_id].as_tuple(), now[seal_id].as_tuple(), strict=True)
    told = [(name, share_words(100 * was), share_words(100 * is_now)) for name, was, is_now in pairs]
    return "; ".join(f"{name} {is_now} of 100, was {was}" for name, was, is_now in told if was != is_now)


def _costs(exposure: Exposure, record: WatchRecord, practice: Practice) -> dict[int, Shares]:
    """Seal id -> what the exposure adds to the seal that was there at the time."""
    if exposure.planned:
        ahead = charge.preview(record, exposure, practice)
        return {s.id or 0: ahead[s.position] for s in charge.current_seals(record.seals)}
    charged = charge.charge_exposures(record, [replace(exposure, id=0)], practice)[0]
    return {seal_id: each.shares for seal_id, each in charged.items() if each.counted}


def most(costs: Mapping[int, Shares], record: WatchRecord) -> str:
    """`0.3 of 100 (crown)`: the most that any seal is charged."""
    if not costs:
        return "nothing"
    places = {seal.id: phrases.place(seal.position) for seal in record.seals}
    most = max(costs, key=lambda seal_id: costs[seal_id].total)
    return f"{phrases.of_hundred(costs[most].total)} ({places.get(most, 'seal')})"
