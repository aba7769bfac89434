"""Services as the text of a notification, and as the JSON for a command of the owner's."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from logbook.caution import CAUTION
from logbook.model.due.services import Service
from logbook.model.due.tasks import STAGES
from logbook.model.text import printable
from logbook.text.phrases import full_date

SINGLE = 3  # up to this many new services get a notification each
TOGETHER = 10  # of more, this many share one
_NAME = 80  # characters of a nickname


@dataclass(frozen=True, slots=True)
class Notice:
    """One notification in plain text that names each of its services."""

    title: str
    body: str
    services: tuple[Service, ...]


def notices_of(services: Sequence[Service]) -> list[Notice]:
    """The notifications for a desktop: one for each service or, where there are many, lists of up to ten."""
    if len(services) <= SINGLE:
        return [notice_of([service]) for service in services]
    return [notice_of(services[at : at + TOGETHER]) for at in range(0, len(services), TOGETHER)]


def notice_of(services: Sequence[Service]) -> Notice:
    """One notification for these services, with the caution that accompanies every due date."""
    if len(services) == 1:
        (service,) = services
        title = f"{_stage(service)}: {_name(service)}"
        lines = [f"{_since(service)} {full_date(service.due)}: {printable(service.why)}."]
    else:
        title = f"Watches: {', '.join(_counts(services))}"
        lines = [line_of(service) for service in services]
    return Notice(title, "\n".join([*lines, CAUTION]), tuple(services))


def line_of(service: Service) -> str:
    """`Overdue since 10 Jun 2026: Blue bezel, pressure test`."""
    since = _since(service)
    return f"{_stage(service)} {since[0].lower()}{since[1:]} {full_date(service.due)}: {_name(service)}"


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
            for service in notice.services
            for item in service.asking
        ],
        "services": [service_document(service) for service in notice.services],
        "caution": CAUTION,
    }


def service_document(service: Service) -> dict[str, Any]:
    """A service as JSON: the ids of the tasks that ask, and of what else is done on that occasion."""
    return {
        "id": service.id,
        "watch": service.watch,
        "due": service.due.isoformat(),
        "stage": service.stage,
        "items": [item.id for item in service.asking],
        "also": [item.id for item in service.items if item not in service.asking],
        "label": service.label,
        "why": service.why,
    }


def _stage(service: Service) -> str:
    """The stage as first word, so that a notification never begins with typed text."""
    return service.stage.capitalize()


def _name(service: Service) -> str:
    return f"{printable(service.watch, _NAME)}, {service.label}"


def _since(service: Service) -> str:
    return "On" if service.stage == "coming up" else "Since"


def _counts(services: Sequence[Service]) -> Iterator[str]:
    for stage in reversed(STAGES):
        count = sum(1 for service in services if service.stage == stage)
        if count:
            yield f"{count} {stage}"
