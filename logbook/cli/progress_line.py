"""A bar with its words on standard error, wiped away at the end."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager


@contextmanager
def progress_line(title: str, words: str) -> Iterator[Callable[[int, int], None]]:
    """What is to be told how much is done, and of how much; `words` shows `task.completed`, `task.total`."""
    from rich.console import Console
    from rich.markup import escape
    from rich.progress import BarColumn, Progress, TextColumn

    columns = (TextColumn(escape(title)), BarColumn(), TextColumn(words))
    # No thread draws it: an interruption between two of its locks would leave that thread waiting for ever.
    with Progress(*columns, console=Console(stderr=True), transient=True, auto_refresh=False) as bar:
        task = bar.add_task("", total=1)
        yield lambda done, total: bar.update(task, completed=done, total=total, refresh=True)
