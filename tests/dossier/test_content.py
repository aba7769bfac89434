"""What the page says of a watch, and of no other."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from logbook import demo
from logbook.caution import CAUTION
from logbook.dossier.content import Dossier, gather
from logbook.dossier.drawing import DepthPlot
from logbook.dossier.render import render
from logbook.errors import BadInput
from logbook.model.judge.standing import stand
from logbook.model.values import Seal, Watch
from logbook.record.file.store import Store
from logbook.record.reading import charged, glance
from logbook.record.writing import events, exposures, watches
from tests.dossier import making
from tests.dossier.hostile import LONE_SURROGATE
from tests.dossier.making import PRACTICE, TODAY, event, wet

BOUGHT = date(2024, 3, 1)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with making.new_store(tmp_path / "record.logbook") as made:
        yield made


def reef(store: Store, **changes: object) -> int:
    """A diver's watch with known seals, two dives, a shower, a pass, a failure and fog."""
    given: dict[str, object] = {
        "recorded_from": BOUGHT, "crown": "screwed", "use": "diving", "bought_on": BOUGHT, "gas_valve": True,
    }  # fmt: skip
    watch = Watch("Reef", "divers", 20e5, BOUGHT, **{**given, **changes})  # type: ignore[arg-type]
    seals = [Seal(place, "NBR", BOUGHT, BOUGHT) for place in ("case-back", "crystal", "crown", "gas-valve")]
    watch_id = watches.add(store, watch, seals, [], PRACTICE)
    happened = [
        event("pressure-test", date(2025, 6, 1), watch_id, passed=True, test_pa=20e5, medium="water",
              minutes=10),
        event("fog", date(2025, 2, 1), watch_id, crystal_c=5.0, note="after the lake"),
        event("pressure-test", date(2026, 2, 1), watch_id, passed=False, test_pa=10e5, medium="air",
              deflection_um=38.0, workshop="the bench by the mill"),
        event("crown-damaged", date(2026, 2, 20), watch_id, note="turns without a click"),
    ]  # fmt: skip
    events.add(store, happened, PRACTICE)
    water = [
        wet("dive", date(2025, 5, 1), watch_id, depth_m=30, duration_s=2400, water_c=10,
            note="with an old friend"),
        wet("dive", date(2025, 7, 1), watch_id, depth_m=18, duration_s=3600, water_c=20, rinsed=True,
            crown_wet=2),
        wet("shower", date(2025, 8, 1), watch_id),
    ]  # fmt: skip
    exposures.add(store, water, PRACTICE)
    return watch_id


def page_of(store: Store, **given: object) -> Dossier:
    return making.page_of(store, reef(store), **given)  # type: ignore[arg-type]


def begun(page: Dossier) -> list[str]:
    """What began each of the things that stand, without what lifts it."""
    return [re.split("; |: ", line)[0] for line in page.stands_open]


def texts(page: Dossier) -> tuple[str, str]:
    return render(page, "html"), render(page, "markdown")


def test_it_begins_with_the_watch_the_wish_and_what_stands_open(store: Store) -> None:
    page = page_of(store, asked=["new gaskets and a pressure test"])
    assert (page.name, page.printed_on) == ("Reef", "15 Mar 2026")
    assert page.recorded == ("Water on record from 1 Mar 2024", "last water 1 Aug 2025")
    assert page.asked == ("new gaskets and a pressure test",)
    assert begun(page) == [
        "the crown was damaged on 20 Feb 2026",
        "a pressure test at 10 bar in air failed on 1 Feb 2026",
        "fog was seen inside on 1 Feb 2025",  # nobody has opened it since
    ]
    assert all("it stands until" in line for line in page.stands_open)
    assert page.due[0].startswith("pressure test: overdue since 1 Feb 2025 (fog was seen inside, 1 Feb 2025")
    html = render(page, "html")
    order = ["<h1>Reef", "new gaskets and", "crown was damaged on", CAUTION, "Seals now", "Exposures by",
             "Tests", "For the workshop to fill in"]  # fmt: skip
    places = [html.index(each) for each in order]
    assert places == sorted(places)


