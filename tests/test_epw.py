"""The EPW reader, on weather that is invented here: no station ever measured it."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from fluewright.draft.weather import WeatherYear
from fluewright.errors import BadWeather
from fluewright.files.epw import DAYS, epw_from_text, read_epw

HEADER = """LOCATION,Invented Hollow,NA,XXX,invented for tests,000000,45.50,-93.25,-6.0,260.0
DESIGN CONDITIONS,0
TYPICAL/EXTREME PERIODS,0
GROUND TEMPERATURES,0
HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0
COMMENTS 1,every figure is invented
COMMENTS 2,
DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31"""


def rows(leap: bool = False) -> list[list[str]]:
    """An invented year of hours: temperature a cosine over the year and one over the day."""
    made = []
    for month, days in enumerate(DAYS, 1):
        for day in range(1, days + (leap and month == 2) + 1):
            for hour in range(1, 25):
                t = (
                    8
                    - 16 * math.cos(math.tau * len(made) / 8760)
                    + 4 * math.cos(math.tau * (hour - 15) / 24)
                )
                row = ["1999", f"{month}", f"{day}", f"{hour}", "60", "invented"]
                row += [f"{t:.1f}", "0.0", "60", "98200", *["0"] * 10, "270", "3.6"]
                made.append(row + ["0"] * (35 - len(row)))
    return made


YEAR = rows()
COLUMN = {"month": 1, "day": 2, "hour": 3, "temperature": 6, "humidity": 8, "pressure": 9,
          "direction": 20, "speed": 21}  # fmt: skip


def text(header: str = HEADER, changed: dict[tuple[int, str], str] | None = None) -> str:
    """The invented file with some values changed: (hour of the year, field) to text."""
    lines = [",".join(row) for row in YEAR]
    for (number, field), value in (changed or {}).items():
        row = lines[number].split(",")
        row[COLUMN[field]] = value
        lines[number] = ",".join(row)
    return header + "\n" + "\n".join(lines) + "\n"


def faults(given: str) -> list[str]:
    with pytest.raises(BadWeather) as caught:
        epw_from_text(given, "x.epw")
    return str(caught.value).split("\n")


def year(changed: dict[tuple[int, str], str] | None = None) -> WeatherYear:
    return epw_from_text(text(changed=changed))


def test_a_plain_year() -> None:
    found = year()
    station = found.station
    assert (station.city, station.wmo) == ("Invented Hollow", "000000")
    assert (station.latitude_deg, station.longitude_deg) == (45.5, -93.25)
    assert (station.time_zone_h, station.elevation_m) == (-6.0, 260.0)
    assert len(found.hours) == 8760
    first, last = found.hours[0], found.hours[-1]
    assert (first.month, first.day, first.hour) == (1, 1, 1)
    assert (last.month, last.day, last.hour) == (12, 31, 24)
    assert first.outdoor_k == pytest.approx(float(YEAR[0][6]) + 273.15)
    assert (first.air_pa, first.humidity, first.wind_m_s, first.wind_deg) == (
        98200.0, 0.6, 3.6, 270.0,
    )  # fmt: skip
    assert set(found.missing.values()) == {0}


def test_a_leap_year() -> None:
    lines = [",".join(row) for row in rows(leap=True)]
    found = epw_from_text(HEADER + "\n" + "\n".join(lines))
    assert len(found.hours) == 8784
    assert found.hours[59 * 24].day == 29


@pytest.mark.parametrize("how", ["\r\n", "\r", "\ufeff", "saving"])
def test_forms_of_the_same_file(how: str) -> None:
    plain = text()
    given = {"\ufeff": "\ufeff" + plain, "saving": plain.replace("SAVINGS", "SAVING")}.get(
        how, plain.replace("\n", how)
    )
    assert epw_from_text(given) == epw_from_text(plain)


@pytest.mark.parametrize(
    ("field", "marker", "attribute", "name"),
    [
        ("temperature", "99.9", "outdoor_k", "dry bulb temperature"),
        ("temperature", "", "outdoor_k", "dry bulb temperature"),
        ("humidity", "999", "humidity", "relative humidity"),
        ("pressure", "999999", "air_pa", "station pressure"),
        ("direction", "999.", "wind_deg", "wind direction"),
        ("speed", "999", "wind_m_s", "wind speed"),
        ("speed", "9999", "wind_m_s", "wind speed"),
    ],
)
def test_a_missing_value_is_none_and_counted(
    field: str, marker: str, attribute: str, name: str
) -> None:
    found = year({(5, field): marker, (7, field): marker})
    assert getattr(found.hours[5], attribute) is None
    assert getattr(found.hours[6], attribute) is not None
    assert found.missing[name] == 2
    assert sum(found.missing.values()) == 2


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("temperature", "75", "dry bulb temperature: 75 degC stands here. Give -70 to 70 degC"),
        ("temperature", "-99", "-99 degC stands here"),
        ("temperature", "warm", '"warm" stands here'),
        ("temperature", "nan", '"nan" stands here'),
        ("temperature", "1_0", '"1_0" stands here'),
        ("temperature", "1e999", '"1e999" stands here'),
        ("humidity", "120", "relative humidity: 120 % stands here"),
        ("pressure", "1013", "station pressure: 1013 Pa stands here. Give 31000 to 120000 Pa"),
        ("direction", "400", "wind direction: 400 deg stands here"),
        ("speed", "-1", "wind speed: -1 m/s stands here"),
        ("speed", "60", "wind speed: 60 m/s stands here. Give 0 to 40 m/s, or 999 if missing"),
        ("month", "13", "date: month, day and hour cannot be told"),
        ("hour", "0", "date: month, day and hour cannot be told"),
        ("hour", "7", "date: month 1, day 1, hour 7 stands here, where month 1, day 1, hour 11"),
    ],
)
def test_a_faulty_value_is_told_with_its_line(field: str, value: str, said: str) -> None:
    (fault,) = faults(text(changed={(10, field): value}))
    assert fault.startswith("x.epw:19 ")  # 8 lines of header, then the eleventh hour
    assert said in fault


def test_all_faults_are_told_at_once_in_order() -> None:
    header = HEADER.replace("260.0", "high").replace("COMMENTS 1", "NOTES")
    found = faults(text(header, {(0, "speed"): "60", (3, "humidity"): "x"}))
    assert [fault.split(":")[1].split(" ")[0] for fault in found] == ["6", "1", "9", "12"]
    assert 'elevation: "high" stands here. Give a number from -1000 to 9999.9.' in found[1]


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ("", "LOCATION: nothing stands here"),
        ("survey: 1\n", '"SURVEY: 1" stands here, where LOCATION is expected'),
        (HEADER, "hours: 0 hours follow the header. A year has 8760, a leap year 8784."),
        (text()[:-200], "hours: 8758 hours"),
        (text(HEADER.replace("-93.25,-6.0,260.0", "-93.25")), "it has 8 fields, 10 are expected"),
        (text(HEADER.replace("PERIODS,1,1", "PERIODS,1,4")), 'records an hour: "4" stands here'),
        (text(HEADER.replace("PERIODS,1,1", "PERIODS,2,1")), "number of data periods"),
        (text(HEADER.replace("-6.0", "-13")), 'time zone: "-13" stands here'),
        (text().replace(",0,0\n1999", ",0\n1999", 1), "9 columns: 34 columns stand here"),
    ],
)  # fmt: skip
def test_a_file_of_another_form_is_told(given: str, said: str) -> None:
    assert any(said in fault for fault in faults(given)), faults(given)


def test_a_year_without_temperatures_is_refused() -> None:
    gone = {(number, "temperature"): "99.9" for number in range(8760)}
    (fault,) = faults(text(changed=gone))
    assert fault == (
        "x.epw dry bulb temperature: every value is missing. This year says nothing about a vent."
    )


def test_reading_stops_where_nobody_would_read_on() -> None:
    found = faults(text(changed={(number, "speed"): "60" for number in range(300)}))
    assert len(found) == 51
    assert "reading stopped after 50 faults" in found[-1]


def test_files(tmp_path: Path) -> None:
    path = tmp_path / "invented.epw"
    path.write_bytes(text(HEADER.replace("Hollow", "Höhle")).encode("latin-1"))
    found = read_epw(path)
    assert found.station.city == "Invented Höhle"
    assert len(found.hours) == 8760
    for bad, said in ((tmp_path / "none.epw", "no such file"), (tmp_path, "a directory")):
        with pytest.raises(BadWeather, match=said):
            read_epw(bad)
