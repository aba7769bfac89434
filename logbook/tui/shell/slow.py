"""What takes a while to read or to work out for what a room shows: asked for once, shown when it is there."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar, cast

from logbook.tui.shell.background import Background

if TYPE_CHECKING:
    from logbook.tui.shell.room import Room

Found = TypeVar("Found")


class Slow:
    """Answers by name, as long as the record is as it was when they were asked for."""

    def __init__(self, room: Room, shown: Callable[[], None]) -> None:
        """`shown` draws the room again with what is there now."""
        self._shown = shown
        self._background = Background(room)
        self._asked: dict[str, list[Any]] = {}  # the answer, once it is there

    @property
    def busy(self) -> bool:
        """True while there is more to come."""
        return self._background.busy

    def forget(self) -> None:
        """The record has changed."""
        self._asked = {}

    def get(self, name: str, read: Callable[[], Found]) -> Found | None:
        """The answer; None until it is there, for which it is read in a thread."""
        if name not in self._asked:
            place = self._asked[name] = []

            def there(found: Found) -> None:
                place.append(found)
                if self._asked.get(name) is place:
                    self._shown()

            self._background.begin(lambda _: read(), there)
        return cast("Found", self._asked[name][0]) if self._asked[name] else None
