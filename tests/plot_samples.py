"""Invented numbers for every figure: shaped like the real thing, measured or computed nowhere."""

from __future__ import annotations

import itertools
import math

from fluewright.drawing.plot.data import (
    AlongThePath,
    Also,
    Corner,
    DayOfTest,
    FlowBalance,
    Measure,
    Root,
    Size,
    SpillClass,
    SpillTimeMap,
    Station,
)

FAHRENHEIT = Also(unit="°F", times=1.8, plus=32.0)
FEET = Also(unit="ft", times=1 / 0.3048)
CELSIUS_TOO = Measure(name="Temperature", unit="°C", also=FAHRENHEIT)
METERS_TOO = Measure(name="Height", unit="m", also=FEET)


def path(size: Size = "column", *, lifted: float = 0.0) -> AlongThePath:
    """Invented: a water heater, 4 ft of single wall, then Type B to the roof."""
    corners = (
        Corner(x=0.0, z=1.5, name="4 in single wall connector", wall="single"),
        Corner(x=0.0, z=1.9, name="4 in single wall connector", wall="single"),
        Corner(x=1.2, z=2.0, name="5 in Type B", wall="type_b"),
        Corner(x=1.2, z=6.2),
    )
    lengths = [0.0]
    for a, b in itertools.pairwise(corners):
        lengths.append(lengths[-1] + math.dist((a.x, a.z), (b.x, b.z)))
    stations: list[Station] = []
    for n in range(41):
        along = lengths[-1] * n / 40
        i = next(k for k in range(1, len(lengths)) if along <= lengths[k] + 1e-9)
        t = (along - lengths[i - 1]) / (lengths[i] - lengths[i - 1])
        height = corners[i - 1].z + (corners[i].z - corners[i - 1].z) * t
        gas = 20.0 + 105.0 * math.exp(-along / 6.5)
        wall = 0.5 * gas + 14.0 if along < lengths[2] else 0.62 * gas + 4.0
        stations.append(
            Station(along=along, height=height, gas=gas, wall=wall - 8.0 * max(0.0, height - 4.0),
                    dew=41.0 - 0.4 * along, pressure=lifted - 1.9 * (1 - along / lengths[-1]) ** 1.4
                    + 0.12)
        )  # fmt: skip
    return AlongThePath(
        title="Along the path, burner on",
        answer="The gas drafts with 1.2 Pa to spare. The top 5 ft of the vent run wet.",
        notes=("Outdoors 0 °C (32 °F), still air, all fans off, after 10 min.",),
        path=corners, stations=tuple(stations), length=METERS_TOO, temperature=CELSIUS_TOO,
        pressure=Measure(name="Pressure, vent less room", unit="Pa"), size=size,
    )  # fmt: skip


def flat_path(size: Size = "column") -> AlongThePath:
    """Invented: most of it level, so that the length along it stands on the scale."""
    corners = (
        Corner(x=0.0, z=1.5, name="riser", wall="single"),
        Corner(x=0.0, z=1.7, name="level run", wall="unknown"),
        Corner(x=3.0, z=1.8, name="chimney", wall="masonry"),
        Corner(x=3.0, z=2.6),
    )
    stations = tuple(
        Station(along=0.4 * n, height=1.5, gas=110.0 - 6.0 * n, dew=40.0,
                wall=None if n < 3 else 70.0 - 4.0 * n, pressure=0.6 - 0.1 * n)
        for n in range(11)
    )  # fmt: skip
    return AlongThePath(title="Along a level path", answer="Gas pushes out of the joints.",
                        alarm=True, path=corners, stations=stations, size=size)  # fmt: skip


def balance(size: Size = "column", *, spills: bool = False) -> FlowBalance:
    """Invented: one drafting root, one that only passes through, one reversed."""
    available = tuple((f / 2, _have(f / 2, spills)) for f in range(-16, 33))
    lost = tuple((f / 2, 0.016 * (f / 2) * abs(f / 2)) for f in range(-16, 33))
    roots = [
        Root(flow=a[0] + (b[0] - a[0]) * u / (u - v), pressure=0.0, branch="drafting", stable=True)
        for (a, b, u, v) in (
            (available[n], available[n + 1], available[n][1] - lost[n][1],
             available[n + 1][1] - lost[n + 1][1])
            for n in range(len(lost) - 1)
        )
        if u * v < 0
    ]  # fmt: skip
    kinds = {1: ("drafting",), 3: ("reversed", "stalled", "drafting")}[len(roots)]
    if spills:
        kinds = ("reversed",) if len(roots) == 1 else kinds
    named = tuple(
        Root(flow=r.flow, pressure=0.016 * r.flow * abs(r.flow), branch=kind,  # type: ignore[arg-type]
             stable=n != 1)
        for n, (r, kind) in enumerate(zip(roots, kinds, strict=True))
    )  # fmt: skip
    return FlowBalance(
        title="Draft against flow",
        answer="Air comes down the vent: all the gas spills." if spills else
        "The vent carries all the gas, with 1.5 Pa to spare.",
        alarm=spills,
        available=available, lost=lost, roots=named, demand=7.5,
        operating=0 if spills else len(named) - 1, margin_pa=-0.8 if spills else 1.5,
        notes=("Outdoors 10 °C (50 °F), house at −2 Pa, still air.",), size=size,
    )  # fmt: skip


def _have(flow: float, spills: bool) -> float:
    warm = 3.6 / (1 + math.exp(-(flow - 1.6) * 1.3)) * (1.0 - 0.022 * max(0.0, flow))
    return (0.25 * warm - 0.9) if spills else warm - 0.75


def spill_map(size: Size = "column") -> SpillTimeMap:
    """Invented: colder and less suction is better."""
    outdoor = tuple(float(t) for t in range(-15, 31, 3))
    house = tuple(-8.0 + 0.5 * n for n in range(19))
    rows: list[tuple[SpillClass, ...]] = []
    for p in house:
        row: list[SpillClass] = []
        for t in outdoor:
            pull = p + 5.5 - 0.14 * t
            kind: SpillClass = "short"
            if pull < 0.0:
                kind = "never"
            elif pull < 0.8:
                kind = "over_5"
            elif pull < 2.2:
                kind = "over_1"
            row.append(kind)
        rows.append(tuple(row))
    rows[-1] = (*rows[-1][:-2], "unknown", "unknown")
    return SpillTimeMap(
        title="When it spills after a cold start",
        answer="On the day of the test it cleared in under a minute. With the dryer and the bath "
        "fan on (−5 Pa) it never drafts from 10 °C up.",
        outdoor=outdoor, house=house, classes=tuple(rows),
        tests=(DayOfTest(outdoor=4.0, house=-1.2),),
        outdoor_measure=Measure(name="Outdoors", unit="°C", also=FAHRENHEIT),
        notes=("Still air; vent and house at rest for hours before.",), size=size,
    )  # fmt: skip
