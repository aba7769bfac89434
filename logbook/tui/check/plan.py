"""What stands in the Check room as a plan to keep, and plans that are kept already. No widgets here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from logbook.errors import BadInput, Refused
from logbook.model.marks import mark_words
from logbook.model.text import printable
from logbook.model.values import Exposure, Watch, WatchRecord
from logbook.record.record import Book
from logbook.text import phrases
from logbook.text.planned import refuse_past_plan
from logbook.tui.check import form as check_form
from logbook.tui.check import lines as check_lines
from logbook.tui.water.doubts import Doubts
from logbook.tui.water.form import Around, Question

UNDO = "Undo takes it back: ^z here, z on the Shelf."


class PlansMade:
    """The plans that were kept from one room, so that undo in it takes back these and nothing else."""

    def __init__(self, book: Book) -> None:
        self.book = book
        self.steps: list[int] = []
        self.doubts = Doubts()  # what was asked back about before it was kept

    def plan(
        self,
        texts: Mapping[str, str],
        around: Around,
        record: WatchRecord | None,
        questions: Sequence[Question],
    ) -> str:
        """Keep the plan that the texts say for a watch, and say so; raises BadInput."""
        plan, words = plan_here(texts, around, record, self.book)
        self.doubts.ask_once(plan, around, questions, "^s again plans it.")
        self.add(plan)
        return printable(words)

    def add(self, plan: Exposure) -> None:
        """Keep a plan."""
        self.book.log([plan])
        self.steps.append(self.book.steps()[0][0].id)

    def undo(self) -> str:
        """Take back the last one; raises Refused where the last change of the record is another."""
        if not self.steps:
            raise Refused("Nothing was planned here. z on the Shelf takes back the last change.")
        newest = self.book.steps()[0][:1]
        if not newest or newest[0].id != self.steps[-1]:
            raise Refused("Something else was changed since: Z on the Shelf lists every change.")
        self.steps.pop()
        return self.book.undo()


def plan_here(
    texts: Mapping[str, str], around: Around, record: WatchRecord | None, book: Book
) -> tuple[Exposure, str]:
    """The plan that the texts say for a watch, and the sentence for when it is kept; raises BadInput."""
    if record is not None and record.watch.retired_on is not None:
        since = phrases.full_date(record.watch.retired_on)
        raise BadInput(f"{_name(record.watch)} is retired since {since}: plan for a watch on the shelf.")
    kept = book.plans(record.watch.id or 0) if record else []
    found = planned(texts, replace(around, watch=record.watch if record else None), kept)
    if record is None:
        raise BadInput("The list is still being worked out: put the cursor on a watch, then plan it.")
    return found


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
    refuse_past_plan(plan, today, "when")
    if any(same(plan, one, around) for one in kept):
        raise BadInput(f"{name} has this plan already. Plans, t on the Shelf, shows it.")
    words = check_lines.plan_words(plan, today, around.units)
    return plan, f"Planned for {name}: {words}. Not charged until it happened. {UNDO}"


def title(watch: Watch | None, plan: Exposure | None, plans: Sequence[Exposure]) -> tuple[str, str]:
    """What is asked, of one watch or of all, and which plan stands there; at the right the mark."""
    left, right = "logbook · Check: which may come?", ""
    if watch is not None:
        left, right = f"logbook · Check: {watch.name}", mark_words(watch)
    if plan is not None and plan in plans:
        left += f" · plan {plans.index(plan) + 1} of {len(plans)}"
    return left, right


def same(one: Exposure, other: Exposure, around: Around) -> bool:
    """True where two plans read alike, whichever watch they are for."""
    around = replace(around, watch=None)
    return check_form.texts_of(one, around) == check_form.texts_of(other, around)


def ahead(plans: Iterable[Exposure], around: Around) -> list[Exposure]:
    """The plans whose last day is not past, the first one first; of those that read alike the first."""
    found: list[Exposure] = []
    for plan in plans:
        if plan.last_day >= around.today and not any(same(plan, other, around) for other in found):
            found.append(plan)
    return found


def _name(watch: Watch | None) -> str:
    return printable(watch.name, 40) if watch else "the watch"
