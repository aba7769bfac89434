"""`logbook check`: may this watch go there? The verdict, every reason, and what would change it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Annotated, Any

import typer

from logbook.caution import LIFE_SUPPORT
from logbook.cli.asked import Units
from logbook.cli.book import Book, iso, reading, several, with_words
from logbook.cli.command import Commands, asked_of
from logbook.cli.output import answer, table, wrapped
from logbook.cli.score import stop_document
from logbook.cli.water_options import water_of
from logbook.errors import BadInput
from logbook.exchange.phrases import full_date
from logbook.exchange.quantities import show_depth, show_minutes, show_pressure, show_temp
from logbook.reckoning.planrules import Plan
from logbook.reckoning.rules import DIVING
from logbook.reckoning.text import printable

if TYPE_CHECKING:
    from datetime import date

    from logbook.reckoning.check import Verdict
    from logbook.reckoning.practice import Practice
    from logbook.reckoning.values import Exposure, Watch, WatchRecord

USUAL_S = 3600.0  # of a planned dive whose length is not said; no rule for water asks how long it takes
_CODES = {"think twice": 5, "keep it dry": 6}


def add_to(app: Commands) -> None:
    """Registers the command."""
    app.command()(check)


def check(
    ctx: typer.Context,
    words: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="WATCH [LINE]",
            help="The watch (none with --any), then what is planned, such as 'dive 30m 40min sea 12C'.",
        ),
    ] = None,
    every: Annotated[bool, typer.Option("--any", help="Asks of every watch: which one may come?")] = False,
    activity: Annotated[
        str | None, typer.Option(metavar="WORD", help="dive, swim, pool, shower, rain, …")
    ] = None,
    depth: Annotated[
        str | None, typer.Option(metavar="DEPTH", help="The greatest depth, such as 30m.")
    ] = None,
    minutes: Annotated[
        str | None, typer.Option(metavar="N", help="How long; else as usual for the activity.")
    ] = None,
    water: Annotated[
        str | None, typer.Option(metavar="WATER", help="sea, fresh, pool, soap, hot tub or 'brackish 12'.")
    ] = None,
    salinity: Annotated[
        str | None, typer.Option(metavar="NUMBER", help="Practical salinity of the sea.")
    ] = None,
    temp: Annotated[
        str | None, typer.Option(metavar="TEMPERATURE", help="Of the water, such as 12C.")
    ] = None,
    before: Annotated[
        str | None,
        typer.Option("--from", metavar="TEMPERATURE", help="Of the case before; else the wrist's."),
    ] = None,
    altitude: Annotated[str | None, typer.Option(metavar="HEIGHT", help="Of the water's surface.")] = None,
    jump: Annotated[
        str | None, typer.Option(metavar="HEIGHT", help="A jump into the water from this height.")
    ] = None,
    crown: Annotated[str, typer.Option(metavar="closed|open", help="How the crown will be.")] = "closed",
    pushers: Annotated[str, typer.Option(metavar="closed|open", help="How the pushers will be.")] = "closed",
    on: Annotated[str | None, typer.Option(metavar="DATE", help="The day; else today.")] = None,
    exit_code: Annotated[
        bool, typer.Option("--exit-code", help="Exit 5 for think twice, 6 for keep it dry.")
    ] = False,
) -> None:
    """The answer before water: the verdict with every reason, from a line or from options."""
    told = PlanOptions.of(ctx.params)
    name, line = _parted(words or [], every)
    with reading(asked_of(ctx)) as book:
        record = None if every else book.find(name)
        item = told.exposure(book, line, record.watch if record else None)
        plan = Plan(item, crown_open=_is_open(crown, "--crown"), pushers_open=_is_open(pushers, "--pushers"))
        verdicts = _judged(book, record, plan)
        shown = Shown.of(book, item, altitude)
    document = {"watches": [shown.document(v) for v in verdicts]} if every else shown.document(verdicts[0])
    answer(
        asked_of(ctx),
        document,
        lambda: shown.every(verdicts) if every else shown.one(verdicts[0]),
        caution=True,
    )
    if exit_code and verdicts:
        # Asked of every watch, the answer is that of the one with the fewest objections.
        raise typer.Exit(_CODES.get(verdicts[0].verdict, 0))


def _parted(words: Sequence[str], every: bool) -> tuple[str, str]:
    """The watch's name and the line; `NAME: LINE` in one word is both."""
    if every:
        return "", several(words)
    if not words:
        raise BadInput("Which watch? Name it, or ask of every one with --any.", where="WATCH")
    name, colon, line = words[0].partition(":")
    return name, several([line.strip(), *words[1:]] if colon else words[1:])


