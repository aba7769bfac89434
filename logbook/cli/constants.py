"""`logbook constants`: the constants in force, their ranges and where they come from."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any

import typer

from logbook.cli.command import Commands, asked_of
from logbook.cli.output import answer, wrapped
from logbook.errors import NotFound, RecordTrouble
from logbook.model.practice import Practice
from logbook.model.text import did_you_mean, printable
from logbook.physics.worked import plain
from logbook.record.file.places import override_path
from logbook.record.file.practice_file import load_practice

_TABLES = ("constants", "seals", "materials", "cases", "activities", "intervals")

# What an override begins as: nothing in it is in force until its marks are taken away.
STARTER = """\
# Your own constants, laid over those that come with logbook. Take the marks away where you know better, give
# the range and the source, and everything is reckoned anew with them. `logbook constants` lists every name.

# [constants.worn_c]
# value = 31.0
# low = 29.0
# high = 33.0
# kind = "assumption"
# source = "Measured with a stick-on thermometer on my own wrist."

# [intervals.battery]
# months = 24
# kind = "common practice"
# source = "My workshop's advice."

# [materials.NBR]
# years = 4.0
# kind = "common practice"
# source = "The gaskets' maker, by letter."
"""


def add_to(app: Commands) -> None:
    """Registers the command, and the name that it had before."""
    app.command()(constants)
    app.command("practice", hidden=True)(constants)


def constants(
    ctx: typer.Context,
    name: Annotated[
        str | None,
        typer.Argument(metavar="[NAME]", help="One constant, material, seal, activity or interval."),
    ] = None,
    edit: Annotated[
        bool,
        typer.Option("--edit", help="Write a file for your own values, with examples, and say where it is."),
    ] = False,
) -> None:
    """The constants in force with ranges and sources; --edit begins a file of your own."""
    asked = asked_of(ctx)
    if edit:
        made = _begin_override()
        path = override_path()
        state = "is new; its examples count once you take their marks away" if made else "is there already"
        answer(
            asked, {"path": str(path), "written": made}, lambda: f"{path} {state}. Edit it with any editor."
        )
        return
    found = load_practice()
    document = _document(found)
    if name is not None:
        document = _one(document, name)
        answer(asked, document, lambda: "\n".join(_row_lines(document["name"], document)))
        return
    answer(asked, document, lambda: "\n".join(_lines(document, found)))


def _begin_override() -> bool:
    """Writes the file of the owner's own values where there is none; true when it was written."""
    path = override_path()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8") as file:
            file.write(STARTER)
    except FileExistsError:
        return False
    except OSError as error:
        raise RecordTrouble(f"{path} could not be written: {error.strerror}.", where=str(path)) from None
    return True


def _document(found: Practice) -> dict[str, Any]:
    tables: dict[str, Any] = {
        table: {row: values._asdict() for row, values in getattr(found, table).items()} for table in _TABLES
    }
    return tables | {
        "marks": [row._asdict() for row in found.marks],
        "stated_use": [row._asdict() for row in found.stated_use],
        "overridden": list(found.overridden),
        "fingerprint": found.fingerprint,
    }


def _one(document: dict[str, Any], name: str) -> dict[str, Any]:
    """The row of a name, or of `table.name`."""
    rows = {row: (table, values) for table in _TABLES for row, values in document[table].items()}
    rows |= {
        f"{table}.{row}": (table, values) for table in _TABLES for row, values in document[table].items()
    }
    folded = {row.casefold(): row for row in rows}
    row = name if name in rows else folded.get(name.casefold())
    if row is None:
        shown = printable(name, 40)
        raise NotFound(f"There is no {shown!r} among the constants.{did_you_mean(name, rows)}", where="NAME")
    table, values = rows[row]
    return {"table": table, "name": row.rpartition(".")[2], **values}


def _lines(document: dict[str, Any], found: Practice) -> Iterator[str]:
    for table in _TABLES:
        yield f"[{table}]"
        for row, values in document[table].items():
            yield from _row_lines(row, values)
        yield ""
    yield "[marks] what each is taken to allow"
    for mark in found.marks:
        yield from _row_lines(mark.name, {"allows": ", ".join(f"{k}: {v}" for k, v in mark.allows.items())})
    yield ""
    yield "[stated use] charged for the time before the log began"
    for stated in found.stated_use:
        yield from _row_lines(
            stated.use, {k: v for k, v in stated._asdict().items() if k != "use" and v is not None}
        )
    yield ""
    changed = ", ".join(found.overridden) or "nothing"
    yield f"Overridden by your own file: {changed}."


def _row_lines(row: str, values: dict[str, Any]) -> Iterator[str]:
    """A row: its value and range where it has them, else its fields, then kind and source."""
    if "value" in values:
        span = (
            f" ({plain(values['low'])} to {plain(values['high'])})" if values["low"] != values["high"] else ""
        )
        text = f"{plain(values['value'])} {values['unit']}{span}"
    else:
        skipped = ("kind", "source", "name", "table")
        text = ", ".join(f"{k} {_cell(v)}" for k, v in values.items() if k not in skipped and _cell(v))
    yield wrapped(f"{row}: {text}", "  ", "    ")
    if values.get("source"):
        yield wrapped(f"{values['kind']}: {values['source']}", "      ")


def _cell(value: Any) -> str:
    if isinstance(value, (tuple, list)):
        return ", ".join(str(each) for each in value)
    return plain(value) if isinstance(value, (int, float)) else "" if value is None else str(value)
