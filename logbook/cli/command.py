"""The commands' common ground: the options that every one of them takes, and arguments left as typed."""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass
from functools import cache, wraps
from typing import TYPE_CHECKING, Annotated, Any, get_type_hints

import typer
from typer.core import TyperCommand, TyperGroup
from typer.main import get_command

from logbook.cli.asked import Asked, read_file, read_today, read_units

if TYPE_CHECKING:
    from typer._click import Context, Parameter  # what the library’s own signatures name
    from typer.models import CommandFunctionType

# A word such as −6C is a temperature, not an option; this sign keeps the parser from taking it for one.
_MINUS = "\N{MINUS SIGN}"
_NEGATIVE = re.compile(r"-(?=[\d.])")


def asked_of(ctx: Context) -> Asked:
    """What this run was told, one object for a command and the groups that it stands in."""
    return ctx.ensure_object(Asked)


def _keeper(name: str, read: Callable[[str], Any]) -> Callable[..., None]:
    def keep(ctx: typer.Context, value: str | None) -> None:
        if value is not None:
            setattr(asked_of(ctx), name, read(value))

    return keep


def _keep_json(ctx: typer.Context, value: bool) -> None:
    if value:
        asked_of(ctx).as_json = True


def _common(
    file: Annotated[
        str | None,
        typer.Option(
            "--file",
            metavar="PATH",
            callback=_keeper("file", read_file),
            expose_value=False,
            help="The record to use; else LOGBOOK_FILE, else the one in your data folder.",
        ),
    ] = None,
    today: Annotated[
        str | None,
        typer.Option(
            "--today",
            metavar="DATE",
            callback=_keeper("today", read_today),
            expose_value=False,
            help="Answer as on this day, such as 2026-03-15.",
        ),
    ] = None,
    units: Annotated[
        str | None,
        typer.Option(
            "--units",
            metavar="metric|imperial",
            callback=_keeper("units", read_units),
            expose_value=False,
            help="Print in these units; else as the settings say.",
        ),
    ] = None,
    as_json: Annotated[
        bool,
        typer.Option("--json", callback=_keep_json, expose_value=False, help="Print one JSON document."),
    ] = False,
) -> None:
    """Holds the options that every command takes."""


@cache
def _common_params() -> tuple[Any, ...]:
    holder = typer.Typer(add_completion=False, rich_markup_mode=None)
    holder.command()(_common)
    return tuple(get_command(holder).params)


class _AsTyped:
    """Hands words on as they were typed: our own parsers judge them, and pydantic (0.1 s) stays unloaded."""

    def coerce(self, value: Any, param: Any, ctx: typer.Context) -> Any:
        if value is None:
            return () if param.multiple or param.nargs == -1 else None
        if isinstance(value, (list, tuple)):
            return tuple(_with_hyphen(word) for word in value)
        return _with_hyphen(value)


def _with_hyphen(word: Any) -> Any:
    return f"-{word[1:]}" if isinstance(word, str) and word[:1] == _MINUS else word


def _as_typed(params: list[Any]) -> list[Any]:
    """The same parameters, each to hand on what was typed."""
    for param in params:
        param.get_runtime_param = _AsTyped
        if param.param_type_name == "argument":
            param.display_type_rich = _no_type
    return params


def _no_type(ctx: typer.Context) -> None:
    """Help shows an argument by its name; every one of them is text."""


def _guarded(args: list[str]) -> list[str]:
    """Arguments in which a leading minus before a digit is not read as an option."""
    return [_NEGATIVE.sub(_MINUS, word, count=1) if _NEGATIVE.match(word) else word for word in args]


class Command(TyperCommand):
    """A command that also takes `--file`, `--today`, `--units` and `--json`."""

    def __init__(self, name: str | None, **attrs: Any) -> None:
        attrs["params"] = [*(attrs.get("params") or []), *_common_params()]
        super().__init__(name, **attrs)

    def get_params(self, ctx: Context) -> list[Parameter]:
        return _as_typed(super().get_params(ctx))

    def parse_args(self, ctx: Context, args: list[str]) -> list[str]:
        return super().parse_args(ctx, _guarded(args))

    def invoke(self, ctx: Context) -> Any:
        """Runs the command; what fails later on what was read of a damaged record is told as that."""
        from logbook.cli.output import UnsaidError
        from logbook.record.file.plain import plainly

        asked = asked_of(ctx)
        try:
            with plainly(asked.location):
                return super().invoke(ctx)
        except UnsaidError as error:
            if asked.on_record:
                raise UnsaidError(f"{error.message} What was to be written down is on record.") from error
            raise


class Group(TyperGroup):
    """A group of commands that takes the common options before the command as well."""

    def __init__(self, **attrs: Any) -> None:
        attrs["params"] = [*(attrs.get("params") or []), *_common_params()]
        super().__init__(**attrs)

    def get_params(self, ctx: Context) -> list[Parameter]:
        return _as_typed(super().get_params(ctx))


def _spread(function: Callable[..., Any]) -> Callable[..., Any]:
    """The same command; a parameter that is a dataclass of options stands for each of them."""
    told = inspect.signature(function, eval_str=True)
    groups: dict[str, Any] = {
        p.name: p.annotation for p in told.parameters.values() if is_dataclass(p.annotation)
    }

    @wraps(function)
    def spread(**given: Any) -> Any:
        for name, group in groups.items():
            given[name] = group(**{field.name: given.pop(field.name) for field in fields(group)})
        return function(**given)

    def each() -> Iterator[inspect.Parameter]:
        for parameter in told.parameters.values():
            group = groups.get(parameter.name)
            if group is None:
                yield parameter.replace(kind=inspect.Parameter.KEYWORD_ONLY)
                continue
            kinds = get_type_hints(group, include_extras=True)
            for field in fields(group):
                kind = kinds[field.name]
                yield inspect.Parameter(
                    field.name, inspect.Parameter.KEYWORD_ONLY, default=field.default, annotation=kind
                )

    spread.__signature__ = told.replace(parameters=list(each()))  # type: ignore[attr-defined]
    return spread


class Commands(typer.Typer):
    """A Typer application whose commands are `Command`s and whose help is plain text."""

    def __init__(self, **settings: Any) -> None:
        super().__init__(
            cls=settings.pop("cls", Group),
            add_completion=False,
            rich_markup_mode=None,
            pretty_exceptions_enable=False,
            **settings,
        )

    def command(
        self, name: str | None = None, *, cls: type[TyperCommand] | None = Command, **settings: Any
    ) -> Callable[[CommandFunctionType], CommandFunctionType]:
        """Registers a function as a command of this application.

        A parameter whose type is a dataclass of options is spread out into them.
        """
        register = super().command(name, cls=cls, **settings)

        def registered(function: CommandFunctionType) -> CommandFunctionType:
            register(_spread(function))
            return function

        return registered
