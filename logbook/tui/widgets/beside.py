"""A place beside or below the rest that scrolls, and that tells its room when it was laid out anew."""

from __future__ import annotations

from textual.containers import VerticalScroll
from textual.message import Message


class Beside(VerticalScroll):
    """What is drawn as large as its place is waits for `Laid`: a place has no size before."""

    class Laid(Message):
        """Its place has another size."""

    def on_resize(self) -> None:
        """Tell the room."""
        self.post_message(self.Laid())
