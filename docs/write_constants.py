"""Writes the table of every constant into docs/method.md, between its two marks.

Run it after a change to practice.toml: `python docs/write_constants.py`. A test holds the page to it.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from logbook.model.practice import Practice, parse

PAGE = Path(__file__).parent / "method.md"
SHIPPED = Path(__file__).parent.parent / "logbook" / "practice.toml"
BEGIN, END = "<!-- constants -->", "<!-- /constants -->"


def table(practice: Practice) -> str:
    """The constants, seal factors and materials as Markdown tables."""
    return "\n".join(["", *_constants(practice), "", *_seals(practice), "", *_materials(practice), ""])


def written(page: str, practice: Practice) -> str:
    """The page with its table replaced."""
    before, rest = page.split(BEGIN)
    _, after = rest.split(END)
    return f"{before}{BEGIN}\n{table(practice)}\n{END}{after}"


def _constants(practice: Practice) -> Iterator[str]:
    yield "| constant | value | low–high | kind | source |"
    yield "|---|---|---|---|---|"
    for name, c in practice.constants.items():
        span = "–" if c.low == c.high else f"{c.low:g}–{c.high:g}"
        yield f"| `{name}` | {f'{c.value:g} {c.unit}'.strip()} | {span} | {c.kind} | {c.source} |"


def _seals(practice: Practice) -> Iterator[str]:
    yield "| seal | m_p | m_t | m_s | m_c | m_h | kind |"
    yield "|---|---|---|---|---|---|---|"
    for name, f in practice.seals.items():
        numbers = " | ".join(f"{m:g}" for m in (f.m_p, f.m_t, f.m_s, f.m_c, f.m_h))
        yield f"| {name} | {numbers} | {f.kind} |"


def _materials(practice: Practice) -> Iterator[str]:
    yield "| material | years of an interval | group, storage age | expansion, 10⁻⁶/K | kind | source |"
    yield "|---|---|---|---|---|---|"
    for name, m in practice.materials.items():
        alpha = f"{m.alpha_low:g}" if m.alpha_low == m.alpha_high else f"{m.alpha_low:g}–{m.alpha_high:g}"
        years = f"{m.years:.3g} ({m.low:.3g}–{m.high:.3g})"
        cap = f"{m.storage_class}, {m.cap_years:g} years"
        yield f"| {name} | {years} | {cap} | {alpha} | {m.kind} | {m.source} |"
    for name, c in practice.cases.items():
        alpha = f"{c.alpha_low:g}" if c.alpha_low == c.alpha_high else f"{c.alpha_low:g}–{c.alpha_high:g}"
        yield f"| {name} (case or crystal) | – | – | {alpha} | {c.kind} | {c.source} |"


if __name__ == "__main__":
    PAGE.write_text(written(PAGE.read_text(encoding="utf-8"), parse(SHIPPED.read_text(encoding="utf-8"))))
