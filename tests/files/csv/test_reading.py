"""Exposures from a CSV table: what is understood, and what is refused with its row and its column."""

from __future__ import annotations

from datetime import date, time
from typing import Any

import pytest

from logbook.errors import BadInput
from logbook.files.csv import rows as csv_rows
from logbook.files.csv.columns import EXPOSURE_HEADERS, EXPOSURES
from logbook.files.csv.reading import kind_of_table, read_exposures
from logbook.model.practice import parse
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Exposure, Settings, Watch
from logbook.record.file.practice_file import shipped_path

PRACTICE = parse(shipped_path().read_text(encoding="utf-8"))
TODAY = date(2026, 8, 1)
HOME = Settings(zone="Europe/Berlin")
BLUE = Watch("Blue bezel", "divers", 20e5, TODAY, TODAY, id=1)
LIDO = Watch("Lido chrono", "water-resistant", 10e5, TODAY, TODAY, pushers=True, id=2)
HEAD = "watch,date,activity,depth_m,minutes\n"


def read(text: str, **more: Any) -> list[Exposure]:
    return [one.exposure for one in incoming(text, **more)]


def incoming(text: str, **more: Any) -> list[Any]:
    told: dict[str, Any] = {"practice": PRACTICE, "settings": HOME, "today": TODAY, "watches": [BLUE, LIDO]}
    return read_exposures(text, "swims.csv", **(told | more))


def refused(text: str, **more: Any) -> tuple[str | None, str]:
    with pytest.raises(BadInput) as caught:
        read(text, **more)
    assert caught.value.message.startswith("swims.csv")
    return caught.value.where, caught.value.message


def test_a_row_is_the_exposure_that_a_line_would_be() -> None:
    text = HEAD + "Blue bezel,2026-07-03,dive,21,38\n"
    wanted = make_exposure(
        PRACTICE, HOME, activity="dive", starts_on=date(2026, 7, 3), today=TODAY, depth_m=21, duration_s=2280,
        watch=BLUE,
    )  # fmt: skip
    assert read(text) == [wanted]


def test_every_column_is_understood_under_every_name_and_unit() -> None:
    cells = {
        "length": {"m": "3", "ft": "10", "cm": "300", None: "3m"},
        "time": {"s": "2280", "min": "38", "h": "0.5", None: "38min"},
        "temperature": {"c": "17", "f": "64", None: "17C"},
    }
    plain = {
        "watch": "lido chrono", "activity": "Swim", "starts_on": "2026-07-03", "starts_at": "10:40",
        "zone": "UTC",
        "utc_offset_s": "7200", "planned": "no", "planned_to": "", "basis": "en 13319", "gauge_pa": "",
        "water": "Sea", "salinity": "38", "water_c_assumed": "no", "dips": "2", "rinsed": "yes",
        "note": "warm",
        "id": "7", "crown_wet": "1", "crown_under": "1", "pusher_wet": "1", "pusher_under": "1",
    }  # fmt: skip
    for column in EXPOSURES:
        for name, unit in column.headers().items():
            cell = plain.get(column.field) or cells.get(column.reads, {}).get(unit and unit.lower(), "")
            base = {"watch": "Blue bezel", "activity": "swim", "starts_on": "2026-07-03"}
            header = [name, *(field for field in base if field != column.field)]
            row = [cell, *(value for field, value in base.items() if field != column.field)]
            extra = ",time\n" if column.field == "utc_offset_s" else "\n"
            ending = ",10:40\n" if column.field == "utc_offset_s" else "\n"
            if column.field.startswith("pusher"):
                row[1] = "Lido chrono"
            assert len(read(",".join(header) + extra + ",".join(row) + ending)) == 1, name


@pytest.mark.parametrize(
    ("header", "cell", "depth_m"),
    [
        ("depth_m", "21", 21.0),
        ("depth_ft", "70", 21.336),
        ("Depth (ft)", "70", 21.336),
        ("Max depth [m]", "21.5", 21.5),
        ("depth", "21m", 21.0),
        ("depth", "70 ft", 21.336),
        ("depth_m", '"21,5"', 21.5),
    ],
)
def test_a_depth_has_its_unit_in_its_column_or_in_its_cell(header: str, cell: str, depth_m: float) -> None:
    (one,) = read(f"watch,date,activity,minutes,{header}\nblue,2026-07-03,dive,38,{cell}\n")
    assert one.depth_m == depth_m


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_commas_semicolons_and_tabs_are_told_from_the_header(delimiter: str) -> None:
    rows = [["watch", "date", "activity", "depth_m", "minutes", "note"],
            ["Blue bezel", "2026-07-03", "dive", '"21,5"' if delimiter == "," else "21,5", "38",
             "calm"]]  # fmt: skip
    (one,) = read("\r\n".join(delimiter.join(row) for row in rows))
    assert (one.depth_m, one.note) == (21.5, "calm")