def _is_open(text: str, where: str) -> bool:
    from logbook.reckoning.ranges import one_of

    return one_of(text, ("closed", "open"), "state", where) == "open"


def _air_pa(book: Book, altitude: str | None) -> float:
    """Air pressure above the water, in Pa."""
    from logbook.exchange.quantities import parse_length_m
    from logbook.physics.air import ambient_pa
    from logbook.reckoning.ranges import in_range

    if altitude is None:
        return ambient_pa(book.settings.home.altitude_m)
    return ambient_pa(
        in_range("altitude_m", parse_length_m(altitude, "--altitude", default_unit="m"), "--altitude")
    )


def _judged(book: Book, record: WatchRecord | None, plan: Plan) -> list[Verdict]:
    from logbook.reckoning.check import check, check_any

    day = plan.exposure.starts_on
    if record is None:
        return check_any(book.shelf, plan, book.practice, day)
    return [check(record, plan, book.practice, day)]


def _entry(book: Book, line: str, watch: Watch | None) -> Exposure:
    """The planned exposure of a line, which may leave the minutes out."""
    try:
        return book.entry(line, watch, planned=True)
    except BadInput as error:
        if error.where != "duration_s":
            raise
        try:
            return book.entry(with_words(line, f"{USUAL_S:.0f}s"), watch, planned=True)
        except BadInput:
            raise error from None


@dataclass(frozen=True)
class PlanOptions:
    """What is planned, as options; None: not said."""

    activity: str | None
    depth: str | None
    minutes: str | None
    water: str | None
    salinity: str | None
    temp: str | None
    before: str | None
    jump: str | None
    on: str | None

    @classmethod
    def of(cls, params: Mapping[str, Any]) -> PlanOptions:
        """What a command that takes these options was told."""
        return cls(**{field.name: params[field.name] for field in fields(cls)})

    def exposure(self, book: Book, line: str, watch: Watch | None) -> Exposure:
        """The planned exposure, from the line or from the options."""
        day = book.today if self.on is None else book.day(self.on, "--on", ahead=True)
        if line:
            options = (
                self.activity,
                self.depth,
                self.minutes,
                self.water,
                self.salinity,
                self.temp,
                self.before,
            )
            if any(option is not None for option in (*options, self.jump)):
                raise BadInput("Say what is planned as a line or as options, not both.", where="LINE")
            return _entry(book, line if self.on is None else with_words(line, f"on {day}"), watch)
        if self.activity is None:
            raise BadInput(
                "What is planned? Give a line such as 'dive 30m 40min', or --activity.", where="--activity"
            )
        return self._from_options(book, day, watch)

    def _from_options(self, book: Book, day: date, watch: Watch | None) -> Exposure:
        from logbook.exchange import quantities as q
        from logbook.reckoning.validate import activity_row, make_exposure

        kind, salinity = water_of(self.water, self.salinity)
        activity = (self.activity or "").casefold()
        read: dict[str, tuple[str | None, Callable[[str], float]]] = {
            "depth_m": (self.depth, lambda text: q.parse_length_m(text, "--depth")),
            "duration_s": (
                self.minutes,
                lambda text: q.parse_duration_s(text, "--minutes", default_unit="min"),
            ),
            "water_c": (self.temp, lambda text: q.parse_temperature_c(text, "--temp")),
            "from_c": (self.before, lambda text: q.parse_temperature_c(text, "--from")),
            "jump_m": (self.jump, lambda text: q.parse_length_m(text, "--jump")),
        }
        given: dict[str, Any] = {
            name: convert(text) for name, (text, convert) in read.items() if text is not None
        }
        if "duration_s" not in given and activity_row(book.practice, activity).minutes is None:
            given["duration_s"] = USUAL_S
        return make_exposure(
            book.practice,
            book.settings,
            activity=activity,
            starts_on=day,
            today=book.today,
            water=kind,
            salinity=salinity,
            planned=True,
            watch=watch,
            **given,
        )


