"""The chapters of the Guide, made from the constants in force, the rules and the tests behind the marks."""

from __future__ import annotations

import inspect
from calendar import month_abbr
from collections.abc import Callable, Iterator, Mapping

from logbook.caution import CAUTION, CROWN_IN_WATER, LIFE_SUPPORT
from logbook.model import marks
from logbook.model.judge import planrules, rules, stands
from logbook.model.practice import MarkRow, Practice, StatedUse
from logbook.model.practice_check import CLASSES
from logbook.model.text import listed
from logbook.model.values import CHANNELS, MARK_KINDS, Settings
from logbook.physics import motion, tests_behind_marks
from logbook.physics.tests_behind_marks import MarkTest
from logbook.physics.worked import quantity
from logbook.text import quantities
from logbook.tui.guide import constants as guide_constants
from logbook.tui.guide.parts import Chapter, Entry, Say, Section, prose, sentences, teller, titled, word_list


def chapters(practice: Practice, settings: Settings) -> tuple[Chapter, ...]:
    """The whole Guide, as the constants and the owner's settings are now."""
    say = teller(practice)
    return (
        _marks(practice, say),
        _model(say),
        _assumed(practice, settings, say),
        guide_constants.chapter(practice, say),
        Chapter("Words", "The words used here", (Section("Words", tuple(_words(say))),)),
    )


def _words(say: Say) -> Iterator[Entry]:
    """Each word of the list, and where it shows."""
    for word, told in word_list()["words"].items():
        yield Entry(word, (say(told["means"]),), more=(f"Shows in {listed(told['shows'], 'and')}.",))


# ------------------------------------------------------------------ marks


def _marks(practice: Practice, say: Say) -> Chapter:
    text = sentences()["marks"]
    yours = "marks" in practice.overridden
    allowed = Section(
        "What a mark is commonly taken to allow",
        (*prose(text["allows"], say), *(_allowed(row, yours) for row in practice.marks)),
        ("mark, at least", *CLASSES),
    )
    kinds = Section("Each kind of mark", tuple(_kind(mark, say) for mark in MARK_KINDS))
    moving = Entry(text["moving"], (text["moving_words"], _arms(practice)))
    not_a_depth = Section(
        "Why a mark is not a depth that one may go to", (*titled(text["not_a_depth"], say), moving)
    )
    behind = (_tests(mark) for mark in tests_behind_marks.TESTS)
    return Chapter("Marks", "What marks mean, and what they do not", (allowed, not_a_depth, kinds, *behind))


def _allowed(row: MarkRow, yours: bool) -> Entry:
    names = ", ".join(_name(mark) for mark in row.marks)
    fits = f"Read so for these marks, from {quantity(row.at_least_bar, 'bar')} on: {names}."
    allows = "; ".join(f"{each}: {row.allows[each]}" for each in CLASSES)
    own = ("The table of marks is from your own file.",) if yours else ()
    cells = (row.name, *(row.allows[each] for each in CLASSES))
    return Entry(cells=cells, more=(f"{allows}.", fits, *own), yours=yours)


def _name(mark: str) -> str:
    return str(sentences()["marks"]["kinds"][mark]["name"])


def _kind(mark: str, say: Say) -> Entry:
    text = sentences()["marks"]
    name, words = _name(mark), text["kinds"][mark]["words"]
    tests = tests_behind_marks.behind(mark)
    if not tests:
        return Entry(name, (say(words), text["no_tests"]))
    who = text["each_tested"] if tests_behind_marks.EACH_PIECE[mark] else text["sampled"]
    named = f"Tests behind it: {', '.join(test.name for test in tests)}."
    return Entry(name, (say(words), who, named))


def _tests(mark: str) -> Section:
    """The tests behind a mark; those of the diver's mark are not told again for mixed gas."""
    every = tests_behind_marks.behind(mark)
    before = tests_behind_marks.behind("divers") if mark == "divers-mixed-gas" else ()
    also = ("All those behind a diver’s mark, and:",) if before else ()
    intro = Entry(body=(sentences()["marks"]["tests"], *also))
    entries = tuple(_test(test) for test in every if test not in before)
    return Section(f"Tests behind the mark {_name(mark)}", (intro, *entries))


def _test(test: MarkTest) -> Entry:
    at = [] if test.share_of_mark is None else [f"at {100 * test.share_of_mark:g} % of the mark"]
    levels = [f"{name} {_level(value, unit)}" for name, value, unit in test.levels]
    return Entry(
        test.name,
        (f"{'; '.join([*at, *levels])}.", f"Passes when: {test.passes_when}.", f"Source: {test.source}."),
    )


def _level(value: float, unit: str) -> str:
    if unit == "Pa":
        return quantities.show_pressure(value)
    for size, word in ((3600, "h"), (60, "min")):
        if unit == "s" and value >= size and value % size == 0:
            return quantity(value / size, word)
    return quantity(value, unit)


