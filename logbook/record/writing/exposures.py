"""Logging contacts with water, amending them, and turning a plan into what happened."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import chain

from sqlmodel import Session

from logbook.errors import BadInput
from logbook.model.practice import Practice
from logbook.model.values import Exposure, ProfilePoint
from logbook.record.file.store import Store
from logbook.record.ledger.ledger import Progress
from logbook.record.reading import labels
from logbook.record.reading.rows import Rows
from logbook.record.reading.sql import rows_of
from logbook.record.schema import shapes
from logbook.record.schema.shapes import Columns
from logbook.record.schema.tables import ExposureRow, ImportedRow, ProfilePointRow
from logbook.record.writing import entries, journal
from logbook.record.writing.watch_names import names_of

POINTS_AT_ONCE = 10_000


def add(
    store: Store,
    items: Sequence[Exposure],
    practice: Practice,
    label: str | None = None,
    origins: Sequence[str] = (),
    profiles: Iterable[tuple[int, Sequence[ProfilePoint]]] = (),
    progress: Progress | None = None,
    first: Callable[[Rows], None] = lambda rows: None,
) -> list[int]:
    """Writes exposures, each with its `watch_id`, all or none, as one step of undo; returns their ids.

    `origins`, one for each, say what they were in the file that they come from; `profiles` hands out, one
    after the other, the profiles of exposures that come without theirs, by place in `items`. `progress` is
    told how many are charged, and of how many; `first` sees the record as it is when nobody else can write.
    What either raises leaves the record as it was.
    """
    names = names_of(store, [item.watch_id for item in items])
    with store.action(label or _label(items, names), practice, progress) as session:
        first(rows_of(session.connection()))
        tell = progress or (lambda done, total: None)
        return write_new(session, items, origins, profiles, lambda: tell(0, len(items)))


def write_new(
    session: Session,
    items: Sequence[Exposure],
    origins: Sequence[str | None] = (),
    profiles: Iterable[tuple[int, Sequence[ProfilePoint]]] = (),
    told: Callable[[], None] = lambda: None,
) -> list[int]:
    """Adds exposures inside an action that is under way, as `add` does; returns their ids.

    `told` is called after every few thousand points.
    """
    kept = entries.add(session, items)
    ids = [one.id or 0 for one in kept]
    _write_profiles(session, kept, ((ids[n], profile) for n, profile in profiles), told)
    _write_origins(session, {id_: came for id_, came in zip(ids, origins, strict=False) if came})
    return ids


def write(session: Session, found: Sequence[Exposure], origins: Mapping[int, str]) -> None:
    """Adds exposures under the ids that they have, inside an action that is under way; `origins` by id."""
    entries.insert(session, found)
    _write_profiles(session, found)
    _write_origins(session, origins)


def _write_profiles(
    session: Session,
    found: Sequence[Exposure],
    beside: Iterable[tuple[int, Sequence[ProfilePoint]]] = (),
    told: Callable[[], None] = lambda: None,
) -> None:
    theirs = ((one.id or 0, one.profile) for one in found if one.profile)
    for points in _in_pieces(chain(theirs, beside)):
        journal.insert_rows(session, ProfilePointRow, points)
        told()


def _write_origins(session: Session, origins: Mapping[int, str]) -> None:
    came = [{"exposure_id": id_, "origin": origin} for id_, origin in sorted(origins.items())]
    journal.insert_rows(session, ImportedRow, came)


def _in_pieces(profiles: Iterable[tuple[int, Sequence[ProfilePoint]]]) -> Iterator[list[Columns]]:
    """Rows of profiles, by exposure id, some thousands at a time: so long ones take little memory."""
    piece: list[Columns] = []
    for exposure_id, profile in profiles:
        piece += shapes.profile_columns(exposure_id, profile)
        if len(piece) >= POINTS_AT_ONCE:
            yield piece
            piece = []
    if piece:
        yield piece


def amend(store: Store, exposure: Exposure, practice: Practice) -> None:
    """Replaces the exposure with this id, its profile included."""
    names = names_of(store, [exposure.watch_id])
    with store.action(
        f"amend {labels.exposure(exposure)} for {names[exposure.watch_id]}", practice
    ) as session:
        _write_over(session, exposure)


def confirm_plan(
    store: Store, exposure_id: int, exposure: Exposure, practice: Practice, rest: Exposure | None = None
) -> int:
    """A planned exposure happened, as `exposure` says: it is charged from now on. Returns the id it has.

    Of a trip `rest` is what stays planned, under the old id; else what happened has that id.
    One step of undo. Raises BadInput when the entry is no plan, or does not begin before `rest` any more.
    """
    happened = replace(exposure, planned=False, planned_to=None)
    names = names_of(store, [exposure.watch_id])
    label = f"it happened: {labels.exposure(happened)} for {names[exposure.watch_id]}"
    with store.action(label, practice) as session:
        row = session.get(ExposureRow, exposure_id)
        if row is not None and not row.planned:
            raise BadInput(f"Entry {exposure_id} is not a plan; it is on record already.", where="id")
        if rest is None:
            _write_over(session, replace(happened, id=exposure_id))
            return exposure_id
        if row is not None and row.starts_on >= rest.starts_on.isoformat():
            raise BadInput(f"Plan {exposure_id} was changed meanwhile: look at it again.", where="id")
        _write_over(session, replace(rest, id=exposure_id))
        return write_new(session, [happened])[0]


def _write_over(session: Session, exposure: Exposure) -> None:
    entries.write_over(session, exposure)
    points = shapes.profile_columns(exposure.id or 0, exposure.profile)
    journal.replace_rows(session, ProfilePointRow, exposure.id, points)


def _label(items: Sequence[Exposure], names: dict[int | None, str]) -> str:
    if len(items) != 1:
        return f"log {len(items)} exposures"
    verb = "plan" if items[0].planned else "log"
    return f"{verb} {labels.exposure(items[0])} for {names[items[0].watch_id]}"
