"""One-line entries: `blue bezel: dive 21m 38min sea 17C rinsed`, read, printed and amended.

After the activity, in any order:

    21m · 70ft                 depth            38min · 1h10              duration
    sea · fresh · pool · soap · hot tub · brackish 12 · air               water
    salinity 38                of the sea       17C · 64F · ~15C          temperature (~ assumed)
    density 1190               in kg/m³, of a brine above salinity 42
    from 32C                   before           20 dips
    rinsed · not rinsed                         jump 3m · no jump
    crown wet · crown under water [3 times] · crown untouched             and the same for pusher
    crown open · pushers open                  sure   it was so, however deep or long
    basis true · basis fresh · basis EN 13319                             how the depth was measured
    on 2026-07-03 [10:40] · on sat · on 3 jul · at 10:40                  day and time; also without on and at
    on 2026-07-03..2026-07-10 · on 3 to 10 jul  a planned trip            zone UTC
    -- anything                the note, to the end of the line

Unless the line says `sure`, more depth or minutes than an activity has in practice is a question. So are bare
metres that may be minutes, `1h 10m` with no other depth, and a time of day that may be a length. An hour that
the clock change repeats is told apart by its offset: `at 02:30+01:00`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import fields, replace
from datetime import date, timedelta
from typing import Any

from logbook.errors import BadInput
from logbook.model import plausible
from logbook.model.civil import checked_offset_s, offset_text
from logbook.model.practice import Activity, Practice
from logbook.model.ranges import RANGES
from logbook.model.text import did_you_mean, listed, printable
from logbook.model.validate.exposure import BRINE_ABOVE, make_exposure
from logbook.model.values import Exposure, Settings, Watch
from logbook.text.names import find_watch
from logbook.text.words import NOTE_MARK, SURE, Reader, not_understood, phrase_at_start, split_words
from logbook.text.words_of_time import Word

LONGEST_LINE = 4_000  # characters
_METRES = re.compile(r"([0-9]+(?:[.,][0-9]+)?) ?m", re.I)


def parse_entry(
    line: str,
    *,
    practice: Practice,
    settings: Settings,
    today: date,
    watches: Sequence[Watch] = (),
    with_name: bool = True,
    watch: Watch | None = None,
    planned: bool = False,
    sure: bool = False,
) -> Exposure:
    """The exposure that a line describes, for the watch it names, or for `watch` when it names none.

    `sure` counts as if the line said it. Raises NotFound for the name, NotUnderstood at a word, BadInput for
    a value; nothing is guessed.
    """
    _check_length(line)
    start = 0
    if with_name:
        name, colon, _ = line.partition(":")
        if not colon:
            sentence = "An entry begins with the watch and a colon, such as 'blue bezel: dive 21m 38min'."
            raise not_understood(line, 0, sentence)
        by_name = {each.name: each for each in watches}
        watch, start = by_name[find_watch(name, by_name)], len(name) + 1
    words, note = split_words(line, start)
    activity, length = _activity(words, line, practice)
    row = practice.activities[practice.activity_words[activity]]
    reader = _reader(line, words[length:], today, planned, settings, row)
    given = _read(reader, note)
    if not given.pop(SURE, sure):
        _refuse_doubtful(reader, given, row, settings)
    return make_exposure(
        practice, settings, activity=activity, today=today, planned=planned, watch=watch,
        **({"starts_on": today} | given),
    )  # fmt: skip


def _check_length(line: str) -> None:
    if len(line) > LONGEST_LINE:
        sentence = f"The line has {len(line):,} characters; an entry has at most {LONGEST_LINE:,}."
        raise BadInput(sentence, where="line")


def _activity(words: list[Word], line: str, practice: Practice) -> tuple[str, int]:
    found = phrase_at_start(words, practice.activity_words)
    if found is not None:
        return found
    names = listed(practice.activities)
    if not words:
        raise not_understood(line, len(line.rstrip()), f"What was it? Begin with the activity: {names}.")
    sentence = f"'{printable(words[0].text, 40)}' is no activity; begin with {names}."
    near = did_you_mean(words[0].folded, practice.activity_words)
    raise not_understood(line, words[0].column, sentence + near)


def _reader(line: str, words: list[Word], today: date, planned: bool, settings: Settings,
            row: Activity | None) -> Reader:  # fmt: skip
    return Reader(line, words, today, ahead=planned, metric=settings.units == "metric", row=row)


def _read(reader: Reader, note: str | None) -> dict[str, Any]:
    given = reader.read()
    return given if note is None else given | {"note": note}


def _refuse_doubtful(reader: Reader, given: dict[str, Any], row: Activity, settings: Settings) -> None:
    """Raises NotUnderstood at a depth or length that is more than the activity has in practice.

    An impossible value is refused elsewhere, with the unit that may have been meant.
    """
    depth_m, duration_s = given.get("depth_m"), given.get("duration_s")
    field = plausible.beyond(row, depth_m, duration_s)
    if field == "depth_m" and depth_m is not None and depth_m <= RANGES["depth_m"].high:
        words, at = reader.said[field]
        raise reader.wrong(f"{_too_deep(words, row, settings)}.", at)
    if field == "duration_s" and duration_s is not None and duration_s <= RANGES["minutes"].high * 60:
        words, at = reader.said[field]
        most = plausible.most_words(row, field)
        raise reader.wrong(f"'{words}' is longer than {most}: add '{SURE}' where it was so.", at)


def _too_deep(words: str, row: Activity, settings: Settings) -> str:
    metres = _METRES.fullmatch(words)
    most = plausible.most_words(row, "depth_m", settings.units)
    if metres is None or row.depth_m is None:
        return f"'{words}' is deeper than {most}: add '{SURE}' where it was so"
    number = metres[1]
    minutes_s = float(number.replace(",", ".")) * 60
    fits = row.minutes is not None and plausible.beyond(row, None, minutes_s) is None
    meant = f"write {number}min for minutes" if fits else "leave out how far it was"
    otherwise = "" if row.water == "air" else f", or add '{SURE}'"
    return f"'{words}' reads as {number} metres deep, more than {most}: {meant}{otherwise}"


def print_entry(
    exposure: Exposure, watch_name: str | None, practice: Practice, settings: Settings, *, dated: bool = True
) -> str:
    """The line that reads back as an equal exposure, without its profile and id, which no line can hold.

    If not `dated`, as for a habit, it leaves out the day and the time.
    """
    name = "" if watch_name is None else f"{watch_name}: "
    row = practice.activities.get(exposure.activity)
    return name + " ".join(_parts(exposure, row, practice, settings, dated))


def _parts(
    e: Exposure, row: Activity | None, practice: Practice, settings: Settings, dated: bool
) -> Iterator[str]:
    yield e.activity
    if e.water != "air":
        yield f"{_plain(e.depth_m)}m"
    yield _minutes(e.duration_s)
    if e.water == "brackish":
        yield f"brackish {_plain(e.salinity or 0.0)}"
    elif row is None or e.water != row.water or (e.water != e.activity and e.water != "air"):
        yield e.water
    if e.water == "sea" and e.salinity is not None and e.salinity != round(settings.home.salinity, 3):
        yield f"salinity {_plain(e.salinity)}"
    if e.density_kg_m3 is not None:
        yield f"density {_plain(e.density_kg_m3)}"
    yield f"{'~' if e.water_c_assumed else ''}{_plain(e.water_c)}C"
    if e.from_c != round(practice["from_c"], 3):
        yield f"from {_plain(e.from_c)}C"
    if row is None or e.basis != row.basis:
        yield f"basis {e.basis}"
    if row is None or e.dips != row.dips:
        yield f"{e.dips} dip{'s' if e.dips != 1 else ''}"
    if e.rinsed:
        yield "rinsed"
    yield from _uses(e)
    if e.jump_m:
        yield f"jump {_plain(e.jump_m)}m"
    if row is not None and plausible.beyond(row, e.depth_m, e.duration_s):
        yield SURE
    if dated:
        yield _when(e)
        if e.zone != settings.zone:
            yield f"zone {e.zone}"
    if e.note:
        yield f"{NOTE_MARK} {e.note}"


def _uses(e: Exposure) -> Iterator[str]:
    for words, count in (
        ("crown wet", e.crown_wet),
        ("crown under water", e.crown_under),
        ("pusher wet", e.pusher_wet),
        ("pusher under water", e.pusher_under),
    ):
        if count:
            yield words if count == 1 else f"{words} {count} times"
    if e.crown_open:
        yield "crown open"
    if e.pushers_open:
        yield "pushers open"


def _when(e: Exposure) -> str:
    days = f"on {e.starts_on}" if e.planned_to is None else f"on {e.starts_on}..{e.planned_to}"
    if e.starts_at is None:
        return days
    clock = e.starts_at.isoformat("seconds" if e.starts_at.second else "minutes")
    if e.utc_offset_s is not None and e.utc_offset_s != checked_offset_s(e.starts_on, e.starts_at, e.zone):
        clock += offset_text(e.utc_offset_s)  # the second time that a repeated hour comes
    return f"{days} {clock}"


def _minutes(duration_s: int) -> str:
    minutes, seconds = divmod(duration_s, 60)
    if not minutes:
        return f"{seconds}s"
    return f"{minutes}min{seconds}s" if seconds else f"{minutes}min"


def _plain(value: float) -> str:
    """Exact to the thousandth that is stored."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def amend_words(exposure: Exposure, words: str, *, practice: Practice, settings: Settings, today: date,
                watch: Watch | None = None) -> Exposure:  # fmt: skip
    """`exposure` with only what `words` say changed; they may begin with another activity.

    A new activity brings its own values wherever those of the old one had filled in. A new day, water or
    activity looks up an assumed temperature again. The pressure is worked out anew where its basis changed.
    `watch` is the exposure's own, if at hand; its id stays either way.
    """
    _check_length(words)
    found, note = split_words(words)
    begins = phrase_at_start(found, practice.activity_words)
    activity = practice.activity_words[begins[0]] if begins else None
    row = practice.activities.get(activity or exposure.activity)
    reader = _reader(words, found[begins[1] if begins else 0 :], today, exposure.planned, settings, row)
    given = _read(reader, note)
    sure = given.pop(SURE, False)
    if row is not None and not sure:
        _refuse_doubtful(reader, given, row, settings)
    kept = _kept(exposure, activity, given, practice)
    amended = make_exposure(
        practice, settings, today=today, planned=exposure.planned, watch=watch, **(kept | given)
    )
    amended = replace(amended, watch_id=exposure.watch_id, id=exposure.id)
    question = None if sure or amended.activity == exposure.activity else _doubt(amended, practice, settings)
    if question is not None:
        raise not_understood(words, found[0].column, question)
    if _standing(amended) == _standing(exposure):
        amended = replace(amended, gauge_pa=exposure.gauge_pa)
    return amended


