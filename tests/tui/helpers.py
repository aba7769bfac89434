"""What the tests of the rooms share: waiting on what is seen, and the screen as plain text."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from textual.app import App
from textual.pilot import Pilot
from textual.widgets import Input, Static

SMALL = (80, 24)
LARGE = (120, 40)
PATIENCE_S = 20.0  # the longest wait, on a busy machine; never the usual one

_drawn: dict[App[Any], list[str]] = {}


async def wait_for(pilot: Pilot[Any], condition: Callable[[], bool], description: str) -> None:
    """Go on as soon as `condition` holds; fail with `description` and the screen when it never does."""
    end = time.monotonic() + PATIENCE_S
    while True:
        await pilot.pause()
        if condition():
            return
        if time.monotonic() > end:
            raise AssertionError(f"waited in vain until {description}; the screen:\n{screen_text(pilot.app)}")
        await pilot.pause(0.01)


async def all_done(pilot: Pilot[Any]) -> None:
    """Go on once nothing is worked out or written any more, and all that came of it is on the screen."""
    while True:
        await pilot.pause()
        under_way = [worker.wait() for worker in pilot.app.workers if not worker.is_finished]
        if not under_way:
            return
        await asyncio.wait_for(asyncio.gather(*under_way, return_exceptions=True), PATIENCE_S)


async def wait_for_text(pilot: Pilot[Any], *wanted: str) -> None:
    """Go on once every one of `wanted` stands on the screen."""
    shown = ", ".join(repr(text) for text in wanted)
    await wait_for(pilot, lambda: shows(pilot.app, *wanted), f"the screen shows {shown}")


def shows(app: App[Any], *wanted: str) -> bool:
    """True when every one of `wanted` stands on the screen; runs of blanks count as one."""
    text = words(screen_text(app))
    return all(words(each) in text for each in wanted)


def messages(app: App[Any]) -> str:
    """What the messages over the room say now, one a line."""
    return "\n".join(words(note.message) for note in app._notifications)


async def wait_for_message(pilot: Pilot[Any], *wanted: str) -> None:
    """Go on once the messages over the room say every one of `wanted`."""

    def said() -> bool:
        return all(words(each) in messages(pilot.app) for each in wanted)

    await wait_for(pilot, said, f"a message says {', '.join(map(repr, wanted))}")


def words(text: str) -> str:
    """Text with runs of blanks and line ends as one blank."""
    return " ".join(text.split())


def told(app: App[Any], selector: str) -> str:
    """What one part of the room shows, whatever stands beside it; runs of blanks count as one."""
    return words(str(app.screen.query_one(selector, Static).content))


def screen_lines(app: App[Any]) -> list[str]:
    """Each line of the terminal as it is drawn now, messages over the room included.

    It is drawn once for all looks at it before the app goes on.
    """
    if app not in _drawn:
        _drawn[app] = [
            "".join(segment.text for segment in strip).rstrip()
            for strip in app.screen._compositor.render_strips()
        ]
        asyncio.get_running_loop().call_soon(_drawn.clear)
    return _drawn[app]


def screen_text(app: App[Any]) -> str:
    """The terminal as it is drawn now."""
    return "\n".join(screen_lines(app))


def raw_controls(app: App[Any]) -> list[str]:
    """Every character on the screen that a terminal would obey rather than show."""
    return [char for char in screen_text(app) if (ord(char) < 32 and char != "\n") or 127 <= ord(char) < 160]


def room(app: App[Any]) -> str:
    """The name of the room that is in front."""
    return type(app.screen).__name__


async def wait_for_room(pilot: Pilot[Any], name: str) -> None:
    """Go on once the room called `name` is in front and drawn."""
    await wait_for(pilot, lambda: room(pilot.app) == name, f"{name} is in front")
    await pilot.pause()


async def press_all(pilot: Pilot[Any], keys: Sequence[str]) -> None:
    """Keys one by one, as `pilot.press` names them."""
    for key in keys:
        await pilot.press(key)


async def write(pilot: Pilot[Any], text: str) -> None:
    """Put `text` into what has the focus: into a field in one go, else key by key.

    What comes of single keys in a field, and of keys with no time between them, has its own tests (`burst`).
    """
    if len(text) > 1 and isinstance(pilot.app.focused, Input):
        await paste(pilot, text)
    else:
        await pilot.press(*text)


async def paste(pilot: Pilot[Any], text: str) -> None:
    """Paste `text` into what has the focus, as a terminal would hand it over."""
    from textual import events

    pilot.app.post_message(events.Paste(text))
    await pilot.pause()


def text_of(lines: Sequence[Sequence[tuple[str, str]]]) -> str:
    """Lines of pieces as the plain text they show."""
    return "\n".join("".join(text for text, _ in line) for line in lines)


# What a form may meet: escapes, controls, marks that reorder a screen, markup, lengths, and numbers that are
# none. Each is text and must stay text.
HOSTILE = (
    "\x1b[31mred\x1b[0m", "\x1b]0;title\x07", "\x1b[2J\x1b[H", "\x1bPq#0;2;0;0;0\x1b\\", "\x9b31m",
    "\x90q\x9c", "\x00", "a\x00b", "\x07", "\x08\x08\x08", "\x0b\x0c", "\x7f", "\x85", "\r\nnext",
    "tab\there", "\u2028", "\u2029", "\u202eevil", "\u2066a\u2069", "\u200b", "\ufeff21m",
    "e\u0301" * 40, "a" + "\u0301" * 300, "👩‍👩‍👧‍👦 dive", "🤿" * 60, "漢字" * 60, "[/]",
    "[bold]21[/bold]", "[@click=app.quit]x[/]", "[red", "]]]]", "{watch}", "%s%n", "$(reboot)",
    "`id`", "'; DROP TABLE exposure; --", "\\", '"', "=1+1", "@SUM(A1)", "-", "--", "-0", "1e999",
    "nan", "inf", "-inf", "1e-999", "0x10", "٢١", "½", "²", "21,000", "1,5", "9" * 400,
    "x" * 10_000, "dive " * 2_000, "2026-13-45", "0000-00-00", "9999-12-31", "10:99", "29 feb",
    "1 h 1 h", "32K", "300C", "~", "~~17C", "∞", "21 m m", "m",
)  # fmt: skip


def dealt(names: Sequence[str], times: int = 1) -> Iterator[dict[str, str]]:
    """Every hostile text so many times, in so few rounds as the fields of a form allow: name -> text."""
    texts = HOSTILE * times
    for first in range(0, len(texts), len(names)):
        yield dict(zip(names, texts[first : first + len(names)], strict=False))


async def burst(pilot: Pilot[Any], *parts: str) -> None:
    """Keys with no time between them: of each part its characters, or the key that it names (`enter`)."""
    from textual import events
    from textual.keys import _character_to_key

    for part in parts:
        named = part in ("enter", "tab", "up", "down", "left", "right", "space", "escape")
        for key in [part] if named or part.startswith("ctrl+") else part:
            alone = len(key) == 1
            pilot.app.post_message(
                events.Key(_character_to_key(key) if alone else key, key if alone else None)
            )