def test_what_was_before_the_record_began_is_said_not_to_be_charged(store: Store) -> None:
    began, confirmed = date(2025, 6, 1), date(2025, 9, 30)
    page = making.page_of(store, reef(store, recorded_from=began, confirmed_on=confirmed))
    assert page.recorded == (
        "Water on record from 1 Jun 2025",
        "1 exposure from before that day is listed but not charged",
        "last water 1 Aug 2025",
        "log confirmed complete up to 30 Sep 2025",
    )
    assert page.exposed.activities.rows[-1][:2] == ("all", "3")
    html, markdown = texts(page)
    assert "; ".join(page.recorded) in markdown
    for line in page.recorded:
        assert line in html


@pytest.mark.parametrize(
    ("began", "told"),
    [
        (date(2025, 7, 2), "2 exposures from before that day are listed but not charged"),
        (date(2026, 3, 15), "3 exposures from before that day are listed but not charged"),
    ],
)
def test_exposures_that_are_not_charged_are_counted(store: Store, began: date, told: str) -> None:
    assert told in making.page_of(store, reef(store, recorded_from=began)).recorded


def test_the_last_water_is_no_confirmation_and_none_later_than_the_page(store: Store) -> None:
    watch_id = reef(store, confirmed_on=date(2026, 3, 1))
    assert making.page_of(store, watch_id, today=date(2025, 5, 10)).recorded[1:] == (
        "last water 1 May 2025",
        "log confirmed complete up to 10 May 2025",
        "the clock is behind: 1 Mar 2026 is on record already",
    )
    assert making.page_of(store, watch_id, today=date(2024, 5, 10)).recorded[1] == "no water so far"


def test_mark_and_marked_pressure_are_told_in_bar_and_metres(store: Store) -> None:
    facts = dict(page_of(store).facts)
    assert facts["Mark"] == "diver’s"
    assert facts["Marked pressure"] == "20 bar (200 m, by the trade’s 10 m = 1 bar)"
    assert facts["Crown, pushers, valve"] == "crown screwed down, gas valve"
    assert facts["Case, movement"] == "steel, mechanical"
    assert facts["Bought"] == "1 Mar 2024, not said to be new"
    assert facts["Last passed wet test"] == "1 Jun 2025, 20 bar in water"
    assert facts["Last passed dry test"] == "none on record"


def test_imperial_units_keep_the_bar_beside_them(store: Store) -> None:
    page = page_of(store, units="imperial")
    assert dict(page.facts)["Marked pressure"].startswith("20 bar (200 m, 656 ft")
    told = dict(page.exposed.extremes)
    assert told["Greatest depth"] == "98 ft, dive on 1 May 2025"
    assert told["Greatest gauge pressure"].startswith("43.5 psi (3.00 bar), ")
    assert told["Largest temperature swing"].startswith("40 °F (90 °F to 50 °F), ")
    assert page.exposed.hardest.rows[0][2].endswith(" ft")


def test_the_seals_are_told_as_the_account_has_them(store: Store) -> None:
    watch_id = reef(store)
    page, standing = making.page_of(store, watch_id), making.standing_of(store, watch_id)
    assert page.seals.table.rows[0][:3] == ("case back", "NBR", "1\xa0Mar\xa02024")
    for row, wear, bar in zip(page.seals.table.rows, standing.seals, page.seals.bars, strict=True):
        band = standing.band_of(wear.seal.position)
        assert band is not None
        assert row[3] == f"{100 * wear.wear_share:.0f} %"
        assert row[4] == f"{100 * band.low:.0f}–{100 * band.high:.0f} %"
        assert sum(bar.parts) == pytest.approx(wear.wear_share, abs=1e-9)
    assert page.seals.score.startswith(f"Seal score {standing.score} of 100, likely ")
    assert [stop.partition(":")[0] for stop in page.seals.stops] == [s.verdict for s in standing.stops]


def test_a_band_from_nothing_begins_at_nought(store: Store) -> None:
    watch_id = reef(store)
    standing = making.standing_of(store, watch_id)
    assert standing.insight is not None
    bands = standing.insight.bands
    assert bands is not None
    told = {}
    for low, high in ((0.0, 1.94), (0.0, 0.0), (0.0, 0.002), (0.002, 0.31), (0.31, 0.31), (0.4, 12.0)):
        seals = {place: replace(band, low=low, high=high) for place, band in bands.seals.items()}
        there = replace(standing, insight=replace(standing.insight, bands=replace(bands, seals=seals)))
        page = gather(store.rows, there, PRACTICE, "metric")
        told[low, high] = page.seals.table.rows[0][4]
    assert list(told.values()) == ["0–194 %", "–", "<1 %", "<1–31 %", "31 %", "40–>999 %"]