def _doubt(amended: Exposure, practice: Practice, settings: Settings) -> str | None:
    """The question about a depth or length that stayed but is unlikely for the new activity."""
    question = plausible.doubt(amended, practice, settings.units)
    return question and f"{question} Say the new value, or add '{SURE}'."


def amend_line(exposure: Exposure, line: str, *, practice: Practice, settings: Settings, today: date,
               watch: Watch) -> Exposure:  # fmt: skip
    """`exposure` as a whole `line` without a nickname says it; what the line leaves out is as in a new entry.

    What no line can hold stays: the profile, the id, and that it is planned. The pressure is worked out anew
    where its basis changed.
    """
    told = parse_entry(line, practice=practice, settings=settings, today=today, with_name=False, watch=watch,
                       planned=exposure.planned)  # fmt: skip
    whole = replace(told, profile=exposure.profile, watch_id=exposure.watch_id, id=exposure.id)
    if _standing(whole) == _standing(exposure):
        whole = replace(whole, gauge_pa=exposure.gauge_pa)
    # There are no more words, but depth and minutes are checked against the profile.
    return amend_words(whole, "", practice=practice, settings=settings, today=today, watch=watch)


def as_it_happened(plan: Exposure, on: date, *, practice: Practice, settings: Settings, today: date,
                   watch: Watch | None = None) -> tuple[Exposure, Exposure | None]:  # fmt: skip
    """A plan as it happened on a day, and for a trip what stays planned: the days after that one.

    Where `on` is not a day of the trip, the trip then begins a day later. Raises BadInput for a day that lies
    ahead, and where what was planned is impossible.
    """
    one_day = replace(plan, planned_to=None)
    last = plan.last_day
    rest_from = (on if plan.starts_on <= on <= last else plan.starts_on) + timedelta(days=1)

    def told(of: Exposure, days: str) -> Exposure:
        return amend_words(of, f"on {days}", practice=practice, settings=settings, today=today, watch=watch)

    happened = told(replace(one_day, planned=False), f"{on}")
    if rest_from > last:
        return happened, None
    return happened, told(one_day, f"{rest_from}" if rest_from == last else f"{rest_from}..{last}")


