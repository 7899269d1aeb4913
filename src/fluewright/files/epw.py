"""Weather files in the EPW form: eight lines of header, then one line of 35 columns an hour.

Form, limits and missing markers: EnergyPlus Auxiliary Programs, weather file data dictionary
(read). A value at or above its marker is missing; it stays missing, is counted, and is never
replaced. Every fault is told at once, with its line and field.
"""

from __future__ import annotations

import os
import re
from dataclasses import dataclass

from fluewright.draft.weather import Hour, Station, WeatherYear
from fluewright.errors import BadWeather, Fault

MOST_BYTES = 50_000_000
MOST_FAULTS = 50
COLUMNS = 35
ICE_K = 273.15
HEADER = (
    "LOCATION", "DESIGN CONDITIONS", "TYPICAL/EXTREME PERIODS", "GROUND TEMPERATURES",
    "HOLIDAYS/DAYLIGHT SAVINGS", "COMMENTS 1", "COMMENTS 2", "DATA PERIODS",
)  # fmt: skip
DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?", re.ASCII)


@dataclass(frozen=True, slots=True)
class _Field:
    """A column: its place, the values allowed, and from where on it is missing."""

    name: str
    column: int
    low: float
    high: float
    missing: float
    unit: str


# The dictionary excludes -70 and 70 degC, 31 000 and 120 000 Pa themselves; no station is hurt.
FIELDS = (
    _Field("dry bulb temperature", 6, -70.0, 70.0, 99.9, "degC"),
    _Field("relative humidity", 8, 0.0, 110.0, 999.0, "%"),
    _Field("station pressure", 9, 31_000.0, 120_000.0, 999_999.0, "Pa"),
    _Field("wind direction", 20, 0.0, 360.0, 999.0, "deg"),
    _Field("wind speed", 21, 0.0, 40.0, 999.0, "m/s"),
)
# Offsets beyond 12 h east exist (up to 14), though the dictionary stops at 12.
_PLACE = (
    ("latitude", 6, -90.0, 90.0), ("longitude", 7, -180.0, 180.0),
    ("time zone", 8, -12.0, 14.0), ("elevation", 9, -1000.0, 9999.9),
)  # fmt: skip


class _Faults(list[Fault]):
    """Faults so far, up to a number that somebody will read."""

    def add(self, line: int | None, where: str, message: str) -> None:
        if len(self) < MOST_FAULTS:
            self.append(Fault(where, message, line))
        elif len(self) == MOST_FAULTS:
            self.append(Fault("", f"reading stopped after {MOST_FAULTS} faults. Mend these first."))

    @property
    def full(self) -> bool:
        return len(self) > MOST_FAULTS


def read_epw(path: str | os.PathLike[str]) -> WeatherYear:
    """The weather year in an EPW file. [hours]

    Args:
        path: of the file.
    Raises:
        BadWeather: with every fault, each with line and field.
    """
    name = os.fspath(path)
    try:
        with open(path, "rb") as file:
            raw = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise BadWeather(name, [Fault("", "there is no such file. Look at the path.")]) from None
    except IsADirectoryError:
        raise BadWeather(name, [Fault("", "this is a directory. Name an EPW file.")]) from None
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise BadWeather(name, [Fault("", f"the file cannot be read: {why}.")]) from None
    if len(raw) > MOST_BYTES:
        message = f"the file is larger than {MOST_BYTES // 1_000_000} MB. A year has about 2 MB."
        raise BadWeather(name, [Fault("", message)])
    return epw_from_text(_decoded(raw), name)


def epw_from_text(text: str, file_name: str = "weather") -> WeatherYear:
    """The weather year in a text of the EPW form. [hours]

    Args:
        text: the whole file.
        file_name: what messages call it.
    Returns:
        Station, 8760 or 8784 hours in order, missing values as None with their count.
    Raises:
        BadWeather: with every fault, each with line and field.
    """
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    while lines and not lines[-1].strip():
        lines.pop()
    faults = _Faults()
    station = _header(lines, faults)
    rows = lines[len(HEADER) :]
    dates = _dates(len(rows), faults)
    missing = {field.name: 0 for field in FIELDS}
    hours: list[Hour] = []
    for number, row in enumerate(rows):
        if faults.full:
            break
        due = dates[number] if number < len(dates) else None
        hour = _hour(row, len(HEADER) + number + 1, due, missing, faults)
        if hour is not None:
            hours.append(hour)
    for name in ("dry bulb temperature", "wind speed"):
        if rows and missing[name] == len(rows):
            faults.add(None, name, "every value is missing. This year says nothing about a vent.")
    if faults or station is None:
        raise BadWeather(file_name, faults)
    return WeatherYear(station=station, hours=tuple(hours), missing=missing)


def _decoded(raw: bytes) -> str:
    """UTF-8, else Latin-1 as older files are; figures are the same in both."""
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("latin-1")