def test_an_unknown_fitting_says_so_between_its_dates(store: Store) -> None:
    first = date(2017, 3, 1)
    watch = Watch("Drawer", "unknown", None, BOUGHT, BOUGHT)
    seals = [Seal("crown", "unknown", first, BOUGHT), Seal("case-back", "NBR", first, date(2020, 3, 1))]
    page = making.page_of(store, watches.add(store, watch, seals, [], PRACTICE))
    fitted = [row[2].replace("\xa0", " ") for row in page.seals.table.rows]
    assert fitted == ["between 1 Mar 2017 and 1 Mar 2020", "unknown, between 1 Mar 2017 and 1 Mar 2024"]
    assert dict(page.facts)["Last opened"] == "not on record"
    assert "No exposure is on record." in render(page, "html")
    assert page.exposed.extremes == ()


def test_a_watch_without_a_seal_on_record_has_a_page(store: Store) -> None:
    page = making.page_of(
        store, watches.add(store, Watch("Bare", "unmarked", None, BOUGHT, BOUGHT), [], [], PRACTICE)
    )
    html, markdown = texts(page)
    assert "No seal is on record." in html
    assert "No seal is on record." in markdown
    assert "<svg" not in html


def test_exposures_are_summed_by_activity(store: Store) -> None:
    rows = page_of(store).exposed.activities.rows
    assert rows == (
        ("dive", "2", "1.7 h", "30 m", "2", "–", "1"),
        ("shower", "1", "0.1 h", "0.1 m", "–", "1", "–"),
        ("all", "3", "1.8 h", "30 m", "2", "1", "1"),
    )


def test_the_extremes_are_those_on_record_and_since_the_last_pass(store: Store) -> None:
    told = dict(page_of(store).exposed.extremes)
    assert told["Greatest depth"] == "30 m, dive on 1 May 2025"
    assert told["Greatest gauge pressure"] == "3.00 bar, dive on 1 May 2025"
    assert told["Since the last passed pressure test of 1 Jun 2025"] == (
        "2 exposures, 1.1 h; down to 18 m (dive on 1 Jul 2025), at most 1.80 bar"
    )
    assert told["Largest temperature swing"] == "22 K (32 °C to 10 °C), dive on 1 May 2025"


def test_the_hardest_exposures_come_by_what_they_took(store: Store) -> None:
    watch_id = reef(store)
    page, standing = making.page_of(store, watch_id), making.standing_of(store, watch_id)
    assert standing.limiting is not None
    seal_id = standing.limiting.seal.id or 0
    wets = glance.read_exposures(store.rows, watch_id=watch_id)
    took = {e.starts_on: charged.ledger_of(store.rows, e.id or 0)[seal_id].total for e in wets}
    assert [row[0] for row in page.exposed.hardest.rows] == [
        f"{day.day} {day:%b %Y}" for day in sorted(took, key=lambda day: -took[day])
    ]
    row = next(row for row in page.exposed.hardest.rows if row[0] == "1 Jul 2025")
    assert row[1:8] == ("dive", "18 m", "60 min", "sea 20 °C", "12 K", "yes", "crown 2 wet")
    assert float(row[8].removesuffix(" %")) == pytest.approx(100 * took[date(2025, 7, 1)], rel=0.01)


def test_tests_say_result_pressure_medium_time_and_deflection(store: Store) -> None:
    page = page_of(store)
    assert page.tests.rows == (
        (
            "1 Feb 2026",
            "pressure",
            "failed, unresolved",
            "10 bar",
            "air",
            "–",
            "38 µm",
            "the bench by the mill",
        ),
        ("1 Jun 2025", "pressure", "passed", "20 bar", "water", "10 min", "–", "–"),
    )
    assert page.tests.marked == (0,)


