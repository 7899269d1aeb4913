"""Invented numbers for every figure: shaped like the real thing, measured or computed nowhere."""

from __future__ import annotations

import itertools
import math

from fluewright.drawing.plot.data import (
    AlarmWindow,
    AlongThePath,
    Also,
    Breath,
    Chance,
    Corner,
    DayOfTest,
    Effect,
    ExposurePlot,
    FlowBalance,
    HourBin,
    Level,
    Limit,
    Measure,
    Moment,
    ProbabilityBars,
    Root,
    Size,
    SpillClass,
    SpillTimeMap,
    Station,
    Tornado,
    WarmupTrace,
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


def warmup(size: Size = "column", *, never: bool = False) -> WarmupTrace:
    """Invented: spills for a good minute and a half, then drafts; or never."""
    moments: list[Moment] = []
    for n in range(61):
        time = n * 0.1
        grown = 1.0 - math.exp(-time / 1.1)
        flow = (4.0 if never else 11.5) * grown - (0.8 if time < 0.4 else 0.0)
        moments.append(
            Moment(
                time=time,
                flow=flow,
                wall=8.0 + (26.0 if never else 52.0) * (1.0 - math.exp(-time / 1.8)),
                dew=38.0 + 3.0 * math.exp(-time),
                spilled=max(0.0, min(1.0, 1.0 - flow / 7.5)),
            )
        )
    return WarmupTrace(
        title="From cold start to draft",
        answer="Draft does not establish: gas spills as long as the burner runs."
        if never
        else "Gas spills for 1 min 10 s, then all of it goes up.",
        alarm=never,
        moments=tuple(moments),
        demand=7.5,
        established=None if never else 1.2,
        temperature=CELSIUS_TOO,
        notes=("Outdoors 0 °C (32 °F), house at −2 Pa, vent cold.",),
        size=size,
    )


def effects(size: Size = "column") -> Tornado:
    """Invented: five inputs, one of which only makes it worse."""
    return Tornado(
        title="What matters most",
        answer="House pressure moves the margin most: with the fans on there is none left.",
        effects=(
            Effect(name="Outdoor temperature", low="−10 °C", high="30 °C", at_low=3.0, at_high=0.3),
            Effect(name="House pressure", low="−5 Pa", high="0 Pa", at_low=-2.9, at_high=2.8),
            Effect(name="Height of the vent", low="10 ft", high="14 ft", at_low=0.9, at_high=2.0),
            Effect(name="Elbows", low="1", high="4", at_low=1.7, at_high=0.8),
            Effect(name="Wind at the cap", low="calm", high="gusts", at_low=1.2, at_high=1.1),
        ),
        base=1.5,
        result=Measure(name="Draft to spare", unit="Pa"),
        limit=Limit(value=0.0, words="no draft to spare", fails="below"),
        size=size,
    )


def exposure(size: Size = "column") -> ExposurePlot:
    """Invented: a closed room that fills with CO."""
    breaths = tuple(
        Breath(
            time=5.0 * n,
            co_ppm=380.0 * (1.0 - math.exp(-n / 9.0)),
            cohb_percent=1.0 + 34.0 * (1.0 - math.exp(-((n / 26.0) ** 1.6))),
        )
        for n in range(37)
    )
    return ExposurePlot(
        title="Carbon monoxide if it spills all the time",
        answer="The room passes 200 ppm in 35 min; an alarm may take as long as 50 min.",
        alarm=True,
        breaths=breaths,
        window=AlarmWindow(start=22.0, to=50.0),
        room_levels=(Level(value=200.0, words="headache within hours"),),
        blood_levels=(
            Level(value=10.0, words="headache"),
            Level(value=30.0, words="confusion, fainting"),
        ),
        size=size,
    )


def chances(size: Size = "column") -> ProbabilityBars:
    """Invented: three chances and a year of weather."""
    spans = ("−20", "−15", "−10", "−5", "0", "5", "10", "15", "20", "25", "30")
    hours = (22, 96, 310, 720, 1340, 1510, 1490, 1380, 1120, 590, 182)
    spilled = (0, 0, 0, 0.2, 4, 12, 38, 96, 210, 265, 120)
    return ProbabilityBars(
        title="How probable, and how often",
        answer="It spills longer than a minute in about one start of eight.",
        chances=(
            Chance(name="Spills over 1 min", value=0.127, low=0.11, high=0.146),
            Chance(name="Never drafts", value=0.031, low=0.022, high=0.042),
            Chance(name="Runs wet at the top", value=0.64, low=0.61, high=0.67),
        ),
        bins=tuple(
            HourBin(words=w, hours=float(h), spilled=float(s))
            for w, h, s in zip(spans, hours, spilled, strict=True)
        ),
        bin_title="Outdoors at the middle of each bar, °C",
        notes=("1,000 draws of what is not known for sure.",),
        size=size,
    )
