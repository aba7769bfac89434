"""The sentences that go wherever a score, a chance, a forecast, a verdict or a due date is shown."""

from __future__ import annotations

CAUTION = (
    "This score does not replace a pressure test. "
    "Have the watch tested by a qualified workshop before you rely on it in water."
)
# For places where one line of 80 columns is all there is.
CAUTION_LINE = "Bookkeeping, not a pressure test: have it tested before you rely on it in water."
LIFE_SUPPORT = (
    "A watch is not life-support: dive with a proper depth gauge and timer, within your training. "
    "The maker's instructions and a qualified workshop come first."
)
# Shown once per screen with a chance of passing a test. Papers by a federal materials institute on ageing
# seals say that static leak tests have limited sensitivity to how far a seal is degraded.
TESTS_SAY_LITTLE = (
    "A pass in air says little of a blow under water, "
    "and a test at rest finds a leak, not how far a seal has aged."
)
CROWN_IN_WATER = "Do not work crown or pushers in water."
