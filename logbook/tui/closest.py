"""Names that what is typed may mean: its letters in order, the best match first."""

from __future__ import annotations

from collections.abc import Sequence

from logbook.exchange.names import folded


def closest(typed: str, names: Sequence[str]) -> list[str]:
    """Those of `names` that hold the letters of `typed` in order; of equally good ones the first stays first."""
    from textual.fuzzy import Matcher

    matcher = Matcher(folded(typed))
    scored = [(matcher.match(folded(name)), name) for name in names]
    return [name for score, name in sorted(scored, key=lambda each: -each[0]) if score > 0]
