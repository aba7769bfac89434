"""The record as commands and rooms hold it: one connection, whatever happens to the file meanwhile."""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path
from threading import Thread
from typing import Any

import pytest

from logbook.errors import NoRecord, Refused
from logbook.model.practice import Practice
from logbook.record.file.store import Store
from logbook.record.record import Book
from logbook.record.schema import revision
from logbook.record.writing import watches
from tests.record.making import a_watch, its_seals

TODAY = date(2026, 3, 15)


@pytest.fixture
def book(path: Path) -> Book:
    """A record with one watch."""
    made = Book(path, TODAY)
    made.add_watch(a_watch(), its_seals())
    return made


def names(book: Book) -> list[str]:
    return [record.watch.name for record in book.records()]


def test_one_connection_reads_again_and_again(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[Path] = []
    connect = revision.connect

    def count(path: Path, **how: Any) -> Any:
        opened.append(path)
        return connect(path, **how)

    monkeypatch.setattr(revision, "connect", count)
    assert names(book) == names(book) == [a_watch().name]
    book.standings()
    assert len(opened) <= 1


def test_others_write_between_two_reads_and_are_followed(book: Book, practice: Practice) -> None:
    book.standings()
    with Store.open(book.path) as other:
        watches.add(other, a_watch(name="Second"), its_seals(), [], practice)
    assert book.follow()
    assert sorted(watch.name for watch in book.watches()) == sorted([a_watch().name, "Second"])
    assert not book.follow()


def test_a_record_put_in_its_place_is_the_one_that_is_read(book: Book, tmp_path: Path) -> None:
    other = Book(tmp_path / "other.logbook", TODAY)
    other.add_watch(a_watch(name="Second"), its_seals())
    assert names(book) == [a_watch().name]
    other.path.replace(book.path)
    assert names(book) == ["Second"]
    book.path.unlink()
    with pytest.raises(NoRecord, match="There is no record at"):
        book.rows("SELECT 1")


def test_a_file_that_was_emptied_is_told_as_such(book: Book) -> None:
    book.rows("SELECT 1")
    os.truncate(book.path, 0)
    with pytest.raises(Refused, match="is empty, and an empty file is never taken for an empty logbook"):
        book.rows("SELECT 1")


def test_a_thread_waits_for_no_other_one_that_reads(book: Book) -> None:
    found: list[list[str]] = []
    with book.reading() as rows:
        thread = Thread(target=lambda: found.append(names(book)))
        thread.start()
        thread.join(20)
        assert found == [[a_watch().name]]
        assert list(rows("SELECT name FROM watch", ())) == [(a_watch().name,)]


def test_what_was_let_go_of_is_opened_when_it_is_read_again(book: Book) -> None:
    before = names(book)
    book.close()
    assert book._reader is not None
    assert book._reader._kept is None
    assert names(book) == before


def test_within_a_change_what_is_written_is_read_and_nothing_of_before(book: Book) -> None:
    before = book.all_watches()
    with book.writing() as store:
        watches.add(store, a_watch(name="Second"), its_seals(), [], book.practice)
        assert len(book.all_watches()) == len(before) + 1
        assert book.store is store
    assert len(book.standings()) == 2


def test_a_record_begun_on_a_server_is_begun_as_a_file_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TZ", "Asia/Tokyo")
    begun = []
    for place in (tmp_path / "file.logbook", f"sqlite:///{tmp_path / 'shared.db'}"):
        book = Book(place, TODAY)
        assert not book.exists()
        assert book.standings() == []
        book.add_watch(a_watch(), its_seals())
        assert book.exists()
        assert book.settings.zone == "Asia/Tokyo"
        begun.append((book.standings(), book.settings, list(book.rows("SELECT * FROM meta"))))
        book.close()
    assert begun[0] == begun[1]
