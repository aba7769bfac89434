"""Text that a spreadsheet must not take for a formula: guarded on the way out, and taken back on the way in.

The signs are those of OWASP, "CSV Injection" (www-community, pages/attacks/CSV_Injection.md at 0e5e8f0);
their full-width forms, which some spreadsheets read alike, and | and % are from memory. Lines and commas
inside a cell are quoted by the writer, so that no cell begins where none should.
"""

from __future__ import annotations

GUARD = "'"
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠", "|", "%")
_GUARDED = (*FORMULA_STARTS, GUARD)  # an apostrophe too, so that taking one off gives back what was there


def guarded(text: str) -> str:
    """The text as a cell, with an apostrophe before it where it would be a formula or begins with one."""
    return GUARD + text if text.startswith(_GUARDED) else text


def unguarded(cell: str) -> str:
    """The text of a cell: without the one apostrophe that `guarded` put there."""
    return cell[1:] if cell.startswith(GUARD) and cell[1:].startswith(_GUARDED) else cell
