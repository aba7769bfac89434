"""How the page writes numbers and what people typed: short, one line, no control bytes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from logbook.model.text import printable
from logbook.model.values import Exposure, Habit, Seal, Units, Watch
from logbook.physics.worked import plain
from logbook.text import quantities
from logbook.text.phrases import full_date, place

NONE = "–"
BAR_M = 10.0  # the trade's metres of water for a bar


@dataclass(frozen=True, slots=True)
class Table:
    """A table in ready words; it leaves out so many of `what`.

    `numeric` are the columns that stand to the right, `wordy` those that may take several lines, `marked` the
    rows that stand against the watch.
    """

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numeric: tuple[int, ...] = ()
    wordy: tuple[int, ...] = ()
    marked: tuple[int, ...] = ()
    left_out: int = 0
    what: str = ""

    @property
    def more(self) -> str:
        """`and 12 earlier tests`, or nothing."""
        return left_out(self.left_out, self.what) if self.what else ""


def typed(text: str, limit: int) -> str:
    """What a person typed, on one line and cut to a length; a dash for nothing."""
    return printable(text, limit).strip() or NONE


def per_cent(share: float) -> str:
    """A wear share as whole per cent: `62 %`, `<1 %`, or a dash for nothing."""
    if share < 0.00005:
        return NONE
    if share >= 10:
        return ">999 %"
    return "<1 %" if share < 0.005 else f"{100 * share:.0f} %"


def took(share: float) -> str:
    """What one exposure took of an interval, in per cent."""
    points = 100 * share
    return f"{points:.{3 if points < 0.1 else 2 if points < 10 else 1}f} %"


def hours(duration_s: float) -> str:
    """`38 h`, `0.6 h`."""
    value = duration_s / 3600
    return f"{value:.{0 if value >= 9.95 else 1}f} h"


def swing(size_k: float, units: Units) -> str:
    """A temperature difference: `21 K`, or `38 °F`."""
    return f"{size_k * 1.8:.0f} °F" if units == "imperial" else f"{size_k:.0f} K"


def pressure(gauge_pa: float, units: Units) -> str:
    """Bar as a workshop reads it, with psi before it where those were asked for."""
    bar = quantities.show_pressure(gauge_pa)
    return f"{quantities.show_pressure(gauge_pa, units)} ({bar})" if units == "imperial" else bar


def marked(watch: Watch, units: Units) -> str:
    """As the dial has it first: `200 m (20 bar, by the trade’s 10 m = 1 bar)`, or bar before metres."""
    if watch.marked_pa is None:
        return "no number"
    bar = watch.marked_pa / quantities.BAR_PA
    depth_m = bar * BAR_M
    feet = f", {quantities.show_depth(depth_m, 'imperial')}" if units == "imperial" else ""
    first, other = f"{bar:g} bar", f"{depth_m:g} m"
    if watch.marked_in == "m":
        first, other = other, first
    return f"{first} ({other}{feet}, by the trade’s 10 m = 1 bar)"


def fitted(seal: Seal, added_on: date) -> str:
    """`4 Apr 2025`, `between 4 Feb 2022 and 1 Dec 2022`, or that it is not known."""
    first, last = (_together(full_date(day)) for day in (seal.fitted_earliest, seal.fitted_latest))
    if first == last:
        return first
    # What the record supposes of a seal whose owner knew nothing ends on the day the watch was added.
    unknown = "unknown, " if seal.event_id is None and seal.fitted_latest == added_on else ""
    return f"{unknown}between {first} and {last}"


def _together(text: str) -> str:
    """Words that no line end parts."""
    return text.replace(" ", "\N{NO-BREAK SPACE}")


def crown_use(exposure: Exposure) -> str:
    """Wet uses of crown and pushers: `crown 2 wet, 1 under; pushers 1 under`, under meaning under water."""
    told = []
    for what, wet, under in (
        ("crown", exposure.crown_wet, exposure.crown_under),
        ("pushers", exposure.pusher_wet, exposure.pusher_under),
    ):
        uses = [f"{count} {how}" for how, count in (("wet", wet), ("under", under)) if count]
        told += [f"{what} {', '.join(uses)}"] if uses else []
    return "; ".join(told) or NONE


def habit(repeated: Habit, units: Units) -> str:
    """`shower 0.1 m, 8 min, soap 38 °C, not rinsed: 3 a week since 1 Jan 2026`."""
    from logbook.text.phrases import exposure_words

    daily = repeated.per_day >= 1
    often = plain(round(repeated.per_day * (1 if daily else 7), 3))
    until = f" to {full_date(repeated.to_on)}" if repeated.to_on else ""
    words = printable(exposure_words(repeated.exposure, units), 80)
    per = "day" if daily else "week"
    return f"{words}: {often} a {per} from {full_date(repeated.from_on)}{until}"


def position(seal_position: str) -> str:
    """A sealing place."""
    return typed(place(seal_position), 20)


def left_out(count: int, what: str) -> str:
    """`and 12 earlier tests`, or nothing."""
    return f"and {count:,} {what}{'s' if count != 1 else ''}" if count > 0 else ""
