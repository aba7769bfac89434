"""Plain text: tables, folded lines, names beside values."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from logbook.cli.output import WIDTH, caution_text, cells, clipped, pairs, table, wrapped

TEXT = st.text(st.characters(exclude_categories=("Cc", "Cs", "Cf", "Zl", "Zp", "Mn", "Me")), max_size=60)


@given(st.lists(st.tuples(TEXT, TEXT, TEXT, TEXT), min_size=1, max_size=5))
def test_a_table_fits_the_terminal_whatever_is_in_it(rows: list[tuple[str, ...]]) -> None:
    for line in table(("one", "two", "three", "four"), rows, right=(1,)).split("\n"):
        assert cell_len(line) <= WIDTH


@given(TEXT, st.integers(1, 40))
def test_clipped_text_fits_and_says_that_it_was_clipped(text: str, width: int) -> None:
    short = clipped(text, width)
    assert cell_len(short) <= width
    assert short == text or short.endswith("…")


@given(TEXT)
def test_columns_are_counted_as_a_terminal_counts_them(text: str) -> None:
    assert cells(text) == cell_len(text)


def test_numbers_stand_to_the_right_of_their_column() -> None:
    assert table(("a", "n"), [("x", "5"), ("yy", "10")], right=(1,)) == "a    n\nx    5\nyy  10"


def test_a_column_that_must_not_be_shortened_is_not() -> None:
    row = ("x" * 60, "id-" + "9" * 37)
    assert row[1] in table(("what", "id"), [row], last=(1,))


def test_the_caution_is_a_sentence_a_line_and_fits() -> None:
    first, second = caution_text().split("\n")
    assert first == "This score does not replace a pressure test."
    assert len(second) <= WIDTH


def test_values_stand_in_one_column_and_fold_under_themselves() -> None:
    text = pairs((("name", "short"), ("longer name", "word " * 30)))
    lines = text.split("\n")
    assert lines[0] == "name         short"
    assert all(line.startswith(" " * 13) for line in lines[2:])
    assert max(len(line) for line in lines) <= WIDTH


def test_a_folded_line_hangs() -> None:
    assert wrapped("a " * 60, "", "    ").split("\n")[1].startswith("    a")


@given(st.integers(0, 70))
def test_what_stands_in_backquotes_stays_on_one_line(before: int) -> None:
    text = f"{'x' * before} amend it with (`logbook amend 12 --order 65`); else with `logbook undo`."
    lines = wrapped(text, "", "    ").split("\n")
    assert any("(`logbook amend 12 --order 65`);" in line for line in lines)
    assert any("`logbook undo`." in line for line in lines)
    assert max(map(len, lines)) <= WIDTH
    assert " ".join(" ".join(lines).split()) == " ".join(text.split())


def test_what_is_longer_than_a_line_is_broken_in_backquotes_too() -> None:
    lines = wrapped(f"say `{'word ' * 30}end` once").split("\n")
    assert max(map(len, lines)) <= WIDTH


def test_a_backquote_without_another_breaks_as_any_text() -> None:
    assert wrapped("a `" + "b " * 60).count("\n") == 1
