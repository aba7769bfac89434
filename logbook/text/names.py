"""Finding a watch by the nickname that was typed."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

from logbook.errors import NotFound
from logbook.model.text import listed, nearest, printable

_APOSTROPHES = str.maketrans(dict.fromkeys("’‘ʼ′`´＇", "'"))


def folded(name: str) -> str:
    """A name in the form for comparing: composed, without case, one kind of apostrophe, single spaces."""
    plain = unicodedata.normalize("NFC", name).translate(_APOSTROPHES).casefold()
    return " ".join(unicodedata.normalize("NFC", plain).split())


def find_watch(text: str, names: Iterable[str], where: str = "watch") -> str:
    """The one of `names` that equals `text`, begins with it, or has a later word that does; in that order.

    Raises NotFound with the names that match equally well, or with the nearest one.
    """
    known = list(names)
    if text in known:
        return text
    wanted = folded(text)
    shown = printable(text.strip(), 40)
    if not wanted:
        raise NotFound("Which watch? Its nickname is missing.", where=where)
    by_closeness = (
        [name for name in known if folded(name) == wanted],
        [name for name in known if folded(name).startswith(wanted)],
        [name for name in known if f" {wanted}" in folded(name)],
    )
    found = next((alike for alike in by_closeness if alike), [])
    if len(found) == 1:
        return found[0]
    if found:
        alike = listed([printable(name, 40) for name in found[:8]], "and")
        raise NotFound(f"'{shown}' begins more than one name: {alike}; write more of it.", where=where)
    if not known:
        raise NotFound(f"There is no watch '{shown}': the logbook has none yet.", where=where)
    by_folded = {folded(name): name for name in known}
    near = nearest(wanted, by_folded)
    offer = f"; did you mean {printable(by_folded[near], 40)}?" if near else "; see the shelf for the names."
    raise NotFound(f"There is no watch '{shown}'{offer}", where=where)
