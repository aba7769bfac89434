"""The preview's lines as plain pieces of text: one an exposure of the file, and the one under the cursor."""

from __future__ import annotations

from logbook.files.arriving import Arrival
from logbook.files.inbox import Inbox, Item
from logbook.model.values import Units
from logbook.text import phrases, quantities
from logbook.tui.shell.ink import Line, fit, short, wrapped

PLACE, DAY, NAME, STATE = 9, 17, 13, 9
_NOTHING = "This file holds no exposure."


def title(inbox: Inbox) -> str:
    """`10 come in, 1 on record already`."""
    coming = len(inbox.coming)
    counts = (f"{count} {words}" for count, words in inbox.counts())
    return ", ".join([f"{coming} come{'s' if coming == 1 else ''} in", *counts])


def question(inbox: Inbox) -> str:
    """That it must be said first which of the likenesses are the same."""
    count = len(inbox.open_questions)
    first = "One is" if count == 1 else f"{count} are"
    return (
        f"{first} like an exposure on record. Say first whether it is the same: l leaves it out, s keeps "
        "both, S keeps both of all."
    )


def heads(width: int) -> Line:
    """The heads of the columns."""
    what = max(1, width - PLACE - DAY - NAME - STATE - 4)
    cells = (("", STATE), ("where", PLACE), ("when", DAY), ("watch", NAME), ("what", what))
    return [(" ".join(fit(head, size) for head, size in cells), "dim")]


def row(item: Item, units: Units, width: int) -> Line:
    """One exposure: what becomes of it, where it stands in the file, when it was, whose, what."""
    state = fit(state_words(item), STATE)
    role = "good" if item.comes_in else "mild" if item.is_open or item.refusal else "dim"
    name = item.watch.name if item.watch is not None else "–"
    cells = f" {fit(item.place, PLACE)} {fit(when(item), DAY)} {fit(name, NAME)} "
    spare = max(1, width - PLACE - DAY - NAME - STATE - 4)
    plain = "plain" if item.comes_in else "dim"
    return [(state, role), (cells, plain), (short(what(item, units), spare), plain)]


def state_words(item: Item) -> str:
    """What becomes of it, in a word or two."""
    if item.comes_in:
        return "comes in"
    if item.state is None:
        return "left out"
    return {"on record": "on record", "alike": "alike?", "struck": "struck"}[item.state]


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
    dive = item.dive
    if dive is None or dive.depth_m is None or dive.duration_s is None:
        return "dive"
    depth = quantities.show_depth(dive.depth_m, units)
    return f"dive {depth}, {quantities.show_minutes(round(dive.duration_s))}"


def detail(inbox: Inbox, item: Item | None, units: Units, width: int, height: int) -> list[Line]:
    """What there is to say about the exposure under the cursor: why, what it is like, what was put right."""
    if item is None:
        return [[(_NOTHING, "plain")]]
    sentences = [*_reasons(inbox, item, units)]
    lines: list[Line] = [[(short(f"{item.place}: {what(item, units)}", width), "strong")]]
    for role, text in sentences:
        lines += [[(line, role)] for line in wrapped(text, width)]
    if len(lines) > height:
        lines = [*lines[: height - 1], [(f"… and {len(lines) - height + 1} lines more", "dim")]]
    return lines


def _reasons(inbox: Inbox, item: Item, units: Units) -> list[tuple[str, str]]:
    found = []
    if item.unwanted:
        found.append(("mild", "Left out by you: l takes it back in."))
    elif item.state is None and item.refusal:
        found.append(("mild", f"Left out: {item.refusal}"))
    if item.arrival is not None:
        found += _about_twin(item, item.arrival, units)
    comes = item.incoming if item.comes_in else None
    if comes is not None and item.watch is not None and comes.exposure.starts_on < item.watch.recorded_from:
        days = next(days for watch, days in inbox.not_charged() if watch.id == item.watch.id)
        found.append(("mild", phrases.not_charged_words(item.watch.name, item.watch.recorded_from, days)))
    if item.incoming is not None:
        found += [("mild", warning) for warning in item.incoming.warnings]
    if item.dive is not None and item.dive.point_count:
        found.append(("dim", f"With a profile of {item.dive.point_count:,} points."))
    return found


def _about_twin(item: Item, arrival: Arrival, units: Units) -> list[tuple[str, str]]:
    twin = arrival.twin
    if arrival.state == "on record":
        which = f"the same as {arrival.twin_place} of this file" if twin is None else phrases.twin_words(twin)
        return [("plain", f"On record already: {which}.")]
    if arrival.state == "struck":
        key = "s leaves it out again." if item.wanted else "s brings it in again."
        return [("mild", f"It came in before and was struck. {key}")]
    if arrival.state == "alike" and twin is not None:
        words = f"{phrases.twin_words(twin)}, {phrases.exposure_words(twin, units)}"
        if item.wanted:
            return [("plain", f"Beside {words}: both are kept. s: it is the same.")]
        return [("mild", f"Is it {words}? l: it is, leave this out. s: keep both.")]
    return []
