"""What stands in a form of an exposure before anyone writes: last time's values, else what is usual.

No widgets here.
"""

from __future__ import annotations

from logbook.model.practice import Activity, Practice
from logbook.model.values import Exposure, Settings, Watch
from logbook.text import exactly, quantities
from logbook.tui.water.form import Around


def prefilled(row: Activity, last: Exposure | None, around: Around) -> dict[str, str]:
    """What stands in the form for an activity: what it was last time, else what the activity means.

    An answer that is left as it stands means exactly what it meant. Never how crown and pushers were used,
    and never the rinse. A temperature that was not measured is left to the home water again.
    """
    units, practice = around.units, around.practice
    if last is None:
        return {
            "depth": "" if row.depth_m is None else exactly.depth_text(row.depth_m, units),
            "minutes": "" if row.minutes is None else exactly.minutes_text(row.minutes * 60),
            "water": row.water,
            "temp": "" if row.water_c is None else exactly.temp_text(row.water_c, units),
            "from": exactly.temp_text(practice["from_c"], units),
            "dips": str(row.dips),
            "jump": "",
        }
    return {
        "depth": exactly.depth_text(last.depth_m, units),
        "minutes": exactly.minutes_text(last.duration_s),
        "water": _water_words(last, around.settings),
        "temp": "" if last.water_c_assumed else exactly.temp_text(last.water_c, units),
        "from": exactly.temp_text(last.from_c, units),
        "dips": str(last.dips),
        "jump": exactly.depth_text(last.jump_m, units) if last.jump_m else "",
    }


def _water_words(last: Exposure, settings: Settings) -> str:
    if last.salinity is None or last.water not in ("sea", "brackish"):
        return last.water
    if last.density_kg_m3 is not None:
        return f"{last.water} salinity {last.salinity:g} density {last.density_kg_m3:g}"
    if last.water == "brackish":
        return f"brackish {last.salinity:g}"
    same = abs(last.salinity - settings.home.salinity) < 5e-4
    return "sea" if same else f"sea salinity {last.salinity:g}"


def silent_words(row: Activity, around: Around) -> dict[str, str]:
    """What an empty entry stands for, question by question."""
    units, practice = around.units, around.practice
    if row.water_c is not None:
        temp = quantities.show_temp(row.water_c, units)
    else:
        temp = "home water, by month" if around.settings.home.monthly_c else (
            f"assumed {quantities.show_temp(practice['home_c'], units)}"
        )  # fmt: skip
    return {
        "what": "which activity?",
        "depth": "how deep?" if row.depth_m is None else quantities.show_depth(row.depth_m, units),
        "minutes": "how long?" if row.minutes is None else quantities.show_minutes(row.minutes * 60),
        "water": row.water,
        "temp": temp,
        "from": quantities.show_temp(practice["from_c"], units),
        "dips": str(row.dips),
        "crown": "not touched",
        "pushers": "not touched",
        "jump": "none",
        "when": "today",
    }


def usual_activity(watch: Watch, practice: Practice) -> str:
    """What a watch of this stated use is most often taken to."""
    usual = [row.activity for row in practice.stated_use if row.use == watch.use]
    return next(iter([*usual, *practice.activities]))
