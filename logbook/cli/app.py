"""The command line as a whole: every command, and the one place where failures become sentences and codes."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from importlib import import_module
from typing import TYPE_CHECKING, Annotated, Any, NoReturn

import typer
from typer.core import TyperGroup
from typer.exceptions import Abort, Exit, TyperException
from typer.main import get_command, get_group

from logbook import __version__
from logbook.cli import failures
from logbook.cli.command import Commands, Group
from logbook.cli.failures import StoppedError, UsageMistake
from logbook.model.text import did_you_mean, printable

if TYPE_CHECKING:
    from typer._click import Command as AnyCommand  # what the library’s own signatures name
    from typer._click import Context

# Which module of `logbook.cli` adds which commands; one is loaded when a command of it is asked for.
_MODULES = {
    "demo": ("demo",),
    "shelf": ("shelf",),
    "watches": ("watch",),
    "water": ("wet", "plan"),
    "log": ("log", "amend", "strike"),
    "undoing": ("undo", "redo"),
    "importing": ("import",),
    "wearing": ("habit", "worn", "wore", "nothing-else", "confirm"),
    "workshop": ("event",),
    "score": ("score",),
    "chance": ("chance",),
    "forecast": ("forecast",),
    "checks": ("check",),
    "due": ("due", "done", "snooze"),
    "visits": ("visits",),
    "bench.commands": ("bench",),
    "calendar": ("calendar",),
    "nudge": ("nudge",),
    "dossier": ("dossier",),
    "record": ("export", "backup", "restore", "doctor"),
    "preferences": ("settings",),
    "constants": ("constants", "practice"),
}
_FORMERLY = ("confirm", "practice", "wore")  # names of before, which still work and are not shown
COMMANDS = {command: module for module, commands in _MODULES.items() for command in commands}
_HIDDEN = {"outlook": "chance"}  # names that commands had before


class Root(Group):
    """The command `logbook`: maps every failure to its sentence and its exit code."""

    def list_commands(self, ctx: Context) -> list[str]:
        """Every command that is shown, loaded or not."""
        return [command for command in COMMANDS if command not in _FORMERLY]

    def get_command(self, ctx: Context, cmd_name: str) -> AnyCommand | None:
        """The command of a name, its module loaded when it is first asked for."""
        module = COMMANDS.get(cmd_name) or _HIDDEN.get(cmd_name)
        if module and cmd_name not in self.commands:
            part = Commands()
            part.callback()(_part)
            import_module(f"logbook.cli.{module}").add_to(part)
            self.commands.update(get_group(part).commands)
        if cmd_name not in self.commands and cmd_name[:1].isalpha() and not ctx.resilient_parsing:
            offer = did_you_mean(cmd_name, self.list_commands(ctx))
            sentence = f"There is no command {printable(cmd_name, 40)!r}.{offer} See `logbook --help`."
            raise UsageMistake(sentence, where=printable(cmd_name, 40))
        return self.commands.get(cmd_name)

    def main(
        self, args: Sequence[str] | None = None, prog_name: str | None = None,
        complete_var: str | None = None, standalone_mode: bool = True, windows_expand_args: bool = True,
        **extra: Any,
    ) -> NoReturn:  # fmt: skip
        """Runs a command line and exits; never shows a traceback, and is called logbook whoever runs it."""
        extra |= {"complete_var": complete_var, "windows_expand_args": windows_expand_args}
        sys.exit(self._code(list(sys.argv[1:] if args is None else args), extra))

    def _code(self, words: list[str], extra: dict[str, Any]) -> int:
        for stream in (sys.stdout, sys.stderr):
            if hasattr(stream, "reconfigure"):
                stream.reconfigure(errors="backslashreplace")
        try:
            result = super().main(words, "logbook", standalone_mode=False, **extra)
        except TyperException as error:
            return failures.report(_mistake(error), as_json="--json" in words)
        except (KeyboardInterrupt, Abort):
            return failures.report(StoppedError(), as_json="--json" in words)
        except Exception as error:
            return failures.report(error, as_json="--json" in words)
        return result if isinstance(result, int) else 0

    def invoke(self, ctx: Context) -> Any:
        """Runs the command that was named; an interruption stays one of ours."""
        try:
            return super().invoke(ctx)
        except KeyboardInterrupt:
            raise StoppedError from None


def _part() -> None:
    """Some of the commands."""


def _mistake(error: TyperException) -> UsageMistake:
    """A complaint of the parser in our own form: one sentence, and where help is."""
    command, context = getattr(error, "cmd", None), getattr(error, "ctx", None)
    sentence = error.format_message().strip()
    if isinstance(command, TyperGroup) and context is not None and sentence == "Missing command.":
        sentence = f"Which command? There are {', '.join(command.list_commands(context))}."
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
    try:
        get_command(app).main(args=list(words))
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else 0
    return 0