def _arms(practice: Practice) -> str:
    """What the arm's speed of each activity adds in sea water."""
    moving = [a for a in practice.activities.values() if a.arm_m_s > 0]
    added = (quantities.show_pressure(motion.dynamic_pa(a.arm_m_s, marks.SEA_KG_M3)) for a in moving)
    each = (f"{a.name} {quantity(a.arm_m_s, 'm/s')}, {bar}" for a, bar in zip(moving, added, strict=True))
    return "; ".join(each) + f". Source: {motion.BERNOULLI}."


# ------------------------------------------------------------------ the model


def _model(say: Say) -> Chapter:
    text = sentences()["model"]
    channels = tuple(Entry(name, (say(text["channels"][name]),)) for name in CHANNELS)
    results = tuple(
        Entry(say(each["title"]), (f"Means {say(each['means'])}", f"Does not mean {say(each['not'])}"))
        for each in text["results"]
    )
    cautions = Entry("It never replaces a pressure test", (CAUTION, LIFE_SUPPORT, CROWN_IN_WATER))
    return Chapter(
        "The model",
        "The model in plain words",
        (
            Section("What it is", (cautions,)),
            Section("What is counted", (*prose(text["counted"], say), *channels)),
            Section("What comes out, and what it does not mean", results),
            Section("What counts as evidence", _evidence(say)),
            Section("What stands until proven", tuple(_stand(way, say) for way in stands.STANDS)),
            Section("Standing stop rules", (
                *prose(text["stops"], say), *_stop_rules(rules.STANDING, say)
            )),
            Section("Stop rules for planned water", _stop_rules(planrules.PLAN, say)),
            Section("What it leaves out", titled(text["left_out"], say)),
        ),
    )  # fmt: skip


def _evidence(say: Say) -> tuple[Entry, ...]:
    """What a passed test proves, and for how long."""
    text = sentences()["evidence"]
    return (*prose(text["outranks"], say), *titled(text["words"], say))


def _stand(way: str, say: Say) -> Entry:
    """One row of what stands until proven: what raises it, what lifts it, how it speaks until then."""
    told = sentences()["stands"][way]
    raised, lifted, until = (say(told[part]) for part in ("raised", "lifted", "until"))
    name = told.get("name", stands.STANDS[way].code)
    return Entry(name, (f"Raised by {raised}.", f"Lifted by {lifted}.", f"Until then: {until}."))


def _stop_rules(rules_by_code: Mapping[str, Callable[..., object]], say: Say) -> tuple[Entry, ...]:
    """Each rule with its own words, its limit and its verdict."""
    return tuple(_stop_rule(function, code, say) for code, function in rules_by_code.items())


def _stop_rule(function: Callable[..., object], code: str, say: Say) -> Entry:
    told = sentences()["stop_rules"][code]
    own_words = (inspect.getdoc(function) or "").replace("`", "").split("\n\n")
    words = tuple(" ".join(paragraph.split()) for paragraph in own_words if paragraph)
    return Entry(code, (*words, f"Limit: {say(told['limit'])}.", f"Says: {say(told['says'])}."))


# ------------------------------------------------------------------ what is assumed


def _assumed(practice: Practice, settings: Settings, say: Say) -> Chapter:
    text = sentences()["assumed"]
    uses = dict.fromkeys(stated.use for stated in practice.stated_use)
    stated = tuple(_stated(use, practice) for use in uses)
    return Chapter(
        "Assumed",
        "What is assumed where nothing was said",
        (
            Section("Where an entry or a watch is silent", (*titled(text["silent"], say), _home(settings))),
            Section("Before the log began", (*prose(text["before_log"], say), *stated)),
        ),
    )


def _home(settings: Settings) -> Entry:
    title = sentences()["assumed"]["home"]
    home = settings.home
    place = (
        f"Salinity {home.salinity:g}, latitude {home.latitude_deg:g}°, "
        f"{quantities.show_depth(home.altitude_m)} above the sea."
    )
    if home.monthly_c is None:
        return Entry(title, (place, "Temperatures by month: not said."))
    months = (f"{month_abbr[n]} {quantities.show_temp(c)}" for n, c in enumerate(home.monthly_c, start=1))
    return Entry(title, (place, f"{', '.join(months)}."))


def _stated(use: str, practice: Practice) -> Entry:
    rows = (_a_year(row) for row in practice.stated_use if row.use == use)
    yours = f"stated_use.{use}" in practice.overridden
    own = ("From your own file.",) if yours else ()
    return Entry(f"stated use: {use}", (*rows, *own), yours=yours)


def _a_year(row: StatedUse) -> str:
    told = [
        quantity(value, unit)
        for value, unit in ((row.depth_m, "m"), (row.minutes, "min"), (row.water_c, "°C"))
        if value is not None
    ]
    rinse = "rinsed" if row.rinsed else "not rinsed"
    return f"{row.per_year:g} a year: {', '.join([row.activity, *told, rinse])}"
