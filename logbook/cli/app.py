"""The command line as a whole: every command, and the one place where failures become sentences and codes."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import Annotated, Any

import typer
from typer.core import TyperGroup
from typer.exceptions import Abort, Exit, TyperException

from logbook import __version__
from logbook.cli import (
    bench_cycles,
    checks,
    constants,
    demo,
    due,
    failures,
    log,
    preferences,
    record,
    score,
    shelf,
    water,
    wearing,
    workshop,
)
from logbook.cli.bench import bench
from logbook.cli.command import Commands, Group
from logbook.cli.failures import StoppedError, UsageMistake
from logbook.cli.watches import watch


class Root(Group):
    """The command `logbook`: maps every failure to its sentence and its exit code."""

    def main(self, args: Sequence[str] | None = None, prog_name: str | None = None, **extra: Any) -> Any:
        """Runs a command line and exits; never shows a traceback."""
        words = list(sys.argv[1:] if args is None else args)
        extra["standalone_mode"] = False
        sys.exit(self._code(words, extra))

    def _code(self, words: list[str], extra: dict[str, Any]) -> int:
        for stream in (sys.stdout, sys.stderr):
            if hasattr(stream, "reconfigure"):
                stream.reconfigure(errors="backslashreplace")
        try:
            result = super().main(words, "logbook", **extra)
        except TyperException as error:
            return failures.report(_mistake(error), as_json="--json" in words)
        except (KeyboardInterrupt, Abort):
            return failures.report(StoppedError(), as_json="--json" in words)
        except Exception as error:
            return failures.report(error, as_json="--json" in words)
        return result if isinstance(result, int) else 0

    def invoke(self, ctx: typer.Context) -> Any:
        """Runs the command that was named; an interruption stays one of ours."""
        try:
            return super().invoke(ctx)
        except KeyboardInterrupt:
            raise StoppedError from None


def _mistake(error: TyperException) -> UsageMistake:
    """A complaint of the parser in our own form: one sentence, and where help is."""
    command, context = getattr(error, "cmd", None), getattr(error, "ctx", None)
    sentence = error.format_message().strip()
    if isinstance(command, TyperGroup) and sentence == "Missing command.":
        sentence = f"Which command? There are {', '.join(command.commands)}."
    if not sentence.endswith((".", "?")):
        sentence += "."
    path = context.command_path if context is not None else "logbook"
    return UsageMistake(f"{sentence} See `{path} --help`.", where=_where(error))


def _where(error: TyperException) -> str | None:
    name = getattr(error, "option_name", None)
    param = getattr(error, "param", None)
    return name or (None if param is None else param.name)


def _version(value: bool) -> None:
    if value:
        print(f"logbook {__version__}")
        raise Exit


app = Commands(cls=Root, name="logbook")
for _part in (demo, shelf):
    _part.add_to(app)
app.add_typer(watch)
for _part in (water, log, wearing, workshop, score, checks, due):
    _part.add_to(app)
assert bench_cycles  # imported for the command that it adds
app.add_typer(bench)
for _part in (record, preferences, constants):
    _part.add_to(app)


@app.callback()
def _logbook(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version and stop.")
    ] = False,
) -> None:
    """A dive-and-wear logbook for watches: what each contact with water cost each seal, and what is due.

    Without a command it opens on the whole screen. It does not replace a pressure test.
    """


def run(words: Sequence[str]) -> int:
    """Runs a command line; the exit code."""
    from typer.main import get_command

    try:
        get_command(app).main(args=list(words))
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else 0
    return 0
