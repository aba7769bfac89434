"""What stands in the Check room as a plan to keep, and plans that are kept already. No widgets here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date

from logbook.errors import BadInput
from logbook.exchange import phrases
from logbook.reckoning.text import printable
from logbook.reckoning.values import Exposure, Watch
from logbook.tui import check_form, check_lines
from logbook.tui.exposure_form import Around

NOT_KEPT = " A plan does not keep that crown or pushers are open."


def planned(texts: Mapping[str, str], around: Around, kept: Iterable[Exposure] = ()) -> tuple[Exposure, str]:
    """The plan that the texts say for the watch at hand, and the sentence for when it is kept.

    Raises BadInput, in `where` the question at fault, for what cannot be read, for a plan whose last day is
    past, and for one that is among those `kept` already.
    """
    reading, plan = check_form.read(texts, around)
    name, today = _name(around.watch), around.today
    if plan is None:
        question, sentence = reading.fault or ("what", "What is planned?")
        raise BadInput(sentence, where=question)
    exposure = plan.exposure
    if last_day(exposure) < today:
        raise BadInput(
            f"{phrases.full_date(last_day(exposure))} is past: plan for today or a day ahead, or log what "
            "happened, with w on the Shelf.",
            where="when",
        )
    if any(same(exposure, one, around) for one in kept):
        raise BadInput(f"{name} has this plan already. Plans, t on the Shelf, shows it.")
    words = check_lines.plan_words(replace(plan, crown_open=False, pushers_open=False), today, around.units)
    unkept = NOT_KEPT if plan.crown_open or plan.pushers_open else ""
    return exposure, f"Planned for {name}: {words}. Not charged until it is confirmed.{unkept} ^z: undo"


def last_day(plan: Exposure) -> date:
    """The last day of a trip, else the day of a plan."""
    return plan.planned_to or plan.starts_on


def same(one: Exposure, other: Exposure, around: Around) -> bool:
    """True where two plans read alike, whichever watch they are for."""
    around = replace(around, watch=None)
    return check_form.texts_of(one, around) == check_form.texts_of(other, around)


def ahead(plans: Iterable[Exposure], around: Around) -> list[Exposure]:
    """The plans whose last day is not past, the first one first; of those that read alike the first."""
    found: list[Exposure] = []
    for plan in plans:
        if last_day(plan) >= around.today and not any(same(plan, other, around) for other in found):
            found.append(plan)
    return found


def _name(watch: Watch | None) -> str:
    return printable(watch.name, 40) if watch else "the watch"
