"""A new watch from what its owner says of it: the three questions, and what may be added to them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import cast

from logbook.errors import BadInput
from logbook.exchange import quantities
from logbook.exchange.phrases import full_date
from logbook.exchange.spans import parse_span
from logbook.reckoning.fitting import Fitted, initial_seals
from logbook.reckoning.marks import mark_row
from logbook.reckoning.practice import Practice
from logbook.reckoning.ranges import number, one_of
from logbook.reckoning.rules import KEEP_DRY, THINK_TWICE
from logbook.reckoning.standing import CLASS_OF_USE
from logbook.reckoning.text import listed
from logbook.reckoning.validate_watch import check_event, check_seal, check_watch
from logbook.reckoning.values import (
    DAY_ORDER,
    Crown,
    Event,
    MarkKind,
    Medium,
    Movement,
    Seal,
    Use,
    Watch,
)

NOT_KNOWN = ("", "unknown", "don't know", "don’t know", "dont know", "never", "no", "none", "?", "-", "–")
_PA_PER_BAR = quantities.BAR_PA
DIVERS = ("divers", "divers-mixed-gas")


@dataclass(frozen=True, slots=True)
class Answers:
    """What was said, as typed or picked; an empty date or one of `NOT_KNOWN` is "don't know"."""

    name: str
    mark: str
    marked: str = ""
    opened: str = ""
    gaskets: str = ""
    tested: str = ""
    passed_at: str = ""
    medium: str = "air"
    new_on: str = ""
    use: str = "dry"
    crown: str = "pushed"
    pushers: bool = False
    gas_valve: bool = False
    movement: str = "mechanical"
    material: str = "unknown"


@dataclass(frozen=True, slots=True)
class NewWatch:
    """A watch that is not on record yet, with the seals it comes with and what is known of its past."""

    watch: Watch
    seals: tuple[Seal, ...]
    events: tuple[Event, ...]


def read(answers: Answers, practice: Practice, today: date) -> NewWatch:
    """The watch that the answers describe; raises BadInput whose `where` names the answer at fault."""
    mark = cast("MarkKind", answers.mark)
    watch = Watch(
        name=answers.name,
        mark=mark,
        marked_pa=marked_pa(answers.marked),
        added_on=today,
        recorded_from=today,
        crown=cast("Crown", answers.crown),
        pushers=answers.pushers,
        gas_valve=answers.gas_valve,
        movement=cast("Movement", answers.movement),
        use=cast("Use", answers.use),
        new_on=_day(answers.new_on, today, "new_on"),
    )
    watch = check_watch(watch, practice, today)
    gaskets = _span(answers.gaskets, today, "gaskets")
    material = one_of(answers.material, tuple(practice.materials), "material", "material")
    fitted = Fitted(None, *(gaskets or (None, None)))
    seals = initial_seals(watch, material, fitted, {}, practice)
    checked = tuple(check_seal(seal, watch, practice, today) for seal in seals)
    return NewWatch(watch, checked, tuple(_past(answers, watch, gaskets, today)))


def marked_pa(text: str) -> float | None:
    """The marked pressure in Pa from bar or, by the trade's 10 m = 1 bar, metres; None without a number."""
    if text.strip().casefold() in NOT_KNOWN:
        return None
    kind, value = quantities.measure(text, "marked")
    if kind == quantities.BARE:
        shown = number(value)
        sentence = f"Is it {shown} m or {shown} bar? Write {shown}m or {shown}bar, as the watch does."
        raise BadInput(sentence, where="marked")
    return quantities.parse_marked_pa(text, "marked")


def usual_use(mark: str, pressure_pa: float | None) -> Use:
    """What a watch with such a mark is mostly bought for; the owner may say otherwise."""
    if mark in DIVERS:
        return "diving"
    return "swimming" if mark == "water-resistant" and (pressure_pa or 0) >= 10 * _PA_PER_BAR else "dry"


def usual_crown(mark: str) -> Crown:
    """How the crown of a watch with such a mark mostly closes; the owner may say otherwise."""
    return "screwed" if mark in DIVERS else "pushed"