@pytest.mark.parametrize("said", ["sep=;\r\n", "SEP=;\n", '"sep=;"\r\n', "\ufeffsep=;;;;\n"])
def test_a_first_line_that_says_the_delimiter_is_no_header(said: str) -> None:
    text = said + 'watch;date;activity;note\nblue;2026-07-03;pool;"a, b"\n'
    assert kind_of_table(text, "swims.csv") == "exposures"
    (one,) = incoming(text)
    assert (one.place, one.exposure.note) == ("row 3", "a, b")


@pytest.mark.parametrize("cell", ["38min20s", "38 min 20 s"])
def test_a_time_with_seconds_is_written_with_its_units(cell: str) -> None:
    (one,) = read(f"watch,date,activity,dive_time\nblue,2026-07-03,pool,{cell}\n")
    assert one.duration_s == 2300


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_a_table_in_utf_16_without_its_mark_says_what_to_do(encoding: str) -> None:
    text = HEAD.encode(encoding).decode("utf-8")
    with pytest.raises(BadInput, match="if it is UTF-16, save it as UTF-8"):
        kind_of_table(text, "swims.csv")


def test_semicolons_in_a_note_do_not_make_it_a_table_of_semicolons() -> None:
    (one,) = read('note,watch,date,activity\n"a;b;c;d;e;f",blue,2026-07-03,pool\n')
    assert one.note == "a;b;c;d;e;f"


@pytest.mark.parametrize(
    ("dates", "day"), [("day-first", date(2026, 7, 3)), ("month-first", date(2026, 3, 7))]
)
def test_a_date_is_day_first_or_month_first_where_that_was_said(dates: Any, day: date) -> None:
    for text in ("03/07/2026", "3.7.2026", "3-7-2026"):
        (one,) = read(f"watch,date,activity\nblue,{text},pool\n", dates=dates)
        assert one.starts_on == day
    (one,) = read("watch,date,activity\nblue,2026-07-03,pool\n", dates=dates)
    assert one.starts_on == date(2026, 7, 3)


def test_a_date_that_can_be_read_in_two_ways_is_not_guessed() -> None:
    where, said = refused("watch,date,activity\nblue,03/07/2026,pool\n")
    assert where == "row 2, date"
    assert "'03/07/2026' can be read day first or month first" in said
    assert "--dates day-first" in said
    assert "2026-07-03" in said


def test_a_time_may_stand_after_the_day_or_in_its_own_column() -> None:
    for text in ("2026-07-03 10:40", "2026-07-03T10:40:00"):
        (one,) = read(f"watch,date,activity\nblue,{text},pool\n")
        assert (one.starts_on, one.starts_at) == (date(2026, 7, 3), time(10, 40))
    (one,) = read("watch,date,time,activity\nblue,2026-07-03,10:40,pool\n")
    assert (one.starts_at, one.zone, one.utc_offset_s) == (time(10, 40), "Europe/Berlin", 7200)
    where, said = refused("watch,date,time,activity\nblue,2026-07-03 10:40,10:40,pool\n")
    assert (where, "once is right" in said) == ("row 2, date", True)
    where, said = refused("watch,date,activity\nblue,2026-07-03T10:40Z,pool\n")
    assert (where, "column zone" in said) == ("row 2, date", True)


def test_a_row_without_a_name_is_of_the_watch_that_was_given() -> None:
    text = "watch,date,activity\n,2026-07-03,pool\nLido,2026-07-04,pool\n"
    assert [one.watch_id for one in read(text, watch=BLUE)] == [1, 2]
    where, said = refused(text)
    assert (where, "--watch NAME" in said) == ("row 2, watch", True)
    assert [one.watch_id for one in read("date,activity\n2026-07-03,pool\n", watch=LIDO)] == [2]


def test_equal_rows_of_a_file_are_told_apart_and_the_same_again_in_another_spelling() -> None:
    rows = "blue,2026-07-03,dive,21,38\n"
    first, second, third = incoming(HEAD + rows * 2 + "Lido,2026-07-03,dive,21,38\n")
    assert (first.origin[-2:], second.origin[-2:], third.origin[-2:]) == ("#1", "#2", "#1")
    assert first.origin[:-2] == second.origin[:-2] == third.origin[:-2]
    (other,) = incoming("activity;duration;depth_m;date;watch\nDive;38min;21,0;2026-07-03;Blue bezel\n")
    assert other.origin == first.origin
    (changed,) = incoming(HEAD + "blue,2026-07-03,dive,22,38\n")
    assert changed.origin != first.origin


