"""Due items as the words of a notification, and as the JSON that a command of the owner's is given."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from logbook.caution import CAUTION
from logbook.exchange.phrases import full_date
from logbook.reckoning.due import STAGES, DueItem
from logbook.reckoning.text import printable

SINGLE = 3  # up to so many new items have a notification each
TOGETHER = 10  # of more, so many share one
_NAME = 80  # characters of a nickname


@dataclass(frozen=True, slots=True)
class Notice:
    """One notification, plain text; every item of it is named in it."""

    title: str
    body: str
    items: tuple[DueItem, ...]


def notices_of(items: Sequence[DueItem]) -> list[Notice]:
    """The notifications for a desktop: one for each item or, of many, lists of up to ten."""
    if len(items) <= SINGLE:
        return [notice_of([item]) for item in items]
    return [notice_of(items[at : at + TOGETHER]) for at in range(0, len(items), TOGETHER)]


def notice_of(items: Sequence[DueItem]) -> Notice:
    """One notification for these items, with the caution that goes with every due date."""
    if len(items) == 1:
        (item,) = items
        title = f"{_stage(item)}: {_name(item)}"
        lines = [f"{_since(item)} {full_date(item.due)}: {printable(item.why)}."]
    else:
        title = f"Watches: {', '.join(_counts(items))}"
        lines = [line_of(item) for item in items]
    return Notice(title, "\n".join([*lines, CAUTION]), tuple(items))


def line_of(item: DueItem) -> str:
    """`Overdue since 10 Jun 2026: Blue bezel, pressure test`."""
    since = _since(item)
    return f"{_stage(item)} {since[0].lower()}{since[1:]} {full_date(item.due)}: {_name(item)}"


def document_of(notice: Notice) -> dict[str, Any]:
    """The notice as JSON for a command."""
    return {
        "title": notice.title,
        "text": notice.body,
        "items": [
            {
                "id": item.id,
                "watch": item.watch,
                "task": item.task,
                "seal": item.position,
                "stage": item.stage,
                "due": item.due.isoformat(),
                "why": item.why,
            }
            for item in notice.items
        ],
        "caution": CAUTION,
    }


def _stage(item: DueItem) -> str:
    """The stage as the first word: a notification never begins with what someone typed."""
    return item.stage.capitalize()


def _name(item: DueItem) -> str:
    return f"{printable(item.watch, _NAME)}, {item.label}"


def _since(item: DueItem) -> str:
    return "On" if item.stage == "coming up" else "Since"


def _counts(items: Sequence[DueItem]) -> Iterator[str]:
    for stage in reversed(STAGES):
        count = sum(1 for item in items if item.stage == stage)
        if count:
            yield f"{count} {stage}"
