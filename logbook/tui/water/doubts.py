"""Asks back once about a depth or length that its activity hardly has; the same again insists."""

from __future__ import annotations

from collections.abc import Sequence

from logbook.errors import BadInput
from logbook.model.plausible import doubt, doubtful_field
from logbook.model.values import Exposure
from logbook.tui.shell.ink import Line
from logbook.tui.water import form
from logbook.tui.water.form import Around, Question


class AskedBack(BadInput):
    """An answer that is hardly meant; the key that saves insists when it is pressed again."""

    @property
    def said(self) -> Line:
        """The question as it stands under the fields."""
        return [(f"{self.where}: {self.message}", "strong")]


class Doubts:
    """What was asked back about last."""

    def __init__(self) -> None:
        self._asked: Exposure | None = None

    def ask_once(self, exposure: Exposure, around: Around, questions: Sequence[Question], again: str) -> None:
        """Raises AskedBack the first time that a doubtful one is to be written; `again` says what insists."""
        question = doubt(exposure, around.practice, around.units)
        if question is None or exposure == self._asked:
            return
        self._asked = exposure
        field = doubtful_field(exposure, around.practice)
        raise AskedBack(f"{question} {again}", where=form.question_at_fault(field, questions))
