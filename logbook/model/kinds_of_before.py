"""Former words for kinds of event; files that use them can always be read."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

from logbook.model.values import EventKind

KINDS_OF_BEFORE: Mapping[str, EventKind] = MappingProxyType({
    "water": "water-inside", "crown": "crown-damaged", "crystal": "crystal-damaged",
    "pushers": "pushers-damaged", "valve": "gas-valve-damaged",
})  # fmt: skip
_FAULT = re.compile(rf":({'|'.join(KINDS_OF_BEFORE)})-([0-9]+)$")  # ends the id of a fault's due item


def kind_of_today(word: str) -> str:
    """Today's word for a kind; a word that is not a former one stays as it is."""
    return KINDS_OF_BEFORE.get(word, word)


def item_of_today(item_id: str) -> str:
    """The id of a due item, with today's word for the kind of its fault."""
    return _FAULT.sub(lambda found: f":{KINDS_OF_BEFORE[found[1]]}-{found[2]}", item_id)
