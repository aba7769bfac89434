"""The days, times of day and lengths of time in a one-line entry, and how it splits into words.

A date may have `on` before it, a time of day `at`. What may be a length or a time of day, or minutes or
metres, raises NotUnderstood with both readings.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from logbook.errors import BadInput, NotUnderstood
from logbook.model.practice import Activity
from logbook.model.text import printable
from logbook.text.dates import (
    MONTH_OF,
    NEAR,
    WEEKDAY_OF,
    NoDate,
    is_span,
    parse_range,
    parse_span,
    parse_time,
)

NOTE_MARK = "--"  # all that follows is the note
LONGEST_DAYS = 7  # words: 28 dec 2026 to 3 jan 2027
_OFFSET = re.compile(r"(.+?)([+-])([0-9]{2}):([0-9]{2})(?::([0-9]{2}))?")
CLOCK = re.compile(r"[0-9]{1,2}:")
_PLAIN_CLOCK = re.compile(r"([0-9]{1,2}):([0-5][0-9])")
_EARLY_H = 5  # hours written with one digit below this are more often a length than a time of day
_H_AND_M = re.compile(r"([0-9]{1,2})\s?(?:h|hr|hrs|hours?) ([0-5]?[0-9])\s?m", re.I)
_LENGTH = re.compile(r"[0-9]+(?:[.,][0-9]+)?(?:m|ft|metres?|meters?|feet)", re.I)
_WORD = re.compile(r"\S+")
_STARTS_DAY = re.compile(
    r"[0-9]{1,2}(?:(?:\.\.|[–—]).*)?|[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}.*|[0-9]{1,4}([/.\-])[0-9]{1,2}\1[0-9]{1,4}"
)
_AFTER_NUMBER = frozenset((*MONTH_OF, "to", "until", "days", "day", "weeks", "week", "–", "—"))
DAY_WORDS = frozenset((*NEAR, *WEEKDAY_OF, *MONTH_OF, "a", "an", "in"))
SYNONYMS = {"pushers": "pusher", "underwater": "under"}

Fields = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Word:
    """One word of a line: as typed without final commas, as compared, and where it begins."""

    text: str
    folded: str
    column: int


def split_words(line: str, start: int = 0) -> tuple[list[Word], str | None]:
    """The words of `line` from `start`, and the note after ` -- ` (None without that mark)."""
    words: list[Word] = []
    for match in _WORD.finditer(line, start):
        if match[0] == NOTE_MARK:
            return words, line[match.end() :].strip()
        text = match[0].rstrip(",;")
        if text:
            words.append(Word(text, text.casefold(), match.start()))
    return words, None


def not_understood(line: str, column: int, sentence: str) -> NotUnderstood:
    """The error with its caret, on the line in printable form."""
    return NotUnderstood(sentence, line=printable(line), column=len(printable(line[:column])))


@dataclass(slots=True)
class TimeWords:
    """Reads days and times from the words of one line, from left to right."""

    line: str
    words: list[Word]
    today: date
    ahead: bool  # dates without a year are the next ones
    metric: bool
    row: Activity | None = None  # what the activity has in practice
    at: int = 0  # the next word to read
    # Field -> its words, and which of them is the first.
    said: dict[str, tuple[str, int]] = field(default_factory=dict)

    def wrong(self, sentence: str, at: int | None = None) -> NotUnderstood:
        """The error at a word, or at the end of the line beyond the last word."""
        at = self.at if at is None else at
        column = self.words[at].column if at < len(self.words) else len(self.line.rstrip())
        return not_understood(self.line, column, sentence)

    def _peek(self, length: int) -> tuple[str, ...]:
        """The next words as compared, so many of them or as many as there are."""
        found = (word.folded for word in self.words[self.at : self.at + length])
        return tuple(SYNONYMS.get(word, word) for word in found)

    def _clock_or_length(self) -> Fields:
        """Reads `10:40` as a time of day, `1:30` as a length; asks where it may be either."""
        text = self.words[self.at].text
        match = _PLAIN_CLOCK.fullmatch(text)
        if match is None or (len(match[1]) == 2 and match[1] != "00"):
            return self._clock()
        hours, minutes = int(match[1]), int(match[1]) * 60 + int(match[2])
        most = None if self.row is None else self.row.most_minutes
        too_long = most is not None and minutes > most
        if too_long and hours >= _EARLY_H:
            return self._clock()
        if too_long or hours >= _EARLY_H or match[1] == "00" or not minutes:
            raise self.wrong(f"'{text}' may be a length or a time of day: write {minutes}min, or at {text}.")
        self.at += 1
        return {"duration_s": minutes * 60.0}

    def _h_and_m(self) -> Fields:
        """Reads `1h 30m` as an hour and a half; asks where the metres may be the depth."""
        for length in (4, 3, 2):
            here = self.words[self.at : self.at + length]
            match = _H_AND_M.fullmatch(" ".join(word.text for word in here))
            if match and len(here) == length:
                break
        else:
            return {}
        hours, number = match[1], match[2]
        most_m = None if self.row is None else self.row.most_depth_m
        later = any(_LENGTH.fullmatch(word.text) for word in self.words[self.at + length :])
        if not (later or "depth_m" in self.said or (most_m is not None and int(number) > most_m)):
            shown, minutes = match[0], int(hours) * 60
            raise self.wrong(
                f"'{shown}' may be {hours} h {number} min, or {hours} h at a depth of {number} m: write "
                f"{hours}h{number}min, or {minutes}min {number}m."
            )
        self.at += length
        return {"duration_s": float(int(hours) * 3600 + int(number) * 60)}

    def _bare_days(self) -> Fields | None:
        """Reads a date without `on`; None where there is no date."""
        word, following = self.words[self.at].folded, self._peek(2)[1:]
        by_number = _STARTS_DAY.fullmatch(word) and _may_be_day(word, following)
        if word.split("..")[0] not in DAY_WORDS and not by_number:
            return None
        try:
            return self._days()
        except _NoDayError as error:
            if word.isalpha() or word.isdigit():
                return None
            raise self.wrong(str(error)) from None

    def _days_said(self) -> Fields:
        """Reads what follows `on`."""
        try:
            return self._days()
        except _NoDayError as error:
            raise self.wrong(str(error)) from None

    def _days(self) -> Fields:
        """Reads `DATE [TIME]`, for a trip `DATE..DATE`, in a plan also `12 to 20 jul`; else _NoDayError."""
        sentence = "A date belongs here, such as 2026-07-03 or sat."
        for length in range(min(LONGEST_DAYS, len(self.words) - self.at), 0, -1):
            text = " ".join(word.text for word in self.words[self.at : self.at + length])
            planned_trip = self.ahead and is_span(text)
            try:
                days = (
                    parse_span(text, self.today)
                    if planned_trip
                    else parse_range(text, self.today, ahead=self.ahead)
                )
            except NoDate as error:
                sentence = error.message
                continue
            except BadInput as error:
                raise self.wrong(error.message) from None
            if days is not None:
                self.at += length
                trip = {"planned_to": days[1]} if planned_trip or ".." in text else {}
                timed = self.at < len(self.words) and CLOCK.match(self.words[self.at].text)
                return {"starts_on": days[0]} | trip | (self._clock() if timed else {})
        raise _NoDayError(sentence)

    def _clock(self) -> dict[str, Any]:
        """Reads a time, with its offset from UTC where that is added: 10:40, 02:30+01:00."""
        if self.at >= len(self.words):
            raise self.wrong("A time belongs here, such as 10:40.")
        text = self.words[self.at].text
        match = _OFFSET.fullmatch(text)
        try:
            fields: dict[str, Any] = {"starts_at": parse_time(match[1] if match else text)}
        except BadInput as error:
            raise self.wrong(error.message) from None
        if match:
            seconds = int(match[3]) * 3600 + int(match[4]) * 60 + int(match[5] or 0)
            fields["utc_offset_s"] = -seconds if match[2] == "-" else seconds
        self.at += 1
        return fields

    def _zone(self) -> str:
        if self.at >= len(self.words):
            raise self.wrong("A time zone belongs here, such as UTC.")
        self.at += 1
        return self.words[self.at - 1].text


class _NoDayError(Exception):
    """There is no date here; the sentence says what would be one."""


def _may_be_day(word: str, following: tuple[str, ...]) -> bool:
    """False for a number before a word that is not part of a date: then it begins a quantity."""
    return not word.isdigit() or any(
        each in _AFTER_NUMBER or each.split("..")[0] in MONTH_OF for each in following
    )
