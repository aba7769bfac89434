"""`logbook bench`: the calculators, each with its formula, its numbers and its source."""

from __future__ import annotations

from inspect import Parameter, Signature
from typing import Annotated

import typer

from logbook.bench import worksheets
from logbook.bench.calculators import CALCULATORS, Calculator, work_out
from logbook.bench.questions import Around, Ask
from logbook.cli.bench.cycles import cycles
from logbook.cli.command import Commands, asked_of
from logbook.cli.options.water import home_of
from logbook.cli.output import answer
from logbook.errors import BadInput

bench = Commands(name="bench", help="Calculators: value, formula, numbers, source.")


def add_to(app: Commands) -> None:
    """Registers the group."""
    for calculator in CALCULATORS:
        if not calculator.command:
            _add(calculator)
    bench.command()(cycles)
    app.add_typer(bench)


def _add(calculator: Calculator) -> None:
    """A command with the questions of a calculator as its arguments and options."""

    def command(ctx: typer.Context, **texts: str | None) -> None:
        _answer(ctx, calculator, {name: texts[_safe(name)] for name in calculator.asks})

    context = Parameter("ctx", Parameter.KEYWORD_ONLY, annotation=typer.Context)
    asked = map(_parameter, calculator.asks.values())
    command.__signature__ = Signature([context, *asked])  # type: ignore[attr-defined]
    bench.command(calculator.word, help=calculator.about)(command)


def _safe(name: str) -> str:
    """The parameter for a question, whose name may be a word of the language."""
    return f"{name}_"


def _parameter(ask: Ask) -> Parameter:
    if ask.argument:
        metavar = ask.name.upper() if ask.needed else f"[{ask.name.upper()}]"
        info = typer.Argument(metavar=metavar, help=ask.help)
    else:
        info = typer.Option(_option(ask), metavar=ask.kind.word, help=ask.help)
    default = Parameter.empty if ask.needed else ask.usual
    kind = Annotated[str | None, info]
    return Parameter(_safe(ask.name), Parameter.KEYWORD_ONLY, default=default, annotation=kind)


def _option(ask: Ask) -> str:
    return f"--{ask.name.replace('_', '-')}"


def _answer(ctx: typer.Context, calculator: Calculator, texts: dict[str, str | None]) -> None:
    """Prints the worksheet; a refusal names the argument (`DEPTH`) or the option (`--head`) at fault."""
    asked = asked_of(ctx)
    around = Around(lambda: home_of(asked).home, asked.day().month)
    try:
        sheet = work_out(calculator, texts, around)
    except BadInput as error:
        ask = calculator.asks.get(error.where or "")
        if ask is not None:
            error.where = ask.name.upper() if ask.argument else _option(ask)
        raise
    answer(asked, worksheets.document(sheet), lambda: worksheets.text(sheet, asked.units or "metric"))
