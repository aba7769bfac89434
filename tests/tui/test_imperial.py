"""One visit by an owner of feet, psi and Fahrenheit: no room tells the same thing in other units."""

from __future__ import annotations

import re

from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.habits import lines as habits_lines
from tests.tui.helpers import LARGE, press_all, screen_text, shows, text_of, wait_for_room, wait_for_text
from tests.tui.watching import DIVE, IdOf, Log, opened, to_the_log


async def test_log_working_amend_habits_and_check_speak_in_the_units_of_the_owner(
    book: Book, id_of: IdOf, log: Log
) -> None:
    """21 m on an instrument are 209,997 Pa = 30.5 psi; 20 bar are 290 psi; 17 °C = 62.6 °F; 15 K = 27 °F."""
    kept = log("Blue bezel", "dive", **DIVE)
    key = id_of("Blue bezel")
    book.units_asked = "imperial"
    app = LogbookApp(book)
    async with app.run_test(size=LARGE, notifications=True) as pilot:
        await opened(pilot, key)
        await to_the_log(pilot)
        await pilot.press("enter")
        await wait_for_text(pilot, "× (30.5 psi/290 psi)² / 100", "(27/63 °F)²", "38 min at 63 °F")
        await pilot.press("a")
        await wait_for_room(pilot, "AmendRoom")
        await wait_for_text(pilot, "Its figures stand in m and °C, as they are kept", "as it is on record")
        await pilot.press("escape", "end", "a")
        await wait_for_room(pilot, "AmendEventRoom")
        await wait_for_text(pilot, "pressure test passed, 290 psi", "290.0755 psi")
        assert not shows(app, "20 bar")
        await pilot.press("escape", "c")
        await wait_for_room(pilot, "CheckRoom")
        await wait_for_text(pilot, "68.898 ft", "dive 69 ft", "30.5 psi at 69 ft + arm 0.07 psi")
        await wait_for_text(pilot, "swing 89.6 → 62.6 °F is 27 °F of the 63 °F of the thermal-shock test")
        context = screen_text(app).partition("for context")[2]
        told = re.sub(r"row: diver’s[^)]*|its stated 200 m", "", context)
        assert re.findall(r"\d (?:bar|°C|K)\b", told) == []
        await pilot.press("escape", "w")
        await wait_for_room(pilot, "ExposureRoom")
        await wait_for_text(pilot, "68.898 ft", "30.5 psi gauge", "swing 89.6 → 62.6 °F", "27 °F")
        await press_all(pilot, ["ctrl+s", "r"])
        await wait_for_room(pilot, "WatchRoom")
    again = book.exposures(key)[0]
    assert again.id != kept.id
    assert (again.depth_m, again.gauge_pa, again.water_c) == (kept.depth_m, kept.gauge_pa, kept.water_c)


def test_how_a_watch_is_worn_is_told_in_the_units_of_the_owner(book: Book, id_of: IdOf) -> None:
    record = book.standing(id_of("Blue bezel")).record
    line = habits_lines.default_line(record, book.practice, "imperial")
    assert text_of([line]).startswith("Worn 12 h a day at 90 °F where nothing else is said; its crown is")
