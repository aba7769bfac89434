"""What a seal met, summed up by kind, so that any set of constants can price it afterwards.

The ledger says what an exposure cost under the constants in force. Here that is taken apart into hours, uses
and cycles of so many K or of such a share of the mark: a few dozen amounts, however long the record. A set of
constants then gives each amount its price. With the constants in force, the sum is the ledger's own.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from logbook.model.practice import Practice
from logbook.model.predict.draws import Draws
from logbook.model.values import CHANNELS, Exposure, Position, Shares, Watch
from logbook.model.wear import wear

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Whole = NDArray[np.int64]

Kind = Literal[
    "worn", "stored", "net", "pressure", "swing", "salt", "salt left", "pool", "soap", "hot tub", "dry",
    "wet", "under",
]  # fmt: skip
CHANNEL_OF: Mapping[Kind, str] = {
    "worn": "ageing", "stored": "ageing", "net": "ageing", "pressure": "pressure", "swing": "temperature",
    "salt": "salt", "salt left": "salt", "pool": "chemicals", "soap": "chemicals", "hot tub": "chemicals",
    "dry": "handling", "wet": "handling", "under": "handling",
}  # fmt: skip

# Cycles are sorted into classes: pressure by share of the mark, each 5 % larger than the one before, from
# a ten-thousandth up; of temperature by half a kelvin.
LEAST_PART, STEP, CLASSES = 1e-4, 1.05, 240
LEAST_SWING_K = 0.5  # a profile may hold cycles although it ends as warm as it began


class Key(NamedTuple):
    """One kind of amount. `at` is the range of a cycle, `drifts` which temperatures of its swing are assumed.

    1: it starts from the wrist's temperature; 2: it ends at the home water's; 3: both.
    """

    kind: Kind
    at: float = 0.0
    drifts: int = 0


@dataclass(frozen=True, eq=False)
class Tally:
    """Amounts by key, one row for each stretch of time."""

    keys: tuple[Key, ...]
    amounts: Array  # by stretch and key

    def under(self, prices: Array) -> Array:
        """Wear share by stretch and set of constants."""
        result: Array = self.amounts @ prices
        return result

    def by_channel(self, prices: Array) -> Shares:
        """What each channel has in all stretches together, as the mean over the sets of constants."""
        found = dict.fromkeys(CHANNELS, 0.0)
        for key, share in zip(self.keys, self.amounts.sum(axis=0) * prices.mean(axis=1), strict=True):
            found[CHANNEL_OF[key.kind]] += float(share)
        return Shares(**found)


@dataclass(frozen=True, eq=False)
class Contacts:
    """Contacts with water and what each cost one seal, as columns of one length.

    A row is `times` such contacts: shares and uses are their sums, hours and range those of one contact.
    """

    day: Whole  # the day's ordinal
    seal: Whole  # id
    counted: Whole  # 1 when the seal's middle fitting date lies before it
    water: NDArray[np.str_]
    times: Array
    hours: Array
    strength: Array  # strength of the salt: 1 in the sea, 0 where there is none
    rinsed: Whole
    gauge_pa: Array
    from_c: Array
    water_c: Array
    assumed: Whole  # the water's temperature was not said
    wet: Array
    under: Array
    ageing: Array
    pressure: Array
    temperature: Array

    def __len__(self) -> int:
        return len(self.day)

    def where(self, wanted: NDArray[np.bool_]) -> Contacts:
        """The contacts for which `wanted` is true."""
        from dataclasses import fields

        return Contacts(*(getattr(self, field.name)[wanted] for field in fields(self)))


class ContactRow(NamedTuple):
    """One row of `Contacts`, in the order of its columns."""

    day: int
    seal: int
    counted: int
    water: str
    times: float
    hours: float
    strength: float
    rinsed: int
    gauge_pa: float
    from_c: float
    water_c: float
    assumed: int
    wet: float
    under: float
    ageing: float
    pressure: float
    temperature: float


_WHOLE = {"day", "seal", "counted", "rinsed", "assumed"}


def contacts_of(rows: Iterable[Sequence[object]]) -> Contacts:
    """Rows as columns."""
    import numpy as np

    columns = list(zip(*rows, strict=True)) or [()] * len(ContactRow._fields)
    made: list[Any] = []
    for name, column in zip(ContactRow._fields, columns, strict=True):
        kind: type = np.int64 if name in _WHOLE else np.float64
        made.append(np.array(column, dtype=str if name == "water" else kind))
    return Contacts(*made)


def joined(contacts: Contacts | None, more: Contacts) -> Contacts:
    """Both, one after the other."""
    import numpy as np

    if contacts is None:
        return more
    from dataclasses import fields

    names = [field.name for field in fields(more)]
    return Contacts(*(np.concatenate([getattr(contacts, n), getattr(more, n)]) for n in names))


def row_of(
    exposure: Exposure, position: Position, shares: Shares, practice: Practice, times: float = 1.0
) -> ContactRow:
    """The row of a contact that is not in the ledger; `shares` are those of all `times` together."""
    wet, under = wear.uses(exposure, position)
    return ContactRow(
        day=0, seal=0, counted=1, water=exposure.water, times=times, hours=exposure.duration_s / 3600,
        strength=wear.salt_strength(exposure, practice), rinsed=int(exposure.rinsed),
        gauge_pa=exposure.gauge_pa, from_c=exposure.from_c, water_c=exposure.water_c,
        assumed=int(exposure.water_c_assumed), wet=wet * times, under=under * times, ageing=shares.ageing,
        pressure=shares.pressure, temperature=shares.temperature,
    )  # fmt: skip


def unmet_row(exposure: Exposure, position: Position, shares: Shares, practice: Practice) -> ContactRow:
    """The row of a contact on a day with no known seal at the place: it tells how the watch is used."""
    return row_of(exposure, position, shares, practice)._replace(day=exposure.starts_on.toordinal())


class Amounts:
    """Gathers amounts by stretch and key, any number of times."""

    def __init__(self, stretches: int) -> None:
        self.stretches = stretches
        self._sums: dict[Key, Array] = {}

    def add(self, key: Key, stretch: Whole | Sequence[int] | int, amount: Array | float) -> None:
        """Adds an amount to a stretch, or one to each of many."""
        import numpy as np

        if key not in self._sums:
            self._sums[key] = np.zeros(self.stretches)
        np.add.at(self._sums[key], stretch, amount)

    def add_to_each(self, stretches: Sequence[int], one: Amounts) -> None:
        """Adds the amounts of a single stretch to several alike."""
        for key, sums in one._sums.items():
            self.add(key, stretches, sums[0])

    def tally(self) -> Tally:
        """All amounts; a key without any is left out."""
        import numpy as np

        keys = tuple(sorted(key for key, sums in self._sums.items() if sums.any()))
        columns = [self._sums[key] for key in keys]
        empty = np.zeros((self.stretches, 0))
        return Tally(keys, np.stack(columns, axis=1) if columns else empty)


def add_contacts(
    amounts: Amounts, contacts: Contacts, stretch: Whole, position: Position, watch: Watch, practice: Practice
) -> None:
    """Takes contacts apart into amounts; `stretch` is the row that each belongs to."""
    if not len(contacts):
        return
    wet_hours = contacts.hours * contacts.times
    salt = wet_hours * contacts.strength
    rinsed = contacts.rinsed == 1
    _add(amounts, Key("net"), stretch, contacts.ageing)
    _add(amounts, Key("salt"), stretch[rinsed], salt[rinsed])
    _add(amounts, Key("salt left"), stretch[~rinsed], salt[~rinsed])
    kinds: tuple[Kind, ...] = ("pool", "soap", "hot tub")
    for kind in kinds:
        inside = contacts.water == kind
        _add(amounts, Key(kind), stretch[inside], wet_hours[inside])
    _add(amounts, Key("wet"), stretch, contacts.wet)
    _add(amounts, Key("under"), stretch, contacts.under)
    m = wear.factors(watch, position, practice)
    _add_pressure(amounts, contacts, stretch, m.m_p / practice["N_p"], watch, practice)
    _add_swings(amounts, contacts, stretch, m.m_t / practice["N_t"], practice)


def _add(amounts: Amounts, key: Key, stretch: Whole, amount: Array) -> None:
    if amount.any():
        amounts.add(key, stretch, amount)


def _add_pressure(
    amounts: Amounts, contacts: Contacts, stretch: Whole, each: float, watch: Watch, practice: Practice
) -> None:
    """Adds pressure cycles, counted as the number to the greatest depth that costs the same."""
    import numpy as np

    n = practice["n_p"]
    part = np.clip(contacts.gauge_pa / wear.reference_mark_pa(watch, practice), LEAST_PART, None)
    some = (contacts.pressure > 0) & (each > 0)
    if not some.any():
        return
    count = contacts.pressure[some] / each / part[some] ** n
    nodes = LEAST_PART * STEP ** np.arange(CLASSES, dtype=np.float64)
    for at, rows, share in _shared_out(part[some], count, nodes, n):
        amounts.add(Key("pressure", at), stretch[some][rows], share)


def _add_swings(
    amounts: Amounts, contacts: Contacts, stretch: Whole, each: float, practice: Practice
) -> None:
    """Adds temperature cycles, counted as the number of the largest swing that costs the same."""
    import numpy as np

    n, whole = practice["n_t"], practice["swing_k"]
    reached = np.where(
        contacts.water == "air",
        contacts.water_c
        + (contacts.from_c - contacts.water_c) * np.exp(-contacts.hours * 60 / practice["lag_wrist_min"]),
        contacts.water_c,
    )
    swing = np.clip(np.abs(contacts.from_c - reached), LEAST_SWING_K, None)
    some = (contacts.temperature > 0) & (each > 0)
    if not some.any():
        return
    count = contacts.temperature / max(each, 1e-300) / (swing / whole) ** n
    nodes = np.arange(1, 401, dtype=np.float64) * 0.5
    drifts = (contacts.from_c == practice["from_c"]).astype(int)
    drifts += 2 * ((contacts.assumed == 1) & (contacts.water_c == practice["home_c"]))
    for drift in (0, 1, 2, 3):
        chosen = some & (drifts == drift)
        # Signed: a swing into warmer water grows with it, one into colder water shrinks.
        for sign in (1.0, -1.0):
            inside = chosen & ((reached > contacts.from_c) == (sign > 0))
            if inside.any():
                for at, rows, share in _shared_out(swing[inside], count[inside], nodes, n):
                    amounts.add(Key("swing", sign * at, drift), stretch[inside][rows], share)


def _shared_out(
    ranges: Array, counts: Array, nodes: Array, exponent: float
) -> Iterable[tuple[float, Whole, Array]]:
    """Shares cycles between the two nearest classes: the same number and, at the exponent in force, cost."""
    import numpy as np

    above = np.clip(np.searchsorted(nodes, ranges), 1, len(nodes) - 1)
    low, high = nodes[above - 1], nodes[above]
    upper = (ranges**exponent - low**exponent) / (high**exponent - low**exponent)
    for classes, counted in ((above, counts * upper), (above - 1, counts * (1 - upper))):
        for at in np.unique(classes):
            rows = np.nonzero(classes == at)[0]
            yield float(nodes[at]), rows, counted[rows]


def prices(keys: Sequence[Key], position: Position, material: str, watch: Watch, draws: Draws) -> Array:
    """What one of each key costs this seal, by key and set of constants."""
    import numpy as np

    if not keys:
        return np.zeros((0, draws.count))
    tag = _Tag(position, material, watch, draws)
    return np.stack([tag.price(key) for key in keys])


class _Tag:
    """What a seal's prices are made of."""

    def __init__(self, position: Position, material: str, watch: Watch, draws: Draws) -> None:
        self.draws = draws
        self.row = wear.seal_row(watch, position)
        practice = draws.practice
        ea, worn, stored = (draws.constant(name) for name in ("Ea", "worn_c", "storage_c"))
        interval = 0.5 * (
            _rate(practice["interval_worn_c"], ea, practice)
            + _rate(practice["interval_storage_c"], ea, practice)
        )
        per_hour = 1 / interval / (draws.years(material) * wear.HOURS_A_YEAR)
        worn_share = _rate(worn, ea, practice) * per_hour
        # Most hours of an exposure come off the wrist, so its net ageing goes with the wrist's.
        in_force = wear.ageing_share_per_hour(practice["worn_c"], material, practice)
        self._ageing: dict[str, Array] = {
            "worn": worn_share,
            "stored": _rate(stored, ea, practice) * per_hour,
            "net": worn_share / in_force,
        }
        # Shares of the mark are kept at its value; a mark without a number may be worth more.
        mark = wear.unstated_mark(watch)
        self._to_mark = practice[mark] / draws.constant(mark) if mark else 1.0

    def price(self, key: Key) -> Array:
        """What one of this key costs, for each set."""
        if key.kind in self._ageing:
            return self._ageing[key.kind]
        if key.kind == "pressure":
            part: Array = (key.at * self._to_mark) ** self.draws.constant("n_p")
            return self._m("m_p") * part / self.draws.constant("N_p")
        if key.kind == "swing":
            return self._swing(key)
        channel, interval = _PER[key.kind]
        times = self.draws.constant("unrinsed") if key.kind == "salt left" else 1.0
        return self._m(channel) * times / self.draws.constant(interval)

    def _m(self, channel: str) -> Array:
        return self.draws.factor(self.row, channel)

    def _swing(self, key: Key) -> Array:
        import numpy as np

        draws, practice = self.draws, self.draws.practice
        warmer = np.full(draws.count, key.at)
        if key.drifts & 1:  # the wrist has one temperature, before an exposure and when worn
            warmer -= practice["from_c"] * (draws.constant("worn_c") / practice["worn_c"] - 1)
        if key.drifts & 2:
            warmer += draws.constant("home_c") - practice["home_c"]
        part: Array = (np.abs(warmer) / practice["swing_k"]) ** draws.constant("n_t")
        return self._m("m_t") * part / draws.constant("N_t")


def _rate(celsius: Array | float, ea_kj_mol: Array, practice: Practice) -> Array:
    """`heat.ageing_rate` for many activation energies at once."""
    import numpy as np

    from logbook.physics.constants import MOLAR_GAS_CONSTANT, kelvin

    reference_k = kelvin(practice["reference_c"])
    zero_c_k = kelvin(0.0)
    inverse = 1 / (np.asarray(celsius) + zero_c_k) - 1 / reference_k
    result: Array = np.exp(-ea_kj_mol * 1e3 / MOLAR_GAS_CONSTANT * inverse)
    return result


# How each kind is priced: the channel's factor, and the constant that says how many make one interval.
_PER: Mapping[str, tuple[str, str]] = {
    "salt": ("m_s", "H_salt"), "salt left": ("m_s", "H_salt"), "pool": ("m_c", "H_pool"),
    "soap": ("m_c", "H_soap"), "hot tub": ("m_c", "H_hot_tub"), "dry": ("m_h", "U_dry"),
    "wet": ("m_h", "U_wet"), "under": ("m_h", "U_under"),
}  # fmt: skip
