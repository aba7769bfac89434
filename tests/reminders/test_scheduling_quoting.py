"""Whatever is in a path reaches the program as it is, through each scheduler's own rules of quoting.

The rules are read here anew from the manuals: systemd.syntax(7) and systemd.service(5) of systemd 252,
crontab(5) of Debian's cron 3.0pl1, launchd.plist(5) by way of the standard library's own reader.
"""

from __future__ import annotations

import plistlib
import re
import shlex
import subprocess

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from logbook.errors import Refused
from logbook.reminders.scheduling.cron import LONGEST, MARK, Cron, crontab_line
from logbook.reminders.scheduling.job import Job
from logbook.reminders.scheduling.launchd import Launchd
from logbook.reminders.scheduling.systemd import service_text
from tests.effort import tries
from tests.hostile import HOSTILE

NASTY = st.text(
    st.sampled_from("\\\\'\"%$ ;#~*&|<>(){}`!?=-ab\u00e9\U0001f93f")
    | st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"]),
    min_size=1,
    max_size=40,
)
WORDS = st.lists(NASTY, min_size=1, max_size=4)


def job(words: list[str], surroundings: dict[str, str] | None = None) -> Job:
    return Job(("/opt/a place/logbook", *words), 9, 5, surroundings or {})


def systemd_words(line: str, *, variables: bool) -> list[str]:
    """The words of a line: quotes join, backslashes escape as in C, then `%%` is `%` and `$$` is `$`."""
    words, at = [], 0
    for found in re.finditer(r'"((?:[^"\\]|\\.)*)"(?: |$)', line):
        assert found.start() == at, line[at:]
        at = found.end()
        assert set(re.findall(r"\\(.)", found[1])) <= {"\\", '"'}, "no other escape is used"
        word = re.sub(r"\\(.)", lambda escape: escape[1], found[1])
        assert re.fullmatch(r"(?:[^%]|%%)*", word), "a lone percent sign begins a specifier"
        word = word.replace("%%", "%")
        if variables and words:
            assert re.fullmatch(r"(?:[^$]|\$\$)*", word), "a lone dollar sign begins a variable"
            word = word.replace("$$", "$")
        words.append(word)
    assert at == len(line)
    return words


def cron_command(line: bytes, *, double: bool) -> str:
    r"""What cron hands to sh: `\%` is `%`; a bare `%` would end it. With `double`, `\\` is `\` as well."""
    command = line.decode().split(" ", 5)[5].removesuffix("\n")
    taken, at = "", 0
    while at < len(command):
        pair = command[at : at + 2]
        if pair == "\\%" or (double and pair == "\\\\"):
            taken, at = taken + pair[1], at + 2
            continue
        assert command[at] != "%", "a bare percent sign"
        # As cron reads it, the sign after a backslash is never the beginning of another escape.
        step = 2 if command[at] == "\\" and at + 1 < len(command) else 1
        taken, at = taken + command[at : at + step], at + step
    return taken


@given(WORDS, NASTY)
@example(["${HOME}", "$$", "%h", 'a"b', "c\\"], "x")
def test_systemd_reads_the_words_as_they_were(words: list[str], value: str) -> None:
    text = service_text(job(words, {"LOGBOOK_PRACTICE": value}))
    lines = dict(line.split("=", 1) for line in text.splitlines() if "=" in line)
    assert systemd_words(lines["ExecStart"], variables=True) == ["/opt/a place/logbook", *words]
    assert systemd_words(lines["Environment"], variables=False) == [f"LOGBOOK_PRACTICE={value}"]


@pytest.mark.parametrize("double", [False, True])
@given(words=WORDS, value=NASTY)
@example(words=["a\\%b", "a\\\\b", "a\\\\%", "%", "\\", "'\\'"], value="%\\")
def test_cron_and_sh_read_the_words_as_they_were(double: bool, words: list[str], value: str) -> None:
    line = crontab_line(job(words, {"LOGBOOK_PRACTICE": value}))
    command, _, rest = cron_command(line, double=double).rpartition(" >/dev/null ")
    assert rest == MARK.decode()
    assert line.startswith(b"5 9 * * * ")
    assert line.count(b"\n") == 1
    assert shlex.split(command) == [f"LOGBOOK_PRACTICE={value}", "/opt/a place/logbook", *words]


@settings(max_examples=tries(40))
@given(WORDS)
@example(["a\\%b", "'", "$HOME `id` $(id) !! ~ *"])
def test_a_real_shell_reads_the_words_as_they_were(words: list[str]) -> None:
    line = crontab_line(Job(("/usr/bin/printf", r"%s\0", *words), 9, 5))
    command = cron_command(line, double=False).replace(" >/dev/null", "")
    done = subprocess.run(
        ["/bin/sh", "-c", command], capture_output=True, check=True, env={"LC_ALL": "C.UTF-8"}
    )
    assert done.stdout.decode().split("\0") == [*words, ""]


@given(WORDS, NASTY)
def test_launchd_reads_the_words_as_they_were(words: list[str], value: str) -> None:
    (piece,) = Launchd().pieces(job(words, {"LOGBOOK_PRACTICE": value}))
    found = plistlib.loads(piece.content)
    assert found["ProgramArguments"] == ["/opt/a place/logbook", *words]
    assert found["EnvironmentVariables"] == {"LOGBOOK_PRACTICE": value}
    assert found["StartCalendarInterval"] == {"Hour": 9, "Minute": 5}


CONTROLS = [text for text in HOSTILE if re.search("[\x00-\x1f\x7f-\x9f\u2028\ud800]", text)]


@pytest.mark.parametrize("text", CONTROLS)
def test_a_control_character_is_refused_rather_than_written(text: str) -> None:
    assert len(CONTROLS) > 10
    with pytest.raises(Refused, match="control character") as caught:
        job([text])
    assert not re.search("[\x00-\x1f\x7f-\x9f]", caught.value.message)


@pytest.mark.parametrize("part", ["${HOME}", "a$$b", 'a"b', "a'b", "a\\b"])
def test_a_program_whose_path_systemd_does_not_take_is_refused(part: str) -> None:
    # systemd-analyze of systemd 252: "Executable name contains special characters".
    with pytest.raises(Refused, match="systemd cannot start"):
        service_text(Job((f"/opt/{part}/logbook", "nudge"), 9, 0))


def test_a_single_dollar_sign_in_a_programs_path_is_none_of_a_variable() -> None:
    assert 'ExecStart="/opt/$a/logbook" "nudge"' in service_text(Job(("/opt/$a/logbook", "nudge"), 9, 0))


def test_a_line_too_long_for_cron_is_refused() -> None:
    with pytest.raises(Refused, match=f"{LONGEST} fit"):
        Cron().pieces(job(["x" * 1_000]))
