"""What `logbook watch edit` changes: the description, and corrections of seals that came with the watch."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from logbook.cli.book import Book
from logbook.cli.options import watch as given
from logbook.cli.options.watch import Described

if TYPE_CHECKING:
    from logbook.model.fitting import Fitted
    from logbook.model.values import Seal, Watch, WatchRecord


def edited_watch(
    record: WatchRecord, rename: str | None, told: Described, interval: list[str] | None, book: Book
) -> Watch:
    """The watch with what was told, and nothing else, changed."""
    from logbook.model.validate.exposure import check_watch

    fields: dict[str, Any] = told.fields(book)
    if rename is not None:
        fields["name"] = rename
    if fields.get("mark") in ("unmarked", "unknown"):
        fields.setdefault("marked_pa", None)
    months = given.intervals_of(interval, dict(record.watch.intervals_months))
    return check_watch(replace(record.watch, intervals_months=months, **fields), book.practice, book.today)


def corrected_seals(
    record: WatchRecord,
    changed: Watch,
    material: str | None,
    fitted: str | None,
    single: list[str] | None,
    book: Book,
) -> list[Seal]:
    """The seals in place that were told otherwise, and those of places that are new to the watch."""
    from logbook.model.fitting import Fitted, initial_seals, places
    from logbook.model.ranges import one_of
    from logbook.model.validate.exposure import check_seal
    from logbook.model.wear.charge import current_seals

    if material is not None:
        one_of(material, tuple(book.practice.materials), "material", "--seals")
    span = given.fitted_of(fitted, book) or (None, None)
    apart = given.single_seals(single, book)
    current = {seal.position: seal for seal in current_seals(record.seals)}
    found = [_corrected(seal, material, span, apart.get(seal.position)) for seal in current.values()]
    missing = [place for place in places(changed) if place not in current]
    if missing:
        whole = Fitted(None, *span)
        fresh = initial_seals(changed, material or "unknown", whole, apart)
        found += [seal for seal in fresh if seal.position in missing]
    for place in apart:
        if place not in current and place not in missing:
            check_seal(
                replace(next(iter(current.values())), position=place), changed, book.practice, book.today
            )
    return [
        check_seal(seal, changed, book.practice, book.today)
        for seal in found
        if seal != current.get(seal.position)
    ]


def _corrected(seal: Seal, material: str | None, span: tuple[Any, Any], told: Fitted | None) -> Seal:
    """A seal as it is said to be; what nobody speaks of stays."""
    stuff, (first, last) = material, span
    if told is not None:
        stuff = told.material or stuff
        if told.earliest is not None:
            first, last = told.earliest, told.latest
    if stuff is not None:
        seal = replace(seal, material=stuff)
    return seal if first is None else replace(seal, fitted_earliest=first, fitted_latest=last)