_CLASS_WORDS = {
    "rain, hands": "rain and washing hands",
    "swim": "swimming",
    "snorkel": "snorkelling",
    "free dive": "free diving",
    "scuba": "scuba diving",
    "mixed gas": "mixed-gas diving",
}
_VERDICTS = {"light": THINK_TWICE, "no": KEEP_DRY}


def use_beyond_mark(watch: Watch, practice: Practice) -> str:
    """That the stated use is more than the mark is taken to allow, in one sentence; empty when it is not."""
    allows = mark_row(watch, practice).allows
    verdict = _VERDICTS.get(allows[CLASS_OF_USE[watch.use]])
    if watch.mark == "unknown" or verdict is None:
        return ""
    fully, lightly = (
        listed((words for name, words in _CLASS_WORDS.items() if allows[name] == said), "and")
        for said in ("yes", "light")
    )
    allowed = ", and ".join(part for part in (fully, lightly and f"{lightly} lightly") if part)
    whose = "An unmarked watch" if watch.mark == "unmarked" else "Its mark"
    mark = f"{whose} allows {allowed}{',' if lightly else ''} by common practice"
    return f"{mark}; its stated use is {watch.use}: the check will say {verdict} there."


def _span(text: str, today: date, where: str) -> tuple[date, date] | None:
    """First and last day of what was said, both of the past; None: not known."""
    if text.strip().casefold() in NOT_KNOWN:
        return None
    return parse_span(text, today, where)


def _day(text: str, today: date, where: str) -> date | None:
    span = _span(text, today, where)
    if span is not None and span[0] != span[1]:
        raise BadInput("One day belongs here, such as 2025-03-14; or leave it empty.", where=where)
    return None if span is None else span[0]


def _past(answers: Answers, watch: Watch, gaskets: tuple[date, date] | None, today: date) -> list[Event]:
    """Openings and the last passed test: of a span an opening counts on its last day, a pass on its first."""
    events = []
    opened = _span(answers.opened, today, "opened")
    for span, words, where in ((opened, "opened", "opened"), (gaskets, "given gaskets", "gaskets")):
        if span is not None:
            first, last = span
            note = words if first == last else f"{words} between {full_date(first)} and {full_date(last)}"
            event = Event("opened", last, DAY_ORDER["opened"], note=note, span=_apart(span))
            events.append(_checked(event, watch, today, answer_of={"on": where}))
    tested = _span(answers.tested, today, "tested")
    if tested is not None:
        events.append(_test(answers, tested, watch, today))
    elif answers.passed_at.strip().casefold() not in NOT_KNOWN:
        raise BadInput("When was that test? A date belongs here, such as 2025-03-14.", where="tested")
    return events


def _apart(span: tuple[date, date]) -> tuple[date, date] | None:
    """A span as an event keeps it: None for a day that is known."""
    return span if span[0] < span[1] else None


def _test(answers: Answers, days: tuple[date, date], watch: Watch, today: date) -> Event:
    if answers.passed_at.strip().casefold() in NOT_KNOWN:
        sentence = "To what pressure was it passed? Such as 10 bar; without it no test is on record."
        raise BadInput(sentence, where="passed_at")
    event = Event(
        kind="pressure-test",
        on=days[0],
        span=_apart(days),
        order=DAY_ORDER["pressure-test"],
        passed=True,
        test_pa=quantities.parse_pressure_pa(answers.passed_at, "passed_at", default_unit="bar"),
        medium=cast("Medium", answers.medium),
    )
    return _checked(event, watch, today, answer_of={"on": "tested", "test_pa": "passed_at"})


def _checked(event: Event, watch: Watch, today: date, answer_of: dict[str, str]) -> Event:
    """The event as kept; a refusal names the answer that it came from."""
    try:
        return check_event(event, watch, today)
    except BadInput as error:
        raise BadInput(error.message, where=answer_of.get(error.where or "", error.where)) from None
