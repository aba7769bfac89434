"""`logbook shelf`: every watch with its score, what limits it, its last water and what is due next."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from typing import Annotated, Any

import typer

from logbook.caution import CAUTION
from logbook.cli.command import Commands, asked_of
from logbook.cli.failures import UsageMistake
from logbook.cli.opening import reading
from logbook.cli.output import answer, bars, iso, table, wrapped, write
from logbook.files.csv.guard import FORMULA_STARTS, GUARD
from logbook.model.judge.standing import Standing
from logbook.model.marks import mark_words
from logbook.model.text import printable
from logbook.text.names import folded
from logbook.text.phrases import ago, next_words, place

_EMPTY = "No watch is on the shelf. `logbook watch add NAME` puts one there."


def add_to(app: Commands) -> None:
    """Registers the command."""
    app.command()(shelf)


def shelf(
    ctx: typer.Context,
    group: Annotated[str | None, typer.Option(metavar="NAME", help="Only the watches of this group.")] = None,
    as_csv: Annotated[
        bool, typer.Option("--csv", help="Print comma-separated values instead of a table.")
    ] = False,
) -> None:
    """The table of watches: score, mark, what limits it, last water, next due."""
    asked = asked_of(ctx)
    if as_csv and asked.as_json:
        raise UsageMistake("--csv and --json are two answers; choose one.", where="--csv")
    with reading(asked) as book:
        found = [
            book.foretold(r, near=True) for r in book.shelf() if group is None or _same(r.watch.group, group)
        ]
        documents = [_document(standing) for standing in found]
        if as_csv:
            write(_csv(documents))
            return
        today = book.today
    empty = _EMPTY if group is None else f"No watch on the shelf is of the group '{printable(group)}'."
    answer(asked, {"watches": documents}, lambda: _text(found, today) or empty, caution=True)


def _same(group: str, wanted: str) -> bool:
    return folded(group) == folded(wanted)


def _document(standing: Standing) -> dict[str, Any]:
    watch, service = standing.record.watch, standing.next_service
    return {
        "name": watch.name,
        "score": standing.score,
        "low": standing.low,
        "high": standing.high,
        "why_not": standing.why_no_score,
        "limiting_seal": standing.limiting_position,
        "mark": watch.mark,
        "marked_bar": bars(watch.marked_pa),
        "stops": [stop.code for stop in standing.stops],
        "last_exposure": iso(standing.record.last_exposure_on),
        "next_due": iso(service.due) if service else None,
        "next_task": service.leading.task if service else None,
        "next_stage": service.stage if service else None,
        "use": watch.use,
        "group": watch.group,
    }


def _text(found: Sequence[Standing], today: Any) -> str:
    if not found:
        return ""
    rows = [
        (
            printable(s.name),
            mark_words(s.record.watch),
            _score(s),
            place(s.limiting_position) if s.limiting_position else "–",
            ago(s.record.last_exposure_on, today),
            next_words(s.next_service, today),
        )
        for s in found
    ]
    heads = ("watch", "mark", "seals left", "limited by", "last water", "next")
    lines = [table(heads, rows, right=(2,), last=(2,))]
    stopped = [s for s in found if s.stops]
    if stopped:
        lines += ["", "Stop rules in force, for the stated use:"]
        lines += [wrapped(f"{printable(s.name)}: {_stop_words(s)}", "  ", "    ") for s in stopped]
    lines += ["", "Seals left: of 100, a share of the service interval (its 80 % band)."]
    return "\n".join(lines)


def _score(standing: Standing) -> str:
    if standing.score is None:
        return "not known"
    band = "" if standing.low is None else f" ({standing.low}–{standing.high})"
    return f"{standing.score}{band}"


def _stop_words(standing: Standing) -> str:
    worst, *others = standing.stops
    more = f" (and {len(others)} more)" if others else ""
    return f"{worst.verdict}: {worst.sentence}{more}"


def _csv(documents: Sequence[dict[str, Any]]) -> str:
    """A row a watch; a cell that a spreadsheet would take for a formula begins with an apostrophe."""
    columns = [
        "name",
        "score",
        "low",
        "high",
        "limiting_seal",
        "mark",
        "marked_bar",
        "stops",
        "last_exposure",
        "next_due",
        "next_task",
        "use",
        "group",
    ]
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow([*columns, "caution"])
    for document in documents:
        cells = [document[column] for column in columns]
        writer.writerow([*(_guarded(cell) for cell in cells), CAUTION])
    return text.getvalue().rstrip("\n")


def _guarded(cell: Any) -> str:
    text = printable("" if cell is None else " ".join(cell) if isinstance(cell, list) else str(cell))
    return f"{GUARD}{text}" if text.startswith(FORMULA_STARTS) else text
