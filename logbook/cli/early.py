"""What `logbook wet` says of exposures from before a watch's record begins."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from logbook.cli.asked import Asked
from logbook.cli.book import WritableBook
from logbook.cli.failures import StoppedError

if TYPE_CHECKING:
    from logbook.model.values import Exposure
    from logbook.text.record_start import Early


def ask_about_start(book: WritableBook, asked: Asked, items: Sequence[Exposure]) -> list[Early]:
    """Asks of each watch whether its record begins earlier; returns those whose entries stay uncharged.

    The entries are kept whatever the answer: where the answers end early, the rest stay as they are.
    """
    from logbook.cli.asking import can_ask, yes
    from logbook.model.validate.exposure import check_watch
    from logbook.record.writing import watches
    from logbook.text.record_start import early

    found = early(items, book.watches)
    if not can_ask(asked):
        return found
    moved = []
    try:
        for each in found:
            if yes(each.question()):
                watches.edit(book.store, check_watch(each.moved(), book.practice, book.today), book.practice)
                moved.append(each)
    except StoppedError:
        pass
    return [each for each in found if each not in moved]
