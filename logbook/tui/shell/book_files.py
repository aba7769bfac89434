"""Files that go into the record or come out of it, as the rooms bring and write them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from logbook.model.values import Watch, WatchRecord
from logbook.record.reading import glance
from logbook.tui.shell.book_open import OpenBook

if TYPE_CHECKING:
    from logbook.dossier.render import Format
    from logbook.files.dives_in import Taker
    from logbook.files.files_in import FileIn
    from logbook.files.inbox import Inbox
    from logbook.record.file.record_file import RecordFile
    from logbook.record.writing.merge import Merged


class FileKeeper(OpenBook):
    """Dives, tables and whole records in; the page for the workshop out."""

    def taker(self, zone: str, *, rinsed: bool) -> Taker:
        """What turns dives of a file into exposures; raises BadInput for an unknown zone."""
        from logbook.files.dives_in import Taker
        from logbook.model.civil import checked_zone

        return Taker(self.practice, self.settings, self.today, checked_zone(zone), rinsed)

    def inbox(self, file: FileIn, taker: Taker, worn: Watch | None) -> Inbox:
        """The exposures of a file, sorted out against the record; meant for a thread."""
        from logbook.files.inbox import Inbox

        with self.rows() as rows:
            return Inbox.of(file, taker, rows, self.every_watch(), worn)

    def every_watch(self) -> list[Watch]:
        """Every watch, retired ones too."""
        if not self.exists:
            return []
        with self.rows() as rows:
            return [record.watch for record in glance.read_records(rows, retired=True)]

    def bring_in(self, inbox: Inbox, progress: Callable[[int, int], None]) -> tuple[list[int], list[str]]:
        """What of a file is new: its ids, and what it means for the next dive, a sentence a watch at most.

        Meant for a thread. What `progress` raises leaves the record as it was.
        """
        with self.writing() as store:
            ids = inbox.write(store, self.practice, progress)
        with self.rows() as rows:
            return ids, inbox.meaning(ids, self.read(rows, retired=True), self.practice, self.units)

    def write_dossier(
        self,
        watch_id: int,
        path: Path,
        form: Format,
        wishes: Sequence[str],
        *,
        with_notes: bool,
        replace: bool,
    ) -> None:
        """One page on a watch for its workshop; meant for a thread."""
        from logbook.dossier.page import page_of
        from logbook.dossier.render import render
        from logbook.record.file.writing_files import spare_record, write_private

        spare_record(path, self.location)
        record = self.standing(watch_id).record
        with self.rows() as rows:
            page = page_of(rows, record, self.practice, self.today, self.units, wishes, with_notes=with_notes)
        write_private(path, render(page, form), replace=replace)

    def look_at(self, file: RecordFile) -> Merged:
        """How much of a file of watches or a whole record would come in."""
        from tempfile import TemporaryDirectory

        from logbook.record.file.store import Store
        from logbook.record.writing import merge

        if self.exists:
            with Store.open(self.location) as store:
                return merge.look(store, file, self.practice)
        with TemporaryDirectory() as folder, Store.open(Path(folder) / "empty", create=True) as store:
            return merge.look(store, file, self.practice)

    def merge(self, file: RecordFile) -> tuple[Merged, list[str]]:
        """What of such a file is new, and of each watch the gravest of what stands since."""
        from logbook.model.judge.stands_words import now_standing
        from logbook.record.writing import merge

        before: list[WatchRecord] = []
        if self.exists:
            with self.rows() as rows:
                before = self.read(rows, retired=True)
        with self.writing(create=not self.exists) as store:
            merged = merge.bring_in(store, file, self.practice)
        with self.rows() as rows:
            after = self.read(rows, retired=True)
        return merged, now_standing(before, after, self.practice, self.units)
