"""A file of one-line entries: one a line, empty lines and those that begin with # left out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date
from hashlib import sha256

from logbook.errors import BadInput, NotFound
from logbook.files.incoming import Incoming
from logbook.model.practice import Practice
from logbook.model.text import printable
from logbook.model.values import Settings, Watch
from logbook.text.lines import parse_entry, print_entry
from logbook.text.names import find_watch


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

    A line names its watch when what stands before its first colon is a nickname or begins one.

    Raises BadInput at the first line that is not understood, with file and line.
    """
    found, seen = [], Counter[str]()
    # As an editor counts: other separators, such as form feeds, stand inside a line.
    for number, line in enumerate(text.replace("\r\n", "\n").split("\n"), 1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        try:
            exposure = parse_entry(
                line, practice=practice, settings=settings, today=today, watches=watches,
                with_name=watch is None or _is_named(line, watches), watch=watch,
            )  # fmt: skip
        except BadInput as error:
            error.message = f"{printable(name)}, line {number}: {error.message}"
            error.where = f"line {number}" + (f", {error.where}" if error.where else "")
            raise
        plain = print_entry(exposure, None, practice, settings)
        seen[plain] += 1
        digest = sha256(plain.encode()).hexdigest()[:24]
        found.append(Incoming(f"line {number}", exposure, f"line:{digest}#{seen[plain]}"))
    return found


def _is_named(line: str, watches: Sequence[Watch]) -> bool:
    name, colon, _ = line.partition(":")
    try:
        return bool(colon) and bool(find_watch(name, [watch.name for watch in watches]))
    except NotFound:
        return False
