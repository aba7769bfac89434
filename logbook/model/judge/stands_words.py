"""What stands until proven, in words: what happened, and what lifts it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import timedelta

from logbook.model import marks
from logbook.model.judge import history, proofs
from logbook.model.judge.proofs import Asked
from logbook.model.judge.stands import KEEP_DRY, STANDS, THINK_TWICE, Needs, Unresolved, overstress
from logbook.model.practice import Practice
from logbook.model.shown import show_at_least, show_depth, show_pressure
from logbook.model.text import full_date, printable
from logbook.model.values import Event, Exposure, Habit, Units, Watch, WatchRecord

RAISED_WORDS = {
    "fog": "fog was seen inside",
    "water-inside": "water was seen inside",
    "crown-damaged": "the crown was damaged",
    "crystal-damaged": "the crystal was damaged",
    "pushers-damaged": "the pushers were damaged",
    "gas-valve-damaged": "the gas valve was damaged",
    "condensation-test": "a condensation test failed",
}
OPENING_WORDS = {
    "opened": "case opened",
    "gaskets": "gaskets",
    "battery": "battery",
    "movement": "movement service",
}
MOST_SAID = 3  # lines shown when many entries are read at once
CORRODES = "to a workshop within days: what is wet inside corrodes"


def at_least(needed_pa: float, watch: Watch, units: Units = "metric") -> str:
    """`10 bar or more, better at its mark, 20 bar`: the pass needed, and the mark where that is higher."""
    words = f"{show_at_least(needed_pa, units)} or more"
    if watch.marked_pa is not None and watch.mark != "unknown" and watch.marked_pa > needed_pa + 0.5:
        words += f", better at its mark, {show_pressure(watch.marked_pa, units)}"
    return words


def sentence_of(stand: Unresolved, needs: Needs, units: Units = "metric") -> tuple[str, str]:
    """What stands, as one sentence, and the limit beside it: the pass that lifts it."""
    lifting_pa = lifting_pass_pa(stand, needs)
    told = _SENTENCES[stand.way](stand, needs, at_least(lifting_pa, needs.watch, units), units)
    return told, f"a pass at {show_at_least(lifting_pa, units)}"


def when(stand: Unresolved) -> str:
    """`on 12 Jul 2026`; for a day known only roughly `in Jul 2026`, `in 2026` or both ends."""
    span = stand.event.span if stand.event else None
    if span is None:
        return f"on {full_date(stand.on)}"
    first, last = span
    whole_months = first.day == 1 and (last + timedelta(days=1)).day == 1
    if whole_months and (first.year, first.month) == (last.year, last.month):
        return f"in {first:%b %Y}"
    if whole_months and (first.month, last.month) == (1, 12) and first.year == last.year:
        return f"in {first.year}"
    return f"between {full_date(first)} and {full_date(last)}"


def at_once(
    record: WatchRecord, entries: Sequence[Exposure | Habit], practice: Practice, units: Units = "metric"
) -> list[str]:
    """What logged exposures or a habit mean for the next swim or dive, said when they are logged."""
    needs = Needs.of(record.watch, _wet(record.watch), practice)
    # The gravest is enough: what is above the mark is above the proof as well.
    return _news((), history.meant_by(record, entries, practice, needs.asked), needs, units)[:1]


def now_stands(
    before: WatchRecord | None, after: WatchRecord, practice: Practice, units: Units = "metric"
) -> list[str]:
    """What newly stands on a watch, the gravest first; `before` None: the watch is new."""
    asked = _wet(after.watch)
    stood = [] if before is None else history.course(before, asked, practice).stands
    going = history.course(after, asked, practice)
    return _news(stood, going.stands, going.needs, units)


def now_standing(
    before: Iterable[WatchRecord], after: Iterable[WatchRecord], practice: Practice, units: Units = "metric"
) -> list[str]:
    """The gravest of what newly stands on each watch, with its nickname."""
    was = {record.watch.id: record for record in before}
    return by_watch(
        (record.watch.name, now_stands(was.get(record.watch.id), record, practice, units)) for record in after
    )


def by_watch(found: Iterable[tuple[str, Sequence[str]]]) -> list[str]:
    """The gravest sentence for each watch, the gravest first: `Blue bezel: keep it dry: …`."""
    lines = [(said[0], f"{printable(name)}: {said[0]}") for name, said in found if said]
    return [line for _, line in sorted(lines, key=lambda each: not each[0].startswith(KEEP_DRY))]


def a_few(lines: Sequence[str]) -> list[str]:
    """The first three lines, then how many more there are."""
    more = len(lines) - MOST_SAID
    return [*lines[:MOST_SAID], *([f"and {more} more"] if more > 0 else [])]


def _wet(watch: Watch) -> Asked:
    """What a watch is asked in such a sentence: its stated use, or a swim where that is dry."""
    return proofs.stated(watch) if watch.use != "dry" else Asked("swim")


def _news(before: Iterable[Unresolved], after: Iterable[Unresolved], needs: Needs, units: Units) -> list[str]:
    """Sentences about what newly stands, the gravest first, each with its verdict."""
    stood = {_same(stand) for stand in before}
    fresh = [stand for stand in after if _same(stand) not in stood]
    fresh.sort(key=lambda stand: list(STANDS).index(stand.way))
    verdicts = ((stand, STANDS[stand.way].speaks(stand, needs)) for stand in fresh)
    return [
        f"{verdict or THINK_TWICE}: {sentence_of(stand, needs, units)[0]}." for stand, verdict in verdicts
    ]


def _same(stand: Unresolved) -> tuple[str, str, int]:
    """What identifies a stand in two readings of a record."""
    return stand.way, type(stand.cause.what).__name__, stand.entry_id


def raised_in_a_word(record: WatchRecord, exposure: Exposure, practice: Practice) -> str:
    """What a logged exposure raised, for the line of its entry in a log: `above its mark`; else empty."""
    found = history.begun_by(record, exposure, practice)[:1]
    needs = Needs.of(record.watch, proofs.stated(record.watch), practice)
    return "".join(_SHORT[stand.way](stand, needs) for stand in found)


def lifting_pass_pa(stand: Unresolved, needs: Needs) -> float:
    """The pressure in Pa of the pass that lifts it, once everything else is done."""
    if stand.way == "failed-test" and stand.event:
        return needs.failed_pa(stand.event)
    found = {"overstressed": needs.stress_pa, "water-inside": needs.use_pa, "fog-explained": needs.use_pa,
             "damaged": needs.use_pa}  # fmt: skip
    return found.get(stand.way, needs.asked_pa)


def _failed(stand: Unresolved, needs: Needs, passed: str, units: Units) -> str:
    failed = stand.event
    at = f" at {show_pressure(failed.test_pa, units)}" if failed and failed.test_pa is not None else ""
    medium = f" in {failed.medium}" if failed and failed.medium else ""
    told = f"a pressure test{at}{medium} failed {when(stand)}"
    if stand.passed_on is not None and not stand.opened:
        again = full_date(stand.passed_on)
        return f"{told}; it passed on {again} with nothing opened: test it again on another day"
    if stand.opened:
        return f"{told}; opened since, it stands until a pressure test is passed at {passed}"
    return f"{told}; it stands until the watch is opened, mended and passes at {passed}"


def _water(stand: Unresolved, needs: Needs, passed: str, units: Units) -> str:
    kind = stand.event.kind if stand.event else "water-inside"
    told = f"{RAISED_WORDS[kind]} {when(stand)}"
    if stand.opened or stand.condensed:
        return f"{told}; it stands until a pressure test is passed at {passed}"
    return f"{told}: {CORRODES}; it stands until opened, dried and tested at {passed}"


def _explained(stand: Unresolved, needs: Needs, passed: str, units: Units) -> str:
    return (
        f"fog was seen inside {when(stand)}, which sealed air explains; a passed condensation test settles it"
    )


def _damaged(stand: Unresolved, needs: Needs, passed: str, units: Units) -> str:
    told = f"{RAISED_WORDS[stand.event.kind]} {when(stand)}" if stand.event else "it was damaged"
    rest = "it stands until" if stand.repaired else "it stands until its repair and"
    return f"{told}; {rest} a pressure test passed at {passed}"


def _opened(stand: Unresolved, needs: Needs, passed: str, units: Units) -> str:
    if stand.event is None:
        return f"its gaskets may have been fitted after its last pass; not tested since at {passed}"
    what = opening_words(stand)
    perhaps = "perhaps opened after its last pass," if stand.mild else "opened"
    return f"{perhaps} {when(stand)} ({what}) and not tested since at {passed}"


def opening_words(stand: Unresolved) -> str:
    """What the case was opened for: `battery`, `crown repaired`."""
    event = stand.event
    if event is None:
        return "gaskets"
    if event.kind == "repaired":
        return f"{(event.repaired or '').removesuffix('-damaged').replace('-', ' ')} repaired"
    return OPENING_WORDS[event.kind]


def _overstressed(stand: Unresolved, needs: Needs, passed: str, units: Units) -> str:
    exposure = _exposure(stand)
    way = overstress(exposure, needs.watch, needs.practice)
    if way == "mark":
        limit = show_pressure(marks.mark_limit_pa(needs.watch, needs.practice), units)
        what = f"went above its mark: {show_pressure(marks.met_pa(exposure), units)} against {limit}"
    else:
        what = f"had its {_stress_in_a_word(stand, needs)}"
    return f"{_water_words(stand, units)} {what}; it stands until a pressure test is passed at {passed}"


def _stress_in_a_word(stand: Unresolved, needs: Needs) -> str:
    """`crown used under water`, or `above its mark`."""
    exposure = _exposure(stand)
    way = overstress(exposure, needs.watch, needs.practice)
    if way == "mark":
        return "above its mark"
    state = "used" if (exposure.crown_under if way == "crown" else exposure.pusher_under) else "open"
    return f"{way} {state} under water"


def _is_of_its_class(stand: Unresolved, needs: Needs) -> bool:
    """True unless the mark is known to forbid what was done."""
    activity_class = marks.class_of(_exposure(stand), needs.practice)
    return needs.watch.mark == "unknown" or marks.allows(needs.watch, activity_class, needs.practice) != "no"


def _beyond_in_a_word(stand: Unresolved, needs: Needs) -> str:
    return "beyond its tests" if _is_of_its_class(stand, needs) else "beyond its mark’s class"


def _beyond(stand: Unresolved, needs: Needs, passed: str, units: Units) -> str:
    exposure = _exposure(stand)
    if _is_of_its_class(stand, needs):
        what = f"brought {show_pressure(marks.met_pa(exposure), units)}, more than it had been tested to"
    else:
        what = "was more than its mark allows, with no test in force for it"
    return f"{_water_words(stand, units)} {what}; not tested since at {passed}"


def _knocked(stand: Unresolved, needs: Needs, passed: str, units: Units) -> str:
    moved = ", and crystal, crown or bezel moved" if stand.event and stand.event.moved else ""
    return f"it was knocked {when(stand)}{moved}; not tested since at {passed}"


def _exposure(stand: Unresolved) -> Exposure:
    what = stand.cause.what
    if isinstance(what, Habit):
        return what.exposure
    assert isinstance(what, Exposure)
    return what


def _water_words(stand: Unresolved, units: Units) -> str:
    """`a dive to 40 m on 12 Jul 2026`, or the habit that runs."""
    exposure, what = _exposure(stand), stand.cause.what
    name = _NAMES.get(exposure.activity, exposure.activity)
    depth = f" to {show_depth(exposure.depth_m, units)}" if exposure.depth_m >= 1 else ""
    jumped = f" with a jump from {show_depth(exposure.jump_m, units)}" if exposure.jump_m else ""
    if isinstance(what, Habit):
        return f"the habit of {name.removeprefix('a ')}{depth}{jumped} from {full_date(stand.on)}"
    return f"{name}{depth}{jumped} {when(stand)}"


# What a sentence calls one contact with water.
_NAMES = {
    "dive": "a dive",
    "mixed-gas": "a mixed-gas dive",
    "freedive": "a free dive",
    "snorkel": "snorkelling",
    "swim": "a swim",
    "pool": "a swim in the pool",
    "shower": "a shower",
    "bath": "a bath",
    "hot tub": "a hot tub",
    "hands": "washing hands",
    "boat": "a day on a boat",
    "sauna": "a sauna",
}


_SENTENCES = {
    "failed-test": _failed,
    "water-inside": _water,
    "fog-explained": _explained,
    "damaged": _damaged,
    "opened-untested": _opened,
    "overstressed": _overstressed,
    "beyond-proof": _beyond,
    "knocked": _knocked,
}


_SHORT = {"overstressed": _stress_in_a_word, "beyond-proof": _beyond_in_a_word}


def what_began(event: Event) -> str:
    """What an event found, in words: `fog was seen inside`."""
    return RAISED_WORDS.get(event.kind, event.kind.replace("-", " "))


def proof_advice(watch: Watch, needed_pa: float, units: Units = "metric") -> str:
    """`a pressure test passed at 10 bar or more, better at its mark, 20 bar`."""
    return f"a pressure test passed at {at_least(needed_pa, watch, units)}"
