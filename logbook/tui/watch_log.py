"""The log of a watch as its room shows it: plans on top, then the record, read page by page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from logbook.reckoning.values import Shares, WatchRecord
from logbook.tui.book import Book
from logbook.tui.watch_lines import Entry

PAGE = 64  # entries read from the record at a time
Row = tuple[Entry | None, Mapping[int, Shares]]
GONE: Row = (None, {})


class LogPages:
    """Rows of a log, each read when it is looked at first."""

    def __init__(self, book: Book, record: WatchRecord) -> None:
        self.plans = book.plans(record.watch.id or 0)
        self.logged = book.log_length(record)
        self.pages: dict[int, Sequence[Row]] = {}
        self._book = book
        self._watch_id = record.watch.id or 0

    def __len__(self) -> int:
        return len(self.plans) + self.logged

    def row(self, row: int) -> Row:
        """An entry and what it cost; `GONE` where another window has taken entries away. May raise."""
        if row < len(self.plans):
            return self.plans[row], {}
        page, within = divmod(row - len(self.plans), PAGE)
        if page not in self.pages:
            self.pages[page] = ()  # a page that cannot be read is not asked for again by every row of it
            self.pages[page] = self._book.log_page(self._watch_id, page * PAGE, PAGE)
        return self.pages[page][within] if within < len(self.pages[page]) else GONE
