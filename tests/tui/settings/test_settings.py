"""The Settings room, from the Shelf and back, and what the record and this machine keep of it."""

from __future__ import annotations

import pytest
from textual.pilot import Pilot

from logbook.model.values import HomeWater, Settings
from logbook.record.file.places import looks_path
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.settings.draft import MONTHS
from logbook.tui.widgets.field import Field
from tests.tui.helpers import (
    SMALL,
    dealt,
    paste,
    press_all,
    raw_controls,
    shows,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    write,
)
from tests.tui.watching import Log


async def opened(pilot: Pilot[int]) -> None:
    await wait_for_room(pilot, "ShelfRoom")
    await pilot.press("comma")
    await wait_for_room(pilot, "SettingsRoom")
    await wait_for_text(pilot, "Home water", "On this machine")


async def answer(pilot: Pilot[int], name: str, text: str) -> None:
    """Type over what stands in a field."""
    pilot.app.screen.query_one(f"#{name}", Field).ask()
    await pilot.pause()
    await (write(pilot, text) if text else pilot.press("delete"))


async def test_units_and_salinity_are_changed_and_undo_takes_both_back(book: Book, log: Log) -> None:
    log("Blue bezel", "dive", depth_m=21.0, duration_s=2280, water_c=17.0)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "dive 21 m", "17 °C")
        await opened(pilot)
        await pilot.press("right", "down", "down")
        await wait_for_text(pilot, "[imperial: ft, psi, °F]", "0 ft", "A number alone is °F")
        await write(pilot, "50")
        await wait_for_text(pilot, "! salinity", "50 is not from 0 to 42")
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, "! salinity")
        await press_all(pilot, ["backspace", "backspace", "3", "8", "ctrl+s"])
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_text(pilot, "dive 69 ft", "63 °F")
        await wait_for_message(pilot, "The settings are changed. z: undo")
        assert book.settings == Settings(HomeWater(salinity=38.0), "UTC", "imperial")
        await pilot.press("z")
        await wait_for_message(pilot, "Undone: change the settings")
        await wait_for_text(pilot, "dive 21 m", "17 °C")
        assert book.settings == Settings()


async def test_a_zone_is_offered_as_one_types_and_months_are_all_or_none(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot)
        await answer(pilot, "zone", "lisb")
        await wait_for_text(pilot, "^t takes Europe/Lisbon", "is not a time zone")
        await pilot.press("ctrl+t")
        await wait_for(pilot, lambda: not shows(app, "is not a time zone"), "the zone is taken")
        assert shows(app, "No month known: 15 °C is taken")
        await answer(pilot, "jan", "59F")
        await wait_for_text(pilot, "All twelve months, or none: feb, mar,")
        await pilot.press("ctrl+s")
        await wait_for(
            pilot, lambda: app.focused is not None and app.focused.name == "feb", "feb is asked for"
        )
        for month in MONTHS[1:]:
            await answer(pilot, month, "15")
        await wait_for_text(pilot, "does not say the temperature")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "ShelfRoom")
        assert book.settings.zone == "Europe/Lisbon"
        assert book.settings.home.monthly_c == (15.0,) * 12


async def test_colours_are_tried_on_and_kept_on_this_machine_alone(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await opened(pilot)
        app.screen.query_one("#theme Options").focus()
        await pilot.press("s")
        await wait_for(pilot, lambda: app.theme == "sand", "sand is tried on")
        await pilot.press("escape")
        await wait_for(pilot, lambda: app.theme == "deep", "it is put away")
        assert not looks_path().exists()
        await opened(pilot)
        app.screen.query_one("#theme Options").focus()
        await press_all(pilot, ["s", "enter"])
        await wait_for_message(pilot, "Colours: sand (light), on this machine.")
        assert not book.steps()[0][0].label.startswith("change the settings")
    again = LogbookApp(book)
    async with again.run_test(size=SMALL) as pilot:
        await opened(pilot)
        await wait_for_text(pilot, "[sand (light)]")
        assert again.theme == "sand"


async def test_without_a_record_saving_settings_begins_one(
    empty_book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TZ", "Australia/Sydney")
    app = LogbookApp(empty_book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_room(pilot, "WelcomeRoom")
        await pilot.press("escape")
        await opened(pilot)
        await wait_for_text(pilot, "Australia/Sydney")
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "Nothing was changed.")
        assert not empty_book.exists()
        await opened(pilot)
        await answer(pilot, "altitude", "1500 ft")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "ShelfRoom")
        assert empty_book.settings == Settings(HomeWater(altitude_m=457.2), "Australia/Sydney")


async def test_hostile_text_stays_text_in_every_field(book: Book) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await opened(pilot)
        names = ("zone", "salinity", "latitude", "altitude", "jan", "dec")
        for texts in dealt(names):
            for name, text in texts.items():
                app.screen.query_one(f"#{name}", Field).entry.value = text
            app.screen.query_one(f"#{name}", Field).ask()
            await paste(pilot, text)
            assert raw_controls(app) == []
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, "Bookkeeping, not a pressure test", "^s save")
        assert book.settings == Settings()


async def test_units_of_one_window_are_said_and_stay_when_something_else_is_changed(
    book: Book, log: Log
) -> None:
    log("Blue bezel", "dive", depth_m=21.0, duration_s=2280, water_c=17.0)
    book.units_asked = "imperial"
    app = LogbookApp(book)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await wait_for_text(pilot, "dive 69 ft")
        await opened(pilot)
        await wait_for_text(
            pilot, "[metric: m, bar, °C]", "Shown in imperial while this window is open", "0 m"
        )
        await answer(pilot, "salinity", "38")
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "The settings are changed. z: undo")
        await wait_for_text(pilot, "dive 69 ft")
        assert book.settings == Settings(HomeWater(salinity=38.0), "UTC", "metric")
        await opened(pilot)
        await pilot.press("right")
        await wait_for(pilot, lambda: not shows(app, "Shown in imperial"), "the units picked are those shown")
        await pilot.press("ctrl+s")
        await wait_for(pilot, lambda: book.settings.units == "imperial", "they are kept")
        assert book.units_asked is None
