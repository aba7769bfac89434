"""The Guide's chapter of constants: every row of the practice in force, with its range and its source."""

from __future__ import annotations

from collections.abc import Iterable

from logbook.model.practice import Activity, Practice
from logbook.physics.worked import plain, quantity
from logbook.tui.guide.parts import Chapter, Entry, Say, Section, prose, sentences

FACTORS = {
    "m_p": "pressure",
    "m_t": "temperature",
    "m_s": "salt",
    "m_c": "chemicals",
    "m_h": "handling",
}
EXPANSION = "10⁻⁶/K"


def chapter(practice: Practice, say: Say) -> Chapter:
    """Every constant in force, by table."""
    keys = ", ".join(practice.overridden)
    text = sentences()["constants"]
    own = f"Your own file sets: {keys}." if keys else text["nothing_yours"]
    sections = (
        Section("What stands here", (*prose(text["in_force"], say), Entry(body=(own,), yours=bool(keys)))),
        _constants(practice),
        _section("Seal factors", text["seals"], say, ("seal", *FACTORS, "kind"), _seals(practice)),
        _section("Materials", text["materials"], say, MATERIAL_HEADS, _materials(practice)),
        _section("Cases and crystals", text["cases"], say, ("material", EXPANSION, "kind"), _cases(practice)),
        _section("Activities", text["activities"], say, ACTIVITY_HEADS, _activities(practice)),
        _section("Intervals", text["intervals"], say, ("task", "every", "a visit from", "to", "kind"),
                 _intervals(practice)),
    )  # fmt: skip
    return Chapter("Constants", "Every constant in force", sections)


MATERIAL_HEADS = ("material", "years", "low–high", "group", "at most", EXPANSION, "kind")
ACTIVITY_HEADS = ("activity", "water", "depth", "time", "temp", "dips", "class", "depth basis", "arm")


def _section(title: str, intro: str, say: Say, heads: tuple[str, ...], rows: Iterable[Entry]) -> Section:
    return Section(title, (*prose(intro, say), *rows), heads)


def _row(practice: Practice, table: str, name: str, cells: tuple[str, ...], *more: str) -> Entry:
    prefix = f"{table}.{name}."
    keys = [key.removeprefix(prefix) for key in practice.overridden if key.startswith(prefix)]
    keys = [key for key in keys if "." not in key]  # else a row whose name goes on
    own = (f"Your own file sets: {', '.join(keys)}.",) if keys else ()
    return Entry(cells=(name, *cells), more=(*more, *own), yours=bool(keys))


def _span(low: float, high: float) -> str:
    return plain(low) if low == high else f"{plain(low)}–{plain(high)}"


def _constants(practice: Practice) -> Section:
    rows = []
    for name, c in practice.constants.items():
        ranged = c.low != c.high
        span = _span(c.low, c.high) if ranged else "–"
        range_words = f"low–high {_span(c.low, c.high)} {c.unit}".rstrip() if ranged else "taken as it is"
        rows.append(
            _row(practice, "constants", name, (quantity(c.value, c.unit), span, c.kind),
                 f"{c.kind}: {c.source}", f"{name} = {quantity(c.value, c.unit)}, {range_words}")
        )  # fmt: skip
    return Section("Constants", tuple(rows), ("constant", "value", "low–high", "kind"))


def _seals(practice: Practice) -> Iterable[Entry]:
    for name, f in practice.seals.items():
        factors = {key: plain(getattr(f, key)) for key in FACTORS}
        said = ", ".join(f"{key} ({FACTORS[key]}) {value}" for key, value in factors.items())
        yield _row(
            practice, "seals", name, (*factors.values(), f.kind), f"{f.kind}: {f.source}", f"{name}: {said}"
        )


def _materials(practice: Practice) -> Iterable[Entry]:
    for name, m in practice.materials.items():
        cap, expansion = f"{plain(m.cap_years)} years", _span(m.alpha_low, m.alpha_high)
        rounded = (f"{m.years:.3g}", f"{m.low:.3g}–{m.high:.3g}")
        cells = (*rounded, m.storage_class, cap, expansion, m.kind)
        said = (
            f"{name}: {plain(m.years)} years of one interval ({_span(m.low, m.high)}), storage group "
            f"{m.storage_class}, {cap} at most, expansion {expansion} {EXPANSION}"
        )
        yield _row(practice, "materials", name, cells, f"{m.kind}: {m.source}", said)


def _cases(practice: Practice) -> Iterable[Entry]:
    for name, c in practice.cases.items():
        cells = (_span(c.alpha_low, c.alpha_high), c.kind)
        yield _row(practice, "cases", name, cells, f"{c.kind}: {c.source}")


def _activities(practice: Practice) -> Iterable[Entry]:
    for name, a in practice.activities.items():
        depth, minutes, celsius = _defaults(a)
        cells = (
            a.water,
            depth,
            minutes,
            celsius,
            str(a.dips),
            a.mark_class,
            a.basis,
            quantity(a.arm_m_s, "m/s"),
        )
        also: tuple[str, ...] = (f"Also called {', '.join(a.also)}.",) if a.also else ()
        most = ((a.most_depth_m, "m"), (a.most_minutes, "min"))
        beyond = " or ".join(quantity(value, unit) for value, unit in most if value is not None)
        also += (f"assumption: more than {beyond} is asked about.",) if beyond else ()
        said = ", ".join(f"{head} {cell}" for head, cell in zip(ACTIVITY_HEADS[1:], cells, strict=True))
        yield _row(practice, "activities", name, cells, f"{name}: {said}.", *also)


def _defaults(a: Activity) -> tuple[str, str, str]:
    """Depth, minutes and temperature where an entry is silent."""
    home = "home" if a.water_c is None else quantity(a.water_c, "°C")
    depth = "say" if a.depth_m is None else quantity(a.depth_m, "m")
    return depth, "say" if a.minutes is None else quantity(a.minutes, "min"), home


def _intervals(practice: Practice) -> Iterable[Entry]:
    for name, i in practice.intervals.items():
        cells = (
            f"{i.months} months",
            *(f"{m:+d} months" if m else "its date" for m in (i.earliest, i.latest)),
        )
        yield _row(practice, "intervals", name, (*cells, i.kind), f"{i.kind}: {i.source}")
