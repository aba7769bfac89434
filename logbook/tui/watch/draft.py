"""A watch as a form asks for it: what is on record as text, and what the texts make of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from logbook.errors import BadInput
from logbook.model.due.tasks import TASKS
from logbook.model.fitting import Fitted, initial_seals, last_pass_on, places
from logbook.model.practice import Practice
from logbook.model.ranges import number, whole_in_range
from logbook.model.text import printable
from logbook.model.validate.watch import check_seal, check_watch
from logbook.model.values import POSITIONS, Position, Seal, Watch, WatchRecord
from logbook.model.wear.charge import current_seals
from logbook.text import newwatch, own_words, quantities
from logbook.text.dates import parse_date
from logbook.text.own_words import NOT_KNOWN
from logbook.text.phrases import full_date, place
from logbook.text.spans import parse_span

Texts = Mapping[str, str]  # question -> its answer
NUMBERLESS = ("unmarked", "unknown")  # marks that state no pressure
# Places that not every watch has -> the question that says whether it has them.
IF_IT_HAS: Mapping[Position, str] = {"pushers": "pushers", "gas-valve": "gas_valve"}


def material_of(position: Position) -> str:
    """The question that asks of what a seal is."""
    return f"{position}-material"


def fitted_of(position: Position) -> str:
    """The question that asks when a seal was fitted."""
    return f"{position}-fitted"


def months_of(task: str) -> str:
    """The question that asks for the maker's own interval of a task."""
    return f"months-{task}"


def texts_of(record: WatchRecord) -> dict[str, str]:
    """Every question with what is on record; a place that the watch has not got is unknown."""
    watch = record.watch
    found = {name: show(watch) for name, (_, show, _) in _ASKED.items()} | {"made": _years(watch)}
    for task in TASKS:
        months = watch.intervals_months.get(task)
        found[months_of(task)] = "" if months is None else str(months)
    seals = {seal.position: seal for seal in current_seals(record.seals)}
    for position in POSITIONS:
        seal = seals.get(position)
        found[material_of(position)] = seal.material if seal else "unknown"
        found[fitted_of(position)] = _days(seal) if seal else ""
    return found


def read(
    record: WatchRecord, stood: Texts, texts: Texts, practice: Practice, today: date
) -> tuple[Watch, list[Seal]]:
    """The watch as it is told now, and the seals that are told otherwise or are new to it.

    Only answers that differ from what `stood` there are read. Raises BadInput whose `where` is a question or
    a field of a watch.
    """
    fields: dict[str, Any] = {
        field: reading(texts[name].strip(), today)
        for name, (field, _, reading) in _ASKED.items()
        if texts[name] != stood[name]
    }
    if texts["marked"] != stood["marked"]:
        fields["marked_in"] = own_words.marked_in(texts["marked"])
    if texts["made"] != stood["made"]:
        fields["made_from"], fields["made_to"] = newwatch.made_years(texts["made"], today)
    if fields.get("mark", record.watch.mark) in NUMBERLESS:
        fields["marked_pa"], fields["marked_in"] = None, "bar"
    if not fields.get("pushers", record.watch.pushers):
        fields["pushers_wet"] = False
    months: dict[str, int | None] = {
        **record.watch.intervals_months,
        **{t: _months(t, texts) for t in TASKS if texts[months_of(t)] != stood[months_of(t)]},
    }
    intervals = {task: count for task, count in months.items() if count is not None}
    watch = check_watch(replace(record.watch, intervals_months=intervals, **fields), practice, today)
    _refuse_to_lose_seals(record, watch)
    return watch, list(_seals(record, watch, stood, texts, practice, today))


def _refuse_to_lose_seals(record: WatchRecord, watch: Watch) -> None:
    there = places(watch)
    for seal in current_seals(record.seals):
        if seal.position not in there:
            sentence = f"Its {place(seal.position)} seal is on record, with what it took: it stays."
            raise BadInput(sentence, where=IF_IT_HAS[seal.position])


def _seals(
    record: WatchRecord, watch: Watch, stood: Texts, texts: Texts, practice: Practice, today: date
) -> Iterator[Seal]:
    current = {seal.position: seal for seal in current_seals(record.seals)}
    for position in places(watch):
        material, fitted = material_of(position), fitted_of(position)
        seal = current.get(position)
        if seal is None or texts[fitted] != stood[fitted]:
            if seal is not None and seal.event_id is not None:
                since = full_date(seal.fitted_earliest)
                sentence = (
                    f"New gaskets on {since} brought it: change the day of that entry, with a in the log."
                )
                raise BadInput(sentence, where=fitted)
            told = _fresh(record, watch, position, texts, today)
            made = told if seal is None else _on_days_of(seal, told)
        else:
            made = seal
        if texts[material] != stood[material]:
            made = replace(made, material=texts[material])
        if made != seal:
            yield _checked(made, watch, practice, today)


