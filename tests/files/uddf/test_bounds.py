"""No file, however large or twisted, makes the reader grow: every bound has a file that reaches it."""

from __future__ import annotations

import io
import subprocess
import sys
from collections.abc import Iterator
from itertools import pairwise, repeat

import pytest

from logbook.errors import BadInput
from logbook.files.uddf.reading import FileDive, read_dives

HEAD = (
    b'<?xml version="1.0"?>\n<uddf xmlns="http://www.streit.cc/uddf/3.2/">\n<profiledata><repetitiongroup>\n'
)
TAIL = b"</repetitiongroup></profiledata></uddf>\n"
BEFORE = b"<dive id='d'><informationbeforedive><datetime>2026-05-17T10:30</datetime></informationbeforedive>"
AFTER = b"<informationafterdive><greatestdepth>9</greatestdepth><diveduration>900</diveduration>"
AFTER += b"</informationafterdive></dive>\n"
DIVE = BEFORE + AFTER
MIB = 1 << 20


class Flowing(io.RawIOBase):
    """A file made while it is read; it cannot be rewound."""

    def __init__(self, parts: Iterator[bytes]) -> None:
        self._parts, self._held = parts, b""

    def read(self, size: int = -1) -> bytes:
        if len(self._held) < size:
            parts, length = [self._held], len(self._held)
            while length < size and (part := next(self._parts, b"")):
                parts.append(part)
                length += len(part)
            self._held = b"".join(parts)
        piece, self._held = self._held[:size], self._held[size:]
        return piece


def read(*parts: bytes) -> list[FileDive]:
    return list(read_dives(io.BytesIO(b"".join(parts)), "huge.uddf"))


def flow(*parts: bytes, times: int = 50_000_000) -> list[FileDive]:
    """Each part that starts with `*` comes over and over."""

    def all_parts() -> Iterator[bytes]:
        for part in parts:
            yield from repeat(part[1:], times) if part.startswith(b"*") else [part]

    return list(read_dives(Flowing(all_parts()), "huge.uddf"))


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ((HEAD, DIVE, b"<!--", b"*" + b"x" * MIB), "a tag or comment of more than 1,048,576 bytes starts"),
        ((HEAD, DIVE, b"<a b='", b"*" + b"x" * MIB), "a tag or comment of more than 1,048,576 bytes"),
        ((HEAD, DIVE, b"<", b"*" + b"x" * MIB), "a tag or comment of more than 1,048,576 bytes"),
        ((HEAD, DIVE, b"<?", b"*" + b"x" * MIB), "a tag or comment of more than 1,048,576 bytes"),
        ((HEAD, DIVE, b"<a>", b"*" + b"x" * MIB), "more than 1,048,576 characters stand without a tag"),
        ((HEAD, DIVE, b"<![CDATA[", b"*" + b"x" * MIB), "more than 1,048,576 characters stand without a tag"),
        ((HEAD, BEFORE, b"<samples><waypoint><depth>", b"*" + b"1" * MIB), "characters stand without a tag"),
        ((HEAD, DIVE, b"*<a>"), "more than 64 elements stand inside each other"),
        ((HEAD, BEFORE, b"<samples>", b"*<waypoint>"), "more than 64 elements stand inside each other"),
        ((HEAD, BEFORE, b"<samples>", b"*<x><y/>/&gt; /><!-- </x></x> --><?p </x> ?>"),
         "more than 64 elements stand inside each other"),
        ((HEAD, BEFORE, b"<samples>", b"*<x><x></x>"), "more than 64 elements stand inside each other"),
    ],
)  # fmt: skip
def test_what_never_ends_is_refused_early(parts: tuple[bytes, ...], words: str) -> None:
    with pytest.raises(BadInput) as caught:
        flow(*parts)
    assert words in caught.value.message
    assert caught.value.where.startswith("line ")


