"""What happened, in words: the same sentences at the command line and on the Watch screen."""

from __future__ import annotations

from logbook.model.judge.since import Beginning, Since
from logbook.text import phrases

# Shown wherever a part is named: a charged share proves nothing.
NOT_PROOF = "This is bookkeeping, it does not say what caused it."
BRIEFLY = "bookkeeping, no proof"

_BEGAN: dict[Beginning, tuple[str, str]] = {  # in brackets after the day; after "since"
    "asked": ("the day asked for", "then"),
    "passed test": ("last passed pressure test", "the last passed pressure test"),
    "maker’s test": ("the maker’s test, not yours", "the maker’s test"),
    "fitting": ("fitted", "it was fitted"),
}
_TROUBLE = {
    "fog": "fog was seen",
    "water-inside": "water was seen",
    "pressure-test": "a pressure test failed",
    "condensation-test": "a condensation test failed",
    "crown-damaged": "the crown was damaged",
    "crystal-damaged": "the crystal was damaged",
    "pushers-damaged": "the pushers were damaged",
    "gas-valve-damaged": "the gas valve was damaged",
}


def heading(since: Since) -> str:
    """Which seal, from when to when: `the crown seal from 10 Jun 2025 (…) to 1 Mar 2026 (fog was seen)`."""
    period = since.period
    ends = _TROUBLE[period.trouble.kind] if period.trouble else "today"
    return (
        f"{phrases.place(since.seal.position)} seal from {phrases.full_date(period.start)}"
        f" ({_BEGAN[period.beginning][0]}) to {phrases.full_date(period.end)} ({ends})"
    )


def total(since: Since) -> str:
    """What was charged in all, and how much of it came from exposures, the clock and assumptions."""
    assumed = since.assumed.total
    rest = since.by_the_clock.total - assumed
    parts = [
        f"exposures on record {phrases.of_hundred(since.by_exposures.total)}",
        f"time, dry uses and habits {phrases.of_hundred(rest)}",
    ]
    parts += [f"assumed before the log began {phrases.of_hundred(assumed)}"] if assumed else []
    return f"It took {phrases.of_hundred(since.shares.total)}: {', '.join(parts)}."


def largest(since: Since) -> str:
    """Which channels had the largest part of the wear, worded as bookkeeping."""
    parts = [(name, share) for name, share in since.by_channel if phrases.of_hundred(share) != "0 of 100"]
    if not parts or parts[0][1] <= 0:
        return "No channel was charged anything in this time."
    (first, share), *others = parts
    began = _BEGAN[since.period.beginning][1]
    rest = ", ".join(f"{name} {phrases.of_hundred(part).removesuffix(' of 100')}" for name, part in others)
    said = f"{first.capitalize()} had the largest part of the wear since {began}: {phrases.of_hundred(share)}"
    return f"{said}; then {rest}." if rest else f"{said}."


def hardest_head(since: Since) -> str:
    """The heading above the list of exposures."""
    if not since.hardest:
        return "No exposure on record in this time added to it."
    return "The exposures with the largest part:"
