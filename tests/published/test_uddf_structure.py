"""The reader against the structure of UDDF as its authors published it.

Sources, read in stored copies of the public pages:
- the schema of UDDF 3.2.2 (dated 19 July 2017, name space http://www.streit.cc/uddf/3.2/): names, nesting,
  types and order of elements, the words of <environment>;
- the documentation of UDDF 3.2.1 (streit.cc/extern/uddf_v321/en): <datetime> with its examples, <waypoint>;
- that of UDDF 3.2.2 (streit.cc/resources/UDDF/v3.2.2): <site> with its example, <dive> with its minimum;
- the documentation of UDDF 3.1.0: <divetime> in seconds; <samples> with temperatures such as 298.2;
- the documentation of UDDF 2.2.0 (uddf_v220en, element dive) for the older layout.
From memory, since its page could not be read: that lengths are metres, temperatures kelvin, densities
kg/m³ is the rule of the chapter "Units used"; the examples named above agree with it.
The texts below are written for these tests; names, nesting and values of examples are the sources'.
"""

from __future__ import annotations

import io
from datetime import UTC, datetime

import pytest

from logbook.files.uddf.reading import FileDive, read_dives
from logbook.model.values import ProfilePoint, Water

DIVE = """<uddf xmlns="http://www.streit.cc/uddf/3.2/" version="3.2.2">
<generator><name>by hand</name></generator>
<diver><owner id="o"><personal><firstname>A</firstname><lastname>B</lastname></personal></owner></diver>
<divesite>
  <divebase id="b"><name>Hut</name></divebase>
  <site id="s"><name>Long reef</name><environment>{environment}</environment>
    <geography><location>Bay</location><timezone>1.0</timezone></geography>
    <sitedata><density>{density}</density><maximumdepth>60</maximumdepth></sitedata></site>
</divesite>
<profiledata><repetitiongroup id="r"><dive id="dive_1">
  <informationbeforedive>
    <link ref="s"/><divenumber>12</divenumber><datetime>{when}</datetime>
    <airtemperature>303.0</airtemperature>
    <surfaceintervalbeforedive><passedtime>5400</passedtime></surfaceintervalbeforedive><altitude>0</altitude>
    <equipmentused><leadquantity>6</leadquantity></equipmentused>
    <plannedprofile><waypoint><depth>99.0</depth><divetime>9000.0</divetime></waypoint></plannedprofile>
  </informationbeforedive>
  <tankdata><tankpressurebegin>2.0e7</tankpressurebegin></tankdata>
  <samples>{waypoints}</samples>
  <informationafterdive>
    <surfaceintervalafterdive><passedtime>7200</passedtime></surfaceintervalafterdive>
    <lowesttemperature>291.2</lowesttemperature><greatestdepth>40.0</greatestdepth>
    <averagedepth>21</averagedepth><diveduration>2400.0</diveduration>
  </informationafterdive>
</dive></repetitiongroup></profiledata>
</uddf>"""

# Every child of <waypoint> in the schema's sequence, with depth, time and temperature where they stand in it.
WAYPOINT = """<waypoint><alarm level="1.0">ascent</alarm><batterychargecondition deviceref="c">0.8
</batterychargecondition><cns>4.0</cns><decostop kind="mandatory" decodepth="3.0" duration="60.0"/>
<bodytemperature>310.0</bodytemperature><calculatedpo2>1.2e5</calculatedpo2><depth>{depth}</depth>
<divetime>{seconds}</divetime><heading>270.0</heading><otu>5.0</otu><pulserate>1.5</pulserate>
<remainingbottomtime>600.0</remainingbottomtime><remainingo2time>900.0</remainingo2time>
<setmarker>m</setmarker><setpo2 setby="user">1.3e5</setpo2><switchmix ref="m"/>
<tankpressure ref="t">1.8e7</tankpressure>
<temperature>{kelvin}</temperature><divemode type="opencircuit"/>
<gradientfactor tissue="3">0.7</gradientfactor>
<measuredpo2 ref="o">1.2e5</measuredpo2><nodecotime>900.0</nodecotime></waypoint>"""

# Depth, time and temperature of the example in the page <samples>: 0 m at 298.2 K, then 40 m at 291.2 K.
EXAMPLE = [("0.0", "0.0", "298.2"), ("40.0", "301.0", "291.2"), ("28.0", "1080.0", "295.2")]


def read_one(content: str) -> FileDive:
    (dive,) = read_dives(io.BytesIO(content.encode()), "standard.uddf")
    return dive


def standard(
    *, when: str = "2008-10-25T16:05", environment: str = "ocean-sea", density: str = "1030.0"
) -> str:
    waypoints = "".join(WAYPOINT.format(depth=d, seconds=s, kelvin=k) for d, s, k in EXAMPLE)
    return DIVE.format(when=when, environment=environment, density=density, waypoints=waypoints)


