"""The constants: what the shipped file says, what an override may change, and how a fault in it is told."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.errors import BadInput
from logbook.model import practice
from logbook.model.practice_check import CONSTANTS, KINDS, line_of
from logbook.model.values import CROWNS, MARK_KINDS, POSITIONS, USES
from tests.effort import tries
from tests.model.builders import PRACTICE, SHIPPED, practice_with

LINES = SHIPPED.splitlines()

# ---------------------------------------------------------------- what the shipped file says
# Values and ranges of docs/method.md, written out again.

EXPECTED: dict[str, tuple[float, float, float]] = {
    "Ea": (80, 65, 92), "worn_c": (32, 29, 34), "storage_c": (21, 17, 25), "n_p": (2, 1.5, 3),
    "N_p": (100, 30, 300), "n_t": (2, 1.5, 3), "N_t": (150, 50, 450), "swing_k": (35, 35, 35),
    "lag_water_min": (6, 3, 12), "lag_wrist_min": (20, 10, 40), "H_salt": (300, 150, 600),
    "unrinsed": (4, 2, 8), "H_pool": (300, 150, 600), "H_soap": (120, 60, 240), "H_hot_tub": (60, 30, 120),
    "U_dry": (6000, 3000, 12000), "U_wet": (200, 100, 400), "U_under": (20, 8, 50),
    "p_mark_unknown_bar": (3, 3, 3), "p_mark_unnumbered_bar": (2, 2, 3), "p_mark_unmarked_bar": (1, 1, 1),
    "m_spread": (1.3, 1.3, 1.3),
    "assumed_spread": (2.5, 2.5, 2.5), "near_mark": (0.6, 0.6, 0.6), "near_mark_divers": (0.8, 0.8, 0.8),
    "big_swing_k": (35, 35, 35), "hot_soap_c": (35, 35, 35), "jump_m": (3, 3, 3), "low_score": (20, 20, 20),
    "dive_overdue_months": (6, 6, 6), "silent_days": (180, 180, 180), "coming_up_days": (30, 30, 30),
    "named_reach_days": (21, 21, 21),
    "overdue_days": (14, 14, 14), "own_most_diving": (12, 12, 12), "own_most_swimming": (24, 24, 24),
    "own_most_dry": (60, 60, 60), "salt_reference": (35, 35, 35),
    "splash_depth_m": (0.5, 0.5, 0.5), "swim_depth_m": (10, 10, 10),
}  # fmt: skip


@pytest.mark.parametrize("name", EXPECTED)
def test_a_constant_has_the_value_and_the_range_of_the_method(name: str) -> None:
    constant = PRACTICE.constants[name]
    assert (constant.value, constant.low, constant.high) == EXPECTED[name]


@pytest.mark.parametrize(
    ("material", "years", "low", "high", "cap"),
    [
        ("NBR", 5, 3, 8, 7), ("HNBR", 5, 3, 8, 7), ("CR", 5, 3, 8, 7),
        ("FKM", 50 / 7, 30 / 7, 80 / 7, 10), ("EPDM", 50 / 7, 30 / 7, 80 / 7, 10),
        ("VMQ", 50 / 7, 30 / 7, 80 / 7, 10), ("plastic", 50 / 7, 30 / 7, 80 / 7, 10),
        ("NR", 25 / 7, 15 / 7, 40 / 7, 5), ("unknown", 25 / 7, 15 / 7, 40 / 7, 5),
    ],
)  # fmt: skip
def test_a_material_lasts_by_its_storage_class(
    material: str, years: float, low: float, high: float, cap: float
) -> None:
    row = PRACTICE.materials[material]
    assert (row.years, row.low, row.high) == pytest.approx((years, low, high))
    assert row.cap_years == cap


def test_an_unknown_material_is_held_to_the_worst_row() -> None:
    known = [m for name, m in PRACTICE.materials.items() if name != "unknown"]
    unknown = PRACTICE.materials["unknown"]
    assert unknown.years == min(m.years for m in known)
    assert unknown.cap_years == min(m.cap_years for m in known)


@pytest.mark.parametrize(
    ("name", "water", "depth_m", "minutes", "water_c", "dips"),
    [
        ("dive", "sea", None, None, None, 1), ("mixed-gas", "sea", None, None, None, 1),
        ("freedive", "sea", None, 60, None, 20), ("snorkel", "sea", 3, 45, None, 8),
        ("swim", "sea", 1.5, 30, None, 1), ("pool", "pool", 1.5, 45, 27, 1),
        ("shower", "soap", 0.1, 8, 38, 1),
        ("bath", "soap", 0.3, 20, 38, 1), ("hot tub", "hot tub", 0.5, 20, 38, 1),
        ("rain", "fresh", 0.05, 20, 12, 1), ("hands", "soap", 0.05, 1, 30, 1), ("sauna", "air", 0, 15, 80, 1),
        ("boat", "sea", 0.05, 120, None, 1),
    ],
)  # fmt: skip
def test_an_activity_means_what_the_commands_say_where_a_line_is_silent(
    name: str, water: str, depth_m: float | None, minutes: float | None, water_c: float | None, dips: int
) -> None:
    row = PRACTICE.activities[name]
    assert (row.water, row.depth_m, row.minutes, row.water_c, row.dips) == (
        water, depth_m, minutes, water_c, dips
    )  # fmt: skip
    assert (row.basis == "EN 13319") == (name in ("dive", "mixed-gas", "freedive"))


def test_scuba_is_another_word_for_a_dive() -> None:
    assert PRACTICE.activity_words["scuba"] == "dive"
    assert PRACTICE.activity_words["pool"] == "pool"


@pytest.mark.parametrize(
    ("task", "months", "earliest", "latest"),
    [
        ("pressure-test-diving", 12, -3, 0), ("pressure-test-swimming", 12, -3, 0),
        ("pressure-test-dry", 36, -3, 0), ("gaskets", 36, -6, 0), ("battery", 30, -6, 6),
        ("movement", 60, -12, 24), ("strap", 24, -6, 3),
    ],
)  # fmt: skip
def test_a_service_interval_is_the_common_one(task: str, months: int, earliest: int, latest: int) -> None:
    row = PRACTICE.intervals[task]
    assert (row.months, row.earliest, row.latest, row.kind) == (months, earliest, latest, "common practice")


def test_every_number_says_what_kind_of_knowledge_it_is_and_where_from() -> None:
    tables = (PRACTICE.constants, PRACTICE.seals, PRACTICE.materials, PRACTICE.cases, PRACTICE.intervals)
    for table in tables:
        for name, row in table.items():
            assert row.kind in KINDS, name
            assert row.source.endswith("."), name


def test_all_words_of_the_record_have_their_rows() -> None:
    assert set(PRACTICE.materials) == {"NBR", "HNBR", "CR", "FKM", "EPDM", "VMQ", "plastic", "NR", "unknown"}
    for position in POSITIONS:
        rows = [f"crown-{c}" for c in CROWNS] if position == "crown" else [position]
        assert all(row in PRACTICE.seals for row in rows)
    assert {f"pressure-test-{use}" for use in USES} < set(PRACTICE.intervals)
    assert {row.use for row in PRACTICE.stated_use} == set(USES)
    for mark in MARK_KINDS:
        assert any(mark in row.marks and row.at_least_bar == 0 for row in PRACTICE.marks)


def test_the_stated_diver_rinses_every_second_time() -> None:
    rows = [r for r in PRACTICE.stated_use if r.use == "diving"]
    assert [(r.per_year, r.rinsed, r.depth_m, r.minutes, r.water_c) for r in rows] == [
        (15, True, 18, 45, 20), (15, False, 18, 45, 20)
    ]  # fmt: skip


# ---------------------------------------------------------------- overrides


def test_an_override_changes_what_it_names_and_nothing_else() -> None:
    changed = practice_with("[constants.worn_c]\nvalue = 33.5\n")
    assert changed["worn_c"] == 33.5
    assert changed.constants["worn_c"].source == PRACTICE.constants["worn_c"].source
    assert changed["storage_c"] == PRACTICE["storage_c"]
    assert changed.overridden == ("constants.worn_c.value",)
    assert PRACTICE.overridden == ()


def test_an_override_of_the_same_value_changes_nothing() -> None:
    same = practice_with("version = 1\n[constants.worn_c]\nvalue = 32.0\n")
    assert (same.overridden, same.fingerprint) == ((), PRACTICE.fingerprint)


def test_an_empty_override_is_none() -> None:
    assert practice_with("# nothing yet\n").fingerprint == PRACTICE.fingerprint


def test_an_owner_may_add_a_material_of_their_own() -> None:
    row = (
        'years = 4.0\nlow = 2.0\nhigh = 6.0\ncap_years = 6.0\nstorage_class = "none"\nalpha_low = 100.0\n'
        'alpha_high = 200.0\nkind = "assumption"\nsource = "A guess of mine."\n'
    )
    assert practice_with(f"[materials.mystery]\n{row}").materials["mystery"].years == 4.0
    with pytest.raises(BadInput, match="the key high is missing"):
        practice_with(f"[materials.mystery]\n{row.replace('high = 6.0', '', 1)}")


def test_an_owner_may_add_an_activity_of_their_own() -> None:
    row = 'also = ["kayak"]\nwater = "fresh"\ndips = 3\nclass = "swim"\nbasis = "true"\narm_m_s = 2.0\n'
    changed = practice_with(f"[activities.paddle]\n{row}")
    assert changed.activity_words["kayak"] == "paddle"
    assert changed.activities["paddle"].minutes is None


def test_the_stated_use_is_overridden_use_by_use() -> None:
    """Saying how one swims must not silence what a diver or a dry watch is charged with."""
    row = '[[stated_use.swimming]]\nactivity = "swim"\nper_year = 10.0\nrinsed = false\n'
    changed = practice_with(row)
    assert [r.activity for r in changed.stated_use if r.use == "swimming"] == ["swim"]
    assert [r.use for r in changed.stated_use].count("diving") == 2
    assert [r.use for r in changed.stated_use].count("dry") == 1
    assert changed.overridden == ("stated_use.swimming",)


def test_whole_numbers_become_real_ones_where_a_real_one_belongs() -> None:
    value = practice_with("[constants.H_salt]\nvalue = 250\n")["H_salt"]
    assert isinstance(value, float)


# ---------------------------------------------------------------- fingerprint


def test_the_same_text_has_the_same_fingerprint() -> None:
    again = practice.parse(SHIPPED)
    assert again is not PRACTICE
    assert again.fingerprint == PRACTICE.fingerprint
    assert re.fullmatch(r"[0-9a-f]{16}", again.fingerprint)


def test_comments_and_order_do_not_change_the_fingerprint() -> None:
    moved = SHIPPED.replace(
        '[constants.N_p]\nvalue = 100.0\nunit = "cycles"', '[constants.N_p]\nunit = "cycles"\nvalue = 100.0'
    )
    assert moved != SHIPPED
    assert practice.parse("# a note\n" + moved).fingerprint == PRACTICE.fingerprint


@pytest.mark.parametrize(
    "override",
    [
        "[constants.N_p]\nvalue = 101.0",
        "[constants.N_p]\nhigh = 301.0",
        "[seals.crystal]\nm_t = 1.3",
        "[materials.NR]\ncap_years = 6.0",
        "[activities.pool]\nminutes = 44.0",
        "[intervals.strap]\nmonths = 25",
        '[[stated_use.dry]]\nactivity = "rain"\nper_year = 21.0\nrinsed = true',
    ],
)
def test_every_change_of_a_constant_changes_the_fingerprint(override: str) -> None:
    assert practice_with(override).fingerprint != PRACTICE.fingerprint


def test_other_words_on_a_source_do_not_change_the_fingerprint() -> None:
    assert "As the group C rubbers" in SHIPPED
    reworded = SHIPPED.replace("As the group C rubbers", "Like the rubbers of group C")
    assert practice.parse(reworded).fingerprint == PRACTICE.fingerprint


def test_two_different_overrides_have_two_fingerprints() -> None:
    one, other = (practice_with(f"[constants.N_p]\nvalue = {v}").fingerprint for v in (101.0, 102.0))
    assert one != other


def test_another_arithmetic_has_another_fingerprint_and_another_release_has_not(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("logbook.__version__", "999.0")
    assert practice.parse(SHIPPED).fingerprint == PRACTICE.fingerprint
    monkeypatch.setattr(practice, "ARITHMETIC", practice.ARITHMETIC + 1)
    assert practice.parse(SHIPPED).fingerprint != PRACTICE.fingerprint


# ---------------------------------------------------------------- faults in an override

TWO_RAINS = """[[stated_use.dry]]
activity = "rain"
per_year = 2.0
rinsed = true
[[stated_use.dry]]
activity = "rain"
per_year = 2.0
"""
FAULTY: list[tuple[str, int, str, str]] = [
    ("[constants.Ea]\n\nvalue = 'high'\n", 3, "constants.Ea.value", "a number belongs"),
    ("[constants.Ea]\nvalue = true\n", 2, "constants.Ea.value", "a number belongs"),
    ("[constants.Ea]\nvalue = nan\n", 2, "constants.Ea.value", "finite"),
    ("[constants.Ea]\nhigh = inf\n", 2, "constants.Ea.high", "finite"),
    ("# mine\n[constants.Ea]\nvalue = 200.0\n", 2, "constants.Ea", "from low to high"),
    ("[constants.Ea]\nlow = 95.0\n", 1, "constants.Ea", "from low to high"),
    ("\n\n[constants.ea]\nvalue = 80.0\n", 3, "constants.ea", "no such constant"),
    ("[constants.Ea]\nvalu = 80.0\n", 2, "constants.Ea.valu", "no such key"),
    ("[constants.Ea]\nkind = 'rumour'\n", 2, "constants.Ea.kind", "not one of"),
    ("[constants.H_salt]\nvalue = 0\nlow = 0\n", 2, "constants.H_salt.value", "positive"),
    ("[constants.H_salt]\nvalue = -1.0\n", 2, "constants.H_salt.value", "positive"),
    ("[constants.worn_c]\nvalue = -300\n", 2, "constants.worn_c.value", "the least is -100"),
    ("[constants.Ea]\nvalue = 1e9\nhigh = 1e9\n", 2, "constants.Ea.value", "the most is 300"),
    ("[constants.silent_days]\nvalue = 1e7\n", 2, "constants.silent_days.value", "the most is 36500"),
    ("[constants.H_salt]\nvalue = 1e-300\nlow = 1e-300\n", 2, "constants.H_salt.value", "positive"),
    ("[materials.NR]\ncap_years = 9000\n", 2, "materials.NR.cap_years", "the most is 200"),
    ("[intervals.strap]\nmonths = 99999\n", 2, "intervals.strap.months", "the most is 1200"),
    ("[constants]\nEa = 80.0\n", 1, "constants.Ea", "a table of its own"),
    ("constants.Ea.value = 200.0\n", 1, "constants.Ea", "from low to high"),
    ("version = 1\nconstants.Ea.value = 200.0\n", 2, "constants.Ea", "from low to high"),
    ("constants = 3\n", 1, "constants", "must be a table"),
    ("version = 2\n", 1, "version", "not known"),
    ("\n[constant.Ea]\nvalue = 80.0\n", 2, "constant", "no such table"),
    ("[seals.bezel]\nm_p = 1.0\n", 1, "seals.bezel", "no such row"),
    ("[seals.crown-screwed]\nm_p = -0.1\n", 2, "seals.crown-screwed.m_p", "zero or more"),
    ('[seals."crown-screwed"]\nm_q = 1.0\n', 2, "seals.crown-screwed.m_q", "no such key"),
    ("[materials.FKM]\nalpha_low = 200.0\n", 1, "materials.FKM", "alpha_low must not be above alpha_high"),
    ("[materials.FKM]\ncap_years = 0\n", 2, "materials.FKM.cap_years", "positive"),
    ("[activities.dive]\nclass = 'flying'\n", 2, "activities.dive.class", "not one of"),
    ("[activities.dive]\nwater = 'milk'\n", 2, "activities.dive.water", "not one of"),
    ("[activities.dive]\nbasis = 'guess'\n", 2, "activities.dive.basis", "not one of"),
    ("[activities.dive]\ndips = 1.5\n", 2, "activities.dive.dips", "a whole number"),
    ("[activities.dive]\ndepth_m = -1.0\n", 2, "activities.dive.depth_m", "zero or more"),
    ("[activities.dive]\narm_m_s = -1.0\n", 2, "activities.dive.arm_m_s", "zero or more"),
    ("[activities.dive]\nmost_depth_m = -1.0\n", 2, "activities.dive.most_depth_m", "zero or more"),
    ("[activities.dive]\nmost_minutes = 0\n", 2, "activities.dive.most_minutes", "positive"),
    ("[activities.pool]\ndepth_m = 9.0\n", 1, "activities.pool", "depth_m must not be above most_depth_m"),
    ("[activities.pool]\nminutes = 900\n", 1, "activities.pool", "minutes must not be above most_minutes"),
    ("[activities.dive]\nalso = [3]\n", 2, "activities.dive.also", "a list of words"),
    ("[intervals.battery]\nmonths = 2.5\n", 2, "intervals.battery.months", "a whole number"),
    ("[intervals.battery]\nmonths = 0\n", 2, "intervals.battery.months", "positive"),
    ("[intervals.battery]\nlatest = -7\n", 1, "intervals.battery", "earliest must not be above latest"),
    ("marks = 3\n", 1, "marks", "must be a list"),
    ("[[marks]]\nname = 'x'\nmarks = ['divers']\nat_least_bar = 0.0\nallows = {}\n", 1, "marks",
     "yes, light or no"),
    ("[[marks]]\nname = 3\n", 2, "marks.name", "text belongs"),
    ("stated_use = 3\n", 1, "stated_use", "a list for each of"),
    ("[stated_use]\ndry = 3\n", 1, "stated_use.dry", "must be a list"),
    ("[[stated_use.sailing]]\nactivity = 'boat'\n", 1, "stated_use.sailing", "no such use"),
    ("[[stated_use.dry]]\nactivity = 'rain'\nper_year = 'often'\nrinsed = true\n", 3,
     "stated_use.dry.per_year", "a number belongs"),
    ("[[stated_use.dry]]\nactivity = 'rain'\nper_year = -2.0\nrinsed = true\n", 3, "stated_use.dry.per_year",
     "positive"),
    ("[[stated_use.dry]]\nactivity = 'flying'\nper_year = 2.0\nrinsed = true\n", 1, "stated_use.dry",
     "not a row of activities"),
    (TWO_RAINS, 5, "stated_use.dry", "the key rinsed is missing"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line", "key", "sentence"), FAULTY, ids=[f[0].strip()[:50] for f in FAULTY])
def test_a_fault_is_told_with_file_line_and_key(text: str, line: int, key: str, sentence: str) -> None:
    with pytest.raises(BadInput) as raised:
        practice.parse(SHIPPED, override=text, override_name="mine.toml")
    assert raised.value.message.startswith(f"mine.toml, line {line}, {key}: ")
    assert sentence in raised.value.message
    assert raised.value.where == f"mine.toml:{line}"
    assert raised.value.exit_code == 3


def test_text_that_is_no_toml_is_told_with_its_line() -> None:
    with pytest.raises(BadInput, match=r"mine.toml is not valid TOML: .*line 2") as raised:
        practice.parse(SHIPPED, override="version = 1\n[constants.Ea\n", override_name="mine.toml")
    assert raised.value.where == "mine.toml"


def test_a_row_of_marks_must_speak_of_marks_that_exist() -> None:
    rows = SHIPPED[SHIPPED.index("[[marks]]") : SHIPPED.index("[intervals.pressure-test-diving]")]
    assert practice_with(rows).overridden == ()
    seventh = [n for n, line in enumerate(rows.splitlines(), start=1) if line == "[[marks]]"][6]
    with pytest.raises(BadInput, match=f"line {seventh}, marks: 'diver' is not one of"):
        practice_with(rows.replace('["divers-mixed-gas"]', '["diver"]'))


def test_marks_that_leave_one_out_are_refused() -> None:
    allows = next(line for line in LINES if line.startswith("allows = "))
    with pytest.raises(BadInput, match="covers the mark 'unmarked'"):
        practice_with(f'[[marks]]\nname = "all"\nmarks = ["divers"]\nat_least_bar = 0.0\n{allows}\n')


@pytest.mark.parametrize("constant", CONSTANTS)
def test_a_shipped_file_without_one_of_its_constants_is_refused(constant: str) -> None:
    start = LINES.index(f"[constants.{constant}]")
    end = next(n for n in range(start + 1, len(LINES)) if not LINES[n].strip())
    with pytest.raises(BadInput, match=f"the constant {constant} is missing"):
        practice.parse("\n".join(LINES[:start] + LINES[end:]))


@pytest.mark.parametrize("table", ["seals", "materials", "cases", "activities", "intervals"])
def test_a_shipped_file_without_one_of_its_tables_is_refused(table: str) -> None:
    without = re.sub(rf"(?ms)^\[{table}\..*?(?=^\[(?!{table}\.)|^# ---)", "", SHIPPED)
    with pytest.raises(BadInput, match=f"{table}.*missing"):
        practice.parse(without)


def test_a_fault_in_the_shipped_file_names_the_shipped_file() -> None:
    with pytest.raises(BadInput, match=r"^practice.toml, line \d+, constants.n_p.value: "):
        practice.parse(SHIPPED.replace("[constants.n_p]\nvalue = 2.0", "[constants.n_p]\nvalue = -2.0"))


def test_a_hidden_character_in_a_key_is_shown_and_not_printed() -> None:
    with pytest.raises(BadInput) as raised:
        practice_with('[constants."\\u001b[31m"]\nvalue = 1.0\n')
    assert "\x1b" not in raised.value.message


@pytest.mark.parametrize("row", ["Ea", "H_hot_tub", "overdue_days"])
def test_the_line_of_a_key_is_where_it_stands(row: str) -> None:
    at = line_of(SHIPPED, "constants", row, "source")
    assert LINES[at - 1].startswith("source")
    assert f"[constants.{row}]" in LINES[at - 6 - 1 : at]


toml_values = st.one_of(
    st.integers(-5, 5).map(str),
    st.floats(-9, 9).map(repr),
    st.sampled_from(["true", '"x"', "[]", "{}", "[1]", "nan"]),
)
tables = st.sampled_from(
    ["constants.Ea", "constants", "seals.crystal", "materials.NBR", "cases.steel", "activities.dive", "marks",
     "intervals.strap", "stated_use", "stated_use.dry", "other"]
)  # fmt: skip
keys = st.sampled_from(
    ["value", "low", "high", "unit", "kind", "m_p", "years", "also", "dips", "class", "months", "marks",
     "allows", "activity", "per_year", "Ea", "dry"]
)  # fmt: skip


@given(
    rows=st.lists(
        st.tuples(tables, st.booleans(), st.dictionaries(keys, toml_values, max_size=3)), max_size=3
    )
)
@settings(max_examples=tries(300))
def test_whatever_an_owner_writes_it_is_read_or_refused_with_a_sentence(
    rows: list[tuple[str, bool, dict[str, str]]],
) -> None:
    text = "\n".join(
        (f"[[{table}]]" if listed else f"[{table}]") + "".join(f"\n{k} = {v}" for k, v in row.items())
        for table, listed, row in rows
    )
    refused: BadInput | None = None
    try:
        practice_with(text)
    except BadInput as error:
        refused = error
    assert refused is None or (refused.where and refused.message.startswith("your practice.toml"))


def test_a_material_that_an_override_no_longer_names_counts_as_the_unknown() -> None:
    assert PRACTICE.material("cork") == PRACTICE.materials["unknown"]
    assert PRACTICE.material("FKM") == PRACTICE.materials["FKM"]
