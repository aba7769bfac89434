"""The demo: an invented collection, written as a fresh record whose days count back from today."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from logbook.errors import RecordTrouble, Refused

if TYPE_CHECKING:
    from logbook.model.practice import Practice

_HERE = Path(__file__).parent
# An installed package has the file beside this module; a checkout keeps it where people look for it.
_PLACES = (_HERE / "scenario.toml", _HERE.parent.parent / "demo_db" / "scenario.toml")


def scenario_text() -> str:
    """The demo's scenario, from the package or else from the checkout."""
    for place in _PLACES:
        if place.is_file():
            return place.read_text(encoding="utf-8")
    sentence = f"The demo's scenario is missing: there is no {_PLACES[0]}; install logbook again."
    raise RecordTrouble(sentence, where=str(_PLACES[0]))


def build(path: Path, today: date, practice: Practice, progress: Callable[[str], None] | None = None) -> None:
    """Writes the demo as a new record at `path`, the same content every time for the same day.

    `progress` is told what is being written. Raises Refused when something is at `path` already. If anything
    fails, no file is left there.
    """
    if path.exists():
        raise Refused(f"{path} is there already; the demo needs a path that is free.", where=str(path))
    from logbook.demo.scenario import read_scenario

    tell = progress or (lambda _: None)
    tell("reading the scenario")
    scenario = read_scenario(scenario_text(), today, practice)

    from logbook.demo.writing import write_record

    write_record(path, scenario, today, practice, tell)
