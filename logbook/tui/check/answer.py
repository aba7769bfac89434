"""What the Check room asks, and the answer to it; worked out in a thread, without widgets."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from logbook.errors import LogbookError
from logbook.model.judge import check
from logbook.model.judge.check import Verdict
from logbook.model.predict.bands import BandMaker
from logbook.model.predict.trials import Foresight
from logbook.model.values import Exposure, WatchRecord
from logbook.tui.check import form as check_form
from logbook.tui.water.form import Around, Reading


@dataclass(frozen=True, slots=True)
class Asked:
    """What stands in the form, and of which watch it is asked; None: of all of them."""

    texts: Mapping[str, str]
    around: Around
    one: WatchRecord | None
    every: tuple[WatchRecord, ...]
    foresee: Callable[[], Foresight | None]
    bands: Callable[[], BandMaker | None]


@dataclass(frozen=True, slots=True)
class Answered:
    """The plan as read, and a verdict for each watch that was asked about."""

    reading: Reading
    plan: Exposure | None
    verdicts: tuple[Verdict, ...]


def answer(asked: Asked) -> Answered:
    """What was written, and the verdict on it for every watch asked about."""
    around = asked.around
    reading, plan = check_form.read(asked.texts, around)
    if plan is None:
        return Answered(reading, plan, ())
    foresight = asked.foresee()
    try:
        verdicts = _verdicts(asked, plan, foresight, asked.bands())
    except LogbookError:  # the record has gone: what was read of it before still answers, without a band
        verdicts = _verdicts(asked, plan, foresight, None)
    return Answered(reading, plan, tuple(verdicts))


def _verdicts(
    asked: Asked, plan: Exposure, foresight: Foresight | None, bands: BandMaker | None
) -> list[Verdict]:
    about = (asked.around.practice, asked.around.today, foresight, bands, asked.around.units)
    if asked.one is not None:
        return [check.check(asked.one, plan, *about)]
    return check.check_any(asked.every, plan, *about)
