"""What was done on a watch beside its test, where only its owner knows: said in options, or asked."""

from __future__ import annotations

from dataclasses import dataclass

import typer

from logbook.cli.workshop import damage_of, new_gaskets
from logbook.errors import BadInput
from logbook.model.due.services import TEST, Service
from logbook.model.text import listed, printable
from logbook.model.values import DAMAGED_PART, EventKind, Position, WatchRecord
from logbook.text.events import KIND_WORDS

_OPTIONS = "--opened, --gaskets and --repaired"


@dataclass(frozen=True)
class Work:
    """The options of the command as they were typed, or what was answered in their place."""

    opened: bool = False
    gaskets: str | None = None  # `all`, or places; None: not said
    repaired: tuple[str, ...] = ()
    tasks: tuple[EventKind, ...] = ()  # others of the service; only an answer names them

    @property
    def is_said(self) -> bool:
        """True when anything of it was."""
        return self.opened or self.gaskets is not None or bool(self.repaired)

    @property
    def done(self) -> tuple[EventKind, ...]:
        """The tasks that it names."""
        opened = ("opened",) if self.opened else ()
        return (*opened, *(() if self.gaskets is None else ("gaskets",)), *self.tasks)

    @property
    def kinds_repaired(self) -> tuple[EventKind, ...]:
        """The damage that was mended; an unknown word stays and is refused where the event is made."""
        return tuple(damage_of(word.strip()) for text in self.repaired for word in text.split(","))

    def seals(self, record: WatchRecord) -> tuple[tuple[Position, str], ...]:
        """Place and material of each gasket that was renewed."""
        said = (self.gaskets or "").strip()
        every = said.casefold() == "all"
        return new_gaskets(record, None if every else [said], every)


NOTHING_SAID = Work()


def refuse_for_several(work: Work, services: int) -> None:
    """Raises BadInput where the options are given and no watch, or more than one, is named for them."""
    if work.is_said and services != 1:
        sentence = (
            f"{_OPTIONS} say what was done on one watch: name that watch by its nickname, and no other."
        )
        raise BadInput(sentence, where="ITEM")


def settled(service: Service, work: Work, *, can_ask: bool) -> Work:
    """What was done on this service beside its test: what was said of it, else what is answered.

    Raises BadInput where nobody said it and nobody can be asked.
    """
    if work.is_said or not service.to_be_told:
        return work
    if not can_ask:
        raise BadInput(_what_to_say(service), where="--opened")
    return _asked(service)


def _asked(service: Service) -> Work:
    name = printable(service.watch)

    def said(words: str) -> bool:
        return typer.confirm(f"{name}: {words}", default=None, err=True)

    done = [task for task in service.to_be_told if said(KIND_WORDS[task])]
    gaskets = None
    if "gaskets" in done:
        which = "Which gaskets: all, or places such as crown,case-back=FKM"
        gaskets = typer.prompt(which, default="all", err=True).strip()
    mended = tuple(kind for kind in service.damage if said(f"{DAMAGED_PART[kind]} repaired"))
    rest = tuple(task for task in done if task not in ("opened", "gaskets"))
    return Work("opened" in done, gaskets, mended, rest)


def _what_to_say(service: Service) -> str:
    ids = {item.task: ":".join(item.id.split(":")[:2]) for item in service.items}
    parts = [DAMAGED_PART[kind].replace(" ", "-") for kind in service.damage]
    ways = ["--opened", "--gaskets all|PLACES", *(f"--repaired {part}" for part in parts)]
    others = [ids[task] for task in service.to_be_told if task in ids and task != "gaskets"]
    named = f", {listed(others, 'and')} by id beside it" if others else ""
    return (
        f"Only you know what was done on {printable(service.watch)} beside its test: "
        f"say {listed(ways, 'or')} as it was{named}; or name the test alone, {ids.get(TEST, TEST)}."
    )
