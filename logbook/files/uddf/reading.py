"""Dives out of a UDDF file (Universal Dive Data Format), one after the other, in little memory.

Names are matched without their name space and the version is not looked at. The whole file is refused with
BadInput where it is not XML, not UDDF or not within bounds (`uddf_xml`); a dive that cannot be taken is
handed out with its `problem`, what was doubtful in the others with their `warnings`.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator, Mapping
from os import urandom
from typing import BinaryIO

from logbook.files.uddf.dive import ID_LENGTH, PARTS, FileDive, Notice, Site, Stated, make_dive
from logbook.files.uddf.samples import Samples
from logbook.files.uddf.values import read_water
from logbook.files.uddf.xml import DEEPEST, PIECE, Source

__all__ = ["FileDive", "Notice", "read_dives"]

MOST_WAYPOINTS = 200_000  # of one dive: two days at one a second
COUNTED = 16  # of 256 pieces inside <samples> are looked at for elements that are never closed
MOST_GROWN = 10_000  # of these in the pieces looked at; a piece of a real file ends inside two at most
MOST_SITES = 100_000
MOST_TEXTS = 50  # of one element of one dive that are kept, and references
LONGEST_TEXT = 1_000  # characters of one of them that are kept

Tree = Mapping[str, "Tree"]
_LEAF: Tree = {}
_UNKNOWN: Tree = {}

# What is read, element inside element. What is not listed is skipped with all that stands in it, but for
# <profiledata>, where dives are looked for at any depth. Versions before 3 have in <dive> itself what stands
# in <informationbeforedive> and <informationafterdive> now, and date and time in pieces.
_PIECES: Tree = dict.fromkeys(PARTS, _LEAF)
_STATED: Tree = {
    **dict.fromkeys(("datetime", "greatestdepth", "diveduration", "lowesttemperature"), _LEAF),
    **dict.fromkeys(("density", "place", "link"), _LEAF),
    "date": _PIECES,
    "time": _PIECES,
}
_SAMPLES: Tree = {}  # read by `Samples`
_DIVE: Tree = {
    **_STATED,
    "informationbeforedive": _STATED,
    "informationafterdive": _STATED,
    "samples": _SAMPLES,
}
_PROFILES: Tree = {"dive": _DIVE}
_SITE: Tree = {"name": _LEAF, "environment": _LEAF, "sitedata": {"density": _LEAF}}
_SITES: Tree = {"site": _SITE}
_ROOT: Tree = {"uddf": {"divesite": _SITES, "profiledata": _PROFILES}}


def read_dives(
    file: BinaryIO, name: str, progress: Callable[[int], None] | None = None
) -> Iterator[FileDive]:
    """The dives of a file, in its order; `name` is what sentences call the file.

    `progress` is told the bytes read so far; what it raises ends the reading. BadInput, also where there is
    no dive at all, may come after some dives were handed out. Sites that stand after the dives are looked up
    in a pass of their own, if the file can be rewound.
    """
    source = Source(file, name, progress)
    reader = _Dives(source, file, progress)
    found = False
    for _ in source.pieces():
        reader.check()
        while reader.ready:
            found = True
            yield reader.ready.popleft()
    if not found:
        raise source.empty("there is no dive in it; UDDF has each dive as a <dive> inside <profiledata>")


class _Sites:
    """Follows the tags of a file along a tree of names, and keeps its dive sites."""

    def __init__(self, source: Source, tree: Tree) -> None:
        self.source, self.sites = source, dict[str, Site]()
        self._here, self._name, self._stack = tree, "", list[tuple[Tree, str]]()
        self._stated = Stated()
        source.parser.StartElementHandler, source.parser.EndElementHandler = self._start, self._end

    def _start(self, name: str, attributes: list[str]) -> None:
        local = name.rpartition(":")[2]
        if not self._stack:
            self.source.check_root(local)
        elif len(self._stack) >= DEEPEST:
            raise self.source.too_deep()
        self._stack.append((self._here, self._name))
        self._here = self._here.get(local, _PROFILES if self._here is _PROFILES else _UNKNOWN)
        self._name = local
        self.source.texts.clear()
        if self._here is not _UNKNOWN:
            self._entered(name, dict(zip(attributes[::2], attributes[1::2], strict=True)))

    def _end(self, name: str) -> None:
        if name.rpartition(":")[2] != self._name:
            raise self.source.bad("a <samples> stands inside another one")
        if self._here is _LEAF or self._here is _PIECES:
            self._keep("".join(self.source.texts))
        elif self._here is _SITE or self._here is _DIVE:
            self._left()
        self.source.texts.clear()
        self._here, self._name = self._stack.pop()

    def _entered(self, name: str, attributes: dict[str, str]) -> None:
        if self._here is _SITE or self._here is _DIVE:
            self._stated = Stated(self.source.parser.CurrentLineNumber, attributes.get("id", "").strip())
        elif self._here is _LEAF and self._name == "link" and len(self._stated.links) < MOST_TEXTS:
            self._stated.links.append(attributes.get("ref", "").strip()[: ID_LENGTH + 1])

    def _left(self) -> None:
        site = self._stated
        if len(self.sites) >= MOST_SITES:
            raise self.source.bad(f"there are more than {MOST_SITES:,} dive sites")
        water = read_water(site.first("environment"), site.first("density"))
        if 0 < len(site.id) <= ID_LENGTH:
            self.sites.setdefault(site.id, Site(site.first("name"), water))

    def _keep(self, text: str) -> None:
        texts = self._stated.texts.setdefault(self._name, [])
        if text.strip() and len(texts) < MOST_TEXTS:
            texts.append((text[:LONGEST_TEXT], self.source.parser.CurrentLineNumber))


class _Dives(_Sites):
    """As `_Sites`, and makes the dives ready to be taken."""

    def __init__(self, source: Source, file: BinaryIO, progress: Callable[[int], None] | None) -> None:
        super().__init__(source, _ROOT)
        self.ready: deque[FileDive] = deque()
        self._file, self._progress = file, progress
        self._looked = False
        self._samples = Samples(source, self._leave_samples)
        self._inside = False  # <samples>
        self._counting, self._grown = False, 0  # elements that were opened and not closed inside it

    def check(self) -> None:
        """Raises BadInput where a dive has grown out of bounds; to be called between two pieces."""
        if self._counting:
            self._listen(counting=False)
        if not self._inside:
            return
        if self._samples.waypoints > MOST_WAYPOINTS:
            raise self.source.bad(f"one dive has more than {MOST_WAYPOINTS:,} waypoints")
        if self._grown > MOST_GROWN:
            raise self.source.too_deep()
        # Chance decides, so that no file can know which of its pieces is counted.
        if urandom(1)[0] < COUNTED:
            self._listen(counting=True)

    def _entered(self, name: str, attributes: dict[str, str]) -> None:
        super()._entered(name, attributes)
        if self._here is _DIVE:
            self._samples.begin()
            self._look_for_sites()
        elif self._here is _SAMPLES:
            self._inside, self._grown = True, 0
            self._samples.enter(name)
            self._listen(counting=False)

    def _listen(self, *, counting: bool) -> None:
        """Inside <samples>: to closed elements only, which is much faster, or to opened ones too."""
        self._counting, parser = counting, self.source.parser
        parser.StartElementHandler = self._count_start if counting else None
        parser.EndElementHandler = self._count_end if counting else self._samples.end

    def _count_start(self, *_: object) -> None:
        self._grown += 1

    def _count_end(self, name: str) -> None:
        self._grown -= 1
        self._samples.end(name)

    def _leave_samples(self) -> None:
        self._inside = self._counting = False
        self.source.parser.StartElementHandler, self.source.parser.EndElementHandler = self._start, self._end
        self._here, self._name = self._stack.pop()

    def _left(self) -> None:
        if self._here is _DIVE:
            self.ready.append(make_dive(self._stated, self._samples, self.sites))
            self._samples.begin()
        else:
            super()._left()

    def _look_for_sites(self) -> None:
        """Read the sites that stand after the dives, once, before the first dive is made."""
        if self._looked or self.sites or not self._file.seekable():
            self._looked = True
            return
        self._looked = True
        place = self._file.tell()
        if self._stands_later(place):
            self._file.seek(0)
            ahead = Source(self._file, self.source.shown, None)
            others = _Sites(ahead, _SITES_ONLY)
            for _ in ahead.pieces():
                self._tick(place)
            self.sites = others.sites
        self._file.seek(place)

    def _stands_later(self, place: int) -> bool:
        """Whether the word is in the rest of the file, so that a pass for its sake can be worth it."""
        words = [_WORD.encode(encoding) for encoding in ("utf-8", "utf-16-le", "utf-16-be")]
        self._file.seek(max(0, place - PIECE))
        before = b""
        while piece := self.source.next_piece():
            if any(word in before + piece for word in words):
                return True
            before = piece[-len(words[-1]) :]
            self._tick(place)
        return False

    def _tick(self, place: int) -> None:
        if self._progress is not None:
            self._progress(place)


_WORD = "divesite"
_SITES_ONLY: Tree = {"uddf": {"divesite": _SITES}}
