"""What a mark says: its pressure, what common practice takes it to allow, and how sentences print it."""

from __future__ import annotations

from logbook.model.practice import MarkRow, Practice
from logbook.model.values import Exposure, MarkUnit, Use, Watch
from logbook.model.wear import wear
from logbook.physics import motion
from logbook.physics.constants import FRESH_WATER_KG_M3

SPLASH = "rain, hands"
SURFACE = ("swim", "snorkel")
DIVING = ("free dive", "scuba", "mixed gas")
DIVERS = ("divers", "divers-mixed-gas")
# What sentences call a class of activity.
CLASS_WORDS = {
    SPLASH: "rain and washing hands", "swim": "swimming", "snorkel": "snorkelling",
    "free dive": "free diving", "scuba": "scuba diving", "mixed gas": "mixed-gas diving",
}  # fmt: skip
# What a stated use amounts to in the table of marks.
CLASS_OF_USE = {"diving": "scuba", "swimming": "swim", "dry": SPLASH}
# A stagnation head needs one density; sea water is the heavier, and it weighs little in any verdict.
SEA_KG_M3 = 1025.0


def mark_limit_pa(watch: Watch, practice: Practice) -> float:
    """The pressure in Pa that the mark is taken to mean; for a mark without a number, the least usual one."""
    return wear.reference_mark_pa(watch, practice)


def mark_row(watch: Watch, practice: Practice) -> MarkRow:
    """The last row of the table of marks that fits a watch."""
    marked_bar = (watch.marked_pa or 0.0) / 1e5
    fitting = [r for r in practice.marks if watch.mark in r.marks and marked_bar >= r.at_least_bar - 1e-9]
    return fitting[-1]


def allows(watch: Watch, activity_class: str, practice: Practice) -> str:
    """What the table of marks says about a class of activity: yes, light or no; an unknown mark says no."""
    return "no" if watch.mark == "unknown" else mark_row(watch, practice).allows[activity_class]


def use_of(activity_class: str) -> Use:
    """The stated use that covers a class of activity: snorkelling is swimming, a free dive is diving."""
    return "diving" if activity_class in DIVING else "dry" if activity_class == SPLASH else "swimming"


def class_of(exposure: Exposure, practice: Practice) -> str:
    """The class in the table of marks by which an exposure is judged: its activity's, or its depth's.

    A splash that goes deeper than `splash_depth_m`, or begins with a jump, is a swim; swimming or snorkelling
    deeper than `swim_depth_m` is a free dive, whatever it is called. An activity that the constants no longer
    name counts as diving.
    """
    activity = practice.activities.get(exposure.activity)
    judged = activity.mark_class if activity else "scuba"
    if judged == SPLASH and (exposure.depth_m > practice["splash_depth_m"] or exposure.jump_m > 0):
        judged = "swim"
    if judged in SURFACE and exposure.depth_m > practice["swim_depth_m"]:
        judged = "free dive"
    return judged


def density_kg_m3(exposure: Exposure) -> float:
    """Density in kg/m³ for the pressure of a speed or a jump."""
    if exposure.density_kg_m3 is not None:
        return exposure.density_kg_m3
    return SEA_KG_M3 if exposure.water in ("sea", "brackish") else FRESH_WATER_KG_M3


def jump_pa(exposure: Exposure) -> float:
    """Steady stagnation pressure of the jump in Pa gauge, at most; drag ignored."""
    return motion.jump_pa(exposure.jump_m, density_kg_m3(exposure))


def met_pa(exposure: Exposure) -> float:
    """The pressure that an exposure brought, in Pa gauge: by depth or jump, without the arm's speed."""
    return max(exposure.gauge_pa, jump_pa(exposure))


def mark_words(watch: Watch) -> str:
    """The mark as sentences and tables print it, with its number in the unit of the dial."""
    words = {
        "unmarked": "unmarked",
        "unknown": "unknown",
        "water-resistant": "water-resistant",
        "divers": "diver’s",
        "divers-mixed-gas": "diver’s, mixed gas",
    }[watch.mark]
    if watch.marked_pa is None:
        return words
    number = dial_number(watch.marked_pa, watch.marked_in)
    return number if watch.mark == "water-resistant" else f"{words} {number}"


def dial_number(marked_pa: float, marked_in: MarkUnit) -> str:
    """A marked pressure as on the dial: `20 bar`, or `200 m` by the trade's 10 m = 1 bar."""
    return f"{marked_pa / 1e4:g} m" if marked_in == "m" else f"{marked_pa / 1e5:g} bar"
