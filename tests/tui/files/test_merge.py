"""A table of watches or another record through the rooms: looked at, written in a thread, undone."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Event as Gate
from typing import Any

import pytest
from textual.pilot import Pilot

from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from tests.tui.helpers import (
    LARGE,
    SMALL,
    raw_controls,
    screen_lines,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    write,
)

SHELF = "name,mark,marked_bar,tested,tested_bar\nlido QUARTZ,,,,\nOld,,,,\nReef,divers,30,2026-05-01,30\n"


@pytest.fixture
def shelf(book: Book, tmp_path: Path) -> Path:
    """A table of three watches: one here in other capitals, one retired, one new."""
    from logbook.record.writing import watches
    from tests.tui.conftest import TODAY, a_watch, seals_of

    old = a_watch("Old")
    id_ = book.add_watch(old, seals_of(old))
    with book.writing() as store:
        watches.retire(store, id_, TODAY)
    path = tmp_path / "shelf.csv"
    path.write_text(SHELF, encoding="utf-8")
    return path


@pytest.fixture
def exported(book: Book, tmp_path: Path) -> Path:
    """This record as a file."""
    from logbook.files.json.writing import record_document

    with book.reading() as rows:
        told = record_document(rows)
    return put(tmp_path, told)


def put(folder: Path, told: dict[str, Any]) -> Path:
    path = folder / "record.json"
    path.write_text(json.dumps(told), encoding="utf-8")
    return path


async def merging(pilot: Pilot[int], path: Path) -> None:
    await wait_for_room(pilot, "ShelfRoom")
    await pilot.press("i")
    await wait_for_room(pilot, "BringInRoom")
    await write(pilot, str(path))
    await pilot.press("ctrl+s")
    await wait_for_room(pilot, "MergeRoom")


def rows(app: LogbookApp) -> list[str]:
    """The lines of the watches."""
    return [
        " ".join(line.split()) for line in screen_lines(app) if line[:13].split()[:1] in (["new"], ["on"])
    ]


async def test_each_watch_is_told_as_it_will_be_taken(book: Book, shelf: Path) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await merging(pilot, shelf)
        await wait_for_text(
            pilot, "1 watch and 1 event would come in; on record already: 2 watches of these nicknames."
        )
        assert rows(app) == [
            "on record lido QUARTZ nothing new", "on record Old nothing new", "new Reef 1 event",
        ]  # fmt: skip
        await pilot.press("b")
        await wait_for_message(pilot, "shelf.csv: 1 watch and 1 event came in", "z: undo")
        await wait_for_room(pilot, "ShelfRoom")
        assert [w.name for w in book.watches()][-2:] == ["Reef", "Sunday dress"]
        await pilot.press("z")
        await wait_for_message(pilot, "Undone: import shelf.csv")
        assert "Reef" not in [w.name for w in book.watches()]


async def test_a_watch_with_another_name_here_is_told_with_both(book: Book, exported: Path) -> None:
    from dataclasses import replace

    from logbook.record.writing import watches

    blue = book.watches()[0]
    with book.writing() as store:
        watches.edit(store, replace(blue, name="Azure"), book.practice)
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await merging(pilot, exported)
        await wait_for_text(pilot, "Nothing would come in", "Blue bezel is Azure here: left as here.")
        assert "on record Blue bezel, here Azure nothing new" in rows(app)
        await pilot.press("b")
        await wait_for_message(pilot, "Nothing of this file is new.")
        await wait_for_room(pilot, "MergeRoom")


@contextmanager
def held(book: Book, monkeypatch: pytest.MonkeyPatch, name: str) -> Iterator[Gate]:
    """What the record is asked waits until the gate is open."""
    gate, ask = Gate(), getattr(book, name)

    def waiting(*given: Any, **more: Any) -> Any:
        assert gate.wait(20)
        return ask(*given, **more)

    monkeypatch.setattr(book, name, waiting)
    try:
        yield gate
    finally:
        gate.set()


async def test_the_room_answers_keys_while_the_file_is_looked_at(
    book: Book, shelf: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        with held(book, monkeypatch, "do") as gate:
            await merging(pilot, shelf)
            await wait_for_text(pilot, "Looking at what is new …")
            await pilot.press("b", "question_mark")
            await wait_for_room(pilot, "HelpRoom")
            await pilot.press("escape")
            await wait_for_room(pilot, "MergeRoom")
            gate.set()
            await wait_for_text(pilot, "1 watch and 1 event would come in")


async def test_one_may_leave_while_the_file_is_looked_at(
    book: Book, shelf: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        with held(book, monkeypatch, "do"):
            await merging(pilot, shelf)
            await pilot.press("escape")
            await wait_for_room(pilot, "BringInRoom")


async def test_what_is_being_written_is_not_left(
    book: Book, shelf: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await merging(pilot, shelf)
        await wait_for_text(pilot, "would come in")
        with held(book, monkeypatch, "writing") as gate:
            await pilot.press("b")
            await wait_for_text(pilot, "Bringing it in …")
            await pilot.press("b", "escape")
            await wait_for_message(pilot, "undo takes it back")
            await wait_for_room(pilot, "MergeRoom")
            gate.set()
            await wait_for_room(pilot, "ShelfRoom")
    assert "Reef" in [w.name for w in book.watches()]


async def test_what_the_watch_that_is_here_cannot_have_is_said_and_the_room_left(
    book: Book, exported: Path, tmp_path: Path
) -> None:
    told = json.loads(exported.read_text(encoding="utf-8"))
    told["watches"][0]["gas_valve"] = True
    event = told["events"][0] | {
        "kind": "gas-valve-damaged",
        "passed": None,
        "test_pa": None,
        "medium": None,
        "id": 90,
    }
    told["events"].append(event)
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("i")
        await wait_for_room(pilot, "BringInRoom")
        await write(pilot, str(put(tmp_path, told)))
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "Blue bezel has no gas valve")
        await wait_for_room(pilot, "BringInRoom")


async def test_names_out_of_a_file_are_text(book: Book, exported: Path, tmp_path: Path) -> None:
    told = json.loads(exported.read_text(encoding="utf-8"))
    names = [
        "[bold]Reef[/bold]",
        "[/]",
        "e\u0301" * 30,
        "漢字" * 30,
        "{watch} $(reboot)",
        "'; DROP TABLE watch; --",
    ]
    told["watches"] = [
        told["watches"][0] | {"id": 100 + n, "name": name, "seals": []} for n, name in enumerate(names)
    ]
    for kind in ("exposures", "events", "worn", "habits", "snoozed", "imported"):
        told[kind] = []
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await merging(pilot, put(tmp_path, told))
        await wait_for_text(pilot, "6 watches would come in", *names[:2], *names[4:])
        assert raw_controls(app) == []
