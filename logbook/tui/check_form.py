"""The questions of a planned exposure: those of a logged one, with crown and pushers open or closed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from logbook.errors import BadInput
from logbook.reckoning.planrules import Plan
from logbook.reckoning.practice import Activity
from logbook.reckoning.text import printable
from logbook.reckoning.values import Exposure
from logbook.tui import exposure_form as form
from logbook.tui import remembered
from logbook.tui.exposure_form import Around, Fields, Question, Reading

CLOSED = ("closed", "screwed down", "pushed in", "locked", "no", "none", "not touched")
OPEN = ("open", "unscrewed", "unlocked", "pulled out", "out", "used")
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


_ASKED = {question.name: question for question in form.QUESTIONS}
COLUMNS: tuple[tuple[Question, ...], ...] = (
    (
        _ASKED["what"],
        _ASKED["depth"],
        _ASKED["minutes"],
        replace(_ASKED["when"], label="on", hint="today, tomorrow, sat, 12 mar, 2026-07-03"),
    ),
    (_ASKED["water"], _ASKED["temp"], _ASKED["from"], _ASKED["jump"]),
    (
        Question(
            "crown", "crown", (), _state("crown_open"), "closed, or open: not screwed down or pushed in"
        ),
        Question("pushers", "pushers", (), _state("pushers_open"), "closed, or open: not locked"),
    ),
)
QUESTIONS = tuple(question for column in COLUMNS for question in column)


def read(texts: Mapping[str, str], around: Around) -> tuple[Reading, Plan | None]:
    """What the texts say, and the plan once they say one."""
    reading = form.read(texts, around, form.asked(QUESTIONS, around.watch))
    if reading.exposure is None:
        missing = {name: STILL_ASKED.get(name, words) for name, words in reading.missing.items()}
        return replace(reading, missing=missing), None
    rest = reading.rest
    return reading, Plan(reading.exposure, rest.get("crown_open", False), rest.get("pushers_open", False))


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
