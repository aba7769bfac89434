"""`logbook watch add|edit|show|retire`."""

from __future__ import annotations

import pytest

from tests.cli.running import CAUTION_START, PAPER, REED, Cli


def words(text: str) -> str:
    return " ".join(text.split())


def told(cli: Cli, name: str) -> dict:
    return next(w for w in cli.everything()["watches"] if w["name"] == name)


def test_the_first_watch_begins_the_record(bare: Cli) -> None:
    assert not bare.file.exists()
    document = bare.json(*REED)
    assert bare.file.exists()
    assert document["watch"]["name"] == "Reed green"
    assert document["watch"]["marked_pa"] == 20e5


def test_the_record_is_private_to_its_owner(cli: Cli) -> None:
    assert cli.file.stat().st_mode & 0o777 == 0o600


def test_metres_on_a_dial_count_ten_to_the_bar(bare: Cli) -> None:
    # The trade's conversion of a marked depth: common practice, no source.
    assert bare.json(*PAPER)["watch"]["marked_pa"] == 3e5


def test_a_mark_stays_in_the_unit_that_the_dial_has(bare: Cli) -> None:
    metres = ("watch", "add", "One", "--mark", "divers", "--marked", "200m")
    assert bare.json(*metres)["watch"]["marked_in"] == "m"
    assert "diver’s 200 m" in bare.ok("watch", "show", "one")
    assert bare.json("watch", "edit", "one", "--bar", "20")["watch"]["marked_in"] == "bar"
    assert "diver’s 20 bar" in bare.ok("watch", "show", "one")


def test_the_years_made_and_pushers_for_the_water_are_kept_and_shown(bare: Cli) -> None:
    bare.ok("watch", "add", "One", "--made", "1968..1972", "--pushers", "--pushers-wet")
    watch = told(bare, "One")
    assert (watch["made_from"], watch["made_to"], watch["pushers_wet"]) == (1968, 1972, True)
    shown = words(bare.ok("watch", "show", "one"))
    assert "made between 1968 and 1972" in shown
    assert "pushers that its maker allows in water" in shown
    assert bare.json("watch", "edit", "one", "--made", "1970")["watch"]["made_to"] == 1970
    assert "made in 1970" in words(bare.ok("watch", "show", "one"))


@pytest.mark.parametrize(
    ("options", "expected"),
    [
        (("--made", "old"), "is not a year"),
        (
            (
                "--made",
                "1968..",
            ),
            "is not a year",
        ),
        (("--made", "1972..1968"), "earlier year first"),
        (("--made", "2027"), "No watch was made in 2027"),
        (("--pushers-wet",), "has no pushers"),
    ],
)
def test_a_watch_that_cannot_have_been_made_so_is_refused(
    cli: Cli, options: tuple[str, ...], expected: str
) -> None:
    assert expected in cli.refused("watch", "add", "One", *options)


def test_a_number_without_a_mark_is_water_resistant_and_no_number_is_unknown(bare: Cli) -> None:
    assert bare.json("watch", "add", "One", "--bar", "5")["watch"]["mark"] == "water-resistant"
    assert bare.json("watch", "add", "Two")["watch"]["mark"] == "unknown"


def test_seals_of_unknown_date_go_back_to_the_purchase_where_nothing_earlier_is_told(bare: Cli) -> None:
    told = ("--mark", "divers", "--bar", "20", "--seals", "NBR", "--use", "diving")
    bare.ok("watch", "add", "Plain", *told)
    bare.ok("watch", "add", "Used", *told, "--bought", "2026-03-01")
    plain, used = bare.score("Plain"), bare.score("Used")
    assert [s["fitted"] for s in used["seals"]] == ["2026-03-01..2026-03-15"] * 3
    assert [s["fitted"] for s in plain["seals"]] == ["1996-03-15..2026-03-15"] * 3
    assert used["score"] is plain["score"] is None
    assert used["why_not"]
    assert "never-tested" in [stop["code"] for stop in used["stops"]]


