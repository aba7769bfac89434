"""Text that would do harm if it were more than text: for names, notes, cells and files."""

from __future__ import annotations

HOSTILE = [
    # what a spreadsheet would take for a formula
    "=1+1", "=cmd|' /C calc'!A0", "=HYPERLINK(\"x\")", "+1+1", "-1+1", "-rf", "@SUM(A1)",
    "\t=1", "\r=1", "\n=1",
    "＝1+1", "＋1", "－1", "＠A1", "'=1+1", "''", "'", "'tis", "=", "-", "–5", "%0A=1", "|calc",
    # what ends a cell, a row or a line
    "a,b", "a;b", "a\tb", 'say "hi"', '"', '""', '",=1+1', "line\nbreak", "carriage\rreturn",
    "both\r\nof them",
    "trailing ", " leading", "\u2028sep", "\x0bvertical", "\x0cform", "\x85next",
    # what looks like another value
    "null", "NaN", "true", "1e999", "0x10", "007", "2026-07-03", "03/07/2026", "None", "unknown",
    # what other languages would obey
    "[/]", "[b]bold[/b]", "[@click=app.quit]x[/]", "$primary", "{name}", "%s%n", "{{7*7}}", "\\", "\\[x]",
    "'; DROP TABLE watch; --", "<script>", "<!ENTITY x>", "&amp;", "../../etc", "--csv",
    # what a terminal would obey, or would show elsewhere than it stands
    "\x1b[31mred", "\x1b]0;title\x07", "\x9b31m", "a\x00b", "\x7f", "back\x08\x08",
    "\u202eevil", "\u2066iso\u2069",
    "\u200bzero", "\ufeffbom", "\U000e0041tag", "\ud800",
    # what is longer or wider than it looks
    "e\u0301" * 20, "Z\u0351\u0352\u0353" * 15, "\U0001f93f", "\U0001f468\u200d\U0001f469\u200d\U0001f467",
    "漢字時計" * 15, "مرحبا", "x" * 10_000, " ", "…",
]  # fmt: skip
