"""The whole record from its JSON export, version 1: every value judged again by the same validators.

What a file of this version may add is left alone, as `json_out` promises. Each refusal names the file, the
place in it (`exposures[3].depth_m`), what stands there and what belongs there.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from logbook.errors import Refused
from logbook.files.json.fields import given, judged, judged_at
from logbook.files.json.tree import DAY, ID, NUMBER, TEXT, WHOLE, Node, read_tree
from logbook.files.json.writing import VERSION
from logbook.model.due.snoozing import check_until
from logbook.model.judge.recheck import recheck_exposure
from logbook.model.kinds_of_before import item_of_today, kind_of_today
from logbook.model.practice import Practice
from logbook.model.same import Origin
from logbook.model.text import clean, printable
from logbook.model.validate.watch import (
    check_event,
    check_habit,
    check_seal,
    check_settings,
    check_stretch,
    check_watch,
)
from logbook.model.values import (
    OF_A_MOMENT,
    Event,
    Exposure,
    Habit,
    HomeWater,
    ProfilePoint,
    Seal,
    Settings,
    Watch,
    WornStretch,
)
from logbook.record.file.record_file import FiledWatch, RecordFile
from logbook.record.schema.shapes import name_key

ITEM_LENGTH, ORIGIN_LENGTH = 200, 1_000


def read_document(data: bytes, name: str, practice: Practice, today: date) -> RecordFile:
    """The record that an export holds; raises BadInput, or Refused for one of a newer version.

    `name` is that of the file, for people.
    """
    root = read_tree(data, name)
    _check_version(root)
    return _Reader(root, practice, today).record(name)


def _check_version(root: Node) -> None:
    if not isinstance(root.value, dict) or "version" not in root.value:
        root.wrong('this is no export of logbook: that is an object with "version", "watches" and so on.')
    version = root.at("version").read(ID)
    if version > VERSION:
        sentence = (
            f"{printable(root.file)} was written by a newer version of logbook (its version is {version}, "
            f"this one reads {VERSION}). Please update logbook; nothing was changed."
        )
        raise Refused(sentence, where="version")


@dataclass(frozen=True, slots=True)
class _Reader:
    root: Node
    practice: Practice
    today: date

    def record(self, name: str) -> RecordFile:
        """Everything in the file, each part held against the others."""
        settings = self._settings(self.root.at("settings"))
        shelf = self.root.at("watches").items()
        watches = [self._watch(node) for node in shelf]
        _refuse_doubles(shelf)
        _refuse_same_names(shelf, watches)
        _refuse_doubles([seal for node in shelf for seal in node.at("seals").items()])
        by_id: dict[int | None, Watch] = {one.watch.id: one.watch for one in watches}
        nodes = {kind: self.root.at(kind).items() for kind in ("exposures", "events", "worn", "habits")}
        exposures = [self._exposure(node, by_id, settings) for node in nodes["exposures"]]
        events = [self._event(node, by_id) for node in nodes["events"]]
        stretches = [self._stretch(node, by_id) for node in nodes["worn"]]
        habits = [self._habit(node, by_id, settings) for node in nodes["habits"]]
        _refuse_doubles([node for found in nodes.values() for node in found])
        _check_brought_seals(shelf, watches, nodes["events"], events)
        return RecordFile(
            name=name, watches=tuple(watches), exposures=tuple(exposures), events=tuple(events),
            stretches=tuple(stretches), habits=tuple(habits), snoozed=self._snoozed(), settings=settings,
            origins=self._origins({one.id for one in exposures}),
        )  # fmt: skip

    def _settings(self, node: Node) -> Settings:
        home = node.at("home")
        monthly_c = None
        if home.members().get("monthly_c") is not None:
            monthly_c = tuple(month.read(NUMBER) for month in home.at("monthly_c").items())
        water = HomeWater(**given(home, HomeWater), monthly_c=monthly_c)
        with judged(node, Settings):
            return check_settings(Settings(water, **given(node, Settings)))

    def _watch(self, node: Node) -> FiledWatch:
        months = {}
        if "intervals_months" in node.members():
            intervals = node.at("intervals_months")
            months = {task: intervals.at(task).read(WHOLE) for task in intervals.members()}
        told = Watch(**given(node, Watch), intervals_months=months)
        with judged(node, Watch):
            watch = check_watch(told, self.practice, self.today)
        return FiledWatch(watch, tuple(self._seal(each, watch) for each in node.at("seals").items()))

    def _seal(self, node: Node, watch: Watch) -> Seal:
        seal = Seal(**given(node, Seal))
        with judged(node, Seal):
            return check_seal(seal, watch, self.practice, self.today)

    def _exposure(self, node: Node, watches: Mapping[int | None, Watch], settings: Settings) -> Exposure:
        profile = tuple(ProfilePoint(**given(each, ProfilePoint)) for each in node.items_of("profile"))
        exposure = Exposure(**given(node, Exposure), profile=profile)
        watch = _watch_of(node, exposure.watch_id, watches)
        with judged(node, Exposure):
            return recheck_exposure(exposure, watch, self.practice, settings, self.today)

    def _event(self, node: Node, watches: Mapping[int | None, Watch]) -> Event:
        brought = tuple(
            (each.at("position").read(TEXT), each.at("material").read(TEXT))
            for each in node.items_of("seals")
        )
        told = given(node, Event)
        for name in ("kind", "repaired"):
            if told.get(name) is not None:
                told[name] = kind_of_today(told[name])
        event = Event(**told, seals=brought, span=_span(node))
        watch = _watch_of(node, event.watch_id, watches)
        with judged(node, Event):
            return check_event(event, watch, self.today, self.practice, pressure_unknown=True)

    def _stretch(self, node: Node, watches: Mapping[int | None, Watch]) -> WornStretch:
        stretch = WornStretch(**given(node, WornStretch))
        watch = _watch_of(node, stretch.watch_id, watches)
        with judged(node, WornStretch):
            return check_stretch(stretch, watch, self.today)

    def _habit(self, node: Node, watches: Mapping[int | None, Watch], settings: Settings) -> Habit:
        told, inner = given(node, Habit), node.at("exposure")
        on = {"starts_on": told["from_on"], "watch_id": told["watch_id"]}
        contact = Exposure(**given(inner, Exposure, OF_A_MOMENT), **on)
        watch = _watch_of(node, told["watch_id"], watches)
        with judged(node, Habit):
            habit = check_habit(Habit(contact, **told), watch, self.today)
        with judged(inner, Exposure):
            return replace(
                habit, exposure=recheck_exposure(contact, watch, self.practice, settings, self.today)
            )

    def _snoozed(self) -> dict[str, date]:
        found: dict[str, date] = {}
        for node in self.root.items_of("snoozed"):
            item = item_of_today(_tidy(node.at("item"), "item", ITEM_LENGTH))
            until = node.at("until_on")
            found[item] = until.read(DAY)
            if found[item] > self.today:  # one that is over silences nothing
                with judged_at(until):
                    check_until(found[item], self.today, "until_on")
        return found

    def _origins(self, exposures: set[int | None]) -> dict[int, str]:
        found: dict[int, str] = {}
        for node in self.root.items_of("imported"):
            id_ = node.at("exposure").read(ID)
            if id_ not in exposures:
                node.at("exposure").wrong(f"there is no exposure {id_} in this file.")
            origin = node.at("origin")
            found[id_] = _tidy(origin, "origin", ORIGIN_LENGTH)
            if found[id_].startswith("dive ") and Origin.read(found[id_]) is None:
                origin.wrong("this is no dive of a file: that has a start, seconds, millimetres and an id.")
        return found


def _span(node: Node) -> tuple[date, date] | None:
    """The first and the last day on which an event may have been, where its day is not known."""
    if node.members().get("span") is None:
        return None
    ends = node.at("span").items()
    if len(ends) != 2:
        node.at("span").wrong(f"here stand {len(ends)} days, but the first and the last belong here.")
    first, last = (end.read(DAY) for end in ends)
    return first, last


def _watch_of(node: Node, watch_id: int | None, watches: Mapping[int | None, Watch]) -> Watch:
    """The watch of an entry, without its own first date: that may have been corrected since."""
    watch = watches.get(watch_id)
    if watch is None:
        node.at("watch_id").wrong(f"there is no watch {watch_id} in this file.")
    told = node.members().get("watch")
    if told is not None and (not isinstance(told, str) or name_key(told) != name_key(watch.name)):
        node.at("watch").wrong(
            f"watch {watch_id} of this file is '{printable(watch.name, 40)}', not this one."
        )
    return replace(watch, bought_on=None, new_on=None)


def _tidy(node: Node, what: str, limit: int) -> str:
    """A text that is not shown to people as a name or a note is."""
    text: str = node.read(TEXT)
    with judged_at(node):
        tidy = clean(text, what, what, limit)
    if not tidy:
        node.wrong(f"here stands an empty text, but the {what} belongs here.")
    return text


def _refuse_doubles(nodes: Iterable[Node]) -> None:
    """Raises BadInput for an id that is used twice among these."""
    seen: dict[int, str] = {}
    for node in nodes:
        id_ = node.at("id").read(ID)
        if id_ in seen:
            node.at("id").wrong(f"the id {id_} is that of {seen[id_]} too; each has one of its own.")
        seen[id_] = node.path


def _refuse_same_names(shelf: Sequence[Node], watches: Sequence[FiledWatch]) -> None:
    seen: dict[str, str] = {}
    for node, one in zip(shelf, watches, strict=True):
        key = name_key(one.watch.name)
        if key in seen:
            sentence = f"this is the name of {seen[key]} too; capitals do not count."
            node.at("name").wrong(sentence)
        seen[key] = node.path


def _check_brought_seals(
    shelf: Sequence[Node], watches: Sequence[FiledWatch], nodes: Sequence[Node], events: Sequence[Event]
) -> None:
    """Seals that an event brought are those that it lists, of its watch, its day and its order."""
    by_id = {event.id: event for event in events}
    brought: dict[int | None, list[tuple[str, str]]] = {}
    for node, one in zip(shelf, watches, strict=True):
        for place, seal in zip(node.at("seals").items(), one.seals, strict=True):
            if seal.event_id is None:
                continue
            event = by_id.get(seal.event_id)
            if event is None or event.kind != "gaskets" or event.watch_id != one.watch.id:
                place.at("event_id").wrong(f"entry {seal.event_id} brought no gaskets to this watch.")
            if (seal.fitted_earliest, seal.fitted_latest, seal.order) != (*event.days, event.order):
                sentence = (
                    f"entry {event.id} fitted this seal on {event.on} in order {event.order}, not then."
                )
                place.at("fitted_latest").wrong(sentence)
            brought.setdefault(event.id, []).append((seal.position, seal.material))
    for node, event in zip(nodes, events, strict=True):
        if sorted(event.seals) != sorted(brought.get(event.id, [])):
            node.at("seals").wrong("the watch has other seals of this event than are listed here.")