def test_a_stated_use_beyond_the_mark_is_said_at_once(bare: Cli) -> None:
    said = "its stated use is diving: the check will say keep it dry there."
    assert said in words(bare.ok("watch", "add", "Three", "--bar", "3", "--use", "diving"))
    assert "beyond-class" in [stop["code"] for stop in bare.score("Three")["stops"]]
    assert "Its mark allows" not in bare.ok("watch", "edit", "three", "--use", "dry")
    assert "its stated use is swimming" in words(bare.ok("watch", "edit", "three", "--use", "swimming"))
    assert "Its mark allows" not in bare.ok("watch", "retire", "three")
    assert set(bare.json("watch", "add", "Four", "--bar", "3", "--use", "diving")) == {"watch", "entries"}


def test_seals_of_which_nothing_is_known_go_back_thirty_years(bare: Cli) -> None:
    seals = bare.json(*PAPER)["watch"]["seals"]
    assert {(s["fitted_earliest"], s["fitted_latest"]) for s in seals} == {("1996-03-15", "2026-03-15")}


def test_one_seal_is_told_apart_with_its_date(bare: Cli) -> None:
    words = (
        "watch",
        "add",
        "Odd",
        "--seals",
        "NBR",
        "--fitted",
        "2024-01-01..2024-03-01",
        "--seal",
        "crown=FKM@2025-01-10",
    )
    seals = {s["position"]: s for s in bare.json(*words)["watch"]["seals"]}
    assert (seals["crown"]["material"], seals["crown"]["fitted_earliest"]) == ("FKM", "2025-01-10")
    assert (seals["crystal"]["fitted_earliest"], seals["crystal"]["fitted_latest"]) == (
        "2024-01-01",
        "2024-03-01",
    )


def test_pushers_and_gas_valve_bring_their_seals(bare: Cli) -> None:
    seals = bare.json("watch", "add", "Full", "--pushers", "--gas-valve")["watch"]["seals"]
    assert [s["position"] for s in seals] == ["case-back", "crystal", "crown", "pushers", "gas-valve"]


def test_a_watch_bought_new_has_seals_and_makers_test_of_that_day(bare: Cli) -> None:
    bare.ok(
        "watch", "add", "New", "--mark", "divers", "--bar", "20", "--new-on", "2026-01-05", "--use", "diving"
    )
    assert told(bare, "New")["seals"][0]["fitted_earliest"] == "2026-01-05"
    assert bare.score("New")["stops"] == []


def test_a_test_told_with_the_watch_is_an_event_with_an_id(bare: Cli) -> None:
    document = bare.json(*REED)
    assert [(e["kind"], e["on"], e["test_pa"]) for e in document["entries"]][-1] == (
        "pressure-test",
        "2025-06-10",
        20e5,
    )
    assert all(isinstance(e["id"], int) for e in document["entries"])
    assert "pressure test passed, 20 bar in air on 10 Jun 2025" in bare.ok("watch", "add", "B", *REED[3:])


@pytest.mark.parametrize(
    ("told", "first", "last"),
    [
        ("2025", "2025-01-01", "2025-12-31"),
        ("may 2025", "2025-05-01", "2025-05-31"),
        ("2025-05", "2025-05-01", "2025-05-31"),
        ("spring 2025..2025-10", "2025-03-01", "2025-10-31"),
        ("2 years ago", "2024-01-01", "2024-12-31"),
        ("2026", "2026-01-01", "2026-03-15"),
        ("2025-05-03", "2025-05-03", "2025-05-03"),
    ],
)
def test_dates_known_roughly_are_spans_of_days(bare: Cli, told: str, first: str, last: str) -> None:
    words = ("watch", "add", "A", "--bar", "10", "--fitted", told, "--tested", told, "--tested-bar", "10")
    bare.ok(*words)
    (seal, *_), events = bare.everything()["watches"][0]["seals"], bare.everything()["events"]
    assert (seal["fitted_earliest"], seal["fitted_latest"]) == (first, last)
    # A pass counts on the first day; a range is no opening on a day, and asks for a test by itself.
    opened = {"opened": last} if first == last else {}
    assert {e["kind"]: e["on"] for e in events} == opened | {"pressure-test": first}
    asks = "opened-untested" in [s["code"] for s in bare.score("A")["stops"]]
    assert asks is (first != last)
    bare.ok("watch", "edit", "A", "--seal", "crown=FKM@jan 2025..feb 2025")
    (crown,) = [s for s in bare.everything()["watches"][0]["seals"] if s["position"] == "crown"]
    assert (crown["fitted_earliest"], crown["fitted_latest"]) == ("2025-01-01", "2025-02-28")


