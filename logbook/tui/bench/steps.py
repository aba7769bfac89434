"""The steps of the guided condensation check in words; common practice, no source."""

from __future__ import annotations

from collections.abc import Mapping

from logbook.physics.tests_behind_marks import WATER_RESISTANT, behind

# Of a new watch, as secondary sources quote the standard named there: name -> value in °C or s.
_STANDARD = {name: value for name, value, _ in next(
    test for test in behind(WATER_RESISTANT) if test.name == "condensation").levels}  # fmt: skip
WAIT_S = _STANDARD["wait"]
LOOK = 3  # the step at which the timer has run out


# The word of each in the row, and what is done.
STEPS: Mapping[str, str] = {
    "1 before": (
        "This check is for a workshop. Do not heat a watch at home to look for fog: heat can harm oils, "
        "glue and gaskets. Read along here, or hand the watch in; the maker’s instructions and a qualified "
        "workshop come first. All steps are common practice, no source."
    ),
    "2 warm": (
        "The workshop lays the closed watch, crown home, on a warming plate until all of the case is warm. "
        f"The standard’s test of a new watch has {_STANDARD['plate']:g} to "
        f"{_STANDARD['plate, at most']:g} °C (ISO 22810, as secondary sources quote it); for a worn "
        "one the workshop decides."
    ),
    "3 cool": (
        "Put a drop of cool water, or a cool pad, on the middle of the crystal, and start the timer. The "
        f"standard’s drop has {_STANDARD['drop on the glass']:g} to {_STANDARD['drop, at most']:g} °C and "
        f"stays for {WAIT_S:g} s (from memory). Leave crown and pushers alone."
    ),
    "4 look": (
        "Wipe the crystal dry at once and look for fog, with a light from the side. What the cloth takes "
        "away was outside; fog is inside when it stays under the cloth and fades as the glass warms."
    ),
    "5 meaning": (
        "Fog inside: the case holds more vapour than its air can carry at so cold a spot. A leak is one "
        "cause, damp air sealed in is another; the numbers below tell which can be. A clear crystal proves "
        "nothing about the seals: only a pressure test does."
    ),
    "6 record": (
        "Put on record what was seen: fog (unless sealed air explains it, it stands until the watch is "
        "opened, dried and tested), or the check as a condensation test, passed or failed. A pass settles "
        "only fog that sealed air explains. With fog, leave the watch out of water and show it to a "
        "workshop."
    ),
}