@dataclass(frozen=True)
class Shown:
    """A plan and the verdicts on it, in words and as JSON."""

    item: Exposure
    units: Units
    air_pa: float
    say_air: bool
    practice: Practice

    @classmethod
    def of(cls, book: Book, item: Exposure, altitude: str | None = None) -> Shown:
        """A plan in the units of the book, under the air at an altitude, else at that of the home water."""
        return cls(item, book.units, _air_pa(book, altitude), altitude is not None, book.practice)

    def document(self, verdict: Verdict) -> dict[str, Any]:
        """A verdict as JSON."""
        return {
            "name": verdict.name,
            "on": iso(self.item.starts_on),
            "activity": self.item.activity,
            "verdict": verdict.verdict,
            "reasons": [stop_document(reason) for reason in verdict.reasons],
            "context": list(verdict.context),
            "gauge_pa": verdict.gauge_pa,
            "planned_pa": verdict.planned_pa,
            "absolute_pa": verdict.gauge_pa + self.air_pa,
            "would_change": verdict.would_change,
        }

    def one(self, verdict: Verdict) -> str:
        """The verdict on one watch: what speaks, worst first, then what stands beside it."""
        lines = [wrapped(f"{printable(verdict.name)}: {self._plan_words()}"), f"  {verdict.verdict.upper()}"]
        for n, reason in enumerate(verdict.reasons, 1):
            lines.append(wrapped(f"{reason.sentence} [{reason.code}]", f"  {n:>2}  ", "      "))
            if reason.value is not None:
                limit = f", limit {reason.limit}" if reason.limit else ""
                lines.append(wrapped(f"{reason.value}{limit}", "        "))
        lines.append("  for context")
        lines += [
            wrapped(line, "      ", "        ") for line in (*verdict.context, *self._air_words(verdict))
        ]
        lines += ["", wrapped(verdict.would_change), *self._life_support()]
        return "\n".join(lines)

    def every(self, verdicts: Sequence[Verdict]) -> str:
        """The verdicts on every watch, the fewest objections first."""
        if not verdicts:
            return "No watch is on the shelf."
        rows = [
            (printable(v.name), v.verdict, v.reasons[0].sentence if v.reasons else v.context[0])
            for v in verdicts
        ]
        lines = [wrapped(f"Which one may come? {self._plan_words()}"), ""]
        lines += [table(("watch", "verdict", "the first reason, or the pressure"), rows, last=(1,))]
        return "\n".join([*lines, *self._life_support()])

    def _plan_words(self) -> str:
        item = self.item
        parts = [item.activity]
        if item.water != "air":
            parts[0] += f" {show_depth(item.depth_m, self.units)}"
        parts += [show_minutes(item.duration_s), f"{item.water} {show_temp(item.water_c, self.units)}"]
        if item.jump_m:
            parts.append(f"jump {show_depth(item.jump_m, self.units)}")
        return f"{', '.join(parts)}, on {full_date(item.starts_on)}"

    def _air_words(self, verdict: Verdict) -> list[str]:
        if not self.say_air:
            return []
        absolute = show_pressure(verdict.gauge_pa + self.air_pa, self.units)
        air = show_pressure(self.air_pa, self.units)
        return [
            f"the air above presses {air}: {absolute} absolute; a mark speaks of the pressure above the air's"
        ]

    def _life_support(self) -> list[str]:
        if self.practice.activities[self.item.activity].mark_class not in DIVING:
            return []
        return ["", wrapped(LIFE_SUPPORT)]