def test_a_dive_in_the_order_of_the_schema_is_read_with_all_that_is_needed_of_it() -> None:
    dive = read_one(standard())
    assert (dive.dive_id, dive.problem, dive.warnings) == ("dive_1", "", ())
    assert (dive.depth_m, dive.duration_s, dive.lowest_c) == (40.0, 2400.0, 18.05)
    assert (dive.site, dive.water) == ("Long reef", "sea")
    # By hand, 0 °C being 273.15 K: 298.2 − 273.15 = 25.05, 291.2 − 273.15 = 18.05, 295.2 − 273.15 = 22.05.
    assert dive.points == (
        ProfilePoint(0.0, 0.0, 25.05), ProfilePoint(301.0, 40.0, 18.05), ProfilePoint(1080.0, 28.0, 22.05),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("text", "when"),
    [
        # The examples of the page <datetime> for 25 October 2008, 16:05 hours.
        ("2008-10-25T16:05", datetime(2008, 10, 25, 16, 5)),
        ("2008-10-25T16:05Z", datetime(2008, 10, 25, 16, 5, tzinfo=UTC)),
        ("2008-10-25T16:05+00:00", datetime(2008, 10, 25, 16, 5, tzinfo=UTC)),
        ("2008-10-25 16:05", datetime(2008, 10, 25, 16, 5)),
        ("20081025T1605", datetime(2008, 10, 25, 16, 5)),
        ("20081025T1605+0000", datetime(2008, 10, 25, 16, 5, tzinfo=UTC)),
        # Its examples for 5 January 1997, a date alone.
        ("1997-01-05", datetime(1997, 1, 5)),
        ("19970105", datetime(1997, 1, 5)),
    ],
)
def test_the_date_and_time_examples_of_the_standard_are_understood(text: str, when: datetime) -> None:
    dive = read_one(standard(when=text))
    assert dive.starts == when
    assert dive.starts.tzinfo == when.tzinfo
    assert dive.has_time == ("16" in text)


@pytest.mark.parametrize("text", ["1985-02", "198502", "T09:47", "T0947"])
def test_its_examples_without_a_day_cannot_be_logged(text: str) -> None:
    dive = read_one(standard(when=text))
    assert dive.starts is None
    assert dive.problem.startswith("Its date, ")


# The enumeration of <environment> in the schema ("unknown " stands there with its blank), the density left to
# what depth gauges count with.
ENVIRONMENTS: list[tuple[str, Water | None]] = [
    ("unknown ", None),
    ("ocean-sea", "sea"),
    ("lake-quarry", "fresh"),
    ("river-spring", "fresh"),
    ("cave-cavern", None),
    ("pool", "pool"),
    ("hyperbaric-chamber", None),
    ("under-ice", None),
    ("other", None),
]


@pytest.mark.parametrize(("environment", "water"), ENVIRONMENTS)
def test_the_environments_of_the_standard_say_sea_fresh_or_pool_or_nothing(
    environment: str, water: Water | None
) -> None:
    assert read_one(standard(environment=environment, density="1019.7")).water == water


@pytest.mark.parametrize(
    ("density", "water"),
    [
        ("1030.0", "sea"),  # the example of the page <site>, with its comment "salt water"
        ("1000.0", "fresh"),  # common practice, no source
        ("1019.7", None),  # the convention of EN 13319, whatever the water
        ("1010.0", None),  # brackish, which needs a salinity
        ("1.03", None),  # no unit of UDDF
    ],
)
def test_a_density_in_kg_per_cubic_metre_says_what_water_it_is(density: str, water: Water | None) -> None:
    assert read_one(standard(environment="unknown ", density=density)).water == water


def test_the_minimum_of_the_standard_is_enough() -> None:
    """Page <dive>: date and time, duration, greatest depth, a reference to the site, all in <dive>."""
    content = """<uddf version="3.0.0">
    <divesite><site id="s"><name>Long reef</name></site></divesite>
    <profiledata><repetitiongroup id="rg_12">
    <dive id="dive_123"><link ref="s"/><datetime>1999-04-06T16:21</datetime>
    <surfaceintervalbeforedive><passedtime>17580.0</passedtime></surfaceintervalbeforedive>
    <diveduration>2700</diveduration><greatestdepth>25.8</greatestdepth></dive>
    </repetitiongroup></profiledata></uddf>"""
    dive = read_one(content)
    assert (dive.starts, dive.has_time, dive.problem) == (datetime(1999, 4, 6, 16, 21), True, "")
    assert (dive.depth_m, dive.duration_s, dive.site, dive.points) == (25.8, 2700.0, "Long reef", ())


def test_the_example_of_version_2_is_read() -> None:
    """Page dive of UDDF 2.2.0, with its values; its empty <samples> has two waypoints here."""
    content = """<uddf version="2.2.0"><profiledata><repetitiongroup><dive id="dive 543_19990406">
    <place>Old archway</place><divenumber>123</divenumber>
    <date><year>1999</year><month>4</month><day>6</day><dayofweek>2</dayofweek></date>
    <time><hour>16</hour><minute>21</minute></time>
    <surfaceinterval><passedtime>17580.0</passedtime></surfaceinterval>
    <lowesttemperature>285.2</lowesttemperature><greatestdepth>25.8</greatestdepth><density>1030.0</density>
    <altitude>0.0</altitude><samples><waypoint><depth>0.0</depth><divetime>0.0</divetime></waypoint>
    <waypoint><depth>25.8</depth><divetime>1560.0</divetime></waypoint></samples>
    <notes><text>calm</text></notes></dive></repetitiongroup></profiledata></uddf>"""
    dive = read_one(content)
    assert (dive.dive_id, dive.starts) == ("dive 543_19990406", datetime(1999, 4, 6, 16, 21))
    assert (dive.depth_m, dive.duration_s, dive.lowest_c) == (25.8, 1560.0, 12.05)
    assert (dive.site, dive.water, dive.problem) == ("Old archway", "sea", "")
