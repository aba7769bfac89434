"""`logbook demo`: an invented collection to look around in."""

from __future__ import annotations

import sys
import tempfile
from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from logbook.cli.asked import Asked, need_terminal
from logbook.cli.command import Commands, asked_of
from logbook.cli.output import answer
from logbook.demo import build
from logbook.errors import Refused
from logbook.record.file.places import typed_path
from logbook.record.file.practice_file import load_practice


def add_to(app: Commands) -> None:
    """Registers the command."""
    app.command()(demo)


def demo(
    ctx: typer.Context,
    to: Annotated[
        str | None, typer.Option(metavar="PATH", help="Write the demo record there and open nothing.")
    ] = None,
) -> None:
    """Opens an invented collection, built afresh and removed on exit; --to keeps it in a file."""
    asked = asked_of(ctx)
    if to is None:
        raise typer.Exit(_look_around(asked))
    path = typed_path(to)
    if path.exists():
        raise Refused(f"There is already a file at {path}; it was left as it is.", where=str(path))
    _build(path, asked.day())
    says = f"The demo is at {path}. Open it with: logbook --file {path}"
    answer(asked, {"path": str(path), "open_with": ["logbook", "--file", str(path)]}, lambda: says)


def _look_around(asked: Asked) -> int:
    """Opens the demo on the whole screen; the exit code."""
    if asked.as_json:
        raise Refused(
            "The demo opens on the whole screen; --to PATH --json writes it to a file.", where="--json"
        )
    need_terminal()
    with tempfile.TemporaryDirectory(prefix="logbook-demo-") as folder:
        path = Path(folder) / "demo.db"
        today = asked.day()
        _build(path, today)
        from logbook.tui.app import run

        return run(path, today=today, units=asked.units)


def _build(path: Path, today: date) -> None:
    """Writes the demo, telling on standard error what is being written, where a person looks on."""

    def tell(what: str) -> None:
        if sys.stderr.isatty():
            print(f"\r{what} …\x1b[K", end="", file=sys.stderr, flush=True)

    build(path, today, load_practice(), tell)
    if sys.stderr.isatty():
        print("\r\x1b[K", end="", file=sys.stderr, flush=True)
