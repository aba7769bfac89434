"""Text as the rooms break it into lines."""

from __future__ import annotations

import pytest

from logbook.tui.shell.ink import wrapped


@pytest.mark.parametrize("before", range(0, 60, 7))
def test_what_stands_in_backquotes_stays_on_one_line(before: int) -> None:
    lines = wrapped(f"{'x' * before} say it with (`logbook amend 12 --order 65`), or leave it", 40)
    assert any("(`logbook amend 12 --order 65`)," in line for line in lines)


def test_what_is_wider_than_the_room_in_backquotes_is_broken_and_not_cut() -> None:
    text = f"say `{'word ' * 12}end` once"
    assert " ".join(wrapped(text, 30)) == text
