"""Dives written as UDDF by hand, for tests that invent their dives."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime
from xml.sax.saxutils import escape, quoteattr

from logbook.model.values import ProfilePoint

NAME_SPACE = "http://www.streit.cc/uddf/3.2/"


@dataclass(frozen=True)
class Written:
    """One dive as it is written; temperatures are written in kelvin."""

    dive_id: str
    starts: datetime
    depth_m: float
    duration_s: float
    lowest_c: float | None = None
    points: tuple[ProfilePoint, ...] = ()
    site: str = ""
    extra: str = field(default="", repr=False)  # elements beside the needed ones, in each waypoint


def uddf(dives: Iterable[Written], *, prefix: str = "", encoding: str = "utf-8", sites_first: bool = True,
         gap: str = "\n") -> bytes:  # fmt: skip
    """A whole file: `gap` stands between tags."""
    dives, p = list(dives), prefix and f"{prefix}:"
    named = [(f"site{n}", dive.site) for n, dive in enumerate(dives) if dive.site]
    sites = "".join(
        f"<{p}site id={quoteattr(ref)}><{p}name>{escape(name)}</{p}name></{p}site>{gap}"
        for ref, name in named
    )
    sites = f"<{p}divesite>{gap}{sites}</{p}divesite>{gap}"
    body = gap.join(_dive(n, dive, p, gap) for n, dive in enumerate(dives))
    profiles = (
        f"<{p}profiledata><{p}repetitiongroup>{gap}{body}</{p}repetitiongroup>{gap}</{p}profiledata>{gap}"
    )
    inside = sites + profiles if sites_first else profiles + sites
    space = f'xmlns{prefix and ":"}{prefix}="{NAME_SPACE}"'
    declaration = f'<?xml version="1.0" encoding="{encoding}"?>\n'
    text = f'{declaration}<{p}uddf {space} version="3.2.1">{gap}{inside}</{p}uddf>\n'
    return text.encode(encoding, "xmlcharrefreplace")


def _dive(n: int, dive: Written, p: str, gap: str) -> str:
    link = f"<{p}link ref='site{n}'/>" if dive.site else ""
    waypoints = gap.join(_waypoint(point, dive.extra, p) for point in dive.points)
    parts = [
        f"<{p}dive id={quoteattr(dive.dive_id)}><{p}informationbeforedive>{link}",
        f"<{p}datetime>{dive.starts.isoformat()}</{p}datetime></{p}informationbeforedive>",
        f"<{p}samples>{gap}{waypoints}{gap}</{p}samples>" if dive.points else "",
        f"<{p}informationafterdive>{_heat('lowesttemperature', dive.lowest_c, p)}",
        f"<{p}greatestdepth>{dive.depth_m}</{p}greatestdepth>",
        f"<{p}diveduration>{dive.duration_s}</{p}diveduration>",
        f"</{p}informationafterdive></{p}dive>",
    ]
    return gap.join(part for part in parts if part)


def _waypoint(point: ProfilePoint, extra: str, p: str) -> str:
    inside = f"<{p}depth>{point.depth_m}</{p}depth><{p}divetime>{point.time_s}</{p}divetime>"
    return f"<{p}waypoint>{inside}{extra}{_heat('temperature', point.water_c, p)}</{p}waypoint>"


def _heat(name: str, celsius: float | None, p: str) -> str:
    return "" if celsius is None else f"<{p}{name}>{celsius + 273.15:.3f}</{p}{name}>"
