"""A file of one-line entries: one a line, empty lines and those that begin with # left out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date
from hashlib import sha256

from logbook.errors import BadInput
from logbook.exchange.incoming import Incoming
from logbook.exchange.lines import parse_entry, print_entry
from logbook.reckoning.practice import Practice
from logbook.reckoning.values import Settings, Watch


def read_lines(
    text: str,
    name: str,
    *,
    practice: Practice,
    settings: Settings,
    today: date,
    watches: Sequence[Watch],
    watch: Watch | None = None,
) -> list[Incoming]:
    """The exposures that the lines of a file describe; `watch` is that of lines which name none.

    Raises BadInput at the first line that is not understood, with file and line.
    """
    found, seen = [], Counter[str]()
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        try:
            exposure = parse_entry(
                line, practice=practice, settings=settings, today=today, watches=watches,
                with_name=watch is None, watch=watch,
            )  # fmt: skip
        except BadInput as error:
            error.message = f"{name}, line {number}: {error.message}"
            error.where = f"line {number}" + (f", {error.where}" if error.where else "")
            raise
        plain = print_entry(exposure, None, practice, settings)
        seen[plain] += 1
        digest = sha256(plain.encode()).hexdigest()[:24]
        found.append(Incoming(f"line {number}", exposure, f"line:{digest}#{seen[plain]}"))
    return found
