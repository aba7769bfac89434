"""What happened since the last pass, as the Watch room shows it: plain pieces of text."""

from __future__ import annotations

from logbook.model.judge.since import Since
from logbook.model.values import Units
from logbook.text import happened, phrases
from logbook.tui.shell.ink import Line


def panel(since: Since | None, units: Units, why_none: str | None = None) -> list[Line]:
    """Period, channels, hardest exposures, and that it is bookkeeping; `why_none` where nothing is known."""
    if why_none is not None:
        return [[("what happened: ", "title"), (f"what used its interval is not known {why_none}", "plain")]]
    if since is None:
        return [[("no seal is on record", "plain")]]
    lines: list[Line] = [
        [("what happened: ", "title"), (happened.heading(since), "plain")],
        [(f"{happened.largest(since)} ", "strong"), (happened.NOT_PROOF, "mild")],
        [(happened.total(since), "plain")],
        [(happened.hardest_head(since), "dim")],
    ]
    for cost in since.hardest:
        took = phrases.of_hundred(cost.shares.total).removesuffix(" of 100")
        words = phrases.exposure_words(cost.exposure, units)
        lines.append(
            [(f"{took:>5}  ", "strong"), (f"{phrases.full_date(cost.exposure.starts_on)}  {words}", "plain")]
        )
    return lines


def in_one_line(since: Since | None) -> Line:
    """The channel with the largest part, for the place where the stop rules stand."""
    if since is None:
        return [("h: what happened", "dim")]
    channel, _ = since.by_channel[0]
    return [(f"h: what happened; {channel} had the largest part ({happened.BRIEFLY})", "dim")]
