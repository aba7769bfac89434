"""The calendar file against RFC 5545 (iCalendar, September 2009), clause by clause, and RFC 7986.

The clauses are checked on the raw octets with a few lines of code of this file; the oracle for the content is
vobject 0.9.9, a parser that shares nothing with the library that writes the file.
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta

import pytest
import vobject
from hypothesis import given
from hypothesis import strategies as st

from logbook.caution import CAUTION
from logbook.model.due.calendar_plan import Entry
from logbook.reminders.calendar import calendar_bytes
from tests.hostile import HOSTILE

STAMP = datetime(2026, 3, 15, 12, tzinfo=UTC)


def entry(summary: str = "Blue bezel: pressure test", **given: object) -> Entry:
    plain = {
        "item_id": "1:pressure-test:2025-06-10",
        "uid": "0b1f7a3c-31a5-4f0e-9a57-0d2a8a1d5d11",
        "sequence": 3,
        "summary": summary,
        "description": f"12 months after the last passed test.\n\n{CAUTION}",
        "due_on": date(2026, 6, 10),
        "alarm_from": None,
        "cancelled": False,
        "changed_at": STAMP,
    }
    return Entry(**(plain | given))  # type: ignore[arg-type]


def lines_of(content: bytes) -> list[str]:
    """The content lines, unfolded as §3.1 says: a line break and one blank after it are taken out."""
    return content.replace(b"\r\n ", b"").decode().removesuffix("\r\n").split("\r\n")


def value_of(content: bytes, name: str) -> str:
    """What stands after the colon of the first line of a name with or without parameters."""
    return next(line.partition(":")[2] for line in lines_of(content) if re.match(rf"{name}[:;]", line))


def unescaped(text: str) -> str:
    """TEXT as §3.3.11 reads it, sign by sign."""
    return re.sub(r"\\(.)", lambda found: "\n" if found[1] in "nN" else found[1], text)


def read(content: bytes) -> vobject.base.Component:
    return vobject.readOne(content.decode())


def test_3_1_lines_end_in_crlf_and_are_folded_at_75_octets_between_characters() -> None:
    content = calendar_bytes([entry("é" * 300 + "🤿" * 300)])
    assert content.endswith(b"\r\n")
    physical = content.split(b"\r\n")
    assert all(b"\n" not in line and b"\r" not in line for line in physical)
    assert max(len(line) for line in physical) <= 75
    for line in physical:
        line.decode()  # no character is cut in two
    assert value_of(content, "SUMMARY") == "é" * 300 + "🤿" * 300


def test_3_3_11_text_is_escaped_so_that_it_reads_as_it_was() -> None:
    text = 'a;b, c\\d \\N \\n "e" :f\\'
    content = calendar_bytes([entry(text)])
    assert value_of(content, "SUMMARY") == 'a\\;b\\, c\\\\d \\\\N \\\\n "e" :f\\\\'
    assert read(content).vevent.summary.value == text


def test_3_4_a_calendar_is_one_object_of_events() -> None:
    lines = lines_of(calendar_bytes([entry(), entry(uid="another")]))
    assert (lines[0], lines[-1]) == ("BEGIN:VCALENDAR", "END:VCALENDAR")
    assert lines.count("BEGIN:VEVENT") == lines.count("END:VEVENT") == 2
    assert lines.count("BEGIN:VALARM") == lines.count("END:VALARM") == 4


def test_3_6_a_calendar_needs_a_product_and_a_version_once() -> None:
    lines = lines_of(calendar_bytes([]))
    assert lines.count("VERSION:2.0") == 1
    assert len([line for line in lines if line.startswith("PRODID:")]) == 1


def test_3_6_1_an_all_day_event_ends_on_the_next_day_which_is_not_part_of_it() -> None:
    content = calendar_bytes([entry(due_on=date(2024, 2, 29))])
    assert "DTSTART;VALUE=DATE:20240229" in lines_of(content)
    assert "DTEND;VALUE=DATE:20240301" in lines_of(content)
    event = read(content).vevent
    assert (event.dtstart.value, event.dtend.value) == (date(2024, 2, 29), date(2024, 3, 1))


def test_3_6_1_an_event_has_each_of_its_properties_at_most_once() -> None:
    # "The following are REQUIRED, but MUST NOT occur more than once": dtstamp, uid. "OPTIONAL, but MUST NOT
    # occur more than once": among others these.
    lines = lines_of(calendar_bytes([entry()]))
    event = lines[lines.index("BEGIN:VEVENT") : lines.index("BEGIN:VALARM")]
    names = [re.split("[:;]", line)[0] for line in event]
    assert {"DTSTAMP", "UID", "DTSTART", "SUMMARY", "STATUS", "TRANSP", "SEQUENCE", "LAST-MODIFIED"} <= set(
        names
    )
    assert len(names) == len(set(names))


def test_3_6_6_a_displayed_alarm_has_an_action_a_trigger_and_a_description() -> None:
    event = read(calendar_bytes([entry()])).vevent
    assert [alarm.trigger.value for alarm in event.valarm_list] == [timedelta(days=-14), timedelta(days=-1)]
    for alarm in event.valarm_list:
        assert alarm.action.value == "DISPLAY"
        assert "Blue bezel: pressure test" in alarm.description.value
        assert CAUTION in alarm.description.value


def test_3_8_1_11_a_cancelled_event_stays_as_cancelled_without_alarms() -> None:
    event = read(calendar_bytes([entry(cancelled=True)])).vevent
    assert event.status.value == "CANCELLED"
    assert "valarm" not in event.contents
    assert read(calendar_bytes([entry()])).vevent.status.value == "CONFIRMED"


def test_3_8_2_7_a_due_date_takes_no_time_from_the_day() -> None:
    assert read(calendar_bytes([entry()])).vevent.transp.value == "TRANSPARENT"


def test_3_8_4_7_a_uid_is_as_it_was_given_and_says_nothing_of_the_watch() -> None:
    content = calendar_bytes([entry()])
    assert value_of(content, "UID") == entry().uid
    assert b"1:pressure-test" not in content


def test_3_8_7_times_of_change_are_in_utc() -> None:
    content = calendar_bytes([entry()])
    assert value_of(content, "DTSTAMP") == value_of(content, "LAST-MODIFIED") == "20260315T120000Z"


def test_3_8_7_4_the_sequence_is_a_whole_number() -> None:
    assert value_of(calendar_bytes([entry(sequence=12)]), "SEQUENCE") == "12"


def test_rfc_7986_the_calendar_has_a_name_a_description_and_says_how_often_to_look() -> None:
    lines = lines_of(calendar_bytes([]))
    assert "NAME:logbook: what is due" in lines  # §5.1
    assert f"DESCRIPTION:{CAUTION}" in lines  # §5.2
    assert "REFRESH-INTERVAL;VALUE=DURATION:P1D" in lines  # §5.7: the value type is required


def test_the_description_says_why_and_keeps_its_lines() -> None:
    said = read(calendar_bytes([entry()])).vevent.description.value
    assert said == f"12 months after the last passed test.\n\n{CAUTION}"


@pytest.mark.parametrize("text", [*HOSTILE, "x" * 10_000, "BEGIN:VEVENT", "\\", "\\N", ";;,,"])
def test_hostile_words_stay_words(text: str) -> None:
    from logbook.model.text import printable

    summary = printable(text)
    content = calendar_bytes([entry(summary), entry("the next", uid="another")])
    lines = lines_of(content)
    assert lines.count("BEGIN:VEVENT") == 2
    assert unescaped(value_of(content, "SUMMARY")) == summary
    assert max(len(line) for line in content.split(b"\r\n")) <= 75
    assert [event.summary.value for event in read(content).vevent_list][1] == "the next"
    assert not re.search(rb"[\x00-\x09\x0b\x0c\x0e-\x1f\x7f]", content)


@given(st.text(st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"]), max_size=300))
def test_any_text_reads_as_it_was_written(text: str) -> None:
    content = calendar_bytes([entry(f"x{text}x")])
    assert unescaped(value_of(content, "SUMMARY")) == f"x{text}x"
    assert read(content).vevent.summary.value == f"x{text}x"