_OWN = ("gauge_pa", "planned", "watch_id", "id")  # worked out anew, or not changed by words
_CARRIED = tuple(each.name for each in fields(Exposure) if each.name not in _OWN)


def _standing(e: Exposure) -> tuple[object, ...]:
    """What the pressure depends on."""
    return e.depth_m, e.basis, e.water, e.salinity, e.density_kg_m3, e.water_c


def _kept(e: Exposure, activity: str | None, given: dict[str, Any], practice: Practice) -> dict[str, Any]:
    """The fields of `e` that stay; None where they are to be filled in anew."""
    kept: dict[str, Any] = {name: getattr(e, name) for name in _CARRIED}
    if activity is not None and activity != e.activity:
        kept["activity"] = activity
        for name, value in _filled_in(practice.activities.get(e.activity)).items():
            if kept[name] == value:
                kept[name] = None
    new_water = "water" in given or kept["water"] is None
    if new_water:
        kept["salinity"] = None
    if new_water or given.get("salinity", BRINE_ABOVE + 1) <= BRINE_ABOVE:
        kept["density_kg_m3"] = None
    if "water_c" in given:
        kept["water_c_assumed"] = False
    elif e.water_c_assumed and (new_water or "starts_on" in given or activity is not None):
        kept["water_c"] = None
    if given.keys() & {"starts_on", "starts_at", "zone"}:
        kept["utc_offset_s"] = None
    return kept


def _filled_in(row: Activity | None) -> dict[str, Any]:
    """The fields that the old activity filled in where its line was silent."""
    if row is None:
        return {}
    seconds = None if row.minutes is None else round(row.minutes * 60)
    return {
        "water": row.water, "depth_m": row.depth_m, "basis": row.basis, "water_c": row.water_c,
        "dips": row.dips, "duration_s": seconds,
    }  # fmt: skip
