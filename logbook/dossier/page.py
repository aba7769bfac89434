"""The page of a watch as it stands on a day: what the command and the terminal UI both write."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from logbook.dossier.content import Dossier, gather
from logbook.model.judge.standing import stand
from logbook.model.practice import Practice
from logbook.model.predict.draws import Draws
from logbook.model.predict.insight import insight_of, near_years
from logbook.model.values import Units, WatchRecord
from logbook.record.reading.insight import read_outset
from logbook.record.reading.rows import Rows


def page_of(
    rows: Rows,
    record: WatchRecord,
    practice: Practice,
    today: date,
    units: Units,
    asked: Sequence[str] = (),
    *,
    with_notes: bool = False,
) -> Dossier:
    """The page of one watch with its bands and due dates; takes a moment.

    Without the chance: that rests on the tests of every watch. Raises BadInput as `gather` does.
    """
    outset = read_outset(rows, record, practice, today)
    insight = insight_of(outset, Draws.random(practice), near_years(record, practice))
    standing = stand(record, practice, today, insight=insight)
    return gather(rows, standing, practice, units, asked, with_notes=with_notes)
