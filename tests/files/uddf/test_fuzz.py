"""Files spoilt at random: dives or one clear sentence come out, and never anything else.

The seed is fixed, so a failure can be repeated: it names the seed, the number of the try and the bytes.
"""

from __future__ import annotations

import io
import re
from itertools import pairwise
from pathlib import Path
from random import Random

import pytest

from logbook.errors import BadInput
from logbook.files.uddf.reading import FileDive, read_dives
from logbook.model.text import clean, printable
from tests.effort import tries

FILES = [path.read_bytes() for path in sorted((Path(__file__).parent / "files").iterdir())]
SMALL = [content for content in FILES if len(content) < 4_000]
TAG = re.compile(rb"<[^<>]*>")
NAMED = re.compile(rb"<(/?)([\w:]+)[^<>]*?(/?)>")
NUMBERS = (b"-1", b"1e308", b"NaN", b"", b"0", b"9" * 20, b"1,5", b"0x10", b"\xef\xbc\x91", b"1_0")
PIECES = (b"<", b">", b"&", b"&#0;", b"&#x202e;", b"]]>", b"<![CDATA[", b"<!--", b"-->", b"<?",
          b"<!DOCTYPE a>", b"\x00", b"\xff\xfe", b"\x1b[31m", b"<samples>", b"</samples>", b"<waypoint>",
          b"<dive>", b"</dive>", b"<depth/>", b"\xc3", b"encoding='cp037'", b"encoding='utf-7'",
          b"encoding='idna'")  # fmt: skip


def flip(content: bytearray, dice: Random) -> None:
    for _ in range(dice.randint(1, 8)):
        if content:
            content[dice.randrange(len(content))] ^= 1 << dice.randrange(8)


def cut(content: bytearray, dice: Random) -> None:
    start = dice.randrange(len(content) + 1)
    del content[start : start + dice.choice((1, 5, 40, 10_000))]


def insert(content: bytearray, dice: Random) -> None:
    at = dice.randrange(len(content) + 1)
    content[at:at] = dice.choice(PIECES) * dice.choice((1, 1, 1, 3, 80))


def splice(content: bytearray, dice: Random) -> None:
    other = dice.choice(SMALL)
    start = dice.randrange(len(other) + 1)
    at = dice.randrange(len(content) + 1)
    content[at:at] = other[start : start + dice.randrange(400)]


def swap_tags(content: bytearray, dice: Random) -> None:
    tags = list(TAG.finditer(content))
    if len(tags) > 1:
        first, second = sorted(dice.sample(tags, 2), key=lambda found: found.start())
        content[second.start() : second.end()], content[first.start() : first.end()] = (
            first.group(),
            second.group(),
        )


def change_number(content: bytearray, dice: Random) -> None:
    numbers = list(re.finditer(rb">[\d.:T-]+<", content))
    if numbers:
        found = dice.choice(numbers)
        content[found.start() + 1 : found.end() - 1] = dice.choice(NUMBERS)


def elements_of(content: bytearray) -> list[tuple[int, int, bytes]]:
    """Where each element with an end begins and ends, and its name."""
    found, opened = [], []
    for tag in NAMED.finditer(content):
        closes, name, empty = tag.groups()
        if not closes and not empty:
            opened.append((tag.start(), name))
        while closes and opened:
            start, begun = opened.pop()
            if begun == name:
                found.append((start, tag.end(), name))
                break
    return found


def move_element(content: bytearray, dice: Random) -> None:
    """Take a whole element out, or leave it, and put it between two other tags: the file stays XML."""
    elements = elements_of(content)
    if elements:
        start, end, _ = dice.choice(elements)
        element = content[start:end]
        if dice.random() < 0.5:
            del content[start:end]
        places = [place.end() for place in TAG.finditer(content)]
        at = dice.choice(places) if places else 0
        content[at:at] = element * dice.choice((1, 1, 2, 30))


def rename(content: bytearray, dice: Random) -> None:
    """Give an element the name of another one."""
    elements = elements_of(content)
    if elements:
        (start, end, name), (_, _, other) = dice.choice(elements), dice.choice(elements)
        content[start:end] = content[start:end].replace(name, other)


ROUGH = (flip, cut, insert, splice, swap_tags)
GENTLE = (change_number, move_element, rename)


def spoil(dice: Random) -> bytes:
    content = bytearray(dice.choice(SMALL))
    mutations = GENTLE if dice.random() < 0.6 else ROUGH + GENTLE
    for mutate in dice.choices(mutations, k=dice.randint(1, 4)):
        mutate(content, dice)
    return bytes(content)


def check(dive: FileDive) -> None:
    """What the reader promises of every dive, whatever the file was."""
    times = [point.time_s for point in dive.points]
    assert all(before < after for before, after in pairwise(times))
    assert all(0 <= point.time_s <= 172_800 and 0 <= point.depth_m <= 400 for point in dive.points)
    assert all(point.water_c is None or -3 <= point.water_c <= 60 for point in dive.points)
    assert clean(dive.site, "site", "site") == dive.site
    sentences = [dive.problem, *(notice.sentence for notice in dive.warnings)]
    assert [printable(sentence) for sentence in sentences] == sentences
    assert all(notice.line >= dive.line for notice in dive.warnings)
    if not dive.problem:
        assert dive.starts is not None
        assert dive.depth_m is not None
        assert dive.duration_s is not None
        assert max((point.depth_m for point in dive.points), default=0) <= dive.depth_m <= 400
        assert max(times, default=0) <= dive.duration_s <= 172_800


def taken(content: bytes) -> bool:
    """Whether there were dives in it; else it was refused in words."""
    try:
        dives = list(read_dives(io.BytesIO(content), "spoilt.uddf"))
    except BadInput as error:
        if printable(error.message) != error.message:
            raise AssertionError(ascii(error.message)) from error
        return False
    for dive in dives:
        check(dive)
    assert dives
    return True


def campaign(seed: int, executions: int) -> int:
    """How many of the files still had dives."""
    dice, read = Random(seed), 0
    for n in range(executions):
        content = spoil(dice)
        try:
            read += taken(content)
        except Exception as error:
            raise AssertionError(f"seed {seed}, try {n}: {content!r}") from error
    return read


@pytest.mark.parametrize("seed", range(4))
def test_thousands_of_spoilt_files_are_read_or_refused_in_words(seed: int) -> None:
    assert campaign(seed, tries(5_000)) > tries(5_000) / 5  # enough of them still were UDDF


@pytest.mark.release
@pytest.mark.parametrize("seed", range(100, 120))
def test_a_million_spoilt_files_are_read_or_refused_in_words(seed: int) -> None:
    assert campaign(seed, 50_000) > 10_000
