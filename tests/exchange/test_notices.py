"""Due items as the words of notifications."""

from __future__ import annotations

from datetime import date

import pytest

from logbook.caution import CAUTION
from logbook.exchange.notices import document_of, line_of, notice_of, notices_of
from logbook.exchange.notifier import as_markup
from logbook.reckoning.due import DueItem
from tests.due_items import DUE, due_item
from tests.hostile import HOSTILE


def test_a_single_item_is_told_with_its_stage_first() -> None:
    days = {date(2026, 5, 20): "Coming up", date(2026, 6, 10): "Due", date(2026, 7, 1): "Overdue"}
    for day, words in days.items():
        assert notice_of([due_item(on=day)]).title == f"{words}: Blue bezel, pressure test"
    assert line_of(due_item(on=date(2026, 5, 20))) == "Coming up on 10 Jun 2026: Blue bezel, pressure test"
    assert line_of(due_item(on=DUE)) == "Due since 10 Jun 2026: Blue bezel, pressure test"


@pytest.mark.parametrize(
    ("count", "sizes"), [(1, [1]), (3, [1, 1, 1]), (4, [4]), (10, [10]), (23, [10, 10, 3])]
)
def test_few_items_have_a_notification_each_and_many_share_them(count: int, sizes: list[int]) -> None:
    items = [due_item(str(n), on=DUE, watch=f"Watch {n}") for n in range(count)]
    found = notices_of(items)
    assert [len(notice.items) for notice in found] == sizes
    assert [item for notice in found for item in notice.items] == items
    assert all(CAUTION in notice.body for notice in found)
    for n in range(count):
        assert sum(f"Watch {n}," in notice.title + notice.body for notice in found) == 1


def test_a_list_counts_its_stages_the_most_pressing_first() -> None:
    stages = [date(2026, 5, 20), date(2026, 6, 10), date(2026, 7, 1), date(2026, 7, 1)]
    assert notice_of([due_item(on=day) for day in stages]).title == "Watches: 2 overdue, 1 due, 1 coming up"


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_names_reach_no_screen_raw(text: str) -> None:
    for items in ([due_item(on=DUE, watch=text)], [due_item(on=DUE, watch=text)] * 4):
        notice = notice_of(items)
        shown = notice.title + as_markup(notice.body)
        assert notice.title.split(":")[0] in ("Due", "Watches")
        assert all(char == "\n" or (char >= " " and char != "\x7f") for char in shown)
        assert not set(shown) & set("\x9b\x85\u2028\u202e\u2066\ufeff")
        assert len(notice.title) < 200
        assert "<" not in as_markup(notice.body)


def test_a_command_gets_the_items_themselves() -> None:
    item: DueItem = due_item(on=DUE, watch="a\x1bb")
    document = document_of(notice_of([item]))
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
    assert "\x1b" not in document["title"] + document["text"]
