"""What a file holds, sorted out against the record and ready to be looked at before anything is written."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from logbook.errors import BadInput
from logbook.exchange.arriving import Arrival, State, sort_out_of
from logbook.exchange.dives_in import Refusal
from logbook.exchange.incoming import Incoming
from logbook.keeping.rows import Rows
from logbook.keeping.store import Store
from logbook.reckoning.practice import Practice
from logbook.reckoning.text import printable

FileKind = Literal["UDDF", "CSV", "JSON", "lines"]
_ENDINGS: dict[str, FileKind] = {
    ".uddf": "UDDF", ".xml": "UDDF", ".csv": "CSV", ".tsv": "CSV", ".json": "JSON", ".txt": "lines",
}  # fmt: skip
LOOKED_AT = 4_096  # bytes from which the kind of a file without a known ending is told


@dataclass(frozen=True, slots=True)
class Inbox:
    """Exposures of one file: what is new, what is there already, what is a question, what cannot come in."""

    name: str
    arrivals: Sequence[Arrival]
    left_out: Sequence[Refusal] = ()

    def of(self, state: State) -> list[Arrival]:
        """The arrivals of one state."""
        return [arrival for arrival in self.arrivals if arrival.state == state]

    def coming(self, *, alike: bool) -> list[Incoming]:
        """What would be written; `alike`: what may be on record already too."""
        wanted = ("new", "alike") if alike else ("new",)
        return [arrival.incoming for arrival in self.arrivals if arrival.state in wanted]

    def warnings(self) -> Iterator[tuple[str, str]]:
        """Place in the file, and what was put right there."""
        for arrival in self.arrivals:
            for sentence in arrival.incoming.warnings:
                yield arrival.incoming.place, sentence


def kind_of(name: str, head: bytes) -> FileKind:
    """What kind of file it is, by its ending or else by how it begins; raises BadInput."""
    low = name.casefold()
    by_ending = next((kind for ending, kind in _ENDINGS.items() if low.endswith(ending)), None)
    if by_ending is not None:
        return by_ending
    start = head.removeprefix(b"\xef\xbb\xbf").replace(b"\x00", b"").lstrip()[:LOOKED_AT]
    if start.startswith((b"<", b"\xff\xfe<", b"\xfe\xff<")):
        return "UDDF"
    if start.startswith(b"{"):
        return "JSON"
    first_line = start.split(b"\n")[0]
    if b":" in first_line:
        return "lines"
    if any(mark in first_line for mark in (b",", b";", b"\t")):
        return "CSV"
    endings = ", ".join(_ENDINGS)
    raise BadInput(
        f"{printable(name)} is none of the files that come in: UDDF, CSV, JSON of `logbook export`, or "
        f"one-line entries. Give it the ending that it should have: {endings}.", where=name,
    )  # fmt: skip


def sorted_out(
    rows: Rows, name: str, incoming: Sequence[Incoming], left_out: Sequence[Refusal] = ()
) -> Inbox:
    """The exposures of a file against the record."""
    return Inbox(name, sort_out_of(rows, incoming), left_out)


def write(store: Store, inbox: Inbox, practice: Practice, *, alike: bool = False) -> list[int]:
    """Puts what is new on record as one step of undo; returns the ids, none when nothing is new."""
    from logbook.keeping import exposures

    coming = inbox.coming(alike=alike)
    if not coming:
        return []
    noun = "exposure" if len(coming) == 1 else "exposures"
    return exposures.add(
        store,
        [each.exposure for each in coming],
        practice,
        label=f"{IMPORT}{len(coming)} {noun} from {printable(inbox.name, 60)}",
        origins=[each.origin for each in coming],
    )


IMPORT = "import "  # how the label of every import begins