def test_unresolved_faults_come_first_and_are_marked(store: Store) -> None:
    watch_id = reef(store)
    seen = [
        event("opened", date(2025, 5, 20), watch_id),  # between the fog and the pass of 1 Jun 2025
        event("knock", date(2026, 3, 1), watch_id),
        event("pressure-test", date(2026, 3, 5), watch_id, passed=True, test_pa=20e5, medium="water"),
    ]
    events.add(store, seen, PRACTICE)
    page = making.page_of(store, watch_id)
    assert [row[:3] for row in page.faults.rows] == [
        ("20 Feb 2026", "UNRESOLVED", "crown damaged"),
        ("1 Mar 2026", "resolved", "fall or blow"),
        ("1 Feb 2025", "resolved", "fog seen inside, crystal 5 °C"),
    ]
    assert page.faults.rows[0][3] == "turns without a click"
    assert page.faults.marked == (0,)


def test_notes_on_exposures_are_private_until_asked_for(store: Store) -> None:
    watch_id = reef(store)
    for text in texts(making.page_of(store, watch_id)):
        assert "old friend" not in text
    for text in texts(making.page_of(store, watch_id, with_notes=True)):
        assert "with an old friend" in text


def test_a_profile_is_drawn_and_thinned_without_losing_its_depth(store: Store) -> None:
    watch_id = reef(store)
    points = making.profile(25, 50, 3000)
    exposures.add(store, [wet("dive", date(2026, 1, 5), watch_id, profile=points, water_c=9)], PRACTICE)
    page = making.page_of(store, watch_id)
    (curve,) = page.exposed.curves
    assert curve.label == "dive on 5 Jan 2026: 24.6 m, 50 min"
    kept = DepthPlot.points(curve)
    assert len(kept) < 600
    assert max(depth for _, depth in kept) == max(curve.depths)
    assert [minutes for minutes, _ in kept] == sorted(minutes for minutes, _ in kept)
    assert "Depth over time of the deepest" in render(page, "html")


def test_a_day_in_the_past_lists_nothing_of_later_but_what_stands_today_stands_then(store: Store) -> None:
    page = making.page_of(store, reef(store), today=date(2025, 5, 10))
    assert page.printed_on == "10 May 2025"
    assert page.tests.rows == ()
    assert page.exposed.activities.rows == (("dive", "1", "0.7 h", "30 m", "1", "–", "1"),)
    assert [row[:2] for row in page.faults.rows] == [("1 Feb 2025", "UNRESOLVED")]
    assert begun(page)[-1] == "fog was seen inside on 1 Feb 2025"
    assert len(page.stands_open) == 3


@pytest.mark.parametrize(
    ("asked", "what"),
    [(["a"] * 4, "--ask is given 4 times"), ([" "], "--ask is empty"), (["x" * 121], "121 characters"),
     (["a\x1b[2J"], "control character"), ([LONE_SURROGATE], "control character")],
)  # fmt: skip
def test_a_wish_that_cannot_be_printed_is_refused(store: Store, asked: list[str], what: str) -> None:
    with pytest.raises(BadInput, match=what) as refused:
        page_of(store, asked=asked)
    assert refused.value.where == "--ask"


def test_nothing_of_another_watch_is_in_it(tmp_path: Path) -> None:
    path = tmp_path / "demo.logbook"
    demo.build(path, TODAY, PRACTICE)
    with glance.open_rows(path) as rows:
        records = glance.read_records(rows, retired=True)
        settings = glance.read_settings(rows)
        for record in records:
            page = gather(rows, stand(record, PRACTICE, TODAY), PRACTICE, "metric", ["a test"])
            others = {r.watch.name for r in records} - {record.watch.name}
            groups = {r.watch.group for r in records if r.watch.group}
            for text in texts(page):
                assert record.watch.name in text.replace("&#39;", "'")
                assert not [name for name in others if name in text.replace("&#39;", "'")]
                assert not [group for group in groups if group in text]
                assert settings.zone not in text
                assert "all your watches" not in text
                assert CAUTION in text


def test_neither_page_promises_anything(store: Store) -> None:
    for text in texts(page_of(store)):
        assert "waterproof" not in text.lower()
        assert "safe" not in text.lower()


def test_what_the_owner_is_told_is_the_owners_bookkeeping(store: Store) -> None:
    for text in texts(replace(page_of(store), asked=())):
        assert "The maker’s instructions and your own judgement come first." in text
        assert "Nothing was written down beyond what is due." in text
