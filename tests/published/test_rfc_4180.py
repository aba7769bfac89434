"""RFC 4180, "Common Format and MIME Type for Comma-Separated Values (CSV) Files" (October 2005), section 2.

The clauses are quoted; their own examples (`aaa`, `bbb`, `ccc`) are the values. Text of the RFC as reprinted
in the documentation of the Debian package bobcat 5.07.00 (csv4180/README).
"""

from __future__ import annotations

import csv
import io
from datetime import date
from pathlib import Path

import pytest

from logbook.errors import BadInput
from logbook.files.csv.rows import read_table
from logbook.files.csv.writing import write_table
from logbook.model.practice import parse
from logbook.record.file.practice_file import shipped_path
from logbook.record.file.store import Store
from logbook.record.writing import watches
from tests.record.making import a_watch, its_seals

HEADER = "field_name,field_name2,field_name3\r\n"


def cells(text: str) -> list[tuple[str, ...]]:
    """The records of a text, the header first."""
    table = read_table(text, "rfc.csv", ("field_name",))
    return [table.header, *(row.cells for row in table.rows)]


@pytest.fixture
def written(tmp_path: Path) -> str:
    """A table as it is exported: of two watches, one with everything in its note that must be quoted."""
    practice = parse(shipped_path().read_text(encoding="utf-8"))
    with Store.open(tmp_path / "record.logbook", create=True) as store:
        watches.add(store, a_watch("aaa", note='b\r\nbb, "quoted"'), its_seals(), [], practice)
        watches.add(store, a_watch("zzz", added_on=date(2024, 1, 2)), its_seals(), [], practice)
        with store.reading() as rows:
            return write_table(rows, "watches").text


def test_rule_1_each_record_is_on_a_line_of_its_own_delimited_by_a_line_break(written: str) -> None:
    """ "Each record is located on a separate line, delimited by a line break (CRLF)." """
    assert cells("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n") == [("aaa", "bbb", "ccc"), ("zzz", "yyy", "xxx")]
    assert written.replace("\r\n", "").count("\n") == 0
    assert len(written.removesuffix("\r\n").split("\r\n")) == 1 + 2 + 1  # and one inside the note


def test_rule_2_the_last_record_may_or_may_not_have_an_ending_line_break(written: str) -> None:
    """ "The last record in the file may or may not have an ending line break." """
    assert cells("aaa,bbb,ccc\r\nzzz,yyy,xxx") == cells("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n")
    assert written.endswith("\r\n")


def test_rule_3_the_header_has_the_same_format_and_the_same_number_of_fields(written: str) -> None:
    """ "This header will contain names corresponding to the fields in the file and should contain the same
    number of fields as the records in the rest of the file" """
    assert cells(HEADER + "aaa,bbb,ccc\r\n")[0] == ("field_name", "field_name2", "field_name3")
    assert len({len(record) for record in csv.reader(io.StringIO(written, newline=""))}) == 1
    with pytest.raises(BadInput, match=r"^rfc\.csv, row 2: the row has 2 cells, fewer than the 3 columns"):
        cells(HEADER + "aaa,bbb\r\n")


def test_rule_4_each_line_has_the_same_number_of_fields_and_spaces_are_part_of_them() -> None:
    """ "Each line should contain the same number of fields throughout the file. Spaces are considered part of
    a field and should not be ignored. The last field in the record must not be followed by a comma." """
    assert cells(HEADER + "aaa, bbb ,ccc\r\n")[1] == ("aaa", " bbb ", "ccc")
    with pytest.raises(BadInput, match="the row has 4 cells, more than the 3 columns"):
        cells(HEADER + "aaa,bbb,ccc,\r\n")


def test_rule_5_a_field_may_or_may_not_be_enclosed_in_double_quotes(written: str) -> None:
    """ "Each field may or may not be enclosed in double quotes … If fields are not enclosed with double
    quotes, then double quotes may not appear inside the fields." """
    assert cells(HEADER + '"aaa","bbb","ccc"\r\nzzz,yyy,xxx')[1:] == [
        ("aaa", "bbb", "ccc"),
        ("zzz", "yyy", "xxx"),
    ]
    assert '"b\r\nbb, ""quoted"""' in written
    with pytest.raises(BadInput, match="after the quotation mark"):
        cells(HEADER + '"aaa"a,bbb,ccc\r\n')


def test_rule_6_line_breaks_double_quotes_and_commas_are_enclosed(written: str) -> None:
    """ "Fields containing line breaks (CRLF), double quotes, and commas should be enclosed in
    double-quotes." """
    assert cells(HEADER + '"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx')[1] == ("aaa", "b\r\nbb", "ccc")
    assert 'b\r\nbb, "quoted"' in next(
        row for row in csv.reader(io.StringIO(written, newline="")) if "aaa" in row
    )


def test_rule_7_a_double_quote_inside_is_escaped_by_another(written: str) -> None:
    """ "If double-quotes are used to enclose fields, then a double-quote appearing inside a field must be
    escaped by preceding it with another double quote." """
    assert cells(HEADER + '"aaa","b""bb","ccc"')[1] == ("aaa", 'b"bb', "ccc")
    assert '""quoted""' in written
