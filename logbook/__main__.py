"""The entry point of the command `logbook`: the whole screen without a command, else the command line."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from logbook.cli.asked import Asked, need_terminal, read_file, read_today, read_units

# Read by hand, so that nothing of the command line is loaded before the first screen is painted.
_OPENING: dict[str, tuple[str, Callable[[str], Any]]] = {
    "--file": ("file", read_file),
    "--today": ("today", read_today),
    "--units": ("units", read_units),
}


def opening(words: Sequence[str]) -> dict[str, str] | None:
    """The options of a call that opens the whole screen; None when anything else was asked."""
    given: dict[str, str] = {}
    left = list(words)
    while left:
        name, equals, value = left.pop(0).partition("=")
        if name not in _OPENING or not (equals or left):
            return None
        given[name] = value if equals else left.pop(0)
    return given


def stand_in() -> None:
    """Puts nothing in place of each standard stream that is closed.

    Done before anything is opened: a record would take the number of the stream, and be written into by
    whatever prints.
    """
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            nothing = Path(os.devnull).open(mode, encoding="utf-8")  # noqa: SIM115 - it stays open to the end
            setattr(sys, name, nothing)
            setattr(sys, f"__{name}__", nothing)


def main() -> int:
    """Runs what was typed; the exit code."""
    stand_in()
    # Forecasts multiply many small matrices, for which threads wait longer than they work.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    try:
        return _run(sys.argv[1:])
    except (Exception, KeyboardInterrupt) as error:
        from logbook.cli.failures import StoppedError, report

        return report(StoppedError() if isinstance(error, KeyboardInterrupt) else error, as_json=False)


def _run(words: Sequence[str]) -> int:
    given = opening(words)
    if given is None:
        from logbook.cli.app import run as run_command

        return run_command(words)
    asked = Asked()
    for name, text in given.items():
        field, read = _OPENING[name]
        setattr(asked, field, read(text))
    need_terminal()
    from logbook.tui.app import run

    return run(asked.file, today=asked.today, units=asked.units)


if __name__ == "__main__":
    sys.exit(main())
