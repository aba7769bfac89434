"""The page as a text: self-contained HTML, or Markdown without any HTML in it."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from logbook.dossier import drawing, palette
from logbook.dossier.content import Dossier

if TYPE_CHECKING:
    from jinja2 import Environment

Format = Literal["html", "markdown"]
ENDINGS: dict[str, Format] = {".html": "html", ".htm": "html", ".md": "markdown", ".markdown": "markdown"}
MEDIA = ("air", "vacuum", "water")

_TEMPLATES = {"html": "dossier.html.jinja", "markdown": "dossier.md.jinja"}
_HERE = Path(__file__).parent
# Signs that mean something in the middle of a Markdown line; some only where a line begins.
# A dot before a letter may be read as part of a web address, and signs at the end close a heading.
_SIGNS = re.compile(r"([\\`*_{}\[\]<>|~&$!@]|:(?=\S)|\.(?=[^\W\d_])|(?<=\s)#(?=#*$))")
_OPENERS = re.compile(r"^([-+#=]|\d{1,9}(?=[.)](?:\s|$)))")


def form_of(path: Path) -> Format | None:
    """The form that the ending of a path says; None for any other ending."""
    return ENDINGS.get(path.suffix.casefold())


def render(dossier: Dossier, form: Format) -> str:
    """The page, the same for the same content."""
    return environment(form).get_template(_TEMPLATES[form]).render(_context(dossier))


def _context(dossier: Dossier) -> dict[str, Any]:
    bars, curves = dossier.seals.bars, dossier.exposed.curves
    return {
        "page": dossier,
        "media": MEDIA,
        "bars": drawing.SealBars(bars) if bars else None,
        "plot": drawing.DepthPlot(curves) if curves else None,
    }


@cache
def environment(form: Format) -> Environment:
    """The templates of a form."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    html = form == "html"
    environment = Environment(
        loader=FileSystemLoader(_HERE),
        autoescape=html,
        # Whatever the Markdown template prints goes through this, so that no value can be forgotten.
        finalize=None if html else _printed,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.globals["ink"] = palette
    environment.filters |= {"tenth": lambda value: f"{value:.1f}", "plain": lambda value: f"{value:g}"}
    return environment


def _printed(value: Any) -> str:
    return escape_markdown(str(value))


def escape_markdown(text: str) -> str:
    """Text that any Markdown reader shows as it is: no mark-up, no HTML, no cell or line of its own."""
    line = " ".join(text.split())
    tame = _SIGNS.sub(r"\\\1", line)
    opener = _OPENERS.match(tame)
    if opener is None:
        return tame
    if opener[0].isdigit():
        return f"{opener[0]}\\{tame[opener.end() :]}"
    return f"\\{tame}"
