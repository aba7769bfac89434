"""The questions of a planned exposure: those of a logged one, with crown and pushers open or closed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date

from logbook.errors import BadInput
from logbook.model.practice import Activity
from logbook.model.text import printable
from logbook.model.values import Exposure
from logbook.text import dates, phrases
from logbook.tui.water import form, remembered
from logbook.tui.water.form import Around, Fields, Question, Reading

CLOSED = ("closed", "screwed down", "pushed in", "locked", "no", "none", "not touched")
OPEN = (*form.OPEN, "out", "used")
WHEN_HINT = "tomorrow, sat, in 3 days, 12 jul, 2026-07-03; a trip: 12 to 20 jul"
# The plan lies ahead, where a form that logs asks what was.
STILL_ASKED = {"depth": "How deep will it be?", "minutes": "How long will it be?"}


def _state(name: str) -> Callable[[str, Around, Activity], Fields]:
    def read(text: str, around: Around, row: Activity) -> Fields:
        word = " ".join(text.casefold().split())
        for words, is_open in ((CLOSED, False), (OPEN, True)):
            if any(each.startswith(word) for each in words):
                return {name: is_open}
        raise BadInput(f"'{printable(text, 20)}' is neither closed nor open: write one of the two.")

    return read


def _when(text: str, around: Around, row: Activity) -> Fields:
    """A day, or the days of a trip: `12 jul to 20 jul`."""
    if not dates.is_span(text):
        return form.when(text, around, row)
    first, last = dates.parse_span(text, around.today, where="starts_on")
    return {"starts_on": first, "planned_to": last if last > first else None}


_ASKED = {question.name: question for question in form.QUESTIONS}
COLUMNS: tuple[tuple[Question, ...], ...] = (
    (
        _ASKED["what"],
        _ASKED["depth"],
        _ASKED["minutes"],
        replace(_ASKED["when"], label="on", read=_when, hint=WHEN_HINT),
    ),
    (_ASKED["water"], _ASKED["temp"], _ASKED["from"], _ASKED["jump"]),
    (
        Question(
            "crown",
            "crown",
            ("crown_open",),
            _state("crown_open"),
            "closed, or open: not screwed down or pushed in",
        ),
        Question(
            "pushers", "pushers", ("pushers_open",), _state("pushers_open"), "closed, or open: not locked"
        ),
    ),
)
QUESTIONS = tuple(question for column in COLUMNS for question in column)


def read(texts: Mapping[str, str], around: Around) -> tuple[Reading, Exposure | None]:
    """What the texts say, and the plan once they say one."""
    reading = form.read(texts, around, form.asked(QUESTIONS, around.watch))
    if reading.exposure is None:
        missing = {name: STILL_ASKED.get(name, words) for name, words in reading.missing.items()}
        return replace(reading, missing=missing), None
    return reading, reading.exposure


def texts_of(plan: Exposure, around: Around) -> dict[str, str]:
    """A planned exposure as the texts of this form; how crown and pushers are used becomes open or closed."""
    row = around.practice.activities.get(plan.activity)
    texts = {"what": plan.activity, "when": when_text(plan.starts_on, plan.planned_to, around.today)}
    if row is not None:
        texts |= remembered.prefilled(row, plan, around)
    used = {
        "crown": plan.crown_wet + plan.crown_under + plan.crown_open,
        "pushers": plan.pusher_wet + plan.pusher_under + plan.pushers_open,
    }
    asked = {question.name for question in form.asked(QUESTIONS, around.watch)}
    texts |= {name: "open" if uses else "" for name, uses in used.items()}
    return {name: text for name, text in texts.items() if name in asked}


def when_text(first: date, last: date | None, today: date) -> str:
    """Day or days of a plan as one writes them; the year only where they would not be found without it."""
    words = phrases.span_words(first, last)
    short = words.removesuffix(f" {(last or first).year}")
    try:
        days = dates.parse_span(short, today) if last and last > first else None
        found = days or (dates.parse_date(short, today, ahead=True),) * 2
    except BadInput:
        return words
    return short if found == (first, last or first) else words


def prefilled(row: Activity, last: Exposure | None, around: Around) -> dict[str, str]:
    """What this activity was last time, else what the stated use takes it for, else what it means."""
    texts = remembered.prefilled(row, last, around)
    stated = [
        use
        for use in around.practice.stated_use
        if use.activity == row.name and (around.watch is None or use.use == around.watch.use)
    ]
    if last is None and stated:
        said = {name: getattr(stated[0], name) for name in ("depth_m", "minutes")}
        known = {name: value for name, value in said.items() if value is not None}
        texts = remembered.prefilled(row._replace(**known), None, around)
    return texts


def silent_words(row: Activity, around: Around) -> dict[str, str]:
    """What an empty entry stands for."""
    return remembered.silent_words(row, around) | {"crown": "closed", "pushers": "closed"}
