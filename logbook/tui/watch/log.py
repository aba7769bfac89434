"""The log of a watch as its room shows it: plans on top, then the record, read page by page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from logbook.model.judge.stands_words import raised_in_a_word
from logbook.model.values import Exposure, Shares, WatchRecord
from logbook.record.reading import charged, glance
from logbook.record.reading.rows import Rows
from logbook.record.record import Book
from logbook.tui.watch.lines import Entry

PAGE = 64  # entries read from the record at a time
Row = tuple[Entry | None, Mapping[int, Shares]]
GONE: Row = (None, {})


class LogPages:
    """Rows of a log, each read when it is looked at first."""

    def __init__(self, book: Book, record: WatchRecord) -> None:
        self.plans = book.plans(record.watch.id or 0)
        wet = book.ask(glance.count_exposures, watch_id=record.watch.id, planned=False)
        self.logged = wet + len(record.events)
        self.pages: dict[int, Sequence[Row]] = {}
        self._book = book
        self._record = record
        self._watch_id = record.watch.id or 0
        self._raised: dict[int, str] = {}  # entry id -> what it raised

    def __len__(self) -> int:
        return len(self.plans) + self.logged

    def raised_by(self, exposure: Exposure) -> str:
        """What a logged exposure raised, in a word; a plan raises nothing."""
        if exposure.planned:
            return ""
        key = exposure.id or 0
        if key not in self._raised:
            self._raised[key] = raised_in_a_word(self._record, exposure, self._book.practice)
        return self._raised[key]

    def row(self, row: int) -> Row:
        """An entry and what it cost; `GONE` where another window has taken entries away. May raise."""
        if row < len(self.plans):
            return self.plans[row], {}
        page, within = divmod(row - len(self.plans), PAGE)
        if page not in self.pages:
            self.pages[page] = ()  # a page that cannot be read is not asked for again by every row of it
            self.pages[page] = self._book.ask(_page, self._watch_id, page * PAGE)
        return self.pages[page][within] if within < len(self.pages[page]) else GONE


def _page(rows: Rows, watch_id: int, offset: int) -> Sequence[Row]:
    """A page of a log, newest first, each entry with what it added to which seal."""
    return [
        (entry, charged.ledger_of(rows, entry.id or 0) if isinstance(entry, Exposure) else {})
        for entry in glance.read_log(rows, watch_id, limit=PAGE, offset=offset)
    ]