def test_gaskets_newer_than_the_last_test_leave_the_watch_opened_and_untested(bare: Cli) -> None:
    bare.ok(
        "watch",
        "add",
        "A",
        "--bar",
        "10",
        "--fitted",
        "2026-02-01",
        "--tested",
        "2025-12-01",
        "--tested-bar",
        "10",
    )
    bare.ok(
        "watch",
        "add",
        "B",
        "--bar",
        "10",
        "--fitted",
        "2025-11-01",
        "--tested",
        "2025-12-01",
        "--tested-bar",
        "10",
    )
    assert "opened-untested" in [s["code"] for s in bare.score("A")["stops"]]
    assert "opened-untested" not in [s["code"] for s in bare.score("B")["stops"]]


def test_every_other_option_is_kept(bare: Cli) -> None:
    bare.ok(
        "watch",
        "add",
        "All",
        "--case",
        "titanium",
        "--movement",
        "quartz",
        "--winds",
        "3",
        "--presses",
        "2.5",
        "--reference",
        "Ref 12",
        "--note",
        "from an uncle",
        "--group",
        "travel",
        "--bought",
        "2020-01-01",
        "--recorded-from",
        "2025-01-01",
        "--worn",
        "6h",
        "--interval",
        "battery=24",
        "--interval",
        "strap=12",
    )
    watch = told(bare, "All")
    assert (
        watch["case_material"],
        watch["movement"],
        watch["winds_per_week"],
        watch["presses_per_week"],
    ) == (
        "titanium",
        "quartz",
        3.0,
        2.5,
    )
    assert (watch["reference"], watch["note"], watch["group"]) == ("Ref 12", "from an uncle", "travel")
    assert (watch["bought_on"], watch["recorded_from"], watch["worn_h"]) == ("2020-01-01", "2025-01-01", 6.0)
    assert watch["intervals_months"] == {"battery": 24, "strap": 12}


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("--crown", "pushed", "--crown", "screwed"), "A crown is pushed or screwed, not both"),
        (("--bar", "10", "--marked", "100m"), "--bar and --marked say the same thing"),
        (("--mark", "divers"), "A diver's mark has a number"),
        (("--mark", "divers", "--bar", "5"), "A diver's mark starts at 100 m"),
        (("--mark", "unmarked", "--bar", "5"), "An unmarked watch states no pressure"),
        (("--mark", "diver"), "Did you mean divers?"),
        (("--bar", "3000"), "out of range"),
        (("--bar", "20m"), "a pressure belongs here"),
        (("--seals", "rubber"), "'rubber' is no material"),
        (("--seal", "crown=NBR", "--seal", "crown=FKM"), "told twice"),
        (("--seal", "pushers=NBR"), "add --pushers"),
        (("--seal", "glass=NBR"), "'glass' is no sealing place"),
        (("--fitted", "2026-03-16"), "lies in the future"),
        (("--fitted", "2025-02-01..2024-01-01"), "runs backwards"),
        (("--fitted", "03/04/2025"), "day first or month first"),
        (("--fitted", "before 2015"), "has one end: write both"),
        (("--fitted", "2027"), "lies in the future"),
        (("--tested", "soon", "--tested-bar", "10"), "not a date or a span of time"),
        (("--tested", "2025-01-01"), "--tested-bar 10"),
        (("--tested-bar", "10"), "--tested DATE"),
        (("--tested", "2027-01-01", "--tested-bar", "10"), "lies in the future"),
        (("--bought", "2025-01-01", "--tested", "2024-01-01", "--tested-bar", "3"), "first date, 2025-01-01"),
        (("--new-on", "2024-01-01", "--bought", "2025-01-01"), "2025-01-01"),
        (("--worn", "25"), "a day has no more"),
        (("--winds", "many"), "is not a number"),
        (("--case", "gold"), "'gold' is no case material"),
        (("--interval", "oiling=5"), "'oiling' is no task"),
        (("--interval", "battery=0"), "out of range"),
        (("--note", "a\x1b[31mb"), "control character"),
    ],
)
def test_a_watch_that_cannot_be_is_refused(cli: Cli, words: tuple[str, ...], expected: str) -> None:
    assert expected in cli.refused("watch", "add", "New one", *words)


