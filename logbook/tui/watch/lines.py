"""The Watch room's lines as plain pieces of text: head, seals, stop rules, what is due, the log."""

from __future__ import annotations

from collections.abc import Mapping

from logbook.model import marks
from logbook.model.due.services import Service
from logbook.model.judge.rules import NO_OBJECTION
from logbook.model.judge.standing import Standing
from logbook.model.practice import Practice
from logbook.model.shown import show_pressure
from logbook.model.text import likely
from logbook.model.values import Event, Exposure, Seal, Shares, Units, Watch
from logbook.model.wear import account
from logbook.model.wear.account import SealWear
from logbook.text import phrases
from logbook.text.events import event_words
from logbook.tui.shell.ink import STAGE_ROLE, VERDICT_ROLE, Line, Piece, fit, short, wrapped
from logbook.tui.watch import bar as watch_bar
from logbook.tui.watch import forecast_lines
from logbook.tui.watch.working import history_words

Entry = Exposure | Event
NOT_KNOWN = "not known"
LEAST_BAR, WIDEST_BAR = 30, 72
LEAST_WORDS = 4  # cells of an entry beside what it raised
COST_HEAD, COST_WIDTH = "took, of 100", 12
WIDE = 112  # cells from which the seals' numbers stand beside their bars


def head(
    standing: Standing, practice: Practice, width: int, most: int = 1, units: Units = "metric"
) -> list[Line]:
    """What its mark and its owner say about water, who it is, and the score with what limits it.

    Who it is takes `most` lines; what is cut off there stands in the working of its seals: see `about`.
    """
    watch = standing.record.watch
    facts = [_mark_says(watch, practice), "kept dry" if watch.use == "dry" else f"used for {watch.use}"]
    facts += [f"retired {phrases.full_date(watch.retired_on)}"] if watch.retired_on else []
    lines: list[Line] = [[(" · ".join(facts), "plain")]]
    whose = [f"{what} {said}" for what, said in _said_of(watch)]
    if whose:
        broken = wrapped(" · ".join(whose), width - 2)
        last = short(" ".join(broken[most - 1 :]), width - 2)
        lines += [[(line, "dim")] for line in (*broken[: most - 1], last) if line]
    return [*lines, _score_line(standing, units)]


def about(watch: Watch) -> list[Line]:
    """Reference, group and note as they were written, whole."""
    return [[(f"{what} ", "dim"), (said, "plain")] for what, said in _said_of(watch)]


def _said_of(watch: Watch) -> list[tuple[str, str]]:
    told = (("reference", watch.reference), ("group", watch.group), ("note", watch.note))
    return [(what, said) for what, said in told if said]


def _mark_says(watch: Watch, practice: Practice) -> str:
    """A mark with the highest use that common practice reads from it on a new watch."""
    mark = marks.mark_words(watch)
    if watch.mark == "unknown":
        return "its mark is not known, so that no use in water can be read from it"
    row = marks.mark_row(watch, practice)
    allowed = [name.replace(", ", " and ") for name, answer in row.allows.items() if answer == "yes"]
    light = [name.replace(", ", " and ") for name, answer in row.allows.items() if answer == "light"]
    words = [f"up to {name}" for name in allowed[-1:]] + [f"{name} lightly" for name in light]
    return f"{mark}, by common practice {', '.join(words)}, when new"


def _score_line(standing: Standing, units: Units) -> Line:
    if standing.limiting is None:
        return [("score not known", "strong"), (": no seal is on record", "plain")]
    if standing.score is None:
        return [("score and chance not known", "strong"), (f" {standing.why_no_score}", "plain")]
    left = f" left{likely(standing.low, standing.high)}"
    pieces: list[Piece] = [(f"{standing.score} of 100", "strong"), (left, "plain")]
    place = phrases.place(standing.limiting.seal.position)
    share = f"{standing.limiting.wear_share:.2f} of an interval"
    words = share if standing.insight else history_words(standing.limiting)
    pieces.append((f", limited by the {place} seal: used {words}", "plain"))
    if standing.chance is not None:
        to = show_pressure(standing.chance.to_pa, units)
        pieces.append((f"; would pass a test to {to} today: {standing.chance.words}", "plain"))
    elif standing.why_no_chance and standing.insight:
        pieces.append((f"; no chance of passing a test {standing.why_no_chance}", "plain"))
    if standing.on >= standing.limiting.cap_on:
        pieces.append((", and past its storage age", "grave"))
    return pieces


def _bar_cells(width: int) -> int:
    spare = width - (1 + 10 + 8 + 20 + 5) - (26 if width >= WIDE else 0)
    return max(LEAST_BAR, min(WIDEST_BAR, spare))


def seal_heads(width: int) -> Line:
    """The heads of the seals' columns."""
    text = f" {fit('seal', 10)}{fit('material', 8)} {fit('fitted', 19)}left "
    pieces: list[Piece] = [(text, "dim"), (fit("share used, by channel", _bar_cells(width)), "dim")]
    return [*pieces, (" share used, and its range", "dim")] if width >= WIDE else pieces


