"""Weather that is invented: no station ever measured it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fluewright.draft.weather import Hour
from fluewright.files.epw import DAYS

HEADER = """LOCATION,Invented Hollow,NA,XXX,invented for tests,000000,45.50,-93.25,-6.0,260.0
DESIGN CONDITIONS,0
TYPICAL/EXTREME PERIODS,0
GROUND TEMPERATURES,0
HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0
COMMENTS 1,every figure is invented
COMMENTS 2,
DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31"""


def celsius(number: int) -> float:
    """Invented: a cosine over the year and one over the day."""
    return 9.0 - 17.0 * math.cos(math.tau * number / 8760) - 5.0 * math.cos(math.tau * number / 24)


def wind_m_s(number: int) -> float:
    """Invented: from calm to 8 m/s and back, out of step with the day."""
    return 4.0 - 4.0 * math.cos(math.tau * number / 171)


def _dates() -> Iterator[tuple[int, int, int]]:
    for month, days in enumerate(DAYS, 1):
        for day in range(1, days + 1):
            for hour in range(1, 25):
                yield month, day, hour


def invented_hours(step: int = 1, still: bool = False) -> tuple[Hour, ...]:
    """Every so many hours of the invented year, with or without its wind."""
    made = [
        Hour(
            month=month, day=day, hour=hour, outdoor_k=celsius(n) + 273.15, air_pa=98_200.0,
            humidity=0.6, wind_m_s=0.0 if still else wind_m_s(n), wind_deg=270.0,
        )
        for n, (month, day, hour) in enumerate(_dates())
    ]  # fmt: skip
    return tuple(made[::step])


def invented_epw(missing: int = 0, warmer: float = 0.0) -> str:
    """The invented year as a file; the first hours lack temperature or wind, by turns."""
    lines = [HEADER]
    for n, (month, day, hour) in enumerate(_dates()):
        dry, speed = f"{celsius(n) + warmer:.1f}", f"{wind_m_s(n):.1f}"
        if n < missing:
            dry, speed = ("99.9", speed) if n % 2 else (dry, "999")
        row = ["1999", f"{month}", f"{day}", f"{hour}", "60", "invented", dry, "0.0", "60"]
        row += ["98200", *["0"] * 10, "270", speed]
        lines.append(",".join(row + ["0"] * (35 - len(row))))
    return "\n".join(lines) + "\n"
