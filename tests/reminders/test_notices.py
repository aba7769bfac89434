"""Due items as the words of notifications."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from logbook.caution import CAUTION
from logbook.model.due.services import Service
from logbook.model.values import Event
from logbook.reminders.notices import document_of, line_of, notice_of, notices_of
from logbook.reminders.notifier import as_markup
from tests.due_items import DUE, due_item
from tests.due_items import service as service_of
from tests.hostile import HOSTILE


def due_service(id: str = "1:pressure-test:2025-06-10", *, on: date = DUE, **given: Any) -> Service:
    """A service of one task, seen from the day `on`."""
    return service_of(due_item(id, on=on, **given), on=on)


def test_a_single_item_is_told_with_its_stage_first() -> None:
    days = {date(2026, 5, 20): "Coming up", date(2026, 6, 10): "Due", date(2026, 7, 1): "Overdue"}
    for day, words in days.items():
        assert notice_of([due_service(on=day)]).title == f"{words}: Blue bezel, pressure test"
    assert line_of(due_service(on=date(2026, 5, 20))) == "Coming up on 10 Jun 2026: Blue bezel, pressure test"
    assert line_of(due_service(on=DUE)) == "Due since 10 Jun 2026: Blue bezel, pressure test"


@pytest.mark.parametrize(
    ("count", "sizes"), [(1, [1]), (3, [1, 1, 1]), (4, [4]), (10, [10]), (23, [10, 10, 3])]
)
def test_few_items_have_a_notification_each_and_many_share_them(count: int, sizes: list[int]) -> None:
    items = [due_service(f"1:{n}", on=DUE, watch=f"Watch {n}") for n in range(count)]
    found = notices_of(items)
    assert [len(notice.services) for notice in found] == sizes
    assert [item for notice in found for item in notice.services] == items
    assert all(CAUTION in notice.body for notice in found)
    for n in range(count):
        assert sum(f"Watch {n}," in notice.title + notice.body for notice in found) == 1


def test_a_list_counts_its_stages_the_most_pressing_first() -> None:
    stages = [date(2026, 5, 20), date(2026, 6, 10), date(2026, 7, 1), date(2026, 7, 1)]
    assert (
        notice_of([due_service(on=day) for day in stages]).title == "Watches: 2 overdue, 1 due, 1 coming up"
    )


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_names_reach_no_screen_raw(text: str) -> None:
    for items in ([due_service(on=DUE, watch=text)], [due_service(on=DUE, watch=text)] * 4):
        notice = notice_of(items)
        shown = notice.title + as_markup(notice.body)
        assert notice.title.split(":")[0] in ("Due", "Watches")
        assert all(char == "\n" or (char >= " " and char != "\x7f") for char in shown)
        assert not set(shown) & set("\x9b\x85\u2028\u202e\u2066\ufeff")
        assert len(notice.title) < 200
        assert "<" not in as_markup(notice.body)


def test_a_command_gets_the_items_themselves() -> None:
    item = due_item(on=DUE, watch="a\x1bb")
    service = service_of(item)
    document = document_of(notice_of([service]))
    assert document["items"] == [
        {
            "id": item.id,
            "watch": "a\x1bb",
            "task": "pressure-test",
            "seal": None,
            "stage": "due",
            "due": "2026-06-10",
            "why": "12 months after the last passed test",
        }
    ]
    assert document["services"] == [
        {
            "id": "1:service:pressure-test:2025-06-10",
            "watch": "a\x1bb",
            "due": "2026-06-10",
            "stage": "due",
            "items": [item.id],
            "also": [],
            "label": "pressure test",
            "why": "12 months after the last passed test",
        }
    ]
    assert "\x1b" not in document["title"] + document["text"]


def test_tasks_that_are_done_together_are_told_in_one_line() -> None:
    strap = due_item("1:strap:2024-08-01", task="strap", due=date(2026, 8, 1))
    together = service_of(due_item(on=DUE), strap)
    assert line_of(together) == "Due since 10 Jun 2026: Blue bezel, service: strap and bars, pressure test"
    assert document_of(notice_of([together]))["services"][0]["also"] == [strap.id]


def test_a_watch_with_water_inside_goes_to_a_workshop_now() -> None:
    wet = service_of(due_item(on=DUE), troubles=(Event("water-inside", DUE, 60),))
    assert line_of(wet) == "Due since 10 Jun 2026: Blue bezel, to a workshop now: open, dry, mend"
    assert notice_of([wet]).body.startswith("Since 10 Jun 2026: water was seen inside.")
