"""The tests that stand behind a mark, as data: what a plain mark and a diver's mark were put through.

All figures come from secondary sources that quote the standards named beside them; the standards themselves
decide. These are tests of a new watch (of a sample, or of each piece), not a promise for a worn one.
"""

from __future__ import annotations

from dataclasses import dataclass

WATER_RESISTANT = "water-resistant"
DIVERS = "divers"
DIVERS_MIXED_GAS = "divers-mixed-gas"

ISO_22810 = "ISO 22810:2010 (and its forerunner ISO 2281:1990), as secondary sources quote it"
ISO_6425 = "ISO 6425:2018 (and 1996), as secondary sources quote it"


@dataclass(frozen=True, slots=True)
class MarkTest:
    """One test behind a mark.

    `levels` are (name, value, unit) of what is applied, in the order of the test, durations included.
    `share_of_mark` is the test pressure as a share of the marked pressure, where the test has one.
    """

    name: str
    levels: tuple[tuple[str, float, str], ...]
    passes_when: str
    source: str
    share_of_mark: float | None = None


_CONDENSATION = MarkTest(
    "condensation",
    (
        ("plate", 40.0, "°C"),
        ("plate, at most", 45.0, "°C"),
        ("drop on the glass", 18.0, "°C"),
        ("drop, at most", 25.0, "°C"),
        ("wait", 60.0, "s"),
    ),
    "no fog inside the glass",
    ISO_22810,
)
_NO_FOG = "works as before and passes the condensation test"

_PLAIN = (
    MarkTest("shallow water", (("depth", 0.10, "m"), ("for", 3600.0, "s")), _NO_FOG, ISO_22810),
    MarkTest(
        "crown and pushers",
        (("depth", 0.10, "m"), ("force", 5.0, "N"), ("for", 600.0, "s")),
        _NO_FOG,
        ISO_22810,
    ),
    MarkTest(
        "temperature changes",
        (
            ("depth", 0.10, "m"),
            ("first", 40.0, "°C"),
            ("then", 20.0, "°C"),
            ("then", 40.0, "°C"),
            ("in each", 300.0, "s"),
            ("between, at most", 60.0, "s"),
        ),
        _NO_FOG,
        ISO_22810,
    ),
    MarkTest("water pressure", (("for", 600.0, "s"),), _NO_FOG, ISO_22810, share_of_mark=1.0),
    MarkTest(
        "air pressure",
        (("pressure", 2e5, "Pa"), ("air let in, at most", 50.0, "µg/min")),
        "no more air than the limit; this or the water pressure, not both",
        ISO_22810,
    ),
    _CONDENSATION,
)

_DIVERS = (
    MarkTest("long immersion", (("depth", 0.30, "m"), ("for", 180_000.0, "s")), _NO_FOG, ISO_6425),
    MarkTest(
        "crown and pushers",
        (("force", 5.0, "N"), ("for", 600.0, "s")),
        _NO_FOG,
        ISO_6425,
        share_of_mark=1.25,
    ),
    MarkTest(
        "thermal shock",
        (
            ("depth", 0.30, "m"),
            ("first", 40.0, "°C"),
            ("then", 5.0, "°C"),
            ("then", 40.0, "°C"),
            ("in each", 600.0, "s"),
            ("between, at most", 60.0, "s"),
        ),
        _NO_FOG,
        ISO_6425,
    ),
    MarkTest(
        "water pressure",
        (("for", 7200.0, "s"), ("then at", 0.3e5, "Pa"), ("for", 3600.0, "s")),
        _NO_FOG,
        ISO_6425,
        share_of_mark=1.25,
    ),
    MarkTest(
        "salt water",
        (("sodium chloride", 30.0, "g/L"), ("for", 86_400.0, "s")),
        "no marked change of case and parts, moving parts work",
        ISO_6425,
    ),
    MarkTest("magnetic field", (("field", 4800.0, "A/m"),), "still keeps time", ISO_6425 + "; ISO 764"),
    MarkTest("strap and bars", (("force", 200.0, "N"),), "strap and bars hold", ISO_6425),
    _CONDENSATION,
)

_MIXED_GAS = (
    *_DIVERS,
    MarkTest(
        "helium mixture",
        (("for", 1_296_000.0, "s"), ("let off within", 180.0, "s")),
        "works as before and the glass stays in place",
        ISO_6425,
        share_of_mark=1.25,
    ),
)

TESTS = {WATER_RESISTANT: _PLAIN, DIVERS: _DIVERS, DIVERS_MIXED_GAS: _MIXED_GAS}
EACH_PIECE = {WATER_RESISTANT: False, DIVERS: True, DIVERS_MIXED_GAS: True}  # else a sample
LEAST_DIVERS_DEPTH_M = 100.0  # m: a diver's mark starts there; ISO 6425, as secondary sources quote it


def behind(mark: str) -> tuple[MarkTest, ...]:
    """The tests behind a mark, in the order in which they are shown; none for an unmarked or unknown one."""
    return TESTS.get(mark, ())
