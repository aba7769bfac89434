"""One list of words: a word has one meaning, a meaning one word, and a key one meaning wherever keys lead."""

from __future__ import annotations

import inspect
import re
import runpy
import subprocess
import sys
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import pytest

import logbook
from logbook.cli.app import COMMANDS
from logbook.model.due.tasks import STAGES
from logbook.model.judge import rules
from logbook.model.values import CHANNELS, DAMAGED_PART, MARK_KINDS, POSITIONS, USES
from logbook.text.phrases import place
from logbook.tui.guide.parts import sentences, word_list
from logbook.tui.shell.room import Room
from logbook.tui.shell.router import ROOMS
from logbook.tui.widgets.lines import Lines

HOME = Path(logbook.__file__).parent
ROOT = Path(__file__).parents[1]
KEYS: dict[str, Any] = runpy.run_path(str(ROOT / "docs" / "write_keys.py"))
EVERYWHERE = "everywhere"  # a key of so many rooms that they are not named

Row = dict[str, Any]


@cache
def words() -> dict[str, Row]:
    """Word -> its meaning and where it shows."""
    found: dict[str, Row] = word_list()["words"]
    return found


@cache
def rooms() -> dict[str, type[Room]]:
    """Every room by the name of its class."""
    found: dict[str, type[Room]] = KEYS["rooms"]()
    return found


def keys_of(kind: type[Room]) -> dict[str, str]:
    """Key -> its label in the key line of a room."""
    return {binding.key: binding.description for binding in KEYS["bindings"](kind)}


def meaning(key: str, label: str) -> Row:
    """The one row of the list that a key with this label belongs to."""
    rows = [row for row in word_list()["keys"].get(key, []) if label in row.get("labels", [row["word"]])]
    assert len(rows) == 1, f"{key}: {label} has {len(rows)} rows"
    row: Row = rows[0]
    return row


def one(word: str) -> str:
    """A word as it is compared: of one thing, in small letters."""
    return word.casefold().removesuffix("s")


def test_a_word_has_one_meaning_and_a_meaning_one_word() -> None:
    assert len(words()) > 30
    assert max(Counter(map(one, words())).values()) == 1
    assert max(Counter(one(row["means"]) for row in words().values()).values()) == 1
    assert not {one(word) for word in words()} & {one(word) for word in word_list()["gone"]}


def test_no_two_rooms_have_titles_that_differ_by_an_s() -> None:
    titles = {kind.TITLE_WORDS for kind in rooms().values()}
    assert {title: n for title, n in Counter(map(one, titles)).items() if n > 1} == {
        one("Habits"): 2  # the list, and the form of one of it
    }


@pytest.mark.parametrize("word", words())
def test_where_a_word_shows_there_is_such_a_room_or_command(word: str) -> None:
    known = {kind.TITLE_WORDS for kind in rooms().values()} | {f"logbook {name}" for name in COMMANDS}
    assert words()[word]["shows"]
    assert set(words()[word]["shows"]) <= known


@pytest.mark.parametrize(
    ("word", "names"),
    [
        ("seal", [place(each).replace("gas valve", "gas (helium) valve") for each in POSITIONS]),
        ("channel", CHANNELS),
        ("stated use", USES),
        ("fault", ("fog", "water inside", *DAMAGED_PART.values())),
        ("due", [stage for stage in STAGES if stage != "later"]),
        ("check", ("{no_objection}", "{think_twice}", "{keep_dry}")),
        ("mark", [sentences()["marks"]["kinds"][kind]["name"].split(",")[0] for kind in MARK_KINDS]),
    ],
)  # fmt: skip
def test_the_list_says_what_the_model_calls_it(word: str, names: list[str]) -> None:
    assert [name for name in names if name not in words()[word]["means"]] == []


def test_the_words_of_a_verdict_are_those_of_the_model() -> None:
    assert words()["check"]["means"].count("{") == len(
        {rules.NO_OBJECTION, rules.THINK_TWICE, rules.KEEP_DRY}
    )


@pytest.mark.parametrize("name", rooms())
def test_every_key_of_a_room_stands_in_the_list_with_its_room(name: str) -> None:
    kind = rooms()[name]
    for key, label in keys_of(kind).items():
        shows = meaning(key, label)["shows"]
        assert shows == EVERYWHERE or kind.TITLE_WORDS in shows, f"{key}: {label}"


def test_every_key_of_the_list_works_where_it_is_said_to() -> None:
    bound = {
        (key, label, kind.TITLE_WORDS) for kind in rooms().values() for key, label in keys_of(kind).items()
    }
    for key, rows in word_list()["keys"].items():
        for row in rows:
            labels = row.get("labels", [row["word"]])
            assert set(labels) == {at[1] for at in bound if at[0] == key and at[1] in labels}
            if row["shows"] != EVERYWHERE:
                assert set(row["shows"]) == {at[2] for at in bound if at[0] == key and at[1] in labels}


def next_to(kind: type[Room]) -> set[type[Room]]:
    """The rooms to which a key of this room leads."""
    classes = {target.partition(":")[2]: name for name, target in ROOMS.items()}
    actions = {binding.action for binding in KEYS["bindings"](kind)}
    found = {
        name
        for each in kind.__mro__
        if issubclass(each, Room) and each is not Room
        for name in re.findall(
            r"\b(?:go|made|room|watch_room)\(\s*[\"']([\w-]+)[\"']",
            inspect.getsource(sys.modules[each.__module__]),
        )
    } | {name for name, action in (("entry-line", "one_line"), ("changes", "changes")) if action in actions}
    return {rooms()[cls] for cls, name in classes.items() if name in found}


def test_a_key_has_one_meaning_in_rooms_to_which_a_key_leads_from_one_another() -> None:
    pairs = [(here, there) for here in rooms().values() for there in next_to(here) if there is not here]
    assert len(pairs) > 40
    for here, there in pairs:
        mine, theirs = keys_of(here), keys_of(there)
        for key in mine.keys() & theirs.keys():
            rows = meaning(key, mine[key]), meaning(key, theirs[key])
            if not any(row.get("answer") for row in rows):
                assert rows[0] is rows[1], f"{key}: {here.__name__} and {there.__name__}"


def test_no_room_takes_a_letter_by_which_lists_are_walked() -> None:
    walked = {key for binding in Lines.BINDINGS for key in binding.key.split(",") if len(key) == 1}  # type: ignore[union-attr]
    assert walked
    assert not walked & {key for kind in rooms().values() for key in keys_of(kind)}


def read_by_people() -> list[Path]:
    """Pages, and all of the package: its help and its sentences stand in the code."""
    pages = [ROOT / "README.md", *(ROOT / "docs").glob("*.md")]
    return pages + [path for ending in ("py", "toml", "jinja") for path in HOME.rglob(f"*.{ending}")]


def test_a_word_that_has_gone_is_not_said_again() -> None:
    said = []
    gone = {
        word: re.compile(rf"(?<!\w){re.escape(word)}(?!\w)", re.IGNORECASE) for word in word_list()["gone"]
    }
    for path in read_by_people():
        text = re.sub(r"\"\s*\n\s*f?\"", "", path.read_text(encoding="utf-8")).replace("’", "'")
        if path == HOME / "words.toml":
            text = text.partition("[gone]")[0]
        text = " ".join(text.split())
        said += [f"{path.name}: {word}" for word, pattern in gone.items() if pattern.search(text)]
    assert said == []


def test_the_list_is_not_read_on_the_way_to_the_first_screen() -> None:
    code = "import sys, logbook.tui.app; sys.exit('logbook.tui.guide.parts' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], timeout=60, check=False).returncode == 0
