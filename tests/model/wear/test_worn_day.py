"""What stands against putting watches on record as worn on a day."""

from __future__ import annotations

from datetime import date

import pytest

from logbook.errors import BadInput, Refused
from logbook.model.text import full_date
from logbook.model.values import Watch, WatchRecord, WornStretch
from logbook.model.wear.worn_day import check_worn_day, sharing_on, stretch_on

TODAY = date(2026, 11, 25)
MAY_1, MAY_31 = date(2026, 5, 1), date(2026, 5, 31)


def record(name: str, *stretches: WornStretch, new_on: date | None = None) -> WatchRecord:
    watch = Watch(name, "unknown", None, date(2025, 1, 1), date(2025, 1, 1), new_on=new_on)
    return WatchRecord(watch, (), {}, stretches=stretches)


def test_of_two_stretches_on_a_day_the_one_entered_last_counts() -> None:
    month, day = WornStretch(MAY_1, MAY_31, 2.0), WornStretch(MAY_1, MAY_1, 0.0)
    assert stretch_on([month, day], MAY_1) == day
    assert stretch_on([month, day], MAY_31) == month
    assert stretch_on([month, day], TODAY) is None


@pytest.mark.parametrize("on", [MAY_1, date(2026, 5, 20), MAY_31])
def test_a_watch_on_record_as_worn_that_day_is_refused_by_name(on: date) -> None:
    worn = record("Blue bezel", WornStretch(MAY_1, MAY_31, 2.0))
    with pytest.raises(Refused, match=f"as worn on {full_date(on)}: Blue bezel. Nothing was added"):
        check_worn_day([record("Lido quartz"), worn], on, TODAY)


def test_of_many_the_first_few_are_named() -> None:
    worn = [record(f"Watch {n}", WornStretch(TODAY, TODAY, 2.0)) for n in range(5)]
    with pytest.raises(Refused, match=r"worn today: Watch 0, Watch 1, Watch 2 and 2 more\. Nothing"):
        check_worn_day(worn, TODAY, TODAY)


def test_a_day_outside_a_stretch_or_in_one_of_no_hours_may_be_added() -> None:
    check_worn_day([record("Blue bezel", WornStretch(MAY_1, MAY_31, 2.0))], date(2026, 6, 1), TODAY)
    check_worn_day([record("Blue bezel", WornStretch(MAY_1, MAY_31, 0.0))], MAY_1, TODAY)


@pytest.mark.parametrize("on", [date(2026, 11, 26), date(2026, 3, 31)])
def test_a_day_that_cannot_be_is_refused_with_the_nickname(on: date) -> None:
    with pytest.raises(BadInput, match=r"^New one: ") as refused:
        check_worn_day([record("New one", new_on=date(2026, 4, 1)), record("Blue bezel")], on, TODAY)
    assert refused.value.where == "on"


def test_only_hours_that_were_shared_out_evenly_are_shared_anew() -> None:
    seven = [record(f"Watch {n}", WornStretch(TODAY, TODAY, 103 / 60)) for n in range(7)]  # to the minute
    assert len(sharing_on([*seven, record("Blue bezel")], TODAY, 12.0)) == 7
    given = record("Lido quartz", WornStretch(TODAY, TODAY, 5.0))
    assert sharing_on([*seven, given], TODAY, 12.0) == []
    assert sharing_on([given], TODAY, 12.0) == []
    assert sharing_on([record("Blue bezel", WornStretch(MAY_1, MAY_31, 12.0))], MAY_1, 12.0) == []
