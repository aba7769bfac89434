"""The preview's lines as plain pieces of text: one an exposure of the file, and the one under the cursor."""

from __future__ import annotations

from typing import TYPE_CHECKING

from logbook.exchange import phrases
from logbook.exchange.phrases import Units
from logbook.tui.ink import Line, fit, short, wrapped

if TYPE_CHECKING:
    from logbook.exchange.inbox import Inbox, Item

PLACE, DAY, NAME, STATE = 10, 17, 14, 16
_NOTHING = "This file holds no exposure."


def title(inbox: Inbox) -> str:
    """`10 come in, 1 on record already`."""
    counts = (f"{count} {words}" for count, words in inbox.counts())
    return ", ".join([f"{len(inbox.coming)} come in", *counts])


def heads(width: int) -> Line:
    """The heads of the columns."""
    what = max(1, width - PLACE - DAY - NAME - STATE - 4)
    cells = (("", STATE), ("where", PLACE), ("when", DAY), ("watch", NAME), ("what", what))
    return [(" ".join(fit(head, size) for head, size in cells), "dim")]


def row(inbox: Inbox, item: Item, units: Units, width: int) -> Line:
    """One exposure: what becomes of it, where it stands in the file, when it was, whose, what."""
    comes = inbox.comes_in(item)
    state = fit(state_words(inbox, item), STATE)
    role = "good" if comes else "mild" if item.state == "alike" or item.refusal else "dim"
    name = item.watch.name if item.watch is not None else "–"
    cells = f" {fit(item.place, PLACE)} {fit(when(item), DAY)} {fit(name, NAME)} "
    spare = max(1, width - PLACE - DAY - NAME - STATE - 4)
    return [(state, role), (cells, "plain" if comes else "dim"), (short(what(item, units), spare), "plain")]


def state_words(inbox: Inbox, item: Item) -> str:
    """What becomes of it, in a word or two."""
    if item.state is None:
        return "left out"
    if item.state == "alike":
        return "alike, comes in" if inbox.alike_too else "alike, stays out"
    return {"new": "comes in", "on record": "on record"}[item.state]


def when(item: Item) -> str:
    """Day and time as the record would keep them, else as the file has them."""
    if item.incoming is not None:
        exposure = item.incoming.exposure
        at = f" {exposure.starts_at:%H:%M}" if exposure.starts_at else ""
        return f"{phrases.full_date(exposure.starts_on)}{at}"
    starts = item.dive.starts if item.dive is not None else None
    return "no date" if starts is None else f"{phrases.full_date(starts.date())} {starts:%H:%M}"


def what(item: Item, units: Units) -> str:
    """The exposure in a phrase."""
    if item.incoming is not None:
        return phrases.exposure_words(item.incoming.exposure, units)
    from logbook.exchange import quantities

    dive = item.dive
    if dive is None or dive.depth_m is None or dive.duration_s is None:
        return "dive"
    depth = quantities.show_depth(dive.depth_m, units)
    return f"dive {depth}, {quantities.show_minutes(round(dive.duration_s))}"


def detail(inbox: Inbox, item: Item | None, units: Units, width: int, height: int) -> list[Line]:
    """What there is to say about the exposure under the cursor: why, what it is like, what was put right."""
    if item is None:
        return [[(_NOTHING, "plain")]]
    sentences = [*_reasons(inbox, item)]
    lines: list[Line] = [[(short(f"{item.place}: {what(item, units)}", width), "strong")]]
    for role, text in sentences:
        lines += [[(line, role)] for line in wrapped(text, width)]
    if len(lines) > height:
        lines = [*lines[: height - 1], [(f"… and {len(lines) - height + 1} lines more", "dim")]]
    return lines


def _reasons(inbox: Inbox, item: Item) -> list[tuple[str, str]]:
    found = []
    if item.unwanted:
        found.append(("mild", "Left out by you: o takes it back in."))
    elif item.state is None and item.refusal:
        found.append(("mild", f"Left out: {item.refusal}"))
    twin = item.arrival.twin if item.arrival is not None else None
    if item.state == "on record":
        place = item.arrival.twin_place if item.arrival is not None else ""
        entry = f"the same as {place} of this file" if place else f"entry {twin.id}" if twin else "there"
        found.append(("plain", f"On record already: {entry}."))
    if item.state == "alike" and twin is not None:
        words = f"{phrases.exposure_words(twin, 'metric')}, {phrases.full_date(twin.starts_on)}"
        question = "s brings such ones in too." if not inbox.alike_too else "s leaves such ones out."
        found.append(("mild", f"Is it entry {twin.id} ({words})? {question}"))
    comes = item.incoming if inbox.comes_in(item) else None
    if comes is not None and item.watch is not None and comes.exposure.starts_on < item.watch.recorded_from:
        days = next(days for watch, days in inbox.not_charged() if watch.id == item.watch.id)
        found.append(("mild", phrases.not_charged_words(item.watch.name, item.watch.recorded_from, days)))
    if item.dive is not None:
        found += [("mild", notice.sentence) for notice in item.dive.warnings]
        if item.dive.point_count:
            found.append(("dim", f"With a profile of {item.dive.point_count:,} points."))
    return found