def test_a_name_is_given_once_whatever_its_case(cli: Cli) -> None:
    assert "There is already a watch called Reed green" in cli.refused("watch", "add", "REED GREEN")


def test_a_name_without_letters_or_with_a_colon_is_refused(cli: Cli) -> None:
    assert "empty" in cli.refused("watch", "add", "  ")
    assert "colon" in cli.refused("watch", "add", "a: b")


def test_edit_changes_what_is_said_and_nothing_else(cli: Cli) -> None:
    before = told(cli, "Reed green")
    cli.ok("watch", "edit", "reed", "--name", "Reed blue", "--worn", "11")
    after = told(cli, "Reed blue")
    assert after == before | {"name": "Reed blue", "worn_h": 11.0}


def test_edit_corrects_a_seal_that_came_with_the_watch(cli: Cli) -> None:
    cli.ok("watch", "edit", "reed", "--seal", "crown=FKM@2025-03-01")
    seals = {s["position"]: s for s in told(cli, "Reed green")["seals"]}
    assert (seals["crown"]["material"], seals["crown"]["fitted_earliest"]) == ("FKM", "2025-03-01")
    assert (seals["crystal"]["material"], seals["crystal"]["fitted_earliest"]) == ("NBR", "2025-02-01")


def test_edit_gives_a_watch_the_pushers_that_were_forgotten(cli: Cli) -> None:
    cli.ok("watch", "edit", "paper", "--pushers", "--seals", "NBR")
    watch = told(cli, "Paper white")
    assert watch["pushers"] is True
    assert [s["position"] for s in watch["seals"]] == ["case-back", "crystal", "crown", "pushers"]


def test_edit_makes_a_mark_unknown_and_forgets_its_number(cli: Cli) -> None:
    cli.ok("watch", "edit", "paper", "--mark", "unknown")
    assert told(cli, "Paper white")["marked_pa"] is None


def test_edit_clears_an_interval_of_its_own(cli: Cli) -> None:
    cli.ok("watch", "edit", "paper", "--interval", "battery=24")
    assert told(cli, "Paper white")["intervals_months"] == {"battery": 24}
    cli.ok("watch", "edit", "paper", "--interval", "battery=")
    assert told(cli, "Paper white")["intervals_months"] == {}


def test_edit_that_cannot_be_writes_nothing(cli: Cli) -> None:
    assert "2025-01-01" in cli.refused(
        "watch", "edit", "reed", "--bought", "2025-01-01", "--new-on", "2024-01-01"
    )
    assert "Did you mean" in cli.refused("watch", "edit", "reed", "--crown", "screwd")
    assert "did you mean Reed green?" in cli.refused("watch", "edit", "reed gren", "--worn", "3")


def test_edit_of_description_and_seals_is_one_step_of_undo(cli: Cli) -> None:
    before = cli.everything()
    cli.ok("watch", "edit", "reed", "--worn", "11", "--seals", "FKM", "--fitted", "2025-03-01")
    assert {s["material"] for s in told(cli, "Reed green")["seals"]} == {"FKM"}
    assert "edit Reed green" in cli.ok("undo")
    assert cli.everything() == before


def test_edit_of_all_seals_is_one_step_of_undo(cli: Cli) -> None:
    before = cli.everything()
    cli.ok("watch", "edit", "reed", "--seals", "FKM")
    assert "correct the seals of Reed green" in cli.ok("undo")
    assert cli.everything() == before


def test_edit_that_says_nothing_new_is_no_step_of_undo(cli: Cli) -> None:
    cli.ok("watch", "edit", "reed", "--worn", "9")
    assert "add Lido chrono" in cli.ok("undo")


