"""The words of before for kinds of event; files that have them are read for ever."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

from logbook.model.values import EventKind

KINDS_OF_BEFORE: Mapping[str, EventKind] = MappingProxyType({
    "water": "water-inside", "crown": "crown-damaged", "crystal": "crystal-damaged",
    "pushers": "pushers-damaged", "valve": "gas-valve-damaged",
})  # fmt: skip
_FAULT = re.compile(rf":({'|'.join(KINDS_OF_BEFORE)})-([0-9]+)$")  # ends a due item that a fault made


def kind_of_today(word: str) -> str:
    """The word of today for a kind; one that is no word of before stays as it is."""
    return KINDS_OF_BEFORE.get(word, word)


def item_of_today(item_id: str) -> str:
    """The id of a due item, with the kind of its fault as it is called now."""
    return _FAULT.sub(lambda found: f":{KINDS_OF_BEFORE[found[1]]}-{found[2]}", item_id)