def _fresh(record: WatchRecord, watch: Watch, position: Position, texts: Texts, today: date) -> Seal:
    """A seal of that place as it is told; a day that is not known is as of a watch that comes on record."""
    text = texts[fitted_of(position)].strip()
    known = None if text.casefold() in NOT_KNOWN else parse_span(text, today, fitted_of(position))
    fitted = Fitted(None, *(known or (None, None)))
    since = last_pass_on(record.events)
    seals = initial_seals(watch, texts[material_of(position)], fitted, {}, last_pass=since)
    return next(seal for seal in seals if seal.position == position)


def _on_days_of(seal: Seal, told: Seal) -> Seal:
    return replace(seal, fitted_earliest=told.fitted_earliest, fitted_latest=told.fitted_latest)


def _checked(seal: Seal, watch: Watch, practice: Practice, today: date) -> Seal:
    try:
        return check_seal(seal, watch, practice, today)
    except BadInput as error:
        asked = material_of if error.where == "material" else fitted_of
        raise BadInput(error.message, where=asked(seal.position)) from error


def _days(seal: Seal) -> str:
    first, last = seal.fitted_earliest, seal.fitted_latest
    return f"{first}" if first == last else f"{first}..{last}"


def _months(task: str, texts: Texts) -> int | None:
    where, text = months_of(task), texts[months_of(task)].strip()
    if not text:
        return None
    kind, value = quantities.measure(text, where)
    if kind != quantities.BARE or value != int(value):
        raise BadInput(f"'{printable(text, 20)}' is no whole number of months, such as 24.", where=where)
    return whole_in_range("months", int(value), where)


def _count(where: str) -> Callable[[str, date], float]:
    def reading(text: str, today: date) -> float:
        kind, value = quantities.measure(text, where)
        if kind != quantities.BARE:
            raise BadInput("How often a week? A number without a unit, such as 7.", where=where)
        return value

    return reading


def _day(where: str) -> Callable[[str, date], date | None]:
    def reading(text: str, today: date) -> date | None:
        return None if text.casefold() in NOT_KNOWN else parse_date(text, today, where=where)

    return reading


def _hours(text: str, today: date) -> float:
    return quantities.parse_duration_s(text, "worn_h", default_unit="h") / 3600


def _as_typed(text: str, today: date) -> str:
    return text


def _yes(text: str, today: date) -> bool:
    return text == "yes"


def _on_the_dial(watch: Watch) -> str:
    if watch.marked_pa is None:
        return ""
    of_unit_pa = quantities.BAR_PA / 10 if watch.marked_in == "m" else quantities.BAR_PA  # 10 m = 1 bar
    number_on_it = f"{watch.marked_pa / of_unit_pa:.5f}".rstrip("0").rstrip(".")
    return f"{number_on_it} {watch.marked_in}"


def _years(watch: Watch) -> str:
    first, last = watch.made_from, watch.made_to
    if first is None:
        return ""
    return f"{first}" if last in (first, None) else f"{first}..{last}"


def _iso(day: date | None) -> str:
    return "" if day is None else day.isoformat()


# Question -> the field of a watch, what stands there, and how an answer is read.
_ASKED: Mapping[str, tuple[str, Callable[[Watch], str], Callable[[str, date], Any]]] = {
    "name": ("name", lambda w: w.name, _as_typed),
    "mark": ("mark", lambda w: w.mark, _as_typed),
    "marked": ("marked_pa", _on_the_dial, lambda text, today: own_words.marked_pa(text)),
    "crown": ("crown", lambda w: w.crown, _as_typed),
    "pushers": ("pushers", lambda w: "yes" if w.pushers else "no", _yes),
    "pushers_wet": ("pushers_wet", lambda w: "yes" if w.pushers_wet else "no", _yes),
    "gas_valve": ("gas_valve", lambda w: "yes" if w.gas_valve else "no", _yes),
    "movement": ("movement", lambda w: w.movement, _as_typed),
    "case_material": ("case_material", lambda w: w.case_material, _as_typed),
    "use": ("use", lambda w: w.use, _as_typed),
    "group": ("group", lambda w: w.group, _as_typed),
    "reference": ("reference", lambda w: w.reference, _as_typed),
    "note": ("note", lambda w: w.note, _as_typed),
    "worn_h": ("worn_h", lambda w: number(w.worn_h), _hours),
    "winds": ("winds", lambda w: number(w.winds), _count("winds")),
    "presses": ("presses", lambda w: number(w.presses), _count("presses")),
    "recorded_from": ("recorded_from", lambda w: _iso(w.recorded_from),
                      lambda text, today: parse_date(text, today, where="recorded_from")),
    "bought_on": ("bought_on", lambda w: _iso(w.bought_on), _day("bought_on")),
    "new_on": ("new_on", lambda w: _iso(w.new_on), _day("new_on")),
}  # fmt: skip
