"""How a seal's score and an exposure's cost come about: the model's formulas with their numbers in them.

The numbers are the reckoning's own; here they are only written out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from functools import partial

from textual.geometry import Size

from logbook.model.judge.standing import Standing
from logbook.model.practice import Practice
from logbook.model.shown import show_difference, show_swing
from logbook.model.values import CHANNELS, Event, Exposure, Seal, Shares, Units, Watch, WatchRecord
from logbook.model.wear import account, charge, profiles, wear
from logbook.model.wear.account import SealWear
from logbook.model.wear.cycles import Cycle
from logbook.text import phrases, quantities
from logbook.text.events import event_words, when_words
from logbook.tui.events.meaning import meaning
from logbook.tui.pictures import dive_plot
from logbook.tui.shell.ink import Line, wrapped
from logbook.tui.watch import bar as watch_bar
from logbook.tui.watch.bar import HATCHING, MOST, dominating

_POWERS = str.maketrans("0123456789.", "⁰¹²³⁴⁵⁶⁷⁸⁹·")
MAKES_IT_KNOWN = "a date of its gaskets makes them known, a year will do; so does a passed pressure test"
MOST_CYCLES = 4  # of a profile that are written out
_HOURS_OF = {"pool": "H_pool", "soap": "H_soap", "hot tub": "H_hot_tub"}


def share_words(share: float) -> str:
    """A wear share as a plain decimal with two figures that count: `0.00011`."""
    if abs(share) < 5e-9:
        return "0"
    places = 2
    while places < 10 and abs(share) < 10 ** (1 - places):
        places += 1
    return f"{share:.{places}f}".replace("-", "−")


def history_words(seal_wear: SealWear) -> str:
    """The wear share with what its unknown history leaves open."""
    share = f"{seal_wear.wear_share:.2f}"
    if not seal_wear.history_is_open:
        return f"{share} of an interval, all of it on record"
    low, high = f"{seal_wear.history_low:.2f}", f"{seal_wear.history_high:.2f}"
    return f"{share} of an interval, from {low} to {high} as its history is not known"


def of_seal(
    seal_wear: SealWear, standing: Standing, practice: Practice, units: Units, width: int
) -> list[Line]:
    """Channels of one seal as bars with numbers, their sum, the score, and where its material ends.

    While nothing is known of the seals it has no numbers, and says what would make them known.
    """
    seal, watch = seal_wear.seal, standing.record.watch
    if standing.score is None:
        return _of_unknown_seal(seal, standing)
    lines: list[Line] = [
        [
            (f"{phrases.place(seal.position)} seal", "title"),
            (f" · {seal.material} · {fitted_words(seal)}", "plain"),
        ],
        *watch_bar.by_channel(seal_wear, width),
    ]
    score, _ = account.score([seal_wear], standing.on)
    lines += [
        [(f"sum {history_words(seal_wear)}", "strong")],
        [
            (
                f"score 100 × (1 − {seal_wear.wear_share:.4f}) = {score}, rounded down"
                + _band(seal_wear, standing),
                "plain",
            )
        ],
        *_cap_lines(seal_wear, standing.on, practice),
        [(_ageing_words(seal.material, watch, practice, units), "dim")],
        [(_uses_words(watch, seal, practice), "dim")],
    ]
    return [line for line in lines if line[0][0]]


def _of_unknown_seal(seal: Seal, standing: Standing) -> list[Line]:
    head = (f"{phrases.place(seal.position)} seal", "title")
    return [
        [head, (f" · {seal.material} · when it was fitted is not known", "plain")],
        [(f"score and share used not known {standing.why_no_score}", "strong")],
        [(MAKES_IT_KNOWN, "dim")],
    ]


def _band(seal_wear: SealWear, standing: Standing) -> str:
    """What the score may be by the ranges of the constants and of unknown history."""
    band = standing.band_of(seal_wear.seal.position)
    if band is None:
        return ""
    low, high = account.score_of(band.high), account.score_of(band.low)
    return f"; share likely {band.low:.2f} to {band.high:.2f}, score {low} to {high} (80 % band)"


def fitted_words(seal: Seal) -> str:
    """When a seal was fitted, as a day or as a range."""
    first, last = phrases.full_date(seal.fitted_earliest), phrases.full_date(seal.fitted_latest)
    return f"fitted {first}" if first == last else f"fitted between {first} and {last}"


def _cap_lines(seal_wear: SealWear, on: date, practice: Practice) -> Iterator[Line]:
    material = seal_wear.seal.material
    years = practice.material(material).cap_years
    capped = on >= seal_wear.cap_on
    words = "was over on" if capped else "ends on"
    role = "grave" if capped else "plain"
    yield [
        (f"storage age of {material}, {years:g} years, {words} {phrases.full_date(seal_wear.cap_on)}", role)
    ]


def _ageing_words(material: str, watch: Watch, practice: Practice, units: Units) -> str:
    worn, stored = practice["worn_c"], practice["storage_c"]
    rates = [wear.ageing_share_per_hour(celsius, material, practice) for celsius in (worn, stored)]
    return (
        f"ageing r(T)/r̄/{practice.material(material).years:.3g} years: {share_words(rates[0])} an hour worn"
        f" at {quantities.show_temp(worn, units)}, {share_words(rates[1])} stored at "
        f"{quantities.show_temp(stored, units)}; worn {watch.worn_h:g} h a day"
    )


def _uses_words(watch: Watch, seal: Seal, practice: Practice) -> str:
    weekly = {"crown": watch.winds, "pushers": watch.presses}.get(seal.position, 0.0)
    if not weekly:
        return ""
    m_h = wear.factors(watch, seal.position, practice).m_h
    return f"handling {m_h:g} × {weekly:g} dry uses a week / {practice['U_dry']:g}"


def of_exposure(
    exposure: Exposure, costs: Mapping[int, Shares], standing: Standing, practice: Practice, units: Units,
    room: Size, raised: str = "",
) -> list[Line]:  # fmt: skip
    """What an exposure took: the formula of each channel for the seal it cost most, then the other seals.

    Its profile stands before the formulas, in what they leave of `room`; without one, the assumed shape
    stands after them. What it `raised` comes first.
    """
    head, formulas = _of_exposure(exposure, costs, standing, practice, units)
    if raised:
        head.insert(1, [(f"{raised}: it asked for a passed pressure test after it", "grave")])
    drawn = partial(dive_plot.lines, exposure, practice, units, room.width)
    if wear.has_shape(exposure.profile):
        texts = ["".join(text for text, _ in line) for line in (*head, *formulas)]
        taken = sum(len(wrapped(text, room.width)) for text in texts)
        return [*head, *drawn(room.height - taken), *formulas]
    return [*head, *formulas, *drawn(0)]


def _of_exposure(
    exposure: Exposure, costs: Mapping[int, Shares], standing: Standing, practice: Practice, units: Units
) -> tuple[list[Line], list[Line]]:
    """What it was and took in all, and how that comes about."""
    watch = standing.record.watch
    lines: list[Line] = [[(phrases.exposure_words(exposure, units), "title")]]
    if exposure.note:
        lines.append([(exposure.note, "dim")])
    charged = _charged(exposure, costs, standing.record, practice)
    if exposure.planned:
        lines.append([("planned: charged once it has happened, and then as follows if alone", "mild")])
    elif not charged:
        return [*lines, [(_not_charged(exposure, watch), "plain")]], []
    most, shares = charged[0]
    lines.append(
        [(f"{phrases.place(most.position)} seal: took {phrases.of_hundred(shares.total)}", "strong")]
    )
    formulas = [*_channel_lines(exposure, most, shares, watch, practice, units)]
    others = ", ".join(f"{phrases.place(s.position)} {phrases.of_hundred(c.total)}" for s, c in charged[1:])
    return lines, [*formulas, [(f"other seals: {others}", "plain")]] if others else formulas


def _charged(
    exposure: Exposure, costs: Mapping[int, Shares], record: WatchRecord, practice: Practice
) -> list[tuple[Seal, Shares]]:
    """Each seal with what it was charged, or of a plan what it would be, the dearest first."""
    if exposure.planned:
        ahead = charge.preview(record, exposure, practice)
        found = [(seal, ahead[seal.position]) for seal in charge.current_seals(record.seals)]
    else:
        found = [(s, cost) for s in record.seals if (cost := costs.get(s.id or 0)) is not None]
    return sorted(found, key=lambda pair: -pair[1].total)


def _not_charged(exposure: Exposure, watch: Watch) -> str:
    if exposure.starts_on < watch.recorded_from:
        began = phrases.full_date(watch.recorded_from)
        return f"before the record of this watch began ({began}): kept, and charged to no seal"
    return "before its seals were fitted: kept, and charged to no seal in place"


def _channel_lines(
    exposure: Exposure, seal: Seal, shares: Shares, watch: Watch, practice: Practice, units: Units
) -> Iterator[Line]:
    formulas = {
        "ageing": _ageing_formula,
        "pressure": _pressure_formula,
        "temperature": _temperature_formula,
        "salt": _salt_formula,
        "chemicals": _chemicals_formula,
        "handling": _handling_formula,
    }
    silent = []
    most = dominating(shares)
    for name, share in zip(CHANNELS, shares.as_tuple(), strict=True):
        if abs(share) < 5e-9:
            silent.append(name)
            continue
        formula = formulas[name](exposure, seal, watch, practice, units)
        yield [
            (f"{HATCHING[name]} ", "bar"),
            (f"{name:<12}{formula} = ", "strong" if name == most else "plain"),
            (share_words(share) + (f" {MOST}" if name == most else ""), "strong"),
        ]
    if silent:
        yield [(f"nothing from {', '.join(silent)}", "dim")]


def _power(exponent: float) -> str:
    return f"{exponent:g}".translate(_POWERS)


def _time(exposure: Exposure) -> str:
    return quantities.show_minutes(exposure.duration_s)


def cycle_words(cycles: Sequence[Cycle], part: Callable[[float], str], exponent: float) -> str:
    """The counted cycles of a profile as a sum, the largest first, as far as they matter."""
    largest = sorted(cycles, key=lambda cycle: -cycle.range)
    whole = sum(c.count * c.range**exponent for c in largest)
    shown: list[Cycle] = []
    for cycle in largest[:MOST_CYCLES]:
        if sum(c.count * c.range**exponent for c in shown) < 0.99 * whole:
            shown.append(cycle)
    terms = [f"{c.count:g} × {part(c.range)}{_power(exponent)}" for c in shown]
    rest = len(largest) - len(shown)
    if rest:
        terms.append(f"{rest} smaller")
    return f"({' + '.join(terms)})" if terms else "0"


def _ageing_formula(exposure: Exposure, seal: Seal, watch: Watch, practice: Practice, units: Units) -> str:
    if wear.has_shape(exposure.profile):
        low, high = profiles.span_c(exposure, practice)
        case = f"with the case at {show_swing(low, high, units, ' to ')}"
        return f"{_time(exposure)} {case}, by its profile, less the hours it stands in for"
    reached = quantities.show_temp(wear.case_c(exposure, practice), units)
    return f"{_time(exposure)} at {reached}, less the hours it stands in for"


def _pressure_formula(exposure: Exposure, seal: Seal, watch: Watch, practice: Practice, units: Units) -> str:
    m_p = wear.factors(watch, seal.position, practice).m_p
    gauge = quantities.show_pressure(exposure.gauge_pa, units)
    mark = quantities.show_pressure(wear.reference_mark_pa(watch, practice), units)
    if wear.has_shape(exposure.profile):
        counted = cycle_words(
            wear.course_of(exposure, practice).pressure,
            lambda range_pa: f"({quantities.show_pressure(range_pa, units)}/{mark})",
            practice["n_p"],
        )
        return f"{m_p:g} × {counted} / {practice['N_p']:g}"
    return f"{m_p:g} × {exposure.dips} × ({gauge}/{mark}){_power(practice['n_p'])} / {practice['N_p']:g}"


def _temperature_formula(
    exposure: Exposure, seal: Seal, watch: Watch, practice: Practice, units: Units
) -> str:
    m_t = wear.factors(watch, seal.position, practice).m_t
    if wear.has_shape(exposure.profile):
        counted = cycle_words(
            wear.course_of(exposure, practice).temperature,
            lambda range_k: _of_test(range_k, practice, units),
            practice["n_t"],
        )
        return f"{m_t:g} × {counted} / {practice['N_t']:g}"
    swing = _of_test(wear.swing_k(exposure, practice), practice, units)
    return f"{m_t:g} × {swing}{_power(practice['n_t'])} / {practice['N_t']:g}"


def _of_test(swing_k: float, practice: Practice, units: Units) -> str:
    """A swing beside that of the thermal-shock test: `(12.5/35 K)`."""
    test = show_difference(practice["swing_k"], units)
    return f"({show_difference(swing_k, units).split()[0]}/{test})"


def _salt_formula(exposure: Exposure, seal: Seal, watch: Watch, practice: Practice, units: Units) -> str:
    m_s = wear.factors(watch, seal.position, practice).m_s
    rinse = "" if exposure.rinsed else f" × {practice['unrinsed']:g} not rinsed"
    strength = ""
    if exposure.salinity is not None and exposure.salinity != practice["salt_reference"]:
        strength = f" × {exposure.salinity:g}/{practice['salt_reference']:g}"
    return f"{m_s:g} × {_time(exposure)}{strength}{rinse} / {practice['H_salt']:g} h"


def _chemicals_formula(exposure: Exposure, seal: Seal, watch: Watch, practice: Practice, units: Units) -> str:
    m_c = wear.factors(watch, seal.position, practice).m_c
    return f"{m_c:g} × {_time(exposure)} / {practice[_HOURS_OF[exposure.water]]:g} h"


def _handling_formula(exposure: Exposure, seal: Seal, watch: Watch, practice: Practice, units: Units) -> str:
    m_h = wear.factors(watch, seal.position, practice).m_h
    crown = seal.position == "crown"
    wet = exposure.crown_wet if crown else exposure.pusher_wet
    under = exposure.crown_under if crown else exposure.pusher_under
    return f"{m_h:g} × ({wet}/{practice['U_wet']:g} + {under}/{practice['U_under']:g})"


def of_event(event: Event, units: Units) -> list[Line]:
    """An event in full, and what it does to the books."""
    lines: list[Line] = [
        [(event_words(event, units), "title")],
        [(when_words(event), "plain")],
        [(meaning(event), "plain")],
    ]
    if event.workshop:
        lines.append([(f"workshop: {event.workshop}", "plain")])
    if event.note:
        lines.append([(event.note, "dim")])
    return lines
