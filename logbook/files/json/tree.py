"""JSON from outside as a tree whose every place has a name: `exposures[3].depth_m`.

Refused before anything is made of it: too large a file, another encoding than UTF-8, nesting without end, a
key that is written twice, and the numbers that JSON does not have.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, time
from typing import Any, NoReturn

from logbook.errors import BadInput
from logbook.model.text import printable
from logbook.text.plain_text import text_of

LARGEST_BYTES = 200_000_000
DEEPEST = 64  # of objects and lists inside each other; the export has five
LARGEST_WHOLE = 10**12  # of any count and any id: no record has had as many entries

# A string is taken to its end or to the end of the file in one go, so that no text makes this slow.
_TOKEN = re.compile(r'"[^"\\]*+(?:\\.[^"\\]*+)*+(?:"|\\?\Z)|([\[{])|([\]}])', re.DOTALL)


@dataclass(frozen=True, slots=True)
class Kind:
    """What may stand at a place: in words, and how it is read; None comes back for what may not."""

    expected: str
    read: Callable[[Any], Any]
    maybe: bool = False  # null may stand there too

    def or_null(self) -> Kind:
        """The same, or nothing."""
        return Kind(f"{self.expected} or null", self.read, maybe=True)


def _number(value: Any) -> float | None:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return None
    if isinstance(value, int) and abs(value) > LARGEST_WHOLE:
        return None
    return float(value) if math.isfinite(value) else None


def _whole(value: Any) -> int | None:
    found = _number(value)
    return int(found) if found is not None and found == int(found) and abs(found) <= LARGEST_WHOLE else None


def _day(value: Any) -> date | None:
    try:
        return date.fromisoformat(value) if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value) else None
    except (TypeError, ValueError):
        return None


def _time(value: Any) -> time | None:
    try:
        return time.fromisoformat(value) if re.fullmatch(r"[0-9]{2}(:[0-9]{2}){1,2}", value) else None
    except (TypeError, ValueError):
        return None


TEXT = Kind("a text", lambda value: value if isinstance(value, str) else None)
NUMBER = Kind("a number", _number)
WHOLE = Kind("a whole number", _whole)
ID = Kind(
    "an id from 1 up", lambda value: found if (found := _whole(value)) is not None and found > 0 else None
)
FLAG = Kind("true or false", lambda value: value if isinstance(value, bool) else None)
DAY = Kind("a date such as 2026-07-03", _day)
TIME = Kind("a time of day such as 10:40:00", _time)


@dataclass(frozen=True, slots=True)
class Node:
    """One value of the document, and where it stands in it."""

    value: Any
    path: str
    file: str

    def wrong(self, sentence: str) -> NoReturn:
        """Raises BadInput that names the file and this place."""
        at = f"{printable(self.file)}, {self.path}" if self.path else printable(self.file)
        raise BadInput(f"{at}: {sentence}", where=self.path or self.file)

    def members(self) -> Mapping[str, Any]:
        """The value as an object; raises BadInput for another."""
        if not isinstance(self.value, dict):
            self.wrong(f"here stands {_found(self.value)}, but an object belongs here.")
        return self.value

    def at(self, key: str) -> Node:
        """What stands under a key; raises BadInput where there is no such key."""
        found = self.members()
        path = f"{self.path}.{key}" if self.path else key
        if key not in found:
            Node(None, path, self.file).wrong("this is missing.")
        return Node(found[key], path, self.file)

    def items(self) -> list[Node]:
        """The members of a list; raises BadInput for another value."""
        if not isinstance(self.value, list):
            self.wrong(f"here stands {_found(self.value)}, but a list belongs here.")
        return [Node(value, f"{self.path}[{n}]", self.file) for n, value in enumerate(self.value)]

    def items_of(self, key: str) -> list[Node]:
        """The members of the list under a key that may be missing."""
        return self.at(key).items() if key in self.members() else []

    def read(self, kind: Kind) -> Any:
        """The value as its kind has it; raises BadInput for another."""
        if self.value is None and kind.maybe:
            return None
        found = kind.read(self.value)
        if found is None:
            self.wrong(f"here stands {_found(self.value)}, but {kind.expected} belongs here.")
        return found


def _found(value: Any) -> str:
    """A value from the file in a few words."""
    if isinstance(value, dict):
        return "an object"
    if isinstance(value, list):
        return "a list"
    if isinstance(value, str):
        return f"'{printable(value, 40)}'"
    if isinstance(value, int) and not isinstance(value, bool) and abs(value) > LARGEST_WHOLE:
        return "a number that is too large"
    return json.dumps(value)


def read_tree(data: bytes, file: str) -> Node:
    """The document in `data`; raises BadInput with what is wrong and where."""
    root = Node(None, "", file)
    if len(data) > LARGEST_BYTES:
        root.wrong(f"the file has {len(data):,} bytes; at most {LARGEST_BYTES:,} are read.")
    text = text_of(data, file)
    if not text.strip():
        root.wrong("the file is empty; `logbook export --out PATH` writes one that can be read.")
    deepest = _depth(text)
    if deepest > DEEPEST:
        root.wrong(f"objects and lists stand {deepest} deep inside each other; at most {DEEPEST} are read.")
    try:
        value = json.loads(text, object_pairs_hook=_object, parse_constant=_no_number)
    except _Faulty:
        value = json.loads(text, object_pairs_hook=_Pairs, parse_constant=_Constant)
        _refuse_faults(Node(value, "", file))
        raise AssertionError("a fault was met and not found again") from None
    except json.JSONDecodeError as error:
        at = f"line {error.lineno}, column {error.colno}"
        raise BadInput(
            f"{printable(file)}, {at}: this is not JSON; what is wrong there: {error.msg}.", where=at
        ) from None
    except ValueError:  # a whole number of thousands of digits
        root.wrong("it holds a number of more digits than any number has.")
    return Node(value, "", file)


def _depth(text: str) -> int:
    """How deep objects and lists stand inside each other."""
    depth = deepest = 0
    for token in _TOKEN.finditer(text):
        if token[1]:
            depth += 1
            deepest = max(deepest, depth)
        elif token[2]:
            depth -= 1
    return deepest


class _Faulty(Exception):
    """Something that the parser itself lets pass; where it stands is found in a second reading."""


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise _Faulty
    return found


def _no_number(name: str) -> NoReturn:
    raise _Faulty


class _Pairs(list[tuple[str, Any]]):
    """An object with its keys as written."""


class _Constant(str):
    """NaN or Infinity."""


def _refuse_faults(node: Node) -> None:
    value = node.value
    if isinstance(value, _Constant):
        node.wrong(f"here stands {value}, which is no number; JSON has none of this kind.")
    for child in _children(node):
        _refuse_faults(child)


def _children(node: Node) -> Iterator[Node]:
    value = node.value
    if isinstance(value, _Pairs):
        seen: set[str] = set()
        for key, inner in value:
            path = f"{node.path}.{printable(key, 40)}" if node.path else printable(key, 40)
            if key in seen:
                Node(None, path, node.file).wrong("this key stands twice in one object; once is right.")
            seen.add(key)
            yield Node(inner, path, node.file)
    elif isinstance(value, list):
        yield from Node(value, node.path, node.file).items()
