"""Invented jobs for the tests of the report: nothing in them was ever seen anywhere."""

from __future__ import annotations

import io

from PIL import Image

from fluewright.finding import (
    Comparison,
    EditionInfo,
    Finding,
    Grade,
    Judgement,
    Limit,
    MeasureNext,
    NotExamined,
    Sense,
    Verdict,
)
from fluewright.quantity import Dimension, Measured, NotMeasured
from fluewright.report.inputs import Figures, Precautions, Provenance
from fluewright.source import Basis, Citation, Step
from fluewright.survey import (
    Appliance,
    Clearance,
    Job,
    Path,
    Photo,
    Piece,
    Roof,
    Space,
    Survey,
)

INCH = 0.0254
SURVEY_HASH = "3f" * 32
HASHES = {"umc_2012": "a1" * 32, "umc_2021": "b2" * 32}
TITLES = {"umc_2012": "UMC 2012", "umc_2021": "UMC 2021"}


def inches(value: float, tolerance: float = 0.0, tool: str | None = "tape") -> Measured:
    return Measured(value * INCH, Dimension.LENGTH, tolerance * INCH, tool)


def cite(at: str, basis: Basis = Basis.READ, edition: str = "2012", base: str = "") -> Citation:
    return Citation("UMC", edition, at, basis, base)


def length(label: str, now: float, off: float, limit: float, sense: Sense) -> Comparison:
    sign = 1 if sense is Sense.AT_LEAST else -1
    return Comparison(
        label,
        inches(now, off),
        Limit(limit * INCH, "in", sense),
        inches(sign * (now - limit), off),
    )


PIECES = (
    Piece(id="c1", part="straight", role="connector", wall="single"),
    Piece(id="c2", part="elbow", role="connector", wall="single"),
    Piece(
        id="c3",
        part="straight",
        role="connector",
        wall="single",
        clearance=Clearance(distance=NotMeasured("the ceiling board hides the joist")),
    ),
    Piece(id="v1", part="straight", role="vent", wall="type_b"),
    Piece(id="cap", part="cap", role="vent"),
)

SURVEY = Survey(
    job=Job(
        title="Fern Hollow 12, utility room",
        seen="2026-11-20",
        by="A. Example",
        visit="as found",
        invented=True,
    ),
    spaces={"utility": Space(kind="room")},
    appliances={"heater": Appliance(kind="storage water heater", fuel="natural gas")},
    paths=(
        Path(
            from_="heater",
            pieces=PIECES,
            roof=Roof(pitch=NotMeasured("the roof was wet and nobody went up")),
        ),
    ),
    photos=(
        Photo(file="hood.jpg", of="c2", shows="gap behind the elbow"),
        Photo(file="run.jpg", of="c3", shows="the level on the run, bubble toward the heater"),
        Photo(file="lost.jpg", of="v1", shows="the vent in the attic"),
    ),
    tools={"length": "tape"},
)

