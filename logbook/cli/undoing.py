"""`logbook undo` and `redo`: one step back, one step forward, and what these steps are."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated, Any

import typer

from logbook.cli.command import Commands, asked_of
from logbook.cli.opening import writing
from logbook.cli.output import answer, wrapped
from logbook.model.text import printable

if TYPE_CHECKING:
    from logbook.record.writing.undo import Step


def add_to(app: Commands) -> None:
    """Registers the commands."""
    app.command()(undo)
    app.command()(redo)


def undo(
    ctx: typer.Context,
    listed: Annotated[
        bool, typer.Option("--list", help="Only list what undo would take back and what redo would do again.")
    ] = False,
) -> None:
    """Takes the last change back and says what it was; every change and every import is one step."""
    from logbook.record.writing.undo import counts, steps

    asked = asked_of(ctx)
    with writing(asked) as book:
        if listed:
            back, forward = steps(book.rows)
            to_undo, to_redo = counts(book.rows)
            document = {
                "would_undo": _documents(back),
                "undo_count": to_undo,
                "would_redo": _documents(forward),
                "redo_count": to_redo,
            }
            answer(asked, document, lambda: _text(back, to_undo, forward, to_redo))
            return
        label = book.undo()
    answer(asked, {"undone": label}, lambda: f"Undone: {printable(label)}. `logbook redo` does it again.")


def redo(ctx: typer.Context) -> None:
    """Does again what undo took back last; a new change ends what could be done again."""

    asked = asked_of(ctx)
    with writing(asked) as book:
        label = book.redo()
    answer(asked, {"redone": label}, lambda: f"Done again: {printable(label)}.")


def _documents(found: Sequence[Step]) -> list[dict[str, Any]]:
    return [
        {"label": step.label, "done_at": step.done_at.isoformat(), "changes": dict(step.changes)}
        for step in found
    ]


def _text(back: Sequence[Step], to_undo: int, forward: Sequence[Step], to_redo: int) -> str:
    lines = _listed("Undo would take back, the first line first:", back, to_undo)
    again = _listed("Redo would do again, the first line first:", forward, to_redo)
    lines = lines or ["There is nothing to undo."]
    return "\n".join([*lines, "", *again] if again else lines)


def _listed(title: str, found: Sequence[Step], count: int) -> list[str]:
    from logbook.record.reading.steps import step_words, when_words

    lines = [wrapped(f"{when_words(step)}  {step_words(step)}", "  ", " " * 20) for step in found]
    more = [f"  and {count - len(found):,} more"] if count > len(found) else []
    return [title, *lines, *more] if lines else []