@pytest.mark.parametrize("byte", [0, 255])
def test_a_piece_that_is_counted_is_read_like_one_that_is_not(
    byte: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    waypoint = b"<waypoint><depth>%d</depth><a/><divetime>%d</divetime><x><y/></x></waypoint>\n"
    many = b"".join(waypoint % (n % 40, n) for n in range(5_000))
    monkeypatch.setattr("logbook.files.uddf.reading.urandom", lambda _: bytes([byte]))
    (dive,) = read(HEAD, BEFORE, b"<samples>", many, b"</samples>", AFTER, TAIL)
    assert [(point.time_s, point.depth_m) for point in dive.points] == [(n, n % 40) for n in range(5_000)]


def test_two_hundred_thousand_waypoints_are_a_dive_and_more_are_refused() -> None:
    waypoints = [
        b"<waypoint><depth>5</depth><divetime>%.1f</divetime></waypoint>\n" % (n / 2) for n in range(203_000)
    ]
    dive = read(HEAD, BEFORE, b"<samples>", *waypoints[:200_000], b"</samples>", AFTER, TAIL)[0]
    assert len(dive.points) == 200_000
    with pytest.raises(BadInput, match="one dive has more than 200,000 waypoints"):
        read(HEAD, BEFORE, b"<samples>", *waypoints, b"</samples>", AFTER, TAIL)


def test_names_without_end_are_refused() -> None:
    names = b"".join(b"<n%d/>" % n for n in range(20_000))
    with pytest.raises(BadInput, match="too many different names"):
        read(HEAD, DIVE, names, TAIL)


def test_sites_without_end_are_refused() -> None:
    sites = b"".join(b"<site id='%d'/>" % n for n in range(100_001))
    with pytest.raises(BadInput, match="more than 100,000 dive sites"):
        read(HEAD, DIVE, b"</repetitiongroup></profiledata><divesite>", sites, b"</divesite></uddf>")


def test_comments_and_empty_elements_among_many_waypoints_are_no_nesting() -> None:
    waypoint = b"<waypoint><!-- <depth>1</depth> <a> --><?p <a> ?><depth>5</depth><switchmix/></waypoint>\n"
    waypoint = waypoint.replace(b"<switchmix/>", b"<switchmix/><a><![CDATA[<]]></a><divetime>%d</divetime>")
    many = b"".join(waypoint % n for n in range(25_000))
    assert len(read(HEAD, BEFORE, b"<samples>", many, b"</samples>", AFTER, TAIL)[0].points) == 25_000


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_many_waypoints_are_no_nesting_in_any_encoding(encoding: str) -> None:
    many = b"".join(
        b"<waypoint><depth>5</depth><divetime>%d</divetime></waypoint>" % n for n in range(30_000)
    )
    text = b"".join((HEAD, BEFORE, b"<samples>", many, b"</samples>", AFTER, TAIL)).decode()
    content = text.replace('"1.0"', f'"1.0" encoding="{encoding}"').encode(encoding)
    assert len(read(content)[0].points) == 30_000


def test_progress_counts_the_bytes_and_what_it_raises_ends_the_reading() -> None:
    content = HEAD + DIVE * 5_000 + TAIL
    told: list[int] = []
    assert len(list(read_dives(io.BytesIO(content), "many.uddf", told.append))) == 5_000
    assert told[-1] == len(content)
    assert max(after - before for before, after in pairwise(told)) <= 65_536

    class StopError(Exception):
        """What a progress line raises when it is cancelled."""

    def stop(read_bytes: int) -> None:
        if read_bytes > 200_000:
            raise StopError

    with pytest.raises(StopError):
        list(read_dives(io.BytesIO(content), "many.uddf", stop))


def test_a_file_that_cannot_be_rewound_is_read_without_the_sites_after_the_dives() -> None:
    linked = BEFORE.replace(b"<datetime>", b"<link ref='s'/><datetime>") + AFTER
    sites = (
        b"</repetitiongroup></profiledata><divesite><site id='s'><name>Wall</name></site></divesite></uddf>"
    )
    assert [dive.site for dive in flow(HEAD, linked, sites)] == [""]
    assert [dive.site for dive in read(HEAD, linked, sites)] == ["Wall"]


def test_a_disk_that_fails_is_told_in_words() -> None:
    class Failing(io.BytesIO):
        def read(self, size: int | None = -1) -> bytes:
            raise OSError(5, "Input/output error")

    with pytest.raises(BadInput) as caught:
        list(read_dives(Failing(), "usb.uddf"))
    assert caught.value.message == "usb.uddf cannot be read: Input/output error."


MEASURED = """
import resource, sys
from tests.files.uddf.test_bounds import AFTER, BEFORE, HEAD, TAIL, Flowing
from logbook.files.uddf.reading import read_dives

def parts():
    yield HEAD
    waypoint = b"<depth>%d.5</depth><divetime>%d</divetime><temperature>290.%d</temperature>"
    waypoint = b"<waypoint>" + waypoint + b"</waypoint>\\n"
    waypoints = b"".join(waypoint % (n % 30, n, n % 100) for n in range(3000))
    for _ in range(int(sys.argv[1])):
        yield BEFORE + b"<samples>" + waypoints + b"</samples>" + AFTER
    yield TAIL

def peak():
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss

before = peak()
count = sum(len(dive.points) == 3000 for dive in read_dives(Flowing(parts()), "long.uddf"))
print(count, peak() - before)
"""


def grown_kib(dives: int) -> int:
    """How far the memory of a process of its own grows while it reads that many dives of 270 kB each."""
    command = [sys.executable, "-c", MEASURED, str(dives)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    count, grown = map(int, done.stdout.split())
    assert count == dives
    return grown


def test_a_file_of_thirty_megabytes_is_read_in_little_memory() -> None:
    assert grown_kib(110) < 40 * 1024


@pytest.mark.release
def test_a_gigabyte_takes_no_more_memory_than_thirty_megabytes() -> None:
    assert grown_kib(3_600) < 40 * 1024