def seal_row(seal_wear: SealWear, standing: Standing, width: int) -> Line:
    """One seal: place, material, date fitted, score left, and its budget as a bar."""
    seal = seal_wear.seal
    name: Piece = (f" {fit(phrases.place(seal.position), 10)}", "strong")
    if standing.score is None:  # neither score nor share nor bar: all of them would be made up
        return [name, (f"{fit(seal.material, 8)}{fit(NOT_KNOWN, 20)}", "plain"), (NOT_KNOWN, "dim")]
    score, _ = account.score([seal_wear], standing.on)
    pieces: list[Piece] = [
        name,
        (f"{fit(seal.material, 8)}{fit(_fitted(seal), 20)}", "plain"),
        (f"{score:>4} ", "grave" if score == 0 else "strong"),
        *watch_bar.bar(seal_wear, _bar_cells(width)),
    ]
    if width < WIDE:
        return pieces
    share = f" {seal_wear.wear_share:.2f}"
    band = standing.band_of(seal.position)
    if band is not None:
        share += f", likely {band.low:.2f} to {band.high:.2f}"
    elif seal_wear.history_is_open:
        share += f", from {seal_wear.history_low:.2f} to {seal_wear.history_high:.2f}"
    return [*pieces, (share, "plain")]


def _fitted(seal: Seal) -> str:
    if seal.fitted_earliest == seal.fitted_latest:
        return phrases.full_date(seal.fitted_earliest)
    return f"{seal.fitted_earliest:%b %Y}–{seal.fitted_latest:%b %Y}"


def standing_lines(standing: Standing) -> list[Line]:
    """The stop rules in force, worst first, then the three services that come next."""
    lines: list[Line] = [
        [(stop.verdict, VERDICT_ROLE[stop.verdict]), (f": {stop.sentence}{_limit(stop.bound)}", "plain")]
        for stop in standing.stops
    ]
    if not lines:
        lines.append([(NO_OBJECTION, "good"), (f" to its use ({standing.record.watch.use})", "plain")])
    if standing.score is None and standing.seals:
        lines.append([("forecast", "dim"), (f" not known {standing.why_no_score}", "plain")])
    elif standing.insight is None:
        lines.append([("forecast: it is being worked out, and the score’s band", "dim")])
    elif standing.insight.forecast is not None:
        lines.append(forecast_lines.in_one_line(standing.insight.forecast))
    return lines + [_due_line(service) for service in standing.services[:3]]


def _limit(limit: str | None) -> str:
    return f" (limit: {limit})" if limit else ""


def _due_line(service: Service) -> Line:
    until = service.snoozed_until
    silent = f", snoozed until {phrases.full_date(until)}" if until else ""
    return [
        (service.stage, STAGE_ROLE[service.stage]),
        (f": {service.label}, {phrases.full_date(service.due)}{silent} ({service.why})", "plain"),
    ]


def log_head(planned: int, logged: int) -> Line:
    """The line above the log."""
    if not planned and not logged:
        return [("── log: nothing yet; w logs water, e a workshop event or a fault", "dim")]
    words = f"── log: {logged:,} entr{'ies' if logged != 1 else 'y'}, newest first"
    return [(words + (f"; {planned} planned on top" if planned else ""), "dim")]


def entry_row(entry: Entry, costs: Mapping[int, Shares], units: Units, width: int, raised: str = "") -> Line:
    """One entry of the log: its date, what it was, what it raised and what it cost.

    What it `raised` has its place whatever else is cut: `above its mark`.
    """
    cost = _cost(entry, costs)
    words_width = width - 1 - 12 - 1 - (COST_WIDTH + 1 if cost else 0)
    if isinstance(entry, Event):
        words = event_words(entry, units) + span_words(entry)
        words += f", {entry.workshop}" if entry.workshop else ""
        on, role = entry.on, "strong"
    else:
        on, words, role = entry.starts_on, phrases.exposure_words(entry, units), "plain"
    if cost == "planned":
        role = "dim"
    pieces: list[Piece] = [(f" {fit(phrases.full_date(on), 12)}", "dim")]
    if raised:
        told = f"{short(words, max(LEAST_WORDS, words_width - 2 - len(raised)))}; "
        pieces += [(told, role), (fit(raised, words_width - len(told)), "grave"), (" ", role)]
    else:
        pieces.append((f"{fit(words, words_width)} ", role))
    if cost:
        pieces.append((f"{fit(cost, COST_WIDTH, right=True)} ", "mild" if cost == "planned" else "plain"))
    return pieces


def span_words(event: Event) -> str:
    """The days between which an event was, where its day is not known: `, some day of 1 to 31 Mar 2026`."""
    return f", some day of {phrases.span_words(*event.span)}" if event.span else ""


def _cost(entry: Entry, costs: Mapping[int, Shares]) -> str:
    if isinstance(entry, Event):
        return "new seals" if entry.kind == "gaskets" else ""
    if entry.planned:
        return "planned"
    if not costs:
        return "not charged"
    most = max(shares.total for shares in costs.values())
    return phrases.of_hundred(most).removesuffix(" of 100")


def entry_name(entry: Entry, units: Units) -> str:
    """An entry as a notice names it."""
    if isinstance(entry, Event):
        return f"{event_words(entry, units)} on {phrases.full_date(entry.on)}"
    return f"{phrases.exposure_words(entry, units)} on {phrases.full_date(entry.starts_on)}"