OPEN_JOINT = Finding(
    rule="joints_closed",
    title="Joints are closed",
    subject="c2",
    verdict=Verdict.FAILS,
    grade=Grade.STOP,
    sentence="The joint behind the elbow stands open by 3/8 in: burnt gas can come into the room.",
    cites=(cite("802.10.5", base="NFPA 54-2012 12.11.7"),),
    remedies=("Take the elbow out, put a new one in full depth, and hold it with three screws.",),
    photos=("hood.jpg",),
    number=1,
    working=(Step("Gap seen at the joint", 0.375, "in"), Step("Gap allowed", 0.0, "in")),
)
CAP_LOW = Finding(
    rule="cap_height",
    title="Cap stands high enough over the roof",
    subject="cap",
    verdict=Verdict.FAILS,
    grade=Grade.HAZARD,
    sentence="The cap stands 9 in too low: 15 in above the roof, 24 in needed within 8 ft of a "
    "wall. Wind at the wall can push burnt gas back down.",
    comparison=length("height of the cap over the roof", 15, 0.25, 24, Sense.AT_LEAST),
    cites=(cite("802.6.2 (1)"), cite("Table 802.6.2", Basis.MEMORY)),
    remedies=(
        "Add 12 in of listed Type B vent of the same make below the cap, and brace it.",
        "Move the vent so that the wall is more than 8 ft away.",
    ),
    number=2,
    working=(
        Step("Height of the cap over the roof", 15.0, "in"),
        Step("Wall within 8 ft, so the limit is", 24.0, "in"),
        Step("Short by", 9.0, "in"),
    ),
)
SLOPE = Finding(
    rule="connector_upward_slope",
    title="Connector climbs toward the vent",
    subject="c3",
    verdict=Verdict.FAILS,
    grade=Grade.DEFECT,
    sentence="The run climbs 1/8 in per ft; at least 1/4 in per ft is needed. The far end has to "
    "come up 9/16 in.",
    comparison=Comparison(
        "slope of the run",
        Measured(0.125 / 12, Dimension.SLOPE, 0.04 / 12, "digital level"),
        Limit(0.25 / 12, "in/ft", Sense.AT_LEAST),
        inches(-0.5625, 0.1875),
    ),
    cites=(cite("802.10.6", base="NFPA 54-2012 12.11.8"),),
    remedies=("Shorten the upright piece at the vent end and hang the run 9/16 in higher.",),
    photos=("run.jpg",),
    number=3,
    working=(
        Step("Length of the run", 52.0, "in"),
        Step("Climb seen", 0.5417, "in"),
        Step("Climb needed at 1/4 in per ft", 1.0833, "in"),
        Step("Short by", 0.5417, "in"),
    ),
)
FIRST_RISE = Finding(
    rule="first_rise",
    title="Connector rises before its first elbow",
    subject="c1",
    verdict=Verdict.FAILS,
    grade=Grade.CRAFT,
    sentence="The connector rises 9 in before the elbow; 12 in is common practice.",
    comparison=length("rise before the first elbow", 9, 0.125, 12, Sense.AT_LEAST),
    cites=(Citation("", "", "", Basis.PRACTICE),),
    remedies=("Raise the elbow by 3 in if the ceiling allows.",),
    number=4,
)
CLEARANCE = Finding(
    rule="connector_clearance",
    title="Connector keeps clear of what can burn",
    subject="c3",
    verdict=Verdict.CANNOT_TELL,
    grade=Grade.HAZARD,
    sentence="6 in to the joist, 6 in needed; the tape is good to 1/8 in, so it may be short.",
    comparison=length("distance to the joist", 6, 0.125, 6, Sense.AT_LEAST),
    cites=(cite("Table 802.7.3.4 (1)", Basis.MEMORY),),
    measure_next=(
        MeasureNext(
            "clearance", "Distance to the joist", "c3", "caliper at the closest place", "too near"
        ),
    ),
    number=5,
)
SPILL = Finding(
    rule="no_spillage",
    title="No spillage at the draft hood",
    subject="heater",
    verdict=Verdict.CANNOT_TELL,
    grade=Grade.STOP,
    sentence="Nobody tested for spillage at the draft hood.",
    cites=(cite("Appendix B", Basis.MEMORY),),
    number=6,
)
RUN_LENGTH = Finding(
    rule="connector_length",
    title="Connector is short enough",
    subject="c3",
    verdict=Verdict.MEETS,
    grade=Grade.DEFECT,
    sentence="52 in of run, 90 in allowed.",
    comparison=length("horizontal length of the connector", 52, 0.25, 90, Sense.AT_MOST),
    cites=(cite("802.10.7.1"),),
    working=(Step("Height of the vent", 120.0, "in"), Step("75 % of it", 90.0, "in")),
)
LISTED_CAP = Finding(
    rule="cap_listed",
    title="Cap is a listed one",
    subject="cap",
    verdict=Verdict.MEETS,
    grade=Grade.DEFECT,
    sentence="The cap carries the listing mark of the vent.",
    cites=(cite("802.6"),),
)
FAN = Finding(
    rule="fan_slope",
    title="Slope of a connector under pressure",
    subject="c3",
    verdict=Verdict.NOT_APPLICABLE,
    grade=Grade.NOTE,
    sentence="There is no draft fan.",
    cites=(cite("802.10.4"),),
)

