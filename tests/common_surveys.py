"""Whole surveys of two appliances on one vent, made from the few figures that examples print.

The first appliance comes in from the side of the tee, the second straight through it from below.
A tee is 1 ft long with its branch in the middle: half a foot of the rise of what goes through
lies in the tee itself. Nothing has a tolerance, as in a printed example.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from typing import Any

from fluewright import app
from fluewright.files import survey_from_text
from fluewright.finding import Judgement, Verdict
from fluewright.judge import judge
from fluewright.survey import Survey

TEE_FT, BRANCH_FT = 1.0, 0.5
Data = dict[str, Any]


def _ft(value: float) -> str:
    return f"{value:g} ft ± 0 ft"


def _in(value: float) -> str:
    return f"{value:g} in ± 0 in"


def common_data(given: Mapping[str, Any]) -> Data:
    """A survey as plain data.

    Args:
        given: ``appliances`` (two, each with input_kbtu_h, draft, outlet_in, connector_in, rise_ft,
            length_ft, wall), ``height_ft`` above the higher outlet, ``vent_in``, ``wall``; where
            there is one, ``offset_ft`` of the vent with its two elbows ``offset_deg``.
    """
    side, through = given["appliances"]
    height = given["height_ft"] - side["rise_ft"]
    if through["rise_ft"] < side["rise_ft"]:
        raise ValueError("the second appliance is to stand lower than the first")
    own = (side["rise_ft"], through["rise_ft"] - (TEE_FT - BRANCH_FT))
    return {
        "survey": 1,
        "job": {"title": "Invented: two on one vent", "edition": "umc_2012", "invented": True},
        "spaces": {"cellar": {"kind": "basement"}},
        "appliances": {"a": _appliance(side), "b": _appliance(through)},
        "paths": [
            _path("a", side, own[0], "side"),
            _path("b", through, own[1], "through"),
        ],
        "common": {
            "trunk": {
                "pieces": _vent(given, height - (TEE_FT - BRANCH_FT)),
                "vent": {"sizing": given.get("sizing", "tables")},
                "roof": {"ends": "above_roof"},
            }
        },
    }


def _appliance(told: Mapping[str, Any]) -> Data:
    return {
        "kind": "storage water heater" if told["draft"] == "draft_hood" else "furnace",
        "draft": told["draft"],
        "input": f"{told['input_kbtu_h']:g} kBtu/h ± 0 kBtu/h",
        "outlet_diameter": _in(told["outlet_in"]),
        "outlet_on_top": True,
        "listed": True,
        "space": "cellar",
        "hood": {"present": told["draft"] == "draft_hood"},
    }


def _path(name: str, told: Mapping[str, Any], rise_ft: float, way: str) -> Data:
    run = {
        "id": f"c{name}",
        "part": "run",
        "role": "connector",
        "wall": told["wall"],
        "diameter": _in(told["connector_in"]),
        "rise": _ft(rise_ft),
        "horizontal": _ft(told["length_ft"]),
        "elbows": [f"{angle} deg" for angle in told.get("elbows_deg", (90, 90))],
    }
    if told["wall"] == "single":
        run["metal"] = "galvanized"
    entry = {"at": "t1", "way": way}
    return {"from": name, "joins": "trunk", "enters": entry, "pieces": [run]}


def _vent(given: Mapping[str, Any], left_ft: float) -> list[Data]:
    """The tee, what is left of the height, and between them an offset where there is one."""
    like = {"role": "vent", "wall": given["wall"], "diameter": _in(given["vent_in"])}
    tee = {"id": "t1", "part": "tee", "length": _ft(TEE_FT), "leg": _ft(BRANCH_FT), "runs": "up"}
    pieces = [tee | like]
    if given.get("offset_ft"):
        turn = f"{given['offset_deg']} deg"
        offset = {"id": "o1", "part": "run", "rise": _ft(1.0), "elbows": [turn, turn]}
        pieces.append(offset | like | {"horizontal": _ft(given["offset_ft"])})
        left_ft -= 1.0
    pieces.append({"id": "v1", "part": "straight", "length": _ft(left_ft), "runs": "up"} | like)
    pieces.append({"id": "cap", "part": "cap", "listed": True})
    return pieces


def survey_of(data: Data) -> Survey:
    """The survey of plain data."""
    return survey_from_text(json.dumps(data), "made.json")


def judged(data: Data, edition: str = "umc_2012") -> Judgement:
    """The whole survey judged, with the tables that the program itself would load for it."""
    survey = survey_of(data)
    return judge(survey, _edition(edition), app.library_for(survey))


@cache
def _edition(name: str) -> Any:
    return app.edition(name)


def verdict_of(data: Data, rule: str, subject: str, edition: str = "umc_2012") -> Verdict:
    """The verdict of one rule for one thing of the survey."""
    return next(
        f.verdict for f in judged(data, edition).findings if f.rule == rule and f.subject == subject
    )
