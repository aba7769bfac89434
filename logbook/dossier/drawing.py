"""The two drawings of the page as SVG: what used up each seal's interval, and depth over time.

Everything is drawn in ink on white; each channel has a hatching of its own, so that it survives a printer
without colours.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from html import escape
from itertools import accumulate, pairwise

from logbook.dossier.exposed import Curve
from logbook.dossier.palette import CHANNEL_INKS, INK, PAPER, QUIET, RULE
from logbook.dossier.seals import PARTS, Bar

WIDTH = 720.0
_LEFT, _RIGHT = 84.0, 56.0
_ROW, _BAR = 27.0, 14.0
_LEGEND = 26.0
_MOST = 2.0  # intervals that the scale reaches at most
_COLUMNS = 240  # parts into which a long profile is thinned

# Channel -> tile width, tile height and what is drawn on a tile; no entry: solid ink.
_HATCHING = {
    "pressure": (6, 6, '<path d="M-1,1 l2,-2 M0,6 l6,-6 M5,7 l2,-2" stroke-width="1.6"/>'),
    "temperature": (5, 5, '<circle cx="2.5" cy="2.5" r="1.35" fill="{ink}" stroke="none"/>'),
    "salt": (7, 7, '<path d="M0,0 l7,7 M7,0 l-7,7" stroke-width="1.2"/>'),
    "chemicals": (6, 4, '<path d="M0,2 h6" stroke-width="1.6"/>'),
    "handling": (4, 6, '<path d="M2,0 v6" stroke-width="1.6"/>'),
    "assumed": (10, 10, '<circle cx="5" cy="5" r="2.2" stroke-width="1"/>'),
}


def seal_bars(bars: Sequence[Bar]) -> str:
    """One bar for each seal: the parts of its wear share, and its band as a line under it."""
    shown = [n for n in range(len(PARTS)) if any(bar.parts[n] >= 0.0005 for bar in bars)]
    scale = _Scale.over([*(sum(b.parts) for b in bars), *(b.high or 0.0 for b in bars)])
    bottom = _LEGEND + _ROW * len(bars) + 4
    pieces = [_hatchings(), *_legend(shown), *_grid(scale, bottom)]
    for n, bar in enumerate(bars):
        pieces += _bar(bar, scale, _LEGEND + _ROW * n + 4)
    told = "; ".join(
        f"{bar.place}: {bar.used} of its interval used"
        + (
            ""
            if bar.low is None or bar.high is None
            else f", likely {100 * bar.low:.0f} to {100 * bar.high:.0f} %"
        )
        for bar in bars
    )
    title = "How much of each seal’s service interval is used, and by what"
    return _svg("seals", title, f"{told}. The parts stand in the table above.", bottom + 16, pieces)


class _Scale:
    """From a share of an interval to a place on the paper."""

    def __init__(self, most: float) -> None:
        self.most = most

    @classmethod
    def over(cls, shares: Sequence[float]) -> _Scale:
        """From nothing to the largest share, at least one interval."""
        return cls(min(_MOST, max(1.0, math.ceil(4 * max(shares, default=1.0)) / 4)))

    def x(self, share: float) -> float:
        """Where a share stands; what is off the scale stands at its end."""
        return _LEFT + (WIDTH - _LEFT - _RIGHT) * min(share, self.most) / self.most


def _bar(bar: Bar, scale: _Scale, top: float) -> list[str]:
    pieces = [_text(_LEFT - 8, top + 11, bar.place, anchor="end")]
    ends = [scale.x(end) for end in accumulate(bar.parts)]
    for name, begin, end in zip(PARTS, [_LEFT, *ends], ends, strict=False):
        if end - begin >= 0.3:
            pieces.append(_box(begin, top, end - begin, name))
        if end - begin >= 62 and name == "ageing":
            pieces.append(_text((begin + end) / 2, top + 11, name, anchor="middle", fill=PAPER))
    pieces.append(
        f'<rect x="{_LEFT:g}" y="{top:g}" width="{scale.x(1.0) - _LEFT:.1f}" height="{_BAR:g}" fill="none"'
        f' stroke="{RULE}" stroke-width="0.8"/>'
    )
    pieces.append(_text(WIDTH - _RIGHT + 8, top + 11, bar.used, weight="bold"))
    if bar.low is not None and bar.high is not None:
        pieces += _band(scale.x(bar.low), scale.x(bar.high), bar.high > scale.most, top + _BAR + 5)
    return pieces


def _band(low: float, high: float, beyond: bool, y: float) -> list[str]:
    ends = f"M{low:.1f},{y - 3:g} v6 M{low:.1f},{y:g} H{high:.1f}"
    ends += f" M{high - 4:.1f},{y - 3:g} l4,3 l-4,3" if beyond else f" M{high:.1f},{y - 3:g} v6"
    return [f'<path d="{ends}" stroke="{INK}" stroke-width="1.2" fill="none"/>']


def _box(x: float, y: float, width: float, name: str, height: float = _BAR) -> str:
    ink = CHANNEL_INKS[name]
    fill = f"url(#hatch-{name})" if name in _HATCHING else ink
    dashed = ' stroke-dasharray="2 1.5"' if name == "assumed" else ""
    return (
        f'<rect x="{x:.1f}" y="{y:g}" width="{width:.1f}" height="{height:g}" fill="{fill}"'
        f' stroke="{ink}" stroke-width="1"{dashed}/>'
    )


def _hatchings() -> str:
    tiles = "".join(
        f'<pattern id="hatch-{name}" width="{width}" height="{height}" patternUnits="userSpaceOnUse">'
        f'<rect width="{width}" height="{height}" fill="{PAPER}"/>'
        f'<g stroke="{CHANNEL_INKS[name]}" fill="none">{drawn.format(ink=CHANNEL_INKS[name])}</g></pattern>'
        for name, (width, height, drawn) in _HATCHING.items()
    )
    return f"<defs>{tiles}</defs>"


def _legend(shown: Sequence[int]) -> list[str]:
    pieces, x = [], 2.0
    for n in shown:
        name = PARTS[n]
        pieces += [_box(x, 2, 22, name, 12), _text(x + 27, 12, name)]
        x += 27 + 5.9 * len(name) + 13
    pieces += [*_band(x, x + 22, False, 8), _text(x + 28, 12, "likely (80 %)")]
    return pieces


def _grid(scale: _Scale, bottom: float) -> list[str]:
    pieces = []
    for quarter in range(round(4 * scale.most) + 1):
        x, whole = scale.x(quarter / 4), quarter == 4
        width, dash = ("1.4", "") if whole else ("0.6", ' stroke-dasharray="1 3"')
        ink = INK if whole else RULE
        pieces.append(
            f'<path d="M{x:.1f},{_LEGEND - 2:g} V{bottom:g}" stroke="{ink}" stroke-width="{width}"{dash}/>'
        )
        label = "100 %: used up" if whole else f"{25 * quarter} %"
        anchor = "end" if whole and scale.most == 1 else "middle"
        pieces.append(
            _text(x + (6 if anchor == "end" else 0), bottom + 12, label, anchor=anchor, fill=QUIET, size=10)
        )
    return pieces


_PLOT_WIDTH, _PLOT_HEIGHT = 470.0, 84.0
_INSET_LEFT, _INSET_BOTTOM, _INSET_TOP = 44.0, 20.0, 6.0
_DASHES = ("", "6 3", "1.5 2.5")


def depth_plot(curves: Sequence[Curve]) -> str:
    """Depth over time, downwards, of one or a few exposures, each in a line of its own kind."""
    unit = curves[0].unit
    deepest = max(max(curve.depths) for curve in curves)
    longest = max(max(curve.minutes) for curve in curves)
    depth_step, time_step = _step(deepest, 4), _step(longest, 8)
    floor = max(depth_step, math.ceil(deepest / depth_step - 1e-9) * depth_step)
    end = max(time_step, math.ceil(longest / time_step - 1e-9) * time_step)
    bottom = _INSET_TOP + _PLOT_HEIGHT

    def at(minutes: float, depth: float) -> tuple[float, float]:
        x = _INSET_LEFT + (_PLOT_WIDTH - _INSET_LEFT - 10) * minutes / end
        return x, _INSET_TOP + _PLOT_HEIGHT * max(0.0, depth) / floor

    pieces = []
    for n in range(round(floor / depth_step) + 1):
        y = at(0, n * depth_step)[1]
        pieces.append(
            f'<path d="M{_INSET_LEFT:g},{y:.1f} H{_PLOT_WIDTH - 10:g}" stroke="{RULE}" stroke-width="0.5"/>'
        )
        label = f"{n * depth_step:g} {unit}"
        pieces.append(_text(_INSET_LEFT - 5, y + 3.5, label, anchor="end", fill=QUIET, size=10))
    for n in range(round(end / time_step) + 1):
        x = at(n * time_step, 0)[0]
        pieces.append(f'<path d="M{x:.1f},{bottom:g} v4" stroke="{RULE}" stroke-width="1"/>')
        label = f"{n * time_step:g} min" if n == round(end / time_step) else f"{n * time_step:g}"
        anchor = "end" if n == round(end / time_step) else "middle"
        pieces.append(_text(x, bottom + 14, label, anchor=anchor, fill=QUIET, size=10))
    for curve, dash in zip(curves, _DASHES, strict=False):
        points = " ".join(f"{x:.1f},{y:.1f}" for x, y in (at(t, d) for t, d in thinned(curve)))
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        pieces.append(
            f'<polyline points="{points}" fill="none" stroke="{INK}" stroke-width="1.5"'
            f' stroke-linejoin="round"{dashed}/>'
        )
    y = _INSET_TOP + 28
    pieces.append(_text(_PLOT_WIDTH + 8, y - 18, "Deepest with a profile", weight="bold"))
    for curve, dash in zip(curves, _DASHES, strict=False):
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        pieces.append(
            f'<path d="M{_PLOT_WIDTH + 8:g},{y - 3.5:g} h26" stroke="{INK}" stroke-width="1.5"{dashed}/>'
        )
        pieces.append(_text(_PLOT_WIDTH + 40, y, curve.label, size=10))
        y += 16
    title = "Depth over time of the deepest exposures with a profile"
    described = "; ".join(curve.label for curve in curves)
    return _svg("depths", title, described, bottom + _INSET_BOTTOM, pieces)


def thinned(curve: Curve) -> list[tuple[float, float]]:
    """The points of a profile, of a long one the least and the greatest depth of each part of its time."""
    points = list(zip(curve.minutes, curve.depths, strict=True))
    if len(points) <= 2 * _COLUMNS:
        return points
    bounds = [round(n * len(points) / _COLUMNS) for n in range(_COLUMNS + 1)]
    kept = [points[0]]
    for first, after in pairwise(bounds):
        part = points[first:after]
        ends = {min(part, key=lambda p: p[1]), max(part, key=lambda p: p[1])}
        kept += sorted(ends)
    return [*kept, points[-1]]


def _step(most: float, parts: int) -> float:
    """The smallest of 1, 2, 5, 10, … of which `parts` reach as far."""
    if most <= 0:
        return 1.0
    exact = most / parts
    power = 10.0 ** math.floor(math.log10(exact))
    return next(power * n for n in (1, 2, 5, 10) if power * n >= exact - 1e-9)


def _text(
    x: float,
    y: float,
    text: str,
    *,
    anchor: str = "start",
    fill: str = INK,
    size: float = 11.5,
    weight: str = "",
) -> str:
    bold = f' font-weight="{weight}"' if weight else ""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" font-size="{size:g}" fill="{fill}"{bold}>'
        f"{escape(text)}</text>"
    )


def _svg(name: str, title: str, described: str, height: float, pieces: Sequence[str]) -> str:
    return (
        f'<svg class="{name}" role="img" aria-labelledby="{name}-title {name}-desc"'
        f' viewBox="0 0 {WIDTH:g} {height:g}">'
        f'<title id="{name}-title">{escape(title)}</title><desc id="{name}-desc">{escape(described)}</desc>'
        f"{''.join(pieces)}</svg>"
    )