FINDINGS = (
    OPEN_JOINT, CAP_LOW, SLOPE, FIRST_RISE, SPILL, CLEARANCE, RUN_LENGTH, LISTED_CAP, FAN,
)  # fmt: skip

STEPS = (
    (
        MeasureNext(
            "spill",
            "Spillage at the draft hood",
            "heater",
            "Cold start, doors and fans as the test says; hold smoke at the rim for five minutes.",
            "nobody tested it",
            "smoke pen and a clock",
        ),
        ("no_spillage",),
    ),
    (
        MeasureNext(
            "clearance",
            "Distance to the joist",
            "c3",
            "Measure at the closest place, pipe surface to wood.",
            "the tape is too coarse to tell",
            "caliper, good to 1/64 in",
        ),
        ("connector_clearance",),
    ),
    (
        MeasureNext(
            "listing",
            "Whether the vent may stand in that chase",
            "v1",
            "Read the listing mark on the pipe.",
            "only the listing says so",
            ask=True,
        ),
        (),
    ),
)
CAUTIONS = (
    "A reading holds for the day on which it was taken: draft is weaker in mild weather.",
    "Places marked as from memory must be verified with the adopted text before anybody acts.",
)
LEFT = (
    NotExamined("802.7.3.3", "roof penetration: nobody went up"),
    NotExamined("802.9", "mechanical draft systems are not part of this program yet"),
)


def judgement(
    findings: tuple[Finding, ...] = FINDINGS,
    edition: str = "umc_2012",
    title: str = SURVEY.job.title,
) -> Judgement:
    return Judgement(
        survey_title=title,
        survey_sha256=SURVEY_HASH,
        edition=EditionInfo(edition, TITLES[edition], HASHES[edition]),
        findings=findings,
        not_examined=LEFT,
        next_steps=STEPS,
        cautions=CAUTIONS,
        notes=("The run says 52 in, but its two ends stand 54 in apart.",),
    )


FIGURES = Figures(
    elevations={
        "heater": "Side view of the path: heater, connector with a flat run, vent, low cap."
    },
    cap_charts={
        "heater": "Chart of roof pitch and least height of the cap; this cap lies below the line."
    },
    photos=("hood.jpg", "run.jpg"),
)
PRECAUTIONS = Precautions(
    "Before anyone goes up",
    (
        "Nobody goes on a wet roof or stands on concrete tile that is 25 years old.",
        "The pipe can be hot: let the heater stand off for half an hour first.",
    ),
)
PROVENANCE = Provenance("0.1.0", "fern-hollow.yaml", "2026-11-25")

ELEVATION_SVG = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 180 200">
<title>Side view</title>
<g fill="none" stroke="#1b1b19" stroke-width="0.5">
<rect x="20" y="130" width="30" height="60"/><path d="M30 130 v-20 h80 v-90 h10 v100 h-80 v10"/>
<path d="M105 20 h20 v-4 h-20 z"/></g>
<text x="60" y="106" font-family="Fluewright Sans" font-size="4">52 in ± 1/4 in ≥</text>
</svg>"""
CHART_SVG = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 160 70">
<path d="M10 60 h140 M10 60 v-50 M10 50 h60 v-20 h40 v-10 h40" fill="none" stroke="#1b1b19"/>
<circle cx="90" cy="45" r="2" fill="#1f4e8c"/></svg>"""


def photo(width: int, height: int, orientation: int = 1) -> bytes:
    """A JPEG of two halves, with a position and an orientation in its EXIF."""
    picture = Image.new("RGB", (width, height), (205, 200, 190))
    picture.paste((120, 116, 108), (0, 0, width, height // 2))
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif.get_ifd(0x8825).update({1: "N", 2: (38.0, 30.0, 0.0), 3: "W", 4: (121.0, 0.0, 0.0)})
    out = io.BytesIO()
    picture.save(out, "JPEG", exif=exif)
    return out.getvalue()