def test_places_are_lines_as_an_editor_counts_them() -> None:
    text = HEAD.replace("minutes", "minutes,note")
    text += '\nblue,2026-07-03,pool,,,"two\nlines"\nblue,2026-07-04,pool,,,\nblue,2026-07-05,pool,x,,\n'
    where, _ = refused(text)
    assert where == "row 6 (record 5), depth_m"
    found = incoming(text.replace(",x,", ",,"))
    assert [one.place for one in found] == ["row 3", "row 5 (record 4)", "row 6 (record 5)"]
    assert found[0].exposure.note == "two lines"


@pytest.mark.parametrize(
    ("text", "where", "words"),
    [
        ("", "swims.csv", "is empty; a table begins with a line of column names"),
        (" \n\n", "swims.csv", "is empty"),
        (HEAD, "row 1", "a header, but no row"),
        (HEAD + "\n,,,,\n", "row 1", "a header, but no row"),
        ("watch,date\nblue,2026-07-03\n", "row 1", "there is no column activity"),
        ("watch,activity\nblue,pool\n", "row 1", "there is no column date"),
        (HEAD.replace("minutes", "minuets") + "blue,2026-07-03,dive,21,38\n", "row 1", "no column minuets"),
        (HEAD.replace("minutes", "minuets") + "blue,2026-07-03,dive,21,38\n", "row 1", "Did you mean"),
        ("watch,date,activity,depth_m,depth_ft\nblue,2026-07-03,dive,1,3\n", "row 1", "one and the same"),
        ("watch,date,activity,date\nblue,2026-07-03,dive,\n", "row 1", "date and date are one and the same"),
        ("watch,date,activity,\nblue,2026-07-03,pool,x\n", "row 1", "column 4 has cells but no name"),
        (HEAD + "blue,2026-07-03,dive,21\n", "row 2", "the row has 4 cells, fewer than the 5 columns"),
        (HEAD + "blue,2026-07-03,dive,21,5,38\n", "row 2", "6 cells, more than the 5 columns of the header."),
        (HEAD + "blue,2026-07-03,dive,21,5,38\n", "row 2", "A cell with a comma in it stands in"),
        (HEAD + 'blue,2026-07-03,"dive,21,38\n', "row 2", "opened here and never closed"),
        (HEAD + 'blue,2026-07-03,"dive"x,21,38\n', "row 2", 'write "" for one inside'),
        (HEAD + "blue,2026-07-03,dive,21m,38\n", "row 2, depth_m", "the name of its column says m"),
        (HEAD + "blue,2026-07-03,dive,deep,38\n", "row 2, depth_m", "'deep' is not a number"),
        (HEAD + '"blue",2026-07-03,dive,"1,200",38\n', "row 2, depth_m", "can be read in two ways"),
        (HEAD + "blue,2026-07-03,dive,,38\n", "row 2, depth_m", "How deep was it?"),
        (HEAD + "blue,2026-07-03,dive,70000,38\n", "row 2, depth_m", "out of range"),
        (HEAD + "blue,2026-07-03,dive,21,0\n", "row 2, minutes", "out of range"),
        (HEAD + "blue,2026-07-03,diving,21,38\n", "row 2, activity", "Did you mean"),
        (HEAD + "blue,2026-07-03,,21,38\n", "row 2, activity", "The activity is missing"),
        (HEAD + "blue,,dive,21,38\n", "row 2, date", "The date is missing"),
        (HEAD + "blue,3 july,dive,21,38\n", "row 2, date", "write the year first, such as 2026-07-03"),
        (HEAD + "blue,2026/7/03,dive,21,38\n", "row 2, date", "write 2026-07-03"),
        (HEAD + "blue,2026.07.03,dive,21,38\n", "row 2, date", "write 2026-07-03"),
        (HEAD + "blue,2026/02/30,dive,21,38\n", "row 2, date", "not in the calendar"),
        (HEAD + "blue,2026/07/03 10:40,dive,21,38\n", "row 2, date", "write 2026-07-03"),
        (HEAD + "blue,2026-07-03,dive,21,38:20\n", "row 2, minutes", "38min20s or 38h20, and name the"),
        ("watch,date,activity,dive_time\nblue,2026-07-03,pool,38:20\n", "row 2, dive_time", "38min20s or"),
        ("watch,date,activity,duration\nblue,2026-07-03,pool,1:08:20\n", "row 2, duration", "68min20s."),
        ("sep=|\n" + HEAD, "row 1", "separated by comma, semicolon or tab, not by '|'"),
        ("sep=;\n", "row 1", "no line of column names"),
        ("sep=,\n" + HEAD + "blue,2026-07-03,dive,x,38\n", "row 3, depth_m", "'x' is not a number"),
        (HEAD + "blue,2026-02-30,dive,21,38\n", "row 2, date", "not in the calendar"),
        (HEAD + "blue,03/07/26,dive,21,38\n", "row 2, date", "write the year in full"),
        (HEAD + "blue,2026-08-02,dive,21,38\n", "row 2, date", "lies in the future"),
        (HEAD + "green,2026-07-03,dive,21,38\n", "row 2, watch", "There is no watch 'green'"),
        ("watch,date,activity,rinsed\nblue,2026-07-03,pool,maybe\n", "row 2, rinsed", "is not yes or no"),
        ("watch,date,activity,dips\nblue,2026-07-03,pool,1.5\n", "row 2, dips", "whole number"),
        ("watch,date,activity,depth\nblue,2026-07-03,pool,2\n", "row 2, depth", "write it as 21m, or name"),
        ("watch,date,activity,temp\nblue,2026-07-03,pool,290K\n", "row 2, temp", "not in kelvin"),
        ("watch,date,activity,temp_c\nblue,2026-07-03,pool,290\n", "row 2, temp_c", "Did you mean 290 K"),
        ("watch,date,activity,pusher_wet\nblue,2026-07-03,pool,1\n", "row 2, pusher_wet", "has no pushers"),
        ("watch,date,activity,gauge_pa\nblue,2026-07-03,pool,9e6\n", "row 2, gauge_pa", "The pressure is"),
        ("watch,date,activity\nblue,2026-07-03,po\x00ol\n", "row 2", "NUL"),
        ("watch,date,activity,note\nblue,2026-07-03,pool,a\x1b[2J\n", "row 2, note", "character \\x1b"),
        ("a" * 50_000 + "\n", "row 1", "more than 20,000 characters"),
        ("a" * 200_000 + "\n", "row 1", "longer than any text"),
        ("x," * 300 + "\n1\n", "row 1", "301 columns; at most 200"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said_with_its_row_and_its_column(text: str, where: str, words: str) -> None:
    found, said = refused(text)
    assert found == where
    assert words in said, said
    assert said.startswith("swims.csv is empty" if where == "swims.csv" else f"swims.csv, {where}: ")


def test_month_thirteen_is_not_taken_for_the_other_order() -> None:
    where, said = refused("watch,date,activity\nblue,25/07/2026,pool\n", dates="month-first")
    assert (where, "has no month 25" in said) == ("row 2, date", True)


def test_more_rows_than_any_table_has_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(csv_rows, "MOST_ROWS", 3)
    where, said = refused(HEAD + "blue,2026-07-03,dive,21,38\n" * 4)
    assert (where, "at most 3 rows" in said) == ("row 5", True)


def test_a_byte_order_mark_and_spaces_around_names_are_no_part_of_the_table() -> None:
    (one,) = read("\ufeff Watch , DATE ,Activity\nblue,2026-07-03,pool\n")
    assert one.activity == "pool"


@pytest.mark.parametrize(
    ("header", "kind"),
    [
        ("watch,date,activity", "exposures"),
        ("Date;Depth (m)", "exposures"),
        ("name\tmark\tmarked_bar", "watches"),
        ("\ufeffName", "watches"),
    ],
)
def test_the_header_tells_exposures_from_watches(header: str, kind: str) -> None:
    assert kind_of_table(f"{header}\nx\n", "a.csv") == kind


@pytest.mark.parametrize("header", ["id,watch_id,from_on", "time_s,value", "kind,on", '"open', "\n"])
def test_a_table_of_something_else_is_not_read(header: str) -> None:
    with pytest.raises(BadInput, match=r"^a\.csv( is empty|, row 1: )"):
        kind_of_table(f"{header}\n1\n" if header.strip() else header, "a.csv")


def test_no_two_columns_share_a_name() -> None:
    names = [name for column in EXPOSURES for name in column.headers()]
    assert len(names) == len(set(names)) == len(EXPOSURE_HEADERS)