@pytest.mark.parametrize(
    ("name", "day", "expected"),
    [
        ("reed", "2025-02-02", "its case back seal was fitted on 2025-02-01"),
        ("wet", "2026-02-21", "the record has water (dive) on 2026-02-20"),
        ("tested", "2025-06-11", "the record has an event (opened) on 2025-02-01"),
        ("habit", "2026-01-02", "the record has a habit from 2026-01-01"),
        ("worn", "2026-01-06", "the record has a worn stretch from 2026-01-05"),
    ],
)
def test_a_day_bought_new_after_what_is_on_record_is_refused(
    cli: Cli, name: str, day: str, expected: str
) -> None:
    if name != "reed":
        cli.ok("watch", "edit", "reed", "--fitted", "2024-01-01..2026-03-15", "--recorded-from", "2024-01-01")
    if name in ("wet", "habit", "worn"):
        cli.ok("strike", "1")
        cli.ok("strike", "2")
    if name == "wet":
        cli.ok("wet", "reed: dive 18m 40min on 2026-02-20", "reed: dive 18m 40min on 2026-02-22")
    if name == "habit":
        cli.ok("habit", "reed", "shower", "--per", "week", "1", "--from", "2026-01-01")
    if name == "worn":
        cli.ok("worn", "reed", "--from", "2026-01-05", "--to", "2026-01-09", "--hours", "3")
    said = words(cli.refused("watch", "edit", "reed", "--new-on", day))
    assert expected in said
    assert f"bought new on {day}" in said


def test_a_day_bought_new_before_all_that_is_on_record_is_taken(cli: Cli) -> None:
    cli.ok("watch", "edit", "reed", "--new-on", "2025-02-01")
    assert told(cli, "Reed green")["new_on"] == "2025-02-01"


def test_a_day_bought_new_may_come_with_the_seals_that_make_it_right(cli: Cli) -> None:
    cli.ok("watch", "edit", "paper", "--fitted", "2025-02-01")
    cli.refused("watch", "edit", "paper", "--new-on", "2025-03-01")
    cli.ok("watch", "edit", "paper", "--new-on", "2025-03-01", "--fitted", "2025-03-01")
    assert told(cli, "Paper white")["new_on"] == "2025-03-01"


def test_an_edit_of_something_else_is_not_held_up_by_old_days(cli: Cli) -> None:
    """A record from before such days were refused can still be described anew."""
    cli.ok("watch", "add", "Odd", "--new-on", "2025-01-01", "--fitted", "2024-06-01")
    cli.ok("watch", "edit", "odd", "--note", "an odd one")


def test_show_has_description_standing_what_is_next_and_the_last_entries(wet_cli: Cli) -> None:
    document = wet_cli.json("watch", "show", "reed")
    assert document["watch"]["name"] == "Reed green"
    assert document["standing"]["score"] == wet_cli.score("reed")["score"]
    assert document["due"][0]["task"] == "pressure-test"
    assert document["last_entries"][0]["kind"] == "pressure-test"
    assert document["caution"].startswith(CAUTION_START)
    text = wet_cli.ok("watch", "show", "reed")
    assert "diver’s 20 bar" in text
    assert CAUTION_START in text
    assert max(len(line) for line in text.splitlines()) <= 80


def test_what_is_next_is_in_the_order_of_its_services(wet_cli: Cli) -> None:
    wet_cli.ok("event", "reed", "crystal-damaged", "--on", "2026-03-14")
    text = " ".join(wet_cli.ok("watch", "show", "reed").split())
    after = text.partition("Next: ")[2]
    assert after.split(" ", 3)[3].startswith("to a workshop now; due with it: ")
    assert "pressure test" in after


def test_retire_takes_off_the_shelf_and_back(cli: Cli) -> None:
    cli.ok("watch", "retire", "paper", "--on", "2026-03-01")
    assert told(cli, "Paper white")["retired_on"] == "2026-03-01"
    assert "Paper white is back on the shelf" in cli.ok("watch", "retire", "paper", "--back")
    assert told(cli, "Paper white")["retired_on"] is None
    assert "lies in the future" in cli.refused("watch", "retire", "paper", "--on", "2026-04-01")


def test_exposures_that_stand_by_a_lower_mark_are_said_when_it_is_changed(cli: Cli) -> None:
    cli.ok("wet", "reed: dive 40m 30min 15C on 2026-02-20")
    assert cli.json("watch", "edit", "reed", "--note", "same")["meaning"] == []
    said = cli.ok("watch", "edit", "reed", "--mark", "water-resistant", "--bar", "3")
    flat = words(said)
    assert "keep it dry: a dive to 40 m on 20 Feb 2026 went above its mark" in flat
    assert CAUTION_START in said
    cli.ok("watch", "edit", "reed", "--mark", "divers", "--bar", "20")
    (meant, *_) = cli.json("watch", "edit", "reed", "--mark", "water-resistant", "--bar", "3")["meaning"]
    assert meant.startswith("keep it dry: a dive to 40 m")
