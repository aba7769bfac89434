"""A new watch from what its owner says about it: the three questions, and what may be added to them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, cast

from logbook.errors import BadInput
from logbook.model.fitting import Fitted, initial_seals, last_pass_on
from logbook.model.judge.rules import KEEP_DRY, THINK_TWICE
from logbook.model.marks import CLASS_OF_USE, mark_row
from logbook.model.practice import Practice
from logbook.model.ranges import one_of
from logbook.model.text import listed
from logbook.model.validate.make_event import make_event
from logbook.model.validate.watch import check_seal, check_watch
from logbook.model.values import Crown, Event, Movement, Seal, Use, Watch
from logbook.text import own_words, quantities
from logbook.text.own_words import NOT_KNOWN, Mark, Past, Visit
from logbook.text.spans import parse_years

_PA_PER_BAR = quantities.BAR_PA
DIVERS = ("divers", "divers-mixed-gas")


@dataclass(frozen=True, slots=True)
class Answers:
    """The answers as typed or picked; an empty one, or one of `NOT_KNOWN`, means "don't know".

    `says` is what the dial says about water, `last` when it was opened, given gaskets or tested, `made` the
    years in which it may have been made. An empty `use`, `crown` or `movement` is the usual one for such a
    watch.
    """

    name: str
    says: str = ""
    last: str = ""
    made: str = ""
    use: str = ""
    crown: str = ""
    pushers: bool = False
    pushers_wet: bool = False
    gas_valve: bool = False
    movement: str = ""
    material: str = "unknown"


@dataclass(frozen=True, slots=True)
class NewWatch:
    """A watch that is not on record yet, with its seals and what is known of its past."""

    watch: Watch
    seals: tuple[Seal, ...]
    events: tuple[Event, ...]


def read(answers: Answers, practice: Practice, today: date) -> NewWatch:
    """The watch that the answers describe; raises BadInput with the faulty answer in `where`."""
    mark = own_words.read_mark(answers.says, "says")
    past = own_words.read_past(answers.last, today, "last")
    watch = check_watch(_watch(answers, mark, past, today), practice, today)
    events = tuple(event for visit in past.visits for event in _events(visit, watch, practice, today))
    return NewWatch(watch, tuple(_seals(answers, watch, past, events, practice, today)), events)


def _watch(answers: Answers, mark: Mark, past: Past, today: date) -> Watch:
    made_from, made_to = made_years(answers.made, today)
    return Watch(
        name=answers.name,
        mark=mark.kind,
        marked_pa=mark.marked_pa,
        marked_in=mark.marked_in,
        added_on=today,
        recorded_from=today,
        crown=cast("Crown", answers.crown or usual_crown(mark.kind)),
        pushers=answers.pushers,
        pushers_wet=answers.pushers and answers.pushers_wet,
        gas_valve=answers.gas_valve,
        movement=cast("Movement", answers.movement or usual_movement(past)),
        use=cast("Use", answers.use or usual_use(mark.kind, mark.marked_pa)),
        new_on=past.new[0] if past.new else None,
        bought_on=past.bought[0] if past.bought else None,
        made_from=made_from,
        made_to=made_to,
        note=own_words.in_words("bought new", past.new) if past.new and past.new[0] != past.new[1] else "",
    )


def made_years(text: str, today: date) -> tuple[int | None, int | None]:
    """The years in which a watch may have been made, from words such as `1990s`; None twice: not known."""
    if text.strip().casefold() in NOT_KNOWN:
        return None, None
    return parse_years(text, today, "made")


def _seals(
    answers: Answers, watch: Watch, past: Past, events: Sequence[Event], practice: Practice, today: date
) -> Iterator[Seal]:
    material = one_of(answers.material, tuple(practice.materials), "material", "material")
    given = [visit.fitted for visit in past.visits if visit.gaskets]
    fitted = Fitted(None, *(max(given) if given else (None, None)))
    for seal in initial_seals(watch, material, fitted, {}, last_pass=last_pass_on(events)):
        try:
            yield check_seal(seal, watch, practice, today)
        except BadInput as error:
            raise BadInput(error.message, where="last" if error.where == "fitted" else error.where) from None


def usual_use(mark: str, pressure_pa: float | None) -> Use:
    """What a watch with such a mark is mostly bought for, unless the owner says otherwise."""
    if mark in DIVERS:
        return "diving"
    return "swimming" if mark == "water-resistant" and (pressure_pa or 0) >= 10 * _PA_PER_BAR else "dry"


def usual_crown(mark: str) -> Crown:
    """How the crown of a watch with such a mark mostly closes, unless the owner says otherwise."""
    return "screwed" if mark in DIVERS else "pushed"


def usual_movement(past: Past) -> Movement:
    """Quartz where a battery was changed, unless the owner says otherwise."""
    return "quartz" if any("battery" in visit.kinds for visit in past.visits) else "mechanical"


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
    """One sentence that the stated use is more than the mark is taken to allow; empty when it is not."""
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


def _events(visit: Visit, watch: Watch, practice: Practice, today: date) -> Iterator[Event]:
    """The events of a visit; where it ended with a pass, all of them count on the day of the pass."""
    first, last = visit.span
    if watch.first_on is not None and first < watch.first_on <= last:
        first = watch.first_on
    for kind in visit.kinds:
        if kind == "pressure-test":
            told = _test(visit)
        else:
            what = "given gaskets" if kind == "opened" and visit.gaskets else ""
            told = {
                "note": own_words.in_words(what or kind, visit.span) if what or visit.ended_with_pass else ""
            }
        known = visit.ended_with_pass and kind != "pressure-test"
        told |= {"on": first} if known or first == last else {"span": (first, last)}
        try:
            yield make_event(kind, watch, today, practice, **told)
        except BadInput as error:
            raise BadInput(error.message, where="last") from None


def _test(visit: Visit) -> dict[str, Any]:
    """The fields of a test: how it ended, and how high it went."""
    said: dict[str, Any] = {"passed": visit.passed, "to_mark": visit.to_mark}
    if visit.pressure:
        said["test_pa"] = own_words.marked_pa(visit.pressure, "last")
    if not visit.pressure and not visit.to_mark:
        return said | {"pressure_unknown": True}
    return said | {"medium": visit.medium}
