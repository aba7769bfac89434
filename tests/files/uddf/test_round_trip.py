"""Invented dives, written as UDDF in every dress that XML has for them, read back as they were."""

from __future__ import annotations

import io
from datetime import UTC, datetime, timedelta, timezone

from hypothesis import example, given, settings
from hypothesis import strategies as st

from logbook.files.uddf.reading import FileDive, read_dives
from logbook.model.values import ProfilePoint
from tests.effort import tries
from tests.files.uddf.writing import Written, uddf

EXTRA = '<tankpressure ref="t1">1.8e7</tankpressure><switchmix ref="m1"/>'


def thousandths(low: int, high: int) -> st.SearchStrategy[float]:
    return st.integers(low * 1000, high * 1000).map(lambda whole: whole / 1000)


@st.composite
def profiles(draw: st.DrawFn) -> tuple[ProfilePoint, ...]:
    times = sorted(draw(st.sets(thousandths(0, 172_800), max_size=12)))
    heats = st.none() | thousandths(-3, 60)
    return tuple(ProfilePoint(time_s, draw(thousandths(0, 400)), draw(heats)) for time_s in times)


@st.composite
def dives(draw: st.DrawFn) -> Written:
    points = draw(profiles())
    zone = draw(st.sampled_from((None, UTC, timezone(timedelta(hours=5, minutes=45)))))
    deepest_m = max((point.depth_m for point in points), default=0.001)
    last_s = points[-1].time_s if points else 1.0
    lowest_c = min((point.water_c for point in points if point.water_c is not None), default=None)
    letters = st.characters(exclude_categories=("Cc", "Cs", "Cf", "Zl", "Zp", "Zs", "Cn"))
    return Written(
        dive_id=draw(st.text(letters, max_size=8)),
        starts=draw(st.datetimes(datetime(1900, 1, 1), datetime(2150, 1, 1))).replace(tzinfo=zone),
        depth_m=max(draw(thousandths(1, 400)), deepest_m),
        duration_s=max(draw(thousandths(1, 172_800)), last_s),
        lowest_c=lowest_c if lowest_c is None or draw(st.booleans()) else max(-3.0, round(lowest_c - 1, 3)),
        points=points,
        site=draw(st.text(letters, max_size=12)),
        extra=draw(st.sampled_from(("", EXTRA))),
    )


def read(content: bytes) -> list[FileDive]:
    return list(read_dives(io.BytesIO(content), "invented.uddf"))


def as_written(dive: FileDive) -> Written:
    assert not dive.problem
    assert not dive.warnings
    assert dive.starts is not None
    assert dive.depth_m is not None
    assert dive.duration_s is not None
    return Written(
        dive.dive_id, dive.starts, dive.depth_m, dive.duration_s, dive.lowest_c, dive.points, dive.site
    )


ENCODINGS = ("utf-8", "utf-16", "iso-8859-1", "us-ascii")
GAPS = ("", "\n", "\n   ")


@given(
    st.lists(dives(), min_size=1, max_size=4), st.sampled_from(("", "u")), st.booleans(),
    st.sampled_from(ENCODINGS), st.sampled_from(GAPS),
)  # fmt: skip
@example([Written("d", datetime(2026, 5, 17), 400.0, 172_800.0)], "", False, "utf-8", "")
@settings(max_examples=tries(150))
def test_dives_written_as_uddf_are_read_back_as_they_were(
    written: list[Written], prefix: str, sites_first: bool, encoding: str, gap: str
) -> None:
    content = uddf(written, prefix=prefix, sites_first=sites_first, encoding=encoding, gap=gap)
    expected = [
        Written(w.dive_id, w.starts, w.depth_m, w.duration_s, w.lowest_c, w.points, w.site) for w in written
    ]
    found = [as_written(dive) for dive in read(content)]
    assert found == expected
    assert [dive.starts.utcoffset() for dive in found] == [dive.starts.utcoffset() for dive in written]


class Dripping(io.BytesIO):
    """A file that hands out a few bytes at a time."""

    def __init__(self, content: bytes, step: int) -> None:
        super().__init__(content)
        self._step = step

    def read(self, size: int | None = -1) -> bytes:
        return super().read(self._step)


def test_a_file_of_many_pieces_is_read_as_one_of_a_single_piece_is() -> None:
    points = tuple(ProfilePoint(float(t), t % 397 / 10, 10.0 + t % 13) for t in range(0, 20_000, 2))
    written = [Written(f"d{n}", datetime(2026, 5, 17, n), 40.0, 20_000.0, 10.0, points) for n in range(3)]
    content = uddf(written)
    assert len(content) > 10 * 65_536
    assert [as_written(dive) for dive in read(content)] == written
    lines = content.decode().splitlines()
    assert [lines[dive.line - 1].startswith("<dive id=") for dive in read(content)] == [True] * 3


def test_where_pieces_end_makes_no_difference() -> None:
    written = [
        Written("d", datetime(2026, 5, 17), 20.0, 60.0, 10.0, (ProfilePoint(1.5, 12.25, 10.0),), "Wall")
    ]
    content = uddf(written)

    for step in (1, 2, 3, 7):
        assert [as_written(dive) for dive in read_dives(Dripping(content, step), "drip.uddf")] == written