def _header(lines: list[str], faults: _Faults) -> Station | None:
    """The station, and faults of the header's keywords."""
    for number, keyword in enumerate(HEADER, 1):
        found = lines[number - 1].split(",")[0].strip().upper() if number <= len(lines) else ""
        # The dictionary writes SAVING, files SAVINGS.
        if found != keyword and not (found and found + "S" == keyword):
            what = f'"{found[:40]}" stands here' if found else "nothing stands here"
            faults.add(number, keyword, f"{what}, where {keyword} is expected.")
    if len(lines) >= len(HEADER):
        _one_record_an_hour(lines[len(HEADER) - 1], faults)
    return _station(lines[0], faults) if lines else None


def _one_record_an_hour(line: str, faults: _Faults) -> None:
    """Faults of the line that says how many records an hour has."""
    parts = [part.strip() for part in line.split(",")]
    for name, at in (("number of data periods", 1), ("records an hour", 2)):
        found = parts[at] if len(parts) > at else ""
        if found != "1":
            message = f'"{found[:20]}" stands here; only 1 can be read. Use a plain hourly year.'
            faults.add(len(HEADER), name, message)


def _station(line: str, faults: _Faults) -> Station | None:
    """The station of the LOCATION line; None with faults where it cannot be told."""
    parts = [part.strip() for part in line.split(",")]
    if len(parts) < 10:
        faults.add(1, "LOCATION", f"it has {len(parts)} fields, 10 are expected.")
        return None
    figures = []
    for name, at, low, high in _PLACE:
        value = _number(parts[at])
        if value is None or not low <= value <= high:
            message = f'"{parts[at][:20]}" stands here. Give a number from {low:g} to {high:g}.'
            faults.add(1, name, message)
        else:
            figures.append(value)
    if len(figures) != len(_PLACE):
        return None
    return Station(
        city=parts[1], region=parts[2], country=parts[3], source=parts[4], wmo=parts[5],
        latitude_deg=figures[0], longitude_deg=figures[1], time_zone_h=figures[2],
        elevation_m=figures[3],
    )  # fmt: skip


def _dates(rows: int, faults: _Faults) -> list[tuple[int, int, int]]:
    """Month, day and hour that each row is due to have; none where the count fits no year."""
    if rows not in (8760, 8784):
        message = f"{rows} hours follow the header. A year has 8760, a leap year 8784."
        faults.add(None, "hours", message)
        return []
    leap = rows == 8784
    return [
        (month, day, hour)
        for month, days in enumerate(DAYS, 1)
        for day in range(1, days + (leap and month == 2) + 1)
        for hour in range(1, 25)
    ]


def _hour(
    row: str,
    line: int,
    due: tuple[int, int, int] | None,
    missing: dict[str, int],
    faults: _Faults,
) -> Hour | None:
    """One hour; None with faults where it cannot be told."""
    parts = row.split(",")
    if len(parts) != COLUMNS:
        faults.add(line, "columns", f"{len(parts)} columns stand here, {COLUMNS} are expected.")
        return None
    date = _date(parts)
    if date is None:
        message = "month, day and hour cannot be told. Give 1 to 12, 1 to 31 and 1 to 24."
        faults.add(line, "date", message)
        return None
    if due is not None and date != due:
        month, day, hour = due
        message = f"month {date[0]}, day {date[1]}, hour {date[2]} stands here, where month "
        faults.add(line, "date", f"{message}{month}, day {day}, hour {hour} is due.")
    values = [_value(parts[one.column], one, line, missing, faults) for one in FIELDS]
    temperature, humidity, pressure, direction, speed = values
    return Hour(
        month=date[0], day=date[1], hour=date[2],
        outdoor_k=None if temperature is None else temperature + ICE_K,
        humidity=None if humidity is None else humidity / 100.0,
        air_pa=pressure, wind_deg=direction, wind_m_s=speed,
    )  # fmt: skip


def _date(parts: list[str]) -> tuple[int, int, int] | None:
    """Month, day and hour of a row; None where one is no such number."""
    found = [_number(parts[at]) for at in (1, 2, 3)]
    most = (12, 31, 24)
    whole = [
        int(value)
        for value, high in zip(found, most, strict=True)
        if value is not None and value == int(value) and 1 <= value <= high
    ]
    return (whole[0], whole[1], whole[2]) if len(whole) == 3 else None


def _value(
    text: str, field: _Field, line: int, missing: dict[str, int], faults: _Faults
) -> float | None:
    """A value in the file's unit; None where it is missing (counted) or faulty (told)."""
    if not text.strip():
        missing[field.name] += 1
        return None
    value = _number(text)
    if value is not None and value >= field.missing:
        missing[field.name] += 1
        return None
    if value is None or not field.low <= value <= field.high:
        found = f'"{text.strip()[:20]}"' if value is None else f"{value:g} {field.unit}"
        allowed = f"{field.low:g} to {field.high:g} {field.unit}"
        faults.add(
            line,
            field.name,
            f"{found} stands here. Give {allowed}, or {field.missing:g} if missing.",
        )
        return None
    return value


def _number(text: str) -> float | None:
    """A plain finite number, else None."""
    text = text.strip()
    if not _NUMBER.fullmatch(text):
        return None
    value = float(text)
    return value if abs(value) < 1e300 else None
