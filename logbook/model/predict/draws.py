"""Draws many sets of possible constants at once, so that a result carries its band.

A constant is log-normal in two halves: its value is the median, its low and high are the 10 % and 90 %
points. Draws go by the constant's name: one seed gives every seal and every watch the same constants,
whatever is asked first.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING
from zlib import crc32

from logbook.model.practice import Practice

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

Z90 = 1.2815515655446004  # 90 % point of the standard normal law
DRAWS = 2000
SEED = 1
STATED = "stated use"

# Constants of the wear share with a range. The wrist has one temperature, when worn and before an exposure.
RANGED = (
    "Ea", "worn_c", "storage_c", "n_p", "N_p", "n_t", "N_t", "H_salt", "unrinsed", "H_pool", "H_soap",
    "H_hot_tub", "U_dry", "U_wet", "U_under", "home_c", "p_mark_unnumbered_bar",
)  # fmt: skip
CHANNEL_FACTORS = ("m_p", "m_t", "m_s", "m_c", "m_h")


class Draws:
    """`count` sets of constants, each in standard deviations from its median.

    `deviations` gives these by name; the same name always gets the same ones.
    """

    def __init__(self, practice: Practice, count: int, deviations: Callable[[str], Array]) -> None:
        self.practice = practice
        self.count = count
        self._deviations = deviations
        self._made: dict[str, Array] = {}

    @classmethod
    def random(cls, practice: Practice, count: int = DRAWS, seed: int = SEED) -> Draws:
        """Draws sets at random, evenly over each constant's law (a Latin hypercube)."""
        import numpy as np

        even = _even_normal(count)

        def deviations(name: str) -> Array:
            order = np.random.default_rng([seed, crc32(name.encode())]).permutation(count)
            return even[order]

        return cls(practice, count, deviations)

    @classmethod
    def one_at_a_time(cls, practice: Practice, names: Sequence[str]) -> Draws:
        """The medians, then two sets for each name, with that name alone at its low and at its high."""
        import numpy as np

        def deviations(name: str) -> Array:
            z = np.zeros(1 + 2 * len(names))
            if name in names:
                at = 1 + 2 * names.index(name)
                z[at : at + 2] = -Z90, Z90
            return z

        return cls(practice, 1 + 2 * len(names), deviations)

    def constant(self, name: str) -> Array:
        """A constant of practice.toml, in its own unit."""
        row = self.practice.constants[name]
        return self._drawn(name, row.value, row.low, row.high)

    def factor(self, seal_row: str, channel: str) -> Array:
        """A seal factor such as m_p of the `crystal`, with the spread that all seal factors share."""
        value = getattr(self.practice.seals[seal_row], channel)
        spread = self.practice["m_spread"]
        return self._drawn(factor_name(seal_row, channel), value, value / spread, value * spread)

    def years(self, material: str) -> Array:
        """Years of one interval of a material."""
        row = self.practice.material(material)
        return self._drawn(years_name(material), row.years, row.low, row.high)

    def stated_times(self) -> Array:
        """By how much the stated use is multiplied for what really happened before the log began."""
        spread = self.practice["assumed_spread"]
        return self._drawn(STATED, 1.0, 1 / spread, spread)

    def between(self, name: str) -> Array:
        """Numbers spread evenly from 0 to 1, for a date known only as a range; 0.5 at the median."""
        import numpy as np

        z = self._deviations(name)
        return np.array([0.5 * math.erfc(-each / math.sqrt(2)) for each in z])

    def _drawn(self, name: str, value: float, low: float, high: float) -> Array:
        if name not in self._made:
            self._made[name] = two_halves(self._deviations(name), value, low, high)
        return self._made[name]


def factor_name(seal_row: str, channel: str) -> str:
    """The name of a seal factor among the drawn constants: `m_p crystal`."""
    return f"{channel} {seal_row}"


def years_name(material: str) -> str:
    """The name of a material's years among the drawn constants: `years NBR`."""
    return f"years {material}"


def two_halves(deviations: Array, value: float, low: float, high: float) -> Array:
    """Log-normal in two halves: `value` at 0, `low` and `high` at the 10 % and 90 % points.

    A value of 0, or a range without width, stays as it is; a range that reaches 0 °C is normal in two halves.
    """
    import numpy as np

    if value == 0 or low == high:
        return np.full(len(deviations), value)
    if low <= 0:
        return value + deviations * np.where(deviations < 0, value - low, high - value) / Z90
    below, above = math.log(value / low) / Z90, math.log(high / value) / Z90
    result: Array = value * np.exp(deviations * np.where(deviations < 0, below, above))
    return result


@lru_cache(maxsize=4)
def _even_normal(count: int) -> Array:
    """The middles of `count` equally likely parts of the standard normal law."""
    from statistics import NormalDist

    import numpy as np

    law = NormalDist()
    return np.array([law.inv_cdf((n + 0.5) / count) for n in range(count)])


def named_ranges(practice: Practice) -> Mapping[str, tuple[float, float, float, str]]:
    """Every constant with a range that is not of one seal or material: name -> value, low, high, unit."""
    return {
        name: (row.value, row.low, row.high, row.unit)
        for name in RANGED
        for row in [practice.constants[name]]
        if row.low < row.high
    }
