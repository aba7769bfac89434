"""Every room as it is kept in docs/pictures and in tests/tui/drawings, at 80×24, 100×28 and 120×40.

A difference is no fault in itself: look at it, then keep it with `python docs/write_pictures.py`.
"""

from __future__ import annotations

import difflib
import re
import runpy
from pathlib import Path
from typing import Any

import pytest

from logbook.caution import CAUTION_LINE
from tests.tui.helpers import words

pytestmark = pytest.mark.looks_ahead

ROOT = Path(__file__).parents[2]
SCRIPT: dict[str, Any] = runpy.run_path(str(ROOT / "docs" / "write_pictures.py"))
SCENES, STORED = SCRIPT["SCENES"], SCRIPT["stored"]
AGAIN = "look at it, then: python docs/write_pictures.py"


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo that the pictures are drawn from."""
    found: Path = SCRIPT["record_in"](tmp_path_factory.mktemp("pictures"))
    return found


@pytest.mark.parametrize("name", SCENES)
async def test_a_room_looks_as_its_kept_pictures(record: Path, name: str) -> None:
    drawn, kept = await SCRIPT["draw"](record, SCENES[name]), STORED(name)
    for size, text in drawn.texts.items():
        lines = difflib.unified_diff(kept.texts[size].splitlines(), text.splitlines(), "kept", "now", n=1)
        changed = "\n".join(lines)
        assert not changed, f"{name} at {size} has changed; {AGAIN} {name}\n{changed}"
        assert words(CAUTION_LINE) in words(text)
    assert seen(drawn.svg) == seen(kept.svg), f"the picture of {name} has changed; {AGAIN} {name}"


def seen(svg: str) -> tuple[list[str], set[str]]:
    """What a picture says and the colours in it; how it is put into SVG is the library's affair."""
    return re.findall(r"<text[^>]*>([^<]*)</text>", svg), set(re.findall(r"#[0-9a-f]{6}\b", svg))


def test_every_kept_picture_is_of_a_room_that_is_drawn() -> None:
    pictures = {path.stem for path in SCRIPT["PICTURES"].glob("*.svg")}
    sizes = [f"{width}x{height}" for width, height in SCRIPT["DRAWN_SIZES"]]
    drawings = {path.stem for path in SCRIPT["DRAWINGS"].glob("*.txt")}
    assert pictures == set(SCENES)
    assert drawings == {f"{name}-{size}" for name in SCENES for size in sizes}
