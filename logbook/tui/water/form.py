"""The questions of an exposure as a form asks them: what each text means, and what stands there beforehand.

An answer that is left out is silent: the activity, the home water or the wrist fills it in, as in a one-line
entry. No widgets here.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from logbook.errors import BadInput
from logbook.model.plausible import doubt, doubtful_field
from logbook.model.practice import Activity, Practice
from logbook.model.ranges import in_range, whole_in_range
from logbook.model.text import listed, printable
from logbook.model.validate.exposure import activity_row, make_exposure
from logbook.model.values import Exposure, Settings, Units, Watch
from logbook.text import quantities
from logbook.text.lines import parse_entry
from logbook.text.words import Reader, split_words

Fields = dict[str, Any]

BARE = {
    "metric": {"length": "m", "temperature": "C"},
    "imperial": {"length": "ft", "temperature": "F"},
}
UNTOUCHED = ("no", "none", "0", "untouched", "not touched", "closed", "-", "–")
OPEN = ("open", "unscrewed", "unlocked", "pulled out", "not screwed down", "not locked")
_CLOCK = re.compile(r"[0-9]{1,2}:[0-9]{2}(?::[0-9]{2})?(?:[+-][0-9:]+)?")
_COUNT = re.compile(r"([0-9]{1,6})(?: ?dips?)?")
_USES = re.compile(r"(wet|under(?: ?water)?)(?: ([0-9]{1,4})(?: times?| ?x)?| (once|twice))?")


@dataclass(frozen=True, slots=True)
class Around:
    """What answers are read against; `ahead` for a plan, whose dates lie before it."""

    practice: Practice
    settings: Settings
    units: Units
    today: date
    watch: Watch | None = None
    ahead: bool = False


@dataclass(frozen=True, slots=True)
class Question:
    """One question: its label, which fields of an exposure it gives, how it is read, how to answer it."""

    name: str
    label: str
    fields: tuple[str, ...]
    read: Callable[[str, Around, Activity], Fields]
    hint: str


@dataclass(frozen=True, slots=True)
class Reading:
    """What a form says: the exposure, or what is wrong and what is missing.

    `sketch` is the exposure as far as it can be worked with; of one whose minutes are missing the pressure
    and the swing are known already.
    """

    exposure: Exposure | None = None
    sketch: Exposure | None = None
    wrong: Mapping[str, str] = field(default_factory=dict)  # question -> sentence
    missing: Mapping[str, str] = field(default_factory=dict)
    doubts: Mapping[str, str] = field(default_factory=dict)  # what is asked back before it is written

    @property
    def fault(self) -> tuple[str, str] | None:
        """The first question that stands in the way, and the sentence that says why."""
        return next(iter([*self.wrong.items(), *self.missing.items()]), None)


def find_activity(text: str, practice: Practice) -> Activity:
    """The activity that `text` is, or alone begins; raises BadInput with those that are meant alike."""
    wanted = " ".join(text.casefold().split())
    words = practice.activity_words
    if not wanted:
        raise BadInput(f"Which activity? There are {listed(practice.activities, 'and')}.", where="activity")
    if wanted in words:
        return activity_row(practice, wanted)
    beginnings = (wanted, wanted.replace(" ", "-"), wanted.replace("-", " "))
    found = list(dict.fromkeys(words[word] for word in words if word.startswith(beginnings)))
    if len(found) > 1:
        alike = listed(found, "and")
        raise BadInput(
            f"'{printable(text, 20)}' begins {alike}: write more of the one you mean.", where="activity"
        )
    return activity_row(practice, found[0] if found else wanted)


def _length(name: str) -> Callable[[str, Around, Activity], Fields]:
    def read(text: str, around: Around, row: Activity) -> Fields:
        if name == "jump_m" and text.casefold() in UNTOUCHED:
            return {name: 0.0}
        value = quantities.parse_length_m(text, name, default_unit=BARE[around.units]["length"])
        return {name: in_range(name, value)}

    return read


def _minutes(text: str, around: Around, row: Activity) -> Fields:
    seconds = quantities.parse_duration_s(text, "duration_s", default_unit="min")
    in_range("minutes", seconds / 60, "duration_s")
    return {"duration_s": seconds}


def _temperature(text: str, around: Around, quantity: str) -> float:
    value = quantities.parse_temperature_c(text, quantity, default_unit=BARE[around.units]["temperature"])
    return in_range(quantity, value)


def _water_c(text: str, around: Around, row: Activity) -> Fields:
    assumed = text.startswith("~")
    value = _temperature(text.lstrip("~"), around, "air_c" if row.water == "air" else "water_c")
    return {"water_c": value, "water_c_assumed": assumed}


def _from_c(text: str, around: Around, row: Activity) -> Fields:
    return {"from_c": _temperature(text, around, "from_c")}


def _words(line: str, around: Around, allowed: Iterable[str], example: str) -> Fields:
    """What the words of a one-line entry would say, when they say nothing but `allowed`."""
    words, note = split_words(line)
    given = Reader(line, words, around.today, around.ahead, metric=around.units == "metric").read()
    if note is not None or not given.keys() <= set(allowed):
        raise BadInput(f"More stands here than belongs here: write {example}.")
    return given


def _water(text: str, around: Around, row: Activity) -> Fields:
    allowed = ("water", "salinity", "density_kg_m3")
    return _words(text, around, allowed, "sea, fresh, pool, soap or brackish 12")


def when(text: str, around: Around, row: Activity) -> Fields:
    """A day, a time of day, or both."""
    first = "at" if _CLOCK.fullmatch(text) else "on"
    return _words(f"{first} {text}", around, WHEN_FIELDS, "sat, 12 mar or 2026-07-03, and 10:40 after it")


def _dips(text: str, around: Around, row: Activity) -> Fields:
    match = _COUNT.fullmatch(text.casefold())
    if match is None:
        raise BadInput(f"'{printable(text, 20)}' is no number of dips: write a whole number, such as 8.")
    return {"dips": whole_in_range("dips", int(match[1]))}


def _uses(part: str) -> Callable[[str, Around, Activity], Fields]:
    def read(text: str, around: Around, row: Activity) -> Fields:
        given: Fields = {}
        if " ".join(text.casefold().split()) in UNTOUCHED:
            return given
        for piece in re.split(r",| and ", text.casefold()):
            if " ".join(piece.split()) in OPEN:
                given["crown_open" if part == "crown" else "pushers_open"] = True
                continue
            match = _USES.fullmatch(" ".join(piece.split()))
            if match is None:
                shown = printable(text, 20)
                ways = "not touched, wet, under water, wet 3 times, or open"
                raise BadInput(f"'{shown}' is not understood: {ways}.")
            times = {"once": 1, "twice": 2}.get(match[3]) or int(match[2] or 1)
            name = f"{part}_{'wet' if match[1] == 'wet' else 'under'}"
            given[name] = given.get(name, 0) + whole_in_range("uses", times)
        return given

    return read


def _nothing(text: str, around: Around, row: Activity) -> Fields:
    return {}


USES_HINT = "not touched, wet, under water; open: not closed all the while"
WHEN_FIELDS = ("starts_on", "starts_at", "utc_offset_s", "zone")
QUESTIONS: tuple[Question, ...] = (
    Question("what", "what", ("activity",), _nothing, "dive, freedive, snorkel, swim, pool, shower, rain, …"),
    Question("depth", "depth", ("depth_m", "basis"), _length("depth_m"), "the greatest: 21, 21m or 70ft"),
    Question("minutes", "minutes", ("duration_s",), _minutes, "38, or 1h10"),
    Question(
        "water",
        "water",
        ("water", "salinity", "density_kg_m3"),
        _water,
        "sea, fresh, pool, soap, hot tub, brackish 12, sea",
    ),
    Question("temp", "temp", ("water_c", "air_c"), _water_c, "of the water: 17, 17C or 64F"),
    Question("from", "from", ("from_c",), _from_c, "the case before: 32C on a wrist"),
    Question("dips", "dips", ("dips",), _dips, "how often down and up again"),
    Question("crown", "crown", ("crown_wet", "crown_under", "crown_open"), _uses("crown"), USES_HINT),
    Question(
        "pushers", "pushers", ("pusher_wet", "pusher_under", "pushers_open"), _uses("pusher"), USES_HINT
    ),
    Question("jump", "jump", ("jump_m",), _length("jump_m"), "from how high: 3m"),
    Question("when", "when", (*WHEN_FIELDS, "planned_to"), when, "today, sat, 12 mar, 2026-07-03 10:40"),
)


def asked(questions: Sequence[Question], watch: Watch | None) -> list[Question]:
    """The questions that apply to a watch: none about pushers that it does not have."""
    return [q for q in questions if q.name != "pushers" or watch is None or watch.pushers]


def question_at_fault(where: str | None, questions: Sequence[Question]) -> str:
    """The question whose answer an error is about; the first where it is about none of them."""
    return next((q.name for q in questions if where in q.fields), questions[0].name)


def needed(row: Activity) -> list[str]:
    """The questions that an activity cannot do without, and the minutes, which are worth a look always."""
    return ["depth", "minutes"] if row.depth_m is None else ["minutes"]


def read(
    texts: Mapping[str, str], around: Around, questions: Sequence[Question], *, rinsed: bool = False
) -> Reading:
    """What the texts of a form say, every one judged for itself first, then all together."""
    wrong: dict[str, str] = {}
    given: Fields = {}
    try:
        row = find_activity(texts.get("what", ""), around.practice)
    except BadInput as error:
        return Reading(wrong={"what": error.message})
    for question in questions:
        text = texts.get(question.name, "").strip()
        if text:
            try:
                given |= question.read(text, around, row)
            except BadInput as error:
                wrong[question.name] = error.message
    if wrong:
        return Reading(wrong=wrong)
    return _together(row, given, around, questions, rinsed)


def _together(
    row: Activity, given: Fields, around: Around, questions: Sequence[Question], rinsed: bool
) -> Reading:
    def make(**more: Any) -> Exposure:
        return make_exposure(
            around.practice, around.settings, activity=row.name, today=around.today, watch=around.watch,
            planned=around.ahead, rinsed=rinsed, **({"starts_on": around.today} | given | more),
        )  # fmt: skip

    try:
        exposure = make()
    except BadInput as error:
        name = question_at_fault(error.where, questions)
        if error.where == "depth_m" and "depth_m" not in given:
            return Reading(missing={name: error.message})
        if error.where == "duration_s" and "duration_s" not in given:
            return Reading(missing={name: error.message}, sketch=make(duration_s=60))
        return Reading(wrong={name: error.message})
    asked_back = doubt(exposure, around.practice, around.units)
    if asked_back is None:
        return Reading(exposure, exposure)
    name = question_at_fault(doubtful_field(exposure, around.practice), questions)
    return Reading(exposure, exposure, doubts={name: asked_back})


def exposure_of(
    texts: Mapping[str, str], around: Around, questions: Sequence[Question], rinsed: bool
) -> Exposure:
    """The exposure that a form says; raises BadInput with the question at fault in `where`."""
    reading = read(texts, around, questions, rinsed=rinsed)
    if reading.exposure is None:
        name, sentence = reading.fault or ("what", "What was it?")
        raise BadInput(sentence, where=name)
    return reading.exposure


def read_line(line: str, around: Around) -> Exposure:
    """The exposure that one line says, of the watch at hand; raises NotUnderstood at a word."""
    return parse_entry(
        line, practice=around.practice, settings=around.settings, today=around.today, with_name=False,
        watch=around.watch, planned=around.ahead,
    )  # fmt: skip
